"""Opening a desk or a search form: from palettes to the widgets; one desk of a name at a time."""

from __future__ import annotations

from collections.abc import Iterable
from os import PathLike
from pathlib import Path
from typing import Any, NamedTuple
from weakref import WeakSet

from checkcloth.arguments import as_path, as_whole
from checkcloth.cloth.bands import require_bands
from checkcloth.cloth.length import Length
from checkcloth.cloth.palette import Palette
from checkcloth.colour.ink import Stock
from checkcloth.desk.forms.search import SearchForm, Surroundings, Wall
from checkcloth.desk.keep_file import KeepFile
from checkcloth.desk.palette_files import Gathered, Source, gather_palettes
from checkcloth.desk.session import Desk
from checkcloth.desk.state.laying import AS_WARP, check_of, text_of
from checkcloth.desk.state.requests import as_setting
from checkcloth.desk.state.state import DeskState, History
from checkcloth.errors import ArgumentError


class _Opened(NamedTuple):
    """The desk that is open under a name and folder, what it was asked for, whom it replaced."""

    desk: Desk
    asked: tuple[Any, ...]
    replaced: Desk | None


_open: dict[tuple[Path, str], _Opened] = {}


# Search forms that are open, to be told of palettes that are saved on a desk.
_forms: WeakSet[SearchForm] = WeakSet()


def open_desk(
    palettes: Source | Iterable[Source] | None = None,
    *,
    palette: str = "",
    size: Length | str = "1/2 in",
    stripes: int = 3,
    strength: float = 0.5,
    mixing: str = "source-over",
    stock: str | Stock = "",
    count: int = 48,
    bands: str | Iterable[tuple[int, object]] = "even",
    weft: str | Iterable[tuple[int, object]] = "",
    weft_colours: int = 0,
    seed: int = 1,
    name: str = "explore",
    folder: str | PathLike[str] = ".",
) -> Desk:
    """Open a desk: a wall of colourways with sliders, and a shelf for those that are kept.

    What is kept is written to a set file in ``folder`` as it changes. Opening a desk of
    the same name again closes the first and goes on where it was: with the same
    arguments altogether, with others with what was kept.

    Parameters
    ----------
    palettes : path, Palette, or several, optional
        A folder stands for all the CSV files in it. Without it, those in a folder
        ``palettes`` here or beside this one, or else those that ship. A file that cannot
        be read is left out, and the desk says so in a line.
    palette : str
        The one to begin with; the first otherwise.
    size : Length or str
        Check size.
    stripes : int
        1 to 12.
    strength : float
        Overlay strength, 0 to 1.
    mixing : str
        One of ``MIXINGS``.
    stock : str or Stock
        What mixing ``ink`` prints on, as :class:`Colourway` takes it.
    count : int
        Colourways on the wall at most, 1 to 5000.
    bands, weft : str or pairs
        Order and widths of the stripes in warp and weft, as :class:`Check` takes them: a word of
        the trade's (``"even"``, ``"graduated"``, ``"double"``, ``"windowpane"``), a colour order
        in letters (``"2 A, 1/2 ground, 4 B"``) or pairs. Without ``weft`` it runs as the warp.
    weft_colours : int
        How many colours of its own the weft gets in draws, 1 to 12; with 0 it has the warp's.
    seed : int
        Of the draw.
    name : str
        Of the desk; its set files begin with it.
    folder : path
        Where its set files are kept.

    Returns
    -------
    Desk

    Raises
    ------
    ArgumentError, LengthError, FileFormatError
        For values out of range, bands that cannot be, no palettes, or no file of them that can
        be read.
    """
    gathered = gather_palettes(palettes)
    begun = _begun(gathered, palette)
    stem = "".join(c if c.isalnum() or c in "-_" else "-" for c in name)
    stem = stem[:60].strip("-") or "explore"
    where = as_path(folder, "folder").resolve()
    if not where.is_dir():
        raise ArgumentError("folder", "there", str(folder))
    state = DeskState(
        as_setting("size", size), gathered.palettes, begun, seed=as_whole(seed, "seed", 0, 2**32)
    )
    if gathered.files.home is None:
        gathered.files.home = where
    settings = {"mixing": mixing, "strength": strength, "stripes": stripes, "count": count}
    settings |= {"weft_colours": weft_colours, "stock": stock}
    state = state.with_(**{key: as_setting(key, value) for key, value in settings.items()})
    state = _with_bands(state, bands, weft)
    # Not what stands in the files: a palette saved meanwhile asks for no other desk.
    asked = (gathered.files.sources, palette, state.with_(palettes=(), palette=""))
    return _open_again((where, stem), state, gathered, asked)


