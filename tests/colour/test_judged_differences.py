"""How differently people find colours: our formulas against 3,813 pairs that were judged.

COMBVD (Luo, Cui and Rigg, *Color Research & Application* 26:340–350, 2001: BFD-P, Leeds,
RIT-DuPont and Witt) as PyPI's vsl-ial (MIT) carries it. STRESS: García, Huertas, Melgosa and
Cui, *J. Opt. Soc. Am. A* 24:1823–1829, 2007; 0 is perfect agreement. Both citations from
memory. Expected values were worked out independently from the same data with other code.
"""

from __future__ import annotations

import numpy as np
import pytest

from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.difference import delta_e_cmc, delta_e_hyab
from checkcloth.colour.spaces import xyz_to_lab

distance = pytest.importorskip("vsl_ial.datasets.distance")


def stress(found, judged) -> float:
    """STRESS = 100 √(Σ(ΔE − F·ΔV)² / Σ(F·ΔV)²) with F = ΣΔE² / ΣΔE·ΔV."""
    factor = (found**2).sum() / (found * judged).sum()
    return 100 * float(
        np.sqrt(((found - factor * judged) ** 2).sum() / ((factor * judged) ** 2).sum())
    )


@pytest.fixture(scope="module")
def sets():
    out = {}
    for data in distance.load_combvd():
        lab = xyz_to_lab(data.xyz, data.illuminant)
        one, two = np.array(data.pairs).T
        out[data.name] = lab[one], lab[two], data.dv
    return out


MEASURES = {
    "ΔE00": (delta_e_2000, 29.20),
    "CMC(1:1)": (lambda a, b: delta_e_cmc(a, b, 1, 1), 30.64),
    "CMC(2:1)": (delta_e_cmc, 33.75),
    "HyAB": (delta_e_hyab, 41.22),
    "ΔE*ab": (lambda a, b: np.linalg.norm(a - b, axis=-1), 42.86),
}


@pytest.mark.parametrize("name", MEASURES)
def test_stress_on_combvd(sets, name):
    measure, expected = MEASURES[name]
    one, two, judged = (np.concatenate(part) for part in zip(*sets.values(), strict=True))
    assert len(judged) == 3813
    assert stress(measure(one, two), judged) == pytest.approx(expected, abs=0.01)


@pytest.mark.parametrize(
    ("name", "pairs", "expected"),
    [
        ("bfd_p-d65", 2028, 24.09), ("bfd_p-m", 548, 35.23), ("bfd_p-c", 200, 29.08),
        ("leeds", 307, 19.25), ("rit-dupont", 312, 19.47), ("witt", 418, 30.22),
    ],
)  # fmt: skip
def test_stress_of_ciede2000_set_by_set(sets, name, pairs, expected):
    one, two, judged = sets[name]
    assert len(judged) == pairs
    assert stress(delta_e_2000(one, two), judged) == pytest.approx(expected, abs=0.01)


def test_the_pairs_are_small_differences(sets):
    """What the page says of them: nearly all lie under ΔE*ab 10, the middle one near 2."""
    one, two, _ = (np.concatenate(part) for part in zip(*sets.values(), strict=True))
    plain = np.linalg.norm(one - two, axis=-1)
    assert np.median(plain) == pytest.approx(2.0, abs=0.05)
    assert np.quantile(plain, 0.98) < 10
