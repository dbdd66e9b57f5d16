"""Which causes explain the shift of a strike-off: one, or two together, and how well.

A cause is another strength (both ways, of the warp or of the weft alone), another ground,
another colour of one stripe, another mixing, names exchanged, or an instrument set otherwise
than stated. Each, and each pair, is fitted to the measured tones in units of CMC(2:1). Causes
with more free numbers fit more of anything, and of many that are tried some fit by chance, so
they are compared by the Bayesian information criterion (Schwarz, *Annals of Statistics*
6:461–464, 1978) as corrected for small samples (McQuarrie, *Statistics & Probability Letters*
44:79–86, 1999) and extended to many candidates (Chen and Chen, *Biometrika* 95:759–771, 2008,
γ = 1; all three cited from memory): n·ln(mean square) + n·p·ln n/(n − p − 2) + 2·ln(choices).

All singles are fitted. Of the pairs those are fitted that do best when the cloth is taken as
linear in its numbers, which costs a hundredth.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from math import log

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import MIXINGS, find_mixing
from checkcloth.colour.css import hex_of
from checkcloth.colour.difference import delta_e_cmc
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.files.html import OneLine
from checkcloth.quality.diagnosis.exchange import Exchange, Exchanges
from checkcloth.quality.diagnosis.fit import fit, jacobian, left_by
from checkcloth.quality.diagnosis.made import ONE_WAY, MadeCloth, Part
from checkcloth.quality.diagnosis.misread import Misreading
from checkcloth.quality.tolerance import acceptance_weights, direction_words

# Square of what a reading repeats to, CMC units: what is less is not worth fitting.
NOISE_VARIANCE = 0.1**2
# A shift of this many CMC a tone is nothing to explain; a fitted ground that lies farther from
# its own reading, and farther than three times the readings' scatter, is fitted again with that
# reading weighing so much more. Choices of ours.
NEGLIGIBLE_CMC = 0.3
_GROUND_SCATTERS = 3.0
_GROUND_WEIGHT = 30.0
# How many pairs of a kind are fitted, of those that linear estimates rank.
_PAIRS_FITTED = 8


@dataclass(frozen=True, repr=False)
class Cause(OneLine):
    """One cause fitted alone, or two fitted together.

    Attributes
    ----------
    name : str
        ``"strength"``, ``"warp strength"``, ``"weft strength"``, ``"ground"``, ``"stripe 2"``,
        ``"mixing"``, ``"tones exchanged"``, ``"stripes exchanged"``, ``"warp and weft
        exchanged"``, ``"illuminant"``, ``"white"``, ``"observer"`` or ``"conditions"``
        (illuminant and observer); of two, both with ``+``.
    subject : str
        For people: ``"the overlay strength"``, ``"the ground, Cotton"``.
    numbers : tuple of float
        What the fit found: strengths, encoded sRGB colours; none for the rest.
    says : str
        As if what had happened: ``"58.1 % instead of 50 %"``.
    explained : float
        Share of the shift, CMC(2:1) a tone, that it accounts for, corrected for its free
        numbers; 1 is all, 0 (or less) none.
    left : float
        Root mean square of what is left, CMC(2:1) a tone.
    worst : float
        The largest CMC(2:1) that is left of a tone.
    criterion : float
        Extended Bayesian information criterion; the lower the better.
    parts : tuple of str
        Names of the one or two causes.
    made : tuple
        State, mixing and way of reading that the cloth would have: see :func:`shift_of`.
    moved : tuple of str
        Tones whose readings would stand under other names.
    """

    name: str
    subject: str
    numbers: tuple[float, ...]
    says: str
    explained: float
    left: float
    worst: float
    criterion: float
    parts: tuple[str, ...]
    made: tuple[Floats, str, bool] = field(compare=False)
    moved: tuple[str, ...] = ()

    def __str__(self) -> str:
        return (
            f"{self.subject}: as if {self.says}; explains {max(self.explained, 0) * 100:.0f} % "
            f"of the shift and leaves CMC(2:1) {self.left:.2f} a tone"
        )


@dataclass(frozen=True)
class Evidence:
    """What was measured of a strike-off, and what it is held against."""

    colourway: Colourway  # as specified
    tones: Sequence[tuple[int, int]]  # canonical (warp, weft) of the T tones that were measured
    wanted: Floats  # (T, 3), Lab of the standard
    found: Floats  # (T, 3), and of the strike-off
    # Root mean square CMC(2:1) of a tone's mean from repeated readings; NaN where none was.
    scatter: float = float("nan")
    misread: Sequence[Misreading] = ()

    @property
    def size(self) -> float:
        """Root mean square CMC(2:1) a tone of the whole shift."""
        return float(np.sqrt((delta_e_cmc(self.wanted, self.found) ** 2).mean()))

    @property
    def none(self) -> float:
        """The criterion of no cause at all."""
        target = in_cmc(self.found - self.wanted, cmc_axes(self.wanted))
        return float(target.size * np.log(target @ target / target.size + NOISE_VARIANCE))


@dataclass(frozen=True)
class _Model:
    """Which causes act: parts of the cloth, another mixing, a misreading, an exchange."""

    parts: tuple[Part, ...] = ()
    mixing: str = ""
    misread: Misreading | None = None
    exchange: Exchange | None = None
    turned: bool = False

    @property
    def names(self) -> tuple[str, ...]:
        names = [part.name for part in self.parts]
        if self.mixing:
            names.append("mixing")
        if self.misread:
            names.append(self.misread.name)
        if self.exchange:
            names.append(f"{self.exchange.kind} exchanged")
        return tuple(names)

    @property
    def free(self) -> int:
        return sum(part.free for part in self.parts)


@dataclass(frozen=True)
class _Fitted:
    model: _Model
    x: Floats
    residual: Floats
    criterion: float


class _Search:
    """Fits models to evidence."""

    def __init__(self, evidence: Evidence) -> None:
        self.evidence = evidence
        self.cloth = MadeCloth(evidence.colourway, evidence.tones)
        self._axes = cmc_axes(evidence.wanted)
        self.spec = self._lab(self.cloth.start[None], _Model())[0]
        self.exchanges = Exchanges(evidence.colourway, evidence.tones)
        self.size = 3 * len(evidence.tones)
        self._slopes: dict[tuple[str, bool], Floats] = {}
        names = [name for name in MIXINGS if name != evidence.colourway.mixing]
        self.bases = [base for name in names for base in self._as_read(_Model(mixing=name))]
        self.bases += [_Model(misread=misread) for misread in evidence.misread]
        self._choices = {
            "mixing": len(names),
            **{misread.name: len(evidence.misread) for misread in evidence.misread},
        }

    def _lab(self, states: Floats, model: _Model) -> Floats:
        mixing = model.mixing or self.evidence.colourway.mixing
        return self.cloth.lab(states, mixing, turned=model.turned)

    def found(self, model: _Model) -> Floats:
        found = model.misread.found if model.misread else self.evidence.found
        return found[model.exchange.order] if model.exchange else found

    def states(self, model: _Model, x: Floats) -> Floats:
        """States (B, S) of the numbers (B, p) of a model's parts."""
        states = np.repeat(self.cloth.start[None], len(x), axis=0)
        first = 0
        for part in model.parts:
            moves = part.moves
            there = moves.any(axis=1)
            states[:, there] = (x[:, first : first + part.free] @ moves.T)[:, there]
            first += part.free
        return states

    def start(self, model: _Model) -> Floats:
        start = [part.moves.T @ self.cloth.start / part.moves.sum(axis=0) for part in model.parts]
        return np.concatenate([*start, np.empty(0)])

    def residuals(self, model: _Model, x: Floats) -> Floats:
        """CMC parts (B, n): what the model makes of the shift, less the shift."""
        lab = self._lab(self.states(model, x), model)
        shift = self.found(model) - self.evidence.wanted
        return in_cmc(lab - self.spec - shift, self._axes)

    def slopes(self, model: _Model, part: Part) -> Floats:
        """Derivatives (n, p) of a part at the specification, in the model's mixing."""
        key = (model.mixing, model.turned)
        if key not in self._slopes:
            bare = _Model(mixing=model.mixing, turned=model.turned)
            every = replace(bare, parts=(Part("", "", np.eye(len(self.cloth.start))),))
            here = self.residuals(every, self.cloth.start[None])[0]
            slope = jacobian(lambda x: self.residuals(every, x), self.cloth.start, here)
            self._slopes[key] = slope
        return np.asarray(self._slopes[key] @ part.moves)

    def price(self, model: _Model, square: float) -> float:
        """The criterion of a model that leaves this sum of squares."""
        choices = sum(log(part.choices) for part in model.parts)
        choices += sum(log(self._choices[name]) for name in model.names if name in self._choices)
        if model.exchange:
            choices += model.exchange.log_choices
        size, free = self.size, model.free
        if free + 2 >= size:
            return float("inf")
        mean = np.log(max(square, 0) / size + NOISE_VARIANCE)
        return float(size * (mean + free * np.log(size) / (size - free - 2)) + 2 * choices)

    def fitted(self, model: _Model, start: Floats | None = None) -> _Fitted | None:
        """Fit a model, or return None where it has too many numbers or no tone shows it."""
        if model.free + 2 >= self.size:
            return None
        x = self.start(model) if start is None else start
        if model.free:
            for part in model.parts:
                if np.abs(self.slopes(model, part)).max() < 1e-6:
                    return None  # no measured tone depends on it
            x, residual = fit(lambda x: self.residuals(model, x), x)
            if self._contradicts_ground(model, residual):
                weights = np.where(self._of_ground(), _GROUND_WEIGHT, 1)
                x, weighted = fit(lambda x: self.residuals(model, x) * weights, x)
                residual = weighted / weights
        else:
            residual = self.residuals(model, np.empty((1, 0)))[0]
        return _Fitted(model, x, residual, self.price(model, float(residual @ residual)))

    def _of_ground(self) -> NDArray[np.bool_]:
        """Which of the n numbers are readings of the bare ground."""
        return np.repeat([tone == (0, 0) for tone in self.evidence.tones], 3)

    def _contradicts_ground(self, model: _Model, residual: Floats) -> bool:
        """Whether a fitted ground lies farther from its own reading than readings scatter."""
        if not any(part.name == "ground" for part in model.parts):
            return False
        scatter = float(np.nan_to_num(self.evidence.scatter))
        apart = float(np.linalg.norm(residual[self._of_ground()]))
        return apart > max(NEGLIGIBLE_CMC, _GROUND_SCATTERS * scatter)

    def _as_read(self, model: _Model) -> list[_Model]:
        """A model for each way of reading names that warp and weft share, where it matters."""
        both = [replace(model, turned=turned) for turned in self.cloth.turns]
        labs = [self._lab(self.cloth.start[None], each) for each in both]
        return both[:1] if np.allclose(labs[0], labs[-1], rtol=0, atol=1e-6) else both

    # -- what is tried --------------------------------------------------------------------

    def singles(self) -> list[_Fitted]:
        """Every cause alone; of those that names leave open, the likelier reading of them."""
        models = [
            _Model((part,), turned=turned)
            for part in self.cloth.parts.values()
            for turned in (self.cloth.turns if part.name in ONE_WAY else (False,))
        ]
        made = [self.fitted(model) for model in [*models, *self.bases]]
        singles = [one for one in made if one is not None]
        if (alone := self.with_exchange(self._nothing())) is not None:
            singles.append(alone)
        return singles

    def _nothing(self) -> _Fitted:
        residual = self.residuals(_Model(), np.empty((1, 0)))[0]
        return _Fitted(_Model(), np.empty(0), residual, self.evidence.none)

    def with_exchange(self, base: _Fitted) -> _Fitted | None:
        """The best exchange on top of a fit, fitted anew, and looked for once more."""
        best: _Fitted | None = None
        for _ in range(2):
            exchange = self._exchange(base)
            if exchange is None:
                break
            model = replace(base.model, exchange=exchange)
            again = self.fitted(model, base.x if base.x.size else None)
            if again is None or (best is not None and again.criterion >= best.criterion):
                break
            best = base = again
        return best

    def _exchange(self, base: _Fitted) -> Exchange | None:
        model = replace(base.model, exchange=None)
        evidence = self.evidence
        predicted = self._lab(self.states(model, base.x[None]), model)[0] - self.spec
        predicted = predicted + evidence.wanted
        found = self.found(model)
        errors = (predicted[:, None] - found) @ self._axes
        columns = [self.slopes(model, part) for part in model.parts]
        joined = np.concatenate([*columns, np.empty((self.size, 0))], axis=1)
        return self.exchanges.best(errors, joined, NOISE_VARIANCE)

    def pairs(self, singles: Sequence[_Fitted]) -> list[_Fitted]:
        """Every pair of causes that could do well."""
        alone = [one for one in singles if not one.model.exchange]
        pairs = self._best_pairs(one for one in alone if one.model.parts)
        pairs += self._best_pairs(one for one in alone if not one.model.parts)
        mixings = [base for base in self.bases if base.mixing]
        for misread in self.evidence.misread:
            for base in mixings:
                pairs.append(self.fitted(replace(base, misread=misread)))
        pairs += [self.with_exchange(one) for one in alone]
        return [pair for pair in pairs if pair is not None]

    def _best_pairs(self, firsts: Iterable[_Fitted]) -> list[_Fitted | None]:
        """Fit those pairs of a single and another part that linear estimates rank first."""
        ranked: dict[tuple[object, ...], tuple[float, _Model, Floats]] = {}
        for first in firsts:
            for part in self.cloth.parts.values():
                if not _may_join(first.model, part):
                    continue
                for turned in self._turns(first.model, part):
                    model = replace(first.model, parts=(*first.model.parts, part), turned=turned)
                    columns = [self.slopes(model, each) for each in model.parts]
                    left = left_by(first.residual, np.concatenate(columns, axis=1))
                    price = self.price(model, left)
                    key = (frozenset(model.names), model.mixing, turned)
                    if key not in ranked or price < ranked[key][0]:
                        start = np.concatenate([first.x, self.start(_Model((part,)))])
                        ranked[key] = price, model, start
        best = sorted(ranked.values(), key=lambda it: it[0])[:_PAIRS_FITTED]
        return [self.fitted(model, start) for _, model, start in best]

    def _turns(self, model: _Model, part: Part) -> tuple[bool, ...]:
        if model.mixing or any(each.name in ONE_WAY for each in model.parts):
            return (model.turned,)
        return self.cloth.turns if part.name in ONE_WAY else (False,)

    # -- results --------------------------------------------------------------------------

    def cause(self, fitted: _Fitted) -> Cause:
        evidence, model = self.evidence, fitted.model
        states = self.states(model, fitted.x[None])
        offsets = self._lab(states, model)[0] - self.spec
        each = delta_e_cmc(evidence.wanted + offsets, self.found(model))
        left = float(np.sqrt((each**2).mean()))
        corrected = left * np.sqrt(self.size / (self.size - model.free))
        subjects, says = self._words(fitted)
        names = model.names
        labels = [evidence.colourway.tone_label(*tone) for tone in evidence.tones]
        return Cause(
            " + ".join(names),
            "; and ".join(subjects),
            tuple(fitted.x.tolist()),
            " and ".join(says),
            1 - corrected / evidence.size if evidence.size else 0.0,
            left,
            float(each.max()),
            fitted.criterion,
            names,
            (states, model.mixing or evidence.colourway.mixing, model.turned),
            tuple(labels[row] for row in model.exchange.moved) if model.exchange else (),
        )

    def _words(self, fitted: _Fitted) -> tuple[list[str], list[str]]:
        model = fitted.model
        subjects = [part.subject for part in model.parts]
        before = self.start(model)
        says, first = [], 0
        for part in model.parts:
            numbers = slice(first, first + part.free)
            says.append(_says(part.name, before[numbers], fitted.x[numbers]))
            first += part.free
        if model.mixing:
            subjects.append("the mixing")
            specified = find_mixing(self.evidence.colourway.mixing).label
            says.append(f"{find_mixing(model.mixing).label} instead of {specified}")
        if model.misread:
            subjects.append(model.misread.subject)
            says.append(model.misread.says)
        if model.exchange:
            subjects.append("names exchanged")
            says.append(model.exchange.says)
        return subjects, says


