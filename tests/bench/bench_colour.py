# ruff: noqa: E402 — the number of threads is set before numpy loads
"""Colour kernels against general colour libraries, as ratios within one run.

    PYTHONPATH=kit python tests/bench/bench_colour.py

Works are run by turns and the quickest of each counts, so that all meet the same load; ours is
timed on one core and on all there are, the peers know one only. Peers do the same work with the
same numbers in and the same numbers out; each line says what was checked to agree. Peak
memory is what numpy asks for while the call runs (tracemalloc), input not counted.
"""

from __future__ import annotations

import os

# BLAS threads would let one side use more cores than the other; set before numpy loads.
for _name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(_name, "1")

import time
import tracemalloc
import warnings
from collections.abc import Callable
from typing import Any

import numpy as np

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import colour
    import skimage.color
from coloraide import Color
from coloraide import __version__ as coloraide_version

from checkcloth.cloth.bands import even_bands
from checkcloth.cloth.mixing import MIXINGS, mix_tones
from checkcloth.cloth.tones import Symmetry
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.reflectance import reflectances
from checkcloth.colour.vision import see_as
from checkcloth.cores import blocks
from checkcloth.scoring.contrast import score_tones
from checkcloth.scoring.pairs import KINDS, tone_pairs

Array = Any

PAIRS = tone_pairs(even_bands(6), symmetry=Symmetry(mirrored=True))


