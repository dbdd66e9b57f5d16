"""Gathering many pixels into a few colours: weighted k-means in Oklab, with no chance in it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from checkcloth.colour.arrays import Floats
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.spaces import oklab_to_srgb, srgb_to_lab, srgb_to_oklab

__all__ = ["gather"]

# Pixels are first put into boxes of so many steps a channel: 5 bits, 32,768 boxes.
_BITS = 5
_ROUNDS = 60
# Colours nearer than this, CIEDE2000, become one: about where unpractised eyes see a difference.
_ALIKE = 2.0


def _boxes(pixels: NDArray[np.uint8]) -> tuple[Floats, Floats]:
    """Mean Oklab and pixel count of every box that holds a pixel, in a fixed order."""
    keys = (pixels >> (8 - _BITS)).astype(np.int64) @ np.array([1 << 2 * _BITS, 1 << _BITS, 1])
    _, inverse, counts = np.unique(keys, return_inverse=True, return_counts=True)
    labs = srgb_to_oklab(pixels / 255)
    means = np.stack(
        [np.bincount(inverse, weights=labs[:, channel]) / counts for channel in range(3)], axis=1
    )
    return means, counts.astype(np.float64)


def _start(places: Floats, weights: Floats, count: int) -> Floats:
    """First the heaviest, then always the one with the most weight × squared distance."""
    chosen = [int(weights.argmax())]
    nearest = np.full(len(places), np.inf)
    while len(chosen) < min(count, len(places)):
        step = places - places[chosen[-1]]
        nearest = np.minimum(nearest, (step * step).sum(axis=1))
        pull = weights * nearest
        if pull.max() <= 0:
            break
        chosen.append(int(pull.argmax()))
    return places[chosen]


def _nearest(places: Floats, centres: Floats) -> NDArray[np.intp]:
    step = places[:, None, :] - centres[None, :, :]
    return np.asarray((step * step).sum(axis=-1).argmin(axis=1))


def gather(pixels: NDArray[np.uint8], count: int) -> tuple[Floats, Floats]:
    """Return at most ``count`` colours that stand for the pixels, the largest first.

    Parameters
    ----------
    pixels : ndarray of uint8, shape (n, 3)
    count : int

    Returns
    -------
    colours : ndarray, shape (m, 3)
        Encoded sRGB on 8-bit steps.
    shares : ndarray, shape (m,)
        Of the pixels; they add up to 1.

    Notes
    -----
    k-means on box means in Oklab. A box weighs the square root of its pixels, so that a
    small accent is not drowned by a large sky; shares are of pixels.

    Examples
    --------
    >>> pixels = np.repeat([[[0, 0, 128]], [[255, 255, 255]]], [3, 1], axis=0).reshape(-1, 3)
    >>> colours, shares = gather(pixels.astype(np.uint8), 6)
    >>> shares.tolist()
    [0.75, 0.25]
    """
    places, counts = _boxes(pixels)
    weights = np.sqrt(counts)
    centres = _start(places, weights, count)
    owner = _nearest(places, centres)
    for _ in range(_ROUNDS):
        total = np.bincount(owner, weights=weights, minlength=len(centres))
        sums = np.stack(
            [np.bincount(owner, weights=weights * places[:, c], minlength=len(centres))
             for c in range(3)], axis=1
        )  # fmt: skip
        alive = total > 0
        centres = sums[alive] / total[alive, None]
        again = _nearest(places, centres)
        if alive.all() and np.array_equal(again, owner):
            break
        owner = again
    shares = np.bincount(owner, weights=counts, minlength=len(centres)) / counts.sum()
    # A colour's mean over all its pixels is what the eye takes it for.
    means = np.stack(
        [np.bincount(owner, weights=counts * places[:, c], minlength=len(centres))
         for c in range(3)], axis=1
    )  # fmt: skip
    held = shares > 0
    means, shares = means[held] / (shares[held] * counts.sum())[:, None], shares[held]
    colours = np.round(np.clip(oklab_to_srgb(means), 0, 1) * 255) / 255
    order = np.argsort(-shares, kind="stable")
    return _merged(colours[order], shares[order])


def _merged(colours: Floats, shares: Floats) -> tuple[Floats, Floats]:
    """Let larger colours take in the smaller ones that look alike."""
    labs = srgb_to_lab(colours)
    kept: list[int] = []
    total = shares.copy()
    for place in range(len(colours)):
        near = delta_e_2000(labs[kept], labs[place]) if kept else np.zeros(0)
        if len(near) and near.min() < _ALIKE:
            total[kept[int(near.argmin())]] += total[place]
        else:
            kept.append(place)
    order = sorted(kept, key=lambda place: -total[place])
    return colours[order], total[order]
