"""How far ``pigment`` misses measured spectra because it recovers them from sRGB, and whether
another way of recovering them would miss by less.

PYTHONPATH=kit python tests/bench/bench_pigment.py      (needs colour-science)

Truth are the 99 test colours of CIE 224:2017, as far as sRGB holds them: 4,005 pairs mixed half
and half by Kubelka and Munk, measured against recovered. What is *fitted* to spectra is fitted to
others (colour charts and rendering samples that colour-science carries), or to one half of the 99
and tried on the other, both ways. Prints a table and asserts nothing.
"""

from __future__ import annotations

import sys
import time
import warnings
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "gold"))

from pigment_pairs import in_srgb, light_misses, pair_misses

from checkcloth.colour import reflectance as kit
from checkcloth.colour.cie1931 import WAVELENGTHS
from checkcloth.colour.spaces import linear_to_srgb, linear_to_xyz
from checkcloth.colour.spectra.lights import LIGHTS

BANDS = len(WAVELENGTHS)
Link = Callable[[np.ndarray], tuple[np.ndarray, np.ndarray, np.ndarray]]


# -- reflectance as a function of z: value, first and second derivative --------------------------


def as_tanh(z):
    """The kit's own: (tanh z + 1)/2, always inside 0 to 1."""
    tanh = np.tanh(z)
    slope = (1 - tanh * tanh) / 2
    return (1 + tanh) / 2, slope, -2 * tanh * slope


def as_log_absorption(z):
    """Z = ln K/S."""
    k = np.exp(np.clip(z, -40, 40))
    root = np.sqrt(k * (k + 2))
    value = 1 / (1 + k + root)
    slope = -value * k / root
    # d(-rk/q)/dz = -(slope k/q + r k/q - r k² (k+1)/q³)
    return value, slope, -(slope * k / root + value * k / root - value * k**2 * (k + 1) / root**3)


def as_log(z):
    """Z = ln R, which may come out above 1."""
    value = np.exp(np.minimum(z, 3))
    return value, value, value


def as_itself(z):
    """Z = R, which may leave 0 to 1."""
    return z, np.ones_like(z), np.zeros_like(z)


def inverse(link: Link, spectra: np.ndarray) -> np.ndarray:
    held = np.clip(spectra, 1e-3, 0.999)
    return {
        as_tanh: lambda r: np.arctanh(2 * r - 1),
        as_log_absorption: lambda r: np.log((1 - r) ** 2 / 2 / r),
        as_log: np.log,
        as_itself: lambda r: r,
    }[link](held)


# -- what is made least ---------------------------------------------------------------------------


def differences(weights: float | np.ndarray = 1.0, order: int = 1) -> np.ndarray:
    """The matrix of the sum of squared differences between neighbouring bands."""
    steps = np.diff(np.eye(BANDS), order, axis=0)
    return 2 * steps.T @ (np.broadcast_to(weights, len(steps))[:, None] * steps)