def best(call: Callable[[], object], rounds: int = 5) -> float:
    """Return the quickest of some rounds, in seconds: the one least disturbed."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        call()
        times.append(time.perf_counter() - start)
    return min(times)


def by_turns(calls: dict[str, Callable[[], object]], rounds: int = 7) -> dict[str, float]:
    """Return the quickest of some rounds of each, in seconds, run by turns."""
    found = dict.fromkeys(calls, float("inf"))
    for _ in range(rounds):
        for name, call in calls.items():
            start = time.perf_counter()
            call()
            found[name] = min(found[name], time.perf_counter() - start)
    return found


def on_one_core(call: Callable[[], object]) -> Callable[[], object]:
    """Return the call without threads of ours."""

    def run() -> object:
        blocks._one_core = True
        try:
            return call()
        finally:
            blocks._one_core = False

    return run


def ours_and_theirs(
    name: str, ours: Callable[[], object], theirs: dict[str, Callable[[], object]]
) -> list[tuple[str, float, float | None]]:
    """Rows of a table: ours on one core, theirs, and last ours on all cores."""
    calls = {f"{name}, one core": on_one_core(ours), **theirs}
    calls[f"{name}, {blocks._cores()} cores"] = ours
    return [(what, seconds, peak(calls[what])) for what, seconds in by_turns(calls).items()]


def peak(call: Callable[[], object]) -> float:
    """Return the peak memory of one call, in megabytes."""
    tracemalloc.start()
    call()
    _, high = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    return high / 1e6


def table(title: str, rows: list[tuple[str, float, float | None]], note: str) -> None:
    """Print a table whose first row is ours; every other row as a ratio to it."""
    print(f"\n{title}")
    ours = rows[0][1]
    for name, seconds, megabytes in rows:
        memory = "" if megabytes is None else f"{megabytes:10.1f} MB"
        print(f"  {name:<44}{seconds * 1e3:12.2f} ms{seconds / ours:10.1f} ×{memory}")
    print(f"  {note}")


def labs(count: int, seed: int) -> tuple[Array, Array]:
    """Return pairs of Lab colours over the whole of Lab, half of them close together."""
    rng = np.random.default_rng(seed)
    low, high = [0, -100, -100], [100, 100, 100]
    one, two = rng.uniform(low, high, (2, count, 3))
    two[::2] = one[::2] + rng.normal(0, 2, (len(one[::2]), 3))
    return one, two


def ciede2000() -> None:
    """A million pairs."""
    one, two = labs(10**6, 1)
    ours = delta_e_2000(one, two)
    peers = {
        "scikit-image deltaE_ciede2000": skimage.color.deltaE_ciede2000,
        "colour-science delta_E_CIE2000": colour.difference.delta_E_CIE2000,
    }
    worst = max(float(np.abs(peer(one, two) - ours).max()) for peer in peers.values())
    assert worst < 1e-9, worst
    rows = ours_and_theirs(
        "checkcloth delta_e_2000",
        lambda: delta_e_2000(one, two),
        {name: lambda p=peer: p(one, two) for name, peer in peers.items()},
    )
    table("CIEDE2000, 1,000,000 pairs", rows, f"largest difference between any two: {worst:.1e}")


def vision() -> None:
    """Machado at severity 0.6 on a million colours; both sides encode and decode sRGB."""
    rgb = np.random.default_rng(2).random((10**6, 3))

    def theirs() -> Array:
        matrix = colour.blindness.matrix_cvd_Machado2009("Deuteranomaly", 0.6)
        linear = colour.models.eotf_sRGB(rgb) @ matrix.T
        return colour.models.eotf_inverse_sRGB(np.clip(linear, 0, 1))

    def skimage_like() -> Array:
        # scikit-image has no CVD; its sRGB curves are inside rgb2xyz and xyz2rgb, which
        # also clips. The matrix is carried into XYZ so that it does the same work.
        matrix = colour.blindness.matrix_cvd_Machado2009("Deuteranomaly", 0.6)
        to_xyz = skimage.color.colorconv.xyz_from_rgb
        there = to_xyz @ matrix @ np.linalg.inv(to_xyz)
        return skimage.color.xyz2rgb(skimage.color.rgb2xyz(rgb) @ there.T)

    def ours() -> Array:
        return see_as(rgb, "deutan", 0.6)

    worst = float(np.abs(theirs() - ours()).max())
    assert worst < 1e-9, worst
    assert np.abs(skimage_like() - ours()).max() < 1e-4  # its matrices have six decimals
    table(
        "Deutan vision at severity 0.6, 1,000,000 colours",
        ours_and_theirs(
            "checkcloth see_as",
            ours,
            {
                "colour-science Machado 2009": theirs,
                "scikit-image conversions, same matrix": skimage_like,
            },
        ),
        f"largest difference to colour-science: {worst:.1e}",
    )


def colourways(count: int) -> tuple[Array, Array, Array]:
    """Return grounds, six stripes and strengths of so many colourways."""
    rng = np.random.default_rng(3)
    return rng.random((count, 3)), rng.random((count, 6, 3)), rng.uniform(0.2, 0.9, count)


_WCAG = np.array([0.2126, 0.7152, 0.0722])


def _source_over(grounds: Array, stripes: Array, alpha: Array) -> Array:
    """Tones by plain numpy, as a user of an array library would write them."""
    a = alpha[:, None, None]
    weft = a * stripes + (1 - a) * grounds[:, None]
    weft = np.concatenate([grounds[:, None], weft], axis=1)
    a = a[..., None]
    laid = a * stripes[:, :, None] + (1 - a) * weft[:, None]
    return np.concatenate([weft[:, None], laid], axis=1)


def _with_arrays(to_lab: Callable, de: Callable, decode: Callable, given: Any) -> Array:
    tones = _source_over(*given).reshape(len(given[0]), -1, 3)
    lab, light = to_lab(tones), decode(tones) @ _WCAG
    out = []
    for kind in KINDS:
        one, two = PAIRS[kind].indices.T
        apart = de(lab[:, one], lab[:, two])
        step = np.abs(lab[:, one, 0] - lab[:, two, 0])
        up, down = (
            np.maximum(light[:, one], light[:, two]),
            np.minimum(light[:, one], light[:, two]),
        )
        ratio = (up + 0.05) / (down + 0.05)
        out += [apart.min(1), apart @ PAIRS[kind].weights, step.min(1), ratio.min(1)]
    return np.array(out)


def _plain_coloraide(given: Any) -> None:
    """The loop as one writes it first: every pair asks the library, which converts anew."""
    for ground, stripes, alpha in zip(*given, strict=True):
        base = Color("srgb", ground.tolist())
        inks = [Color("srgb", stripe.tolist(), float(alpha)) for stripe in stripes]
        weft = [base] + [Color.layer([ink, base], space="srgb") for ink in inks]
        rows = [weft] + [[Color.layer([ink, one], space="srgb") for one in weft] for ink in inks]
        tones = [tone for row in rows for tone in row]
        for kind in KINDS:
            for i, j in PAIRS[kind].indices.tolist():
                one, two = tones[i], tones[j]
                one.delta_e(two, method="2000")
                one.contrast(two)
                abs(one.convert("lab-d65")[0] - two.convert("lab-d65")[0])


def _with_coloraide(given: Any) -> Array:
    """The same with every conversion done once a tone: as quick as a loop over it gets."""
    out = []
    for ground, stripes, alpha in zip(*given, strict=True):
        base = Color("srgb", ground.tolist())
        inks = [Color("srgb", stripe.tolist(), float(alpha)) for stripe in stripes]
        weft = [base] + [Color.layer([ink, base], space="srgb") for ink in inks]
        rows = [weft] + [[Color.layer([ink, one], space="srgb") for one in weft] for ink in inks]
        # Once a tone, as a careful user would, and not once a pair.
        labs_ = [tone.convert("lab-d65") for row in rows for tone in row]
        light = [
            float(_WCAG @ tone.convert("srgb-linear").coords()) for row in rows for tone in row
        ]
        line = []
        for kind in KINDS:
            pairs = PAIRS[kind].indices.tolist()
            apart = [labs_[i].delta_e(labs_[j], method="2000") for i, j in pairs]
            step = [abs(labs_[i][0] - labs_[j][0]) for i, j in pairs]
            ratio = [
                (max(light[i], light[j]) + 0.05) / (min(light[i], light[j]) + 0.05)
                for i, j in pairs
            ]
            line += [min(apart), PAIRS[kind].weights @ apart, min(step), min(ratio)]
        out.append(line)
    return np.array(out).T


def _with_checkcloth(given: Any) -> Array:
    found = score_tones(mix_tones(*given, "source-over"))
    names = ("least_de2000", "mean_de2000", "least_dl", "least_ratio")
    return np.array([getattr(getattr(found, kind), name) for kind in KINDS for name in names])


def scores() -> None:
    """Tones and scores of 1,000 six-stripe colourways; coloraide on 10 of them, times 100."""
    given = colourways(1000)
    few = tuple(part[:10] for part in given)

    def with_skimage() -> Array:
        def to_lab(rgb: Array) -> Array:
            return skimage.color.rgb2lab(rgb)

        def decode(rgb: Array) -> Array:
            return np.where(rgb <= 0.04045, rgb / 12.92, ((rgb + 0.055) / 1.055) ** 2.4)

        return _with_arrays(to_lab, skimage.color.deltaE_ciede2000, decode, given)

    def with_colour() -> Array:
        def to_lab(rgb: Array) -> Array:
            space = colour.RGB_COLOURSPACES["sRGB"]
            xyz = colour.models.eotf_sRGB(rgb) @ space.matrix_RGB_to_XYZ.T
            return colour.XYZ_to_Lab(xyz, space.whitepoint)

        return _with_arrays(
            to_lab, colour.difference.delta_E_CIE2000, colour.models.eotf_sRGB, given
        )

    ours = _with_checkcloth(given)
    loop = _with_coloraide(few)
    assert np.abs(loop - ours[:, :10]).max() < 1e-9
    assert np.abs(with_colour() - ours).max() < 0.1  # four-decimal matrix, see the note
    assert np.abs(with_skimage() - ours).max() < 0.1
    table(
        "Tones and scores of 1,000 six-stripe colourways (708 pairs each)",
        [
            ("checkcloth mix_tones + score_tones", best(lambda: _with_checkcloth(given)),
             peak(lambda: _with_checkcloth(given))),
            ("scikit-image on arrays", best(with_skimage, 3), peak(with_skimage)),
            ("colour-science on arrays", best(with_colour, 3), peak(with_colour)),
            ("coloraide loop (10 measured, × 100)", 100 * best(lambda: _plain_coloraide(few), 2),
             None),
            ("  with Lab kept for every tone (the same)",
             100 * best(lambda: _with_coloraide(few), 2), None),
        ],
        "coloraide agrees to 1e-9; the others to 0.1: their sRGB matrices have four decimals, and "
        "CIEDE2000\n  steps where hues lie opposite. "
        "Ours also finds\n  the closest pair, the lightness order, evenness and far-off colour.",
    )  # fmt: skip


def mixings() -> None:
    """What each mixing costs for 300 six-stripe colourways of one palette of 12."""
    rng = np.random.default_rng(4)
    palette = rng.random((12, 3))
    given = palette[rng.integers(12, size=300)], palette[rng.integers(12, size=(300, 6))]
    strength = np.full(300, 0.5)
    reflectances(palette)
    rows = [(name, best(lambda n=name: mix_tones(*given, strength, n)), None) for name in MIXINGS]
    table("mix_tones of 300 six-stripe colourways", rows, "ratios to source-over")
    fresh = rng.random((500, 3))
    start = time.perf_counter()
    reflectances(fresh)
    each = (time.perf_counter() - start) / len(fresh)
    print(f"  a colour never seen before adds {each * 1e3:.2f} ms to pigment, once")


if __name__ == "__main__":
    print(f"numpy {np.__version__}, scikit-image {skimage.__version__}, "
          f"colour-science {colour.__version__}, coloraide {coloraide_version}")  # fmt: skip
    ciede2000()
    vision()
    scores()
    mixings()
