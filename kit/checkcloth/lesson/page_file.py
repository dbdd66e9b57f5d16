"""The lesson and the teacher's page as files: each opens in any browser, without a network."""

from __future__ import annotations

from html import escape
from os import PathLike
from pathlib import Path

from checkcloth.arguments import as_path
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.cloth.palette import Palette
from checkcloth.export.page.one_file import html_file, one_file
from checkcloth.files.whole import write_whole
from checkcloth.lesson.lesson import CLOTH, SWATCHES, all_steps
from checkcloth.lesson.step import page_data
from checkcloth.lesson.teacher import TEACHER_STYLE, teacher_body
from checkcloth.lesson.texts import CAUTION


def lesson_page(
    path: str | PathLike[str],
    colourway: Colourway = CLOTH,
    *,
    size: Length | str = "1/4 in",
    palette: Palette | None = None,
    overwrite: bool = False,
) -> Path:
    """Write the whole lesson as one HTML file; return its path.

    It needs nothing else: no network, no kernel, no installed program. The page mixes for
    itself, pigment and colour vision included, whatever colours are typed. Answers stay in
    the reader's browser until they are handed in, as a file.

    Parameters
    ----------
    path : path
        Of the file to write, in a folder that exists.
    colourway : Colourway
        The cloth of steps 8 to 10, an even check with the same colours both ways, of a mixing that
        the page can work out: any but ``ink``, which must be told what it is printed on.
    size : Length or str
        Its check size in step 8.
    palette : Palette, optional
        Colours to choose from in place of the lesson's own; the first 24 are offered.
    overwrite : bool

    Raises
    ------
    ArgumentError, LengthError
        For a mixing that the page cannot work out, a weft of its own, or a size out of range.
    ExistsError
        If the file is there and ``overwrite`` is not set.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     made = lesson_page(Path(folder, "lesson.html"))
    ...     made.name, made.stat().st_size < 300_000
    ('lesson.html', True)
    """
    target = as_path(path)
    steps = all_steps(colourway, size)
    swatches = SWATCHES if palette is None else palette.colours
    still = "".join(
        f"<h2>{step.number or 'Last'} {escape(step.name)}</h2>{step.still_html(styled=False)}"
        for step in steps
    )  # fmt: skip
    note = f"<p>This browser runs no scripts, so the pictures stand still.</p><p>{CAUTION}</p>"
    data = page_data(steps, swatches, alone=True)
    title = "A lesson in mixing"
    main = f'<main class="cl-still"><h1>{title}</h1>{note}{still}</main>'
    html = one_file(title, "lesson", data, main)
    return write_whole(target, html.encode("utf-8"), overwrite=overwrite)


def teacher_page(
    path: str | PathLike[str],
    colourway: Colourway = CLOTH,
    *,
    size: Length | str = "1/4 in",
    overwrite: bool = False,
) -> Path:
    """Write the teacher's page to the lesson: aims, minutes, answers, mistakes; return its path.

    A file of its own, so that pupils' pages need not carry it. Colourway and size are those given
    to the lesson, so that the answers are those of the pupils' page.

    Parameters
    ----------
    path : path
    colourway : Colourway
        The cloth of steps 8 to 10, as given to :func:`lesson_page`.
    size : Length or str
        Its check size in step 8.
    overwrite : bool

    Raises
    ------
    ArgumentError, LengthError
        For a mixing that the lesson cannot show, a weft of its own, or a size out of range.
    ExistsError
        If the file is there and ``overwrite`` is not set.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     teacher_page(Path(folder, "teacher.html")).name
    'teacher.html'
    """
    target = as_path(path)
    html = html_file(
        "A lesson in mixing: for the teacher", TEACHER_STYLE, teacher_body(colourway, size)
    )
    return write_whole(target, html.encode("utf-8"), overwrite=overwrite)
