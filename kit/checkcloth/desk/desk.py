"""The desk: sliders, wall and shelf over the plain functions of this room."""

from __future__ import annotations

import time
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import ipywidgets

from checkcloth.arguments import Floats
from checkcloth.cloth.chosen import ChosenSet
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.palette import Palette
from checkcloth.desk.controls import Controls
from checkcloth.desk.doing import Doing
from checkcloth.desk.forms.hand_off_form import HandOffForm
from checkcloth.desk.keep_file import KeepFile, earlier_sets
from checkcloth.desk.listening import listen
from checkcloth.desk.payloads import vision_choices
from checkcloth.desk.sending import Sending
from checkcloth.desk.state import choices, ideas
from checkcloth.desk.state import sort_filter as sieve
from checkcloth.desk.state.history import History
from checkcloth.desk.state.state import DeskState
from checkcloth.desk.wall import Wall
from checkcloth.errors import ArgumentError, CheckclothError
from checkcloth.scoring.words import COLUMNS

__all__ = ["Desk"]


class Desk:
    """A desk of colourways; make one with :func:`open_desk`.

    Attributes
    ----------
    kept : ChosenSet
    shown : list of Colourway
        The wall as it looks now, in its order, without what is hidden.
    hand_off : HandOffForm or None
        The form under the wall; none once another desk has gone on from this one.
    troubles : list of str
        Tracebacks of faults of the kit itself, for a report.
    """

    def __init__(
        self,
        state: DeskState,
        palettes: list[Palette],
        keep_file: KeepFile,
        history: History | None = None,
        hand_off: HandOffForm | None = None,
    ) -> None:
        self.palettes = {palette.name: palette for palette in palettes}
        self.keep_file = keep_file
        self.history = history or History(state)
        self.vision = "normal"
        self.troubles: list[str] = []
        self.offer = earlier_sets(keep_file.folder, keep_file.path)
        self.retired = False
        self.controls = Controls(palettes)
        self.wall = Wall(
            columns=[list(pair) for pair in COLUMNS.items()],
            visions=vision_choices(),
            born=time.time(),
            controls={
                "size": f"IPY_MODEL_{self.controls.size.model_id}",
                "strength": f"IPY_MODEL_{self.controls.strength.model_id}",
            },
        )
        self.sending = Sending(self)
        self._doing = Doing(self)
        self.trouble = self._doing.trouble
        if hand_off is None:
            first = {"name": keep_file.name, "folder": f"out/{keep_file.name}"}
            hand_off = HandOffForm(lambda: self.kept, self.trouble, first)
        else:  # goes on from another desk, with all that was filled in, or is being written
            hand_off.kept, hand_off.trouble = (lambda: self.kept), self.trouble
        self.hand_off: HandOffForm | None = hand_off
        self.box = ipywidgets.VBox([self.controls.settings, self.wall, hand_off.box])
        self.wall.on_msg(self._doing.hear)
        listen(self, self._doing)
        self._deal_if_empty()
        self.sending.send(None)

    # -- for people who write code --------------------------------------------------------------

    @property
    def state(self) -> DeskState:
        """What the desk holds now."""
        return self.history.now

    @property
    def kept(self) -> ChosenSet:
        """The kept colourways as a set, on the desk's check size."""
        return self.state.chosen_set(self.keep_file.name)

    @property
    def shown(self) -> list[Colourway]:
        """The wall as it looks now, in its order, without what is hidden."""
        order = sieve.arrange(self.scores(), self.state).order
        return [self.state.as_shown(self.state.shown[place]) for place in order]

    def scores(self) -> dict[str, Floats]:
        """Return the scores of everything on the wall, in the order of the deal, by column."""
        if not self.sending.tally.columns:
            for _ in self.sending.score_parts():
                pass
        return self.sending.tally.columns

    def show(self, colourways: Iterable[Colourway], origin: str = "shown by code") -> None:
        """Put other colourways on the wall, such as the outcome of a search.

        Each keeps its own strength and mixing until the slider or the choice is moved. Where
        all have equally many stripes the slider of stripes stands there.
        """
        members = list(colourways)
        counts = {len(one.stripes) for one in members}
        same = counts.pop() if len(counts) == 1 else 0
        strengths = {one.strength for one in members}
        mixings = {one.mixing for one in members}
        state = self.state.deal(
            members,
            origin,
            {"how": origin},
            strength=strengths.pop() if len(strengths) == 1 else None,
            mixing=mixings.pop() if len(mixings) == 1 else None,
            stripes=same if 1 <= same <= self.controls.stripes.max else self.state.stripes,
        )
        self.commit(state, f"show {origin}")

    def keep(self, place: int) -> None:
        """Keep the colourway at a place of the wall as it shows, counted from 1."""
        order = sieve.arrange(self.scores(), self.state).order
        if not 1 <= place <= len(order):
            raise ArgumentError("place", f"from 1 to {len(order)}", words=str(place))
        number = self.state.shown[order[place - 1]].number
        self.commit(choices.keep(self.state, number), "keep one")

    def export(self, folder: str | Path, *, overwrite: bool = False, **more: Any) -> Any:
        """Hand the kept colourways off to a folder; see ``hand_off``."""
        from checkcloth.export.hand_off.hand_off import hand_off

        if not len(self.kept):
            raise ArgumentError("nothing is kept yet: tick a colourway first, then export")
        target = Path(folder)
        target.parent.mkdir(parents=True, exist_ok=True)
        return hand_off(self.kept, self.kept.check, target, overwrite=overwrite, **more)

    # -- changing -------------------------------------------------------------------------------

    @property
    def palette(self) -> Palette:
        """The palette in use."""
        return self.palettes[self.state.palette]

    def commit(self, state: DeskState, words: str, strand: str = "") -> None:
        """Make ``state`` the present one, under words that undo can show."""
        before = self.state
        self.history = self.history.step(state, words, strand)
        self.sending.send(before)

    def undo(self) -> str:
        """Take the last step back; return what it was."""
        return self._walk(self.history.undoes, self.history.undo())

    def redo(self) -> str:
        """Do again what was undone; return what it was."""
        return self._walk(self.history.redoes, self.history.redo())

    def _walk(self, words: str, history: History) -> str:
        before, self.history = self.state, history
        if words:
            self.sending.send(before)
        return words

    def set_vision(self, vision: str) -> None:
        """Look at the wall with another colour vision; scores follow."""
        self.vision = vision
        self.sending.send(None)

    def say(self, message: str) -> None:
        """Put a message on the page's status line."""
        self.sending.message = message
        self.sending.put_facts()

    def save(self) -> None:
        """Write the kept set to its file; a failure is said, and loses nothing in memory."""
        try:
            path = self.keep_file.save(self.kept)
        except (OSError, CheckclothError) as error:
            self.sending.saved = f"NOT SAVED, only in this kernel: {error}"
        else:
            self.sending.saved = f"saved in {path.name}" if path else ""

    def _deal_if_empty(self) -> None:
        if not self.state.shown:
            self.history = History(ideas.draw(self._roomy(self.state), self.palette))

    def _roomy(self, state: DeskState) -> DeskState:
        """Hold the stripe count to what the palette has; say so if that changes it."""
        palette = self.palettes[state.palette]
        most = ideas.most_stripes(state, palette)
        if state.stripes <= most:
            return state
        self.sending.message = (
            f"{palette.name} has {most} colours for stripes, so {state.stripes} became {most}."
        )
        return state.with_(stripes=most)

    def redraw(self, words: str, strand: str = "", **changes: Any) -> None:
        """Change the settings of the draw and deal it afresh."""
        state = self._roomy(self.state.with_(**changes))
        self.commit(ideas.draw(state, self.palettes[state.palette]), words, strand)

    # -- opening again, and ending -------------------------------------------------------------

    def reopened(self, state: DeskState | None, palettes: list[Palette]) -> Desk:
        """Return a desk that goes on from this one: wholly, or from ``state`` with the kept."""
        if state is None:
            history = self.history
        else:
            now = self.state
            going = state.with_(
                kept=now.kept,
                next_number=now.next_number,
                locked_ground=now.locked_ground,
                locked_stripes=now.locked_stripes,
            )
            history = History(going)
        form, self.hand_off = self.hand_off, None
        self.box.children = [self.controls.settings, self.wall]
        desk = Desk(history.now, palettes, self.keep_file, history, form)
        desk.offer, desk.vision = self.offer, self.vision
        desk.sending.saved = self.sending.saved
        desk.sending.send(None)
        return desk

    def retire(self) -> None:
        """Stop listening, say so on the page, and take the sliders away."""
        self.retired = True
        self.sending.stop()
        self.sending.message = ""
        self.sending.put_facts()
        self.wall.on_msg(self._doing.hear, remove=True)
        # Not closed yet: where two cells run in one go, the page is still putting them in place.
        self.box.children = [self.wall]

    def close(self) -> None:
        """Take the desk off the page altogether."""
        form = self.hand_off.widgets if self.hand_off else ()
        for widget in (*self.controls.widgets, *form, self.wall, self.box):
            widget.close()

    def __repr__(self) -> str:
        return f"<desk {self.keep_file.name}: {len(self.state.shown)} shown, {len(self.kept)} kept>"

    def _repr_mimebundle_(self, **kwargs: Any) -> dict[str, Any]:
        from checkcloth.desk.still_picture import still_picture

        bundle: dict[str, Any] = dict(self.box._repr_mimebundle_() or {})
        # In the order of the deal: sorting would score a whole wall before it is first seen.
        dealt = [self.state.as_shown(card) for card in self.state.shown]
        return bundle | {"text/plain": repr(self), "text/html": still_picture(dealt)}
