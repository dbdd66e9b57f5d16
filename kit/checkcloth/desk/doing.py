"""What the page asks for, done: each request gets an answer, and no fault is swallowed."""

from __future__ import annotations

import traceback
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from checkcloth.colour.vision import VISIONS
from checkcloth.desk.payloads import look
from checkcloth.desk.state import choices, ideas
from checkcloth.desk.state import sort_filter as sieve
from checkcloth.desk.state.state import Card, DeskState, recipe, short_name
from checkcloth.errors import ArgumentError, CheckclothError
from checkcloth.export.data.saved import open_set

if TYPE_CHECKING:
    from checkcloth.desk.desk import Desk

__all__ = ["Doing"]

_Fields = dict[str, Any]


class Doing:
    """The requests of the page's code, by name."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self._acts: dict[str, Callable[[_Fields], str]] = {
            "toggle": self._toggle,
            "keep": self._keep,
            "drop": self._drop,
            "name": self._name,
            "note": self._note,
            "move": self._move,
            "compare": self._compare,
            "undo": lambda _: self._told("Undone", self.desk.undo(), "Nothing to undo."),
            "redo": lambda _: self._told("Done again", self.desk.redo(), "Nothing to redo."),
            "draw": self._draw,
            "more": self._more,
            "different": self._different,
            "lock_ground": self._lock_ground,
            "lock_stripe": self._lock_stripe,
            "unlock": self._unlock,
            "sort": self._sort,
            "limit": self._limit,
            "unlimit": self._unlimit,
            "vision": self._vision,
            "take": self._take,
            "dismiss": self._dismiss,
        }

    # -- hearing --------------------------------------------------------------------------------

    def hear(self, _: object, content: _Fields, __: object) -> None:
        """Answer one message of the page: with what it asked for, or with why not."""
        answer: _Fields = {"id": content.get("id")}
        buffers: list[bytes] = []
        try:
            what = content.get("do")
            if what == "look":
                told, tones = look(self.desk.state, _whole(content, "number"))
                answer |= told
                buffers = [tones]
            elif what != "ping":
                if what not in self._acts:
                    raise ArgumentError("do", "something the desk does", what)
                self.desk.say(self._acts[what](content))
        except (CheckclothError, OSError) as error:
            answer["error"] = str(error)
        except Exception as error:
            self.trouble(error)
            answer["error"] = f"a fault of the kit itself ({type(error).__name__}: {error})"
        self.desk.wall.send(answer, buffers)

    def guard(self, act: Callable[[], None]) -> None:
        """Run what a slider or field asks for; say on the page what went wrong."""
        try:
            act()
        except (CheckclothError, OSError) as error:
            self.desk.say(f"Not done: {error}")
        except Exception as error:
            self.trouble(error)

    def trouble(self, error: Exception) -> None:
        """Keep the traceback of a fault of the kit itself, and say so on the page."""
        self.desk.troubles.append("".join(traceback.format_exception(error)))
        self.desk.say(
            f"Not done: a fault of the kit itself ({type(error).__name__}: {error}); "
            "desk.troubles holds the details."
        )

    # -- choosing -------------------------------------------------------------------------------

    def _commit(self, state: DeskState, words: str) -> str:
        self.desk.commit(state, words)
        return words[0].upper() + words[1:] + "."

    def _called(self, fields: _Fields) -> tuple[int, str]:
        number = _whole(fields, "number")
        return number, short_name(self.desk.state.find(number).colourway)

    def _toggle(self, fields: _Fields) -> str:
        number, called = self._called(fields)
        before = self.desk.state
        state = choices.toggle(before, number)
        verb = "keep" if len(state.kept) > len(before.kept) else "drop"
        return self._commit(state, f"{verb} {called}")

    def _keep(self, fields: _Fields) -> str:
        number, called = self._called(fields)
        state = choices.keep(self.desk.state, number)
        if state is self.desk.state:  # a name typed just before has kept it
            return f"{called} is kept."
        return self._commit(state, f"keep {called}")

    def _drop(self, fields: _Fields) -> str:
        number, called = self._called(fields)
        return self._commit(choices.drop(self.desk.state, number), f"drop {called}")

    def _name(self, fields: _Fields) -> str:
        number, called = self._called(fields)
        text = _text(fields, "text")
        return self._commit(
            choices.name(self.desk.state, number, text), f"name {called} “{text.strip()}”"
        )

    def _note(self, fields: _Fields) -> str:
        number, called = self._called(fields)
        state = choices.note(self.desk.state, number, _text(fields, "text"))
        return self._commit(state, f"note to {called}")

    def _move(self, fields: _Fields) -> str:
        number, called = self._called(fields)
        state = choices.move(self.desk.state, number, _whole(fields, "place"))
        place = 1 + [card.number for card in state.kept].index(number)
        return self._commit(state, f"move {called} to place {place}")

    def _compare(self, fields: _Fields) -> str:
        number, called = self._called(fields)
        state = choices.compare(self.desk.state, number)
        verb = "lay beside" if number in state.compared else "take away"
        return self._commit(state, f"{verb}: {called}")

    @staticmethod
    def _told(verb: str, words: str, nothing: str) -> str:
        return f"{verb}: {words}." if words else nothing

    # -- ideas ----------------------------------------------------------------------------------

    def _draw(self, _: _Fields) -> str:
        state = self.desk.state.with_(seed=self.desk.state.seed + 1)
        return self._commit(ideas.draw(state, self.desk.palette), "new draw")

    def _more(self, fields: _Fields) -> str:
        number, called = self._called(fields)
        state = ideas.more_like(self.desk.state, number, self.desk.palette)
        return self._commit(state, f"more like {called}")

    def _different(self, _: _Fields) -> str:
        return self._commit(
            ideas.different(self.desk.state, self.desk.palette), "something different"
        )

    def _lock_ground(self, fields: _Fields) -> str:
        state = ideas.lock_ground(self.desk.state, _whole(fields, "number"))
        ground = state.locked_ground
        return self._commit(state, f"lock ground {ground.name}" if ground else "unlock the ground")

    def _lock_stripe(self, fields: _Fields) -> str:
        place = _whole(fields, "place")
        state = ideas.lock_stripe(self.desk.state, _whole(fields, "number"), place)
        lock = state.locked_stripes[place - 1] if place <= len(state.locked_stripes) else None
        words = f"lock stripe {place}, {lock.name}" if lock else f"unlock stripe {place}"
        return self._commit(state, words)

    def _unlock(self, fields: _Fields) -> str:
        place = _whole(fields, "place")
        state = self.desk.state
        if place == 0:
            return self._commit(state.with_(locked_ground=None), "unlock the ground")
        locks = [None if n == place else lock for n, lock in enumerate(state.locked_stripes, 1)]
        while locks and locks[-1] is None:
            locks.pop()
        return self._commit(state.with_(locked_stripes=tuple(locks)), f"unlock stripe {place}")

    # -- the order of the wall ------------------------------------------------------------------

    def _sort(self, fields: _Fields) -> str:
        return self._commit(sieve.sort_by(self.desk.state, _text(fields, "sort")), "sort")

    def _limit(self, fields: _Fields) -> str:
        least = fields.get("least")
        if isinstance(least, bool) or not isinstance(least, int | float):
            raise ArgumentError("the limit", "a number", least)
        state = sieve.add_limit(self.desk.state, _text(fields, "column"), least)
        return self._commit(state, f"hide what is under {least:g}")

    def _unlimit(self, fields: _Fields) -> str:
        state = sieve.drop_limit(self.desk.state, _text(fields, "column"))
        return self._commit(state, "stop hiding")

    def _vision(self, fields: _Fields) -> str:
        vision = _text(fields, "vision")
        if vision not in VISIONS:
            raise ArgumentError("vision", f"one of {', '.join(VISIONS)}", words=str(vision))
        self.desk.set_vision(vision)
        return "" if vision == "normal" else f"Seen as {vision}; scores and sorting follow."

    # -- earlier sessions -----------------------------------------------------------------------

    def _take(self, fields: _Fields) -> str:
        name = _text(fields, "file")
        if name not in [one.path.name for one in self.desk.offer]:
            raise ArgumentError("file", "one that is offered", name)
        earlier = open_set(Path(self.desk.keep_file.folder) / name)
        state = self.desk.state
        there = {recipe(card.colourway) for card in state.kept}
        new = [one for one in earlier.chosen if recipe(one.colourway) not in there]
        cards = tuple(
            Card(state.next_number + n, one.colourway, one.origin, one.note)
            for n, one in enumerate(new)
        )
        size = state.size if state.kept else earlier.check.size
        state = state.with_(
            kept=(*state.kept, *cards), next_number=state.next_number + len(cards), size=size
        )
        self.desk.offer = []
        return self._commit(state, f"take {len(cards)} kept earlier, from {name}")

    def _dismiss(self, _: _Fields) -> str:
        self.desk.offer = []
        return "Earlier sets stay where they are."


def _whole(fields: _Fields, name: str) -> int:
    value = fields.get(name)
    if isinstance(value, bool) or not isinstance(value, int):
        raise ArgumentError(name, "a whole number", value)
    return value


def _text(fields: _Fields, name: str) -> str:
    value = fields.get(name)
    if not isinstance(value, str):
        raise ArgumentError(name, "text", value)
    return value