def learnt_steps(link: Link, spectra: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Differences from their mean, each weighed by how little it varies in ``spectra``."""
    steps = np.diff(inverse(link, spectra), axis=1)
    weights = 1 / steps.var(axis=0)
    mean = np.concatenate([[0.0], np.cumsum(steps.mean(axis=0))])
    return differences(weights / weights.mean()), mean


def learnt_covariance(link: Link, spectra: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """The likeliest spectrum of a normal distribution with the mean and covariance of some."""
    z = inverse(link, spectra)
    spread = np.cov(z.T)
    return np.linalg.inv(spread + 1e-3 * np.trace(spread) / BANDS * np.eye(BANDS)), z.mean(axis=0)


def recovered(light: np.ndarray, link: Link, matrix: np.ndarray, mean: np.ndarray) -> np.ndarray:
    """Minimise (z-mean)ᵀ matrix (z-mean)/2 under the colour that is wanted, by Newton's method."""
    weights = kit._WEIGHTS
    z, multiplier = np.tile(mean, (len(light), 1)), np.zeros((len(light), 3))
    band, size = np.arange(BANDS), BANDS + 3
    for _ in range(100):
        value, slope, bend = link(z)
        pull = multiplier @ weights
        sloped = weights * slope[:, None]
        system = np.zeros((len(z), size, size))
        system[:, :BANDS, :BANDS] = matrix
        system[:, band, band] += bend * pull
        system[:, BANDS:, :BANDS], system[:, :BANDS, BANDS:] = sloped, sloped.swapaxes(1, 2)
        missing = np.concatenate(
            [(z - mean) @ matrix + slope * pull, value @ weights.T - light], axis=1
        )
        if np.abs(missing).max() < 1e-9:
            break
        step = np.linalg.solve(system, missing[..., None])[..., 0]
        longest = np.abs(step[:, :BANDS]).max(axis=1, keepdims=True)
        step *= np.minimum(1, 10 / np.maximum(longest, 1))
        z, multiplier = z - step[:, :BANDS], multiplier - step[:, BANDS:]
    return link(z)[0]


def band_limited(light: np.ndarray) -> np.ndarray:
    """Three cosines in the tanh of which reflectance is made (the lowest of a Fourier series)."""
    waves = np.cos(np.pi * np.outer(np.arange(3), (np.arange(BANDS) + 0.5) / BANDS))
    out = []
    for wanted in light:
        part = np.zeros(3)
        for _ in range(200):
            value, slope, _ = as_tanh(part @ waves)
            missing = kit._WEIGHTS @ value - wanted
            if np.abs(missing).max() < 1e-10:
                break
            step = np.linalg.lstsq((kit._WEIGHTS * slope) @ waves.T, missing, rcond=None)[0]
            part -= step * min(1, 1 / max(np.abs(step).max(), 1e-9))
        out.append(as_tanh(part @ waves)[0])
    return np.array(out)


# -- methods of colour-science --------------------------------------------------------------------


def of_the_library(method: str, light: np.ndarray) -> np.ndarray:
    import colour

    xyz = linear_to_xyz(light)
    if method == "Mallett 2019":
        basis = colour.recovery.MSDS_BASIS_FUNCTIONS_sRGB_MALLETT2019
        basis = basis.copy().align(colour.SpectralShape(380, 730, 10)).values
        return light @ basis.T
    found = [colour.XYZ_to_sd(one, method) for one in xyz]
    shape = colour.SpectralShape(380, 730, 10)
    return np.array(
        [sd.copy().extrapolate(shape).interpolate(shape).trim(shape).values for sd in found]
    )


def other_spectra() -> np.ndarray:
    """161 reflectances of colour charts and rendering samples, none of CIE 224."""
    import colour
    from colour.quality.datasets import SDS_TCS, SDS_VS

    charts = [chart for name, chart in colour.SDS_COLOURCHECKERS.items() if name[:1].isupper()]
    groups = [*charts, *SDS_TCS.values(), *SDS_VS.values()]
    shape = colour.SpectralShape(380, 730, 10)
    every = (
        sd for group in groups for sd in (group.values() if hasattr(group, "keys") else [group])
    )
    return np.array([sd.copy().align(shape).values for sd in every])


# -- the table ------------------------------------------------------------------------------------


def row(words: str, missed: np.ndarray, seconds: float, count: int) -> str:
    figures = (missed.mean(), np.median(missed), np.percentile(missed, 95), missed.max())
    cells = [f"{value:.2f}" for value in figures]
    return " | ".join([f"| {words}", *cells, f"{seconds / count * 1e3:.2g} |"])


def methods(spectra: np.ndarray) -> Iterator[tuple[str, Callable[[np.ndarray], np.ndarray]]]:
    """Ways that are fitted to nothing."""

    def plain(link: Link, order: int = 1) -> Callable[[np.ndarray], np.ndarray]:
        start = np.full(BANDS, 0.5 if link is as_itself else 0.0)
        least = differences(order=order) + (order > 1) * 1e-6 * np.eye(BANDS)
        return lambda light: recovered(light, link, least, start)

    yield (
        "the kit's: tanh, first differences",
        lambda light: kit.reflectances(linear_to_srgb(light)),
    )
    yield "tanh, second differences", plain(as_tanh, 2)
    yield "ln K/S, first differences", plain(as_log_absorption)
    yield "ln K/S, second differences", plain(as_log_absorption, 2)
    yield "ln R, first differences", plain(as_log)
    yield "ln R, first differences, held at 1", lambda light: np.minimum(plain(as_log)(light), 1)
    yield "R, first differences", plain(as_itself)
    yield "R, second differences", plain(as_itself, 2)
    yield "tanh of three cosines", band_limited
    for method in ("Smits 1999", "Mallett 2019", "Otsu 2018", "Meng 2015", "Jakob 2019"):
        yield method, lambda light, method=method: of_the_library(method, light)


def main() -> None:
    """Print the table of ways, and how far off recovered colours are under other lights."""
    spectra, light = in_srgb()
    print("| recovery | mean | median | p95 | largest | ms a colour |\n|" + " --- |" * 6)
    for words, way in methods(spectra):
        begun = time.perf_counter()
        try:
            found = way(light)
        except Exception as error:  # a method of the library that fails is a row, no end
            print(f"| {words} | {type(error).__name__}: {error} |")
            continue
        print(row(words, pair_misses(spectra, found), time.perf_counter() - begun, len(light)))
    halves = np.random.default_rng(1).permutation(len(spectra))
    one, two = halves[::2], halves[1::2]
    others = other_spectra()
    for link in (as_tanh, as_log_absorption, as_itself):
        for learn in (learnt_steps, learnt_covariance):
            name = f"{link.__name__[3:].replace('_', ' ')}, {learn.__name__.replace('_', ' ')}"
            begun = time.perf_counter()
            found = recovered(light, link, *learn(link, others))
            seconds = time.perf_counter() - begun
            print(row(f"{name}, of 161 others", pair_misses(spectra, found), seconds, len(light)))
            missed = [
                pair_misses(spectra[test], recovered(light[test], link, *learn(link, spectra[fit])))
                for fit, test in ((one, two), (two, one))
            ]
            print(row(f"{name}, of the other half", np.concatenate(missed), seconds, len(light)))
    kept = kit.reflectances(linear_to_srgb(light))
    missed = [pair_misses(spectra[half], kept[half]) for half in (one, two)]
    print(row("(the kit's, on the same halves)", np.concatenate(missed), 0, 1))
    print("\n| light | p95 2° | p95 10° |\n| --- | --- | --- |")
    for name in LIGHTS:
        bars = [np.percentile(light_misses(name, observer), 95) for observer in (2, 10)]
        print(f"| {name} | {bars[0]:.2f} | {bars[1]:.2f} |")


if __name__ == "__main__":
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        main()