def _may_join(model: _Model, part: Part) -> bool:
    """Whether a part says something that the model does not: the strengths say it of both."""
    taken = {each.name for each in model.parts}
    if part.name in ONE_WAY:
        return not model.mixing and not taken & {part.name, "strength"}
    return part.name not in taken and not (part.name == "strength" and taken & {*ONE_WAY})


def explain_shift(evidence: Evidence) -> tuple[list[Cause], list[Cause]]:
    """Fit causes to a measured shift.

    Returns
    -------
    singles, pairs : lists of Cause
        The best first. Without causes that have too many free numbers for so few readings, or
        that no measured tone shows. A fitted ground agrees with its own reading. Of tones
        that warp and weft name alike only the likelier way of reading them is kept.
    """
    if not evidence.size:
        return [], []
    search = _Search(evidence)
    singles = search.singles()
    return _best_of_each(search, singles), _best_of_each(search, search.pairs(singles))


def _best_of_each(search: _Search, fits: Sequence[_Fitted]) -> list[Cause]:
    best: dict[tuple[object, ...], _Fitted] = {}
    for each in sorted(fits, key=lambda it: it.criterion):
        best.setdefault((frozenset(each.model.names), each.model.mixing), each)
    return [search.cause(each) for each in best.values()]


def shift_of(colourway: Colourway, cause: Cause) -> Floats:
    """Lab (U, 3) of every distinct tone if a cause were so, less that of the specification."""
    cloth = MadeCloth(colourway, [(tone.warp, tone.weft) for tone in colourway.unique_tones])
    states, mixing, turned = cause.made
    made = cloth.lab(states, mixing, turned=turned)[0]
    return np.asarray(made - cloth.lab(cloth.start[None], colourway.mixing)[0])


