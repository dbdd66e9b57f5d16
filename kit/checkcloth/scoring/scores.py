"""What a score holds: numbers for each kind of tone pair, and for the cloth as a whole."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats
from checkcloth.scoring.pairs import KINDS

__all__ = ["MEASURES", "PairScore", "Score"]

# The numbers that every kind of pair has, in the order that tables print them, and in words.
MEASURES = {
    "least_de2000": "least ΔE00",
    "mean_de2000": "mean ΔE00",
    "least_dl": "least ΔL*",
    "mean_dl": "mean ΔL*",
    "least_ratio": "least contrast ratio",
    "mean_ratio": "mean contrast ratio",
    "least_deok": "least ΔEOK",
    "mean_deok": "mean ΔEOK",
}


@dataclass(frozen=True)
class PairScore:
    """Scores of one kind of tone pair, each of shape (...); NaN where there is no pair.

    Attributes
    ----------
    least_de2000, mean_de2000 : ndarray
        CIEDE2000 of the closest pair, and the mean over pairs.
    least_dl : ndarray
        Least |ΔL*| over pairs.
    least_ratio : ndarray
        Least contrast ratio over pairs.
    closest : ndarray of int, shape (..., 2, 2)
        The closest pair by CIEDE2000: (warp, weft) indices of its two tones; −1 where
        there is no pair.
    mean_dl, mean_ratio : ndarray
        Means of |ΔL*| and of the contrast ratio over pairs.
    least_deok, mean_deok : ndarray
        Distance in Oklab: of the closest pair by that measure, and the mean.

    Examples
    --------
    >>> from checkcloth import Colourway, score
    >>> part = score(Colourway("white", ["navy"])).ground_single
    >>> part.least_dl.round(1).item(), part.closest.tolist()
    (44.3, [[0, 0], [1, 0]])
    """

    least_de2000: Floats
    mean_de2000: Floats
    least_dl: Floats
    least_ratio: Floats
    closest: NDArray[np.intp]
    mean_dl: Floats
    mean_ratio: Floats
    least_deok: Floats
    mean_deok: Floats

    def __getitem__(self, place: int | slice) -> PairScore:
        return PairScore(*(getattr(self, name)[place] for name in self.__dataclass_fields__))


@dataclass(frozen=True)
class Score:
    """Scores of one colourway, or of many: every array has the shape (...) of what was scored.

    CIEDE2000 was fitted to small differences, so ΔL* and the contrast ratio always stand
    beside it. WCAG exempts decoration; its limits are a yardstick here.

    Attributes
    ----------
    ground_single, single_crossing, single_single, crossing_crossing : PairScore
        The first two are the pairs that share an edge on the cloth.
    cloth : mapping of str to ndarray
        The scores of ``WHOLE_CLOTH`` by name; the first two are ``lightness_runs`` and
        ``evenness``.
    afar : ndarray, shape (..., 3)
        Encoded sRGB that the cloth has from afar.
    vision : str
        The colour vision it was scored for.

    Examples
    --------
    >>> from checkcloth import Colourway, score
    >>> scores = score([Colourway("white", ["navy"]), Colourway("white", ["ivory"])])
    >>> scores.ground_single.least_de2000.round(1).tolist()
    [37.6, 3.7]
    """

    ground_single: PairScore
    single_crossing: PairScore
    single_single: PairScore
    crossing_crossing: PairScore
    cloth: Mapping[str, Floats]
    afar: Floats
    vision: str = "normal"

    def __len__(self) -> int:
        if self.evenness.ndim == 0:
            raise TypeError("the score of one colourway has no length")
        return len(self.evenness)

    def __getitem__(self, place: int | slice) -> Score:
        parts = {kind: getattr(self, kind)[place] for kind in KINDS}
        return Score(
            **parts,
            cloth={name: values[place] for name, values in self.cloth.items()},
            afar=self.afar[place],
            vision=self.vision,
        )

    @property
    def lightness_runs(self) -> NDArray[np.bool_]:
        """Whether lightness runs one way from ground over single to crossing, on every path."""
        return np.asarray(self.cloth["lightness_runs"] == 1)

    @property
    def evenness(self) -> Floats:
        """The smaller lightness step over the larger, 0 to 1.

        The steps are from the ground to the mean single, and from there to the mean crossing.
        """
        return self.cloth["evenness"]

    @property
    def least_edge(self) -> Floats:
        """The least CIEDE2000 over every edge on the cloth."""
        return np.fmin(self.ground_single.least_de2000, self.single_crossing.least_de2000)

    def columns(self) -> dict[str, Floats]:
        """Return the numbers by name, in a fixed order, for tables and files."""
        out: dict[str, Floats] = {}
        for kind in KINDS:
            part: PairScore = getattr(self, kind)
            for name in MEASURES:
                out[f"{kind}_{name}"] = getattr(part, name)
        out.update(self.cloth)
        return out

    def __str__(self) -> str:
        if self.evenness.ndim:
            return f"scores of {self.evenness.size} colourways ({self.vision} vision)"
        ground, cross = self.ground_single, self.single_crossing
        runs = "lightness runs in order" if self.lightness_runs else "lightness out of order"
        return (
            f"ground–single ΔE00 {ground.least_de2000:.1f}, ΔL* {ground.least_dl:.1f}, "
            f"{ground.least_ratio:.2f}:1; single–crossing ΔE00 {cross.least_de2000:.1f}, "
            f"ΔL* {cross.least_dl:.1f}, {cross.least_ratio:.2f}:1; {runs} ({self.vision} vision)"
        )