def _with_bands(state: DeskState, bands: Any, weft: Any) -> DeskState:
    """Return the state with bands as they are given; a check that cannot be is refused here."""
    own = state.weft_colours if state.weft_colours != state.stripes else 0
    laid = text_of(require_bands(bands, state.stripes, "bands"), state.stripes)
    wefts = own or state.stripes
    across = (
        AS_WARP if weft in (None, AS_WARP) else text_of(require_bands(weft, wefts, "weft"), wefts)
    )
    check_of(state.size, state.stripes, laid, across, own)
    return state.with_(bands=laid, weft=across, wefts=own)


def search_form(
    palettes: Source | Iterable[Source] | None = None, *, palette: str = "", name: str = "search"
) -> SearchForm:
    """Open a form to search palettes with, and to send what is found to a wall.

    Parameters
    ----------
    palettes : path, Palette, or several, optional
        As :func:`open_desk` takes them.
    palette : str
        The one to begin with; the first otherwise.
    name : str
        Of the desk that the shortlist is sent to; see :func:`open_desk`.

    Returns
    -------
    SearchForm

    Raises
    ------
    ArgumentError, FileFormatError
    """
    gathered = gather_palettes(palettes)
    begun = _begun(gathered, palette)
    members = tuple(sorted(gathered.palettes, key=lambda one: one.name != begun))

    def open_wall(offered: list[Palette], first: str) -> Desk:
        desk = open_desk(offered, palette=first, name=name)
        desk.palette_files.adopt(gathered.files)
        return desk

    def desks() -> dict[str, Wall]:
        open_now = {stem: opened.desk for (_, stem), opened in _open.items() if stem != name}
        return {stem: desk for stem, desk in open_now.items() if not desk.retired}

    def save(made: Palette) -> Palette:
        taken = [one.name for one in form.fields.palettes if one.name != made.name]
        saved = gathered.files.create(made.name, made.colours, taken)
        _tell_forms((saved,))
        for opened in _open.values():
            if not opened.desk.retired:
                opened.desk.refresh_palettes()
        return saved

    form = SearchForm(members, Surroundings(open_wall, desks, save), gathered.left_out)
    _forms.add(form)
    return form


def _tell_forms(palettes: tuple[Palette, ...]) -> None:
    """Offer palettes that were saved or edited on a desk on every search form there is."""
    for form in list(_forms):
        form.fields.follow_palettes(palettes)


def _begun(gathered: Gathered, palette: str) -> str:
    """Return the name of the palette to begin with: the first where that one was left out."""
    names = [one.name for one in gathered.palettes]
    if palette in names:
        return palette
    if palette and not any(line.startswith(f"{palette}.") for line in gathered.left_out):
        raise ArgumentError("palette", f"one of {', '.join(names)}", palette)
    return names[0]


def _open_again(
    key: tuple[Path, str], state: DeskState, gathered: Gathered, asked: tuple[Any, ...]
) -> Desk:
    """Open the desk; take over from one that is open under the same name."""
    before = _open.get(key)
    if before is None:
        desk = Desk(
            History(state),
            KeepFile(*key),
            files=gathered.files,
            faults=gathered.faults,
            tell_palettes=_tell_forms,
        )
        _open[key] = _Opened(desk, asked, None)
        return desk
    if before.asked == asked:
        desk = before.desk.reopened(None, before.desk.palette_files)
        desk.refresh_palettes()
    else:
        gathered.files.adopt(before.desk.palette_files)
        desk = before.desk.reopened(state, gathered.files, gathered.faults)
    before.desk.retire()
    if before.replaced is not None:
        before.replaced.close()
    _open[key] = _Opened(desk, asked, before.desk)
    return desk