def cmc_axes(standard: Floats) -> Floats:
    """Matrices (T, 3, 3) that take Lab shifts, as rows, to parts in CMC(2:1) units.

    Lightness, chroma and hue at standards (T, 3), each by its weight.
    """
    h = np.arctan2(standard[:, 2], standard[:, 1])
    axes = np.zeros((len(standard), 3, 3))
    axes[:, 0, 0] = 1
    axes[:, 1, 1] = axes[:, 2, 2] = np.cos(h)
    axes[:, 2, 1] = np.sin(h)
    axes[:, 1, 2] = -axes[:, 2, 1]
    return np.asarray(axes / acceptance_weights(standard)[:, None])


def in_cmc(shift: Floats, axes: Floats) -> Floats:
    """Lab shifts (..., T, 3) by :func:`cmc_axes`, (..., 3T)."""
    parts = (shift[..., None, :] @ axes)[..., 0, :]
    return np.asarray(parts.reshape(*parts.shape[:-2], -1))


def _says(name: str, before: Floats, after: Floats) -> str:
    if name.endswith("strength"):
        return f"{after[0] * 100:.1f} % instead of {before[0] * 100:.4g} %"
    words = direction_words(srgb_to_lab(before), srgb_to_lab(after))
    return f"{hex_of(after)} instead of {hex_of(before)} ({words})"
