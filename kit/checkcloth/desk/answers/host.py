"""What an answer may use of the session that it is given for."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Protocol

from checkcloth.cloth.chosen import ChosenSet
from checkcloth.desk.finder import Finder
from checkcloth.desk.forms.hand_off import HandOffJob
from checkcloth.desk.keep_file import Earlier, KeepFile
from checkcloth.desk.palette_files import PaletteFiles
from checkcloth.desk.state.fields import Request
from checkcloth.desk.state.state import DeskState, History


class Host(Protocol):
    """A session, as its answers see it; see :class:`~checkcloth.desk.session.Desk`."""

    history: History
    keep_file: KeepFile
    palette_files: PaletteFiles
    hand_off: HandOffJob | None
    offer: list[Earlier]
    message: str
    saved: str
    save_fault: str
    noted: dict[str, Any]
    unsaved: bool
    finder: Finder
    retired: bool

    @property
    def state(self) -> DeskState:
        """What the desk holds now."""

    @property
    def kept(self) -> ChosenSet:
        """The kept colourways as a set."""

    def as_range(self) -> ChosenSet:
        """Return the kept as they are saved."""

    def commit(self, state: DeskState, words: str, group: str = "") -> None:
        """Make ``state`` the present one."""

    def take_step(self, request: Request) -> int | None:
        """Take a step of the state."""

    def follow(self, before: DeskState | None, *, save: bool = True) -> None:
        """Let page, form and file follow the state."""

    def save(self) -> None:
        """Write the range to its file."""

    def save_soon(self) -> None:
        """Save once nothing moves."""

    def follow_export(self) -> None:
        """Save fields of the export that were changed, and show them."""

    def put_export(self) -> None:
        """Show the page the fields of the export."""

    def say(self, message: str) -> None:
        """Put a message on the page's status line."""

    def put_facts(self) -> None:
        """Tell the page what stands around the wall."""

    def refresh_palettes(self) -> None:
        """Take in palette files that came or were changed."""


# Called with the session, the request, and the bytes of files.
Answer = Callable[..., dict[str, Any]]
