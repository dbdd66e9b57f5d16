"""Everything the kit does with files and pages, on names that mean harm, in one folder.

``python everything.py FOLDER`` runs it under a watch (see :func:`watched`) and prints JSON:
what touched the network, what was opened for writing or changed, and the HTML, SVG, CSS and
other text that came out. The tests beside it start it as a process of its own, so that the
watch is in place before the kit is imported, and holds for everything it imports.
"""

from __future__ import annotations

import json
import os
import sys
import warnings
from pathlib import Path
from typing import Any

RAN = "window.__ran=1"
# Names that mean harm where names end up: pages, style sheets, spreadsheets, paths.
NAMES = [
    f"<img src=x onerror={RAN}>",
    f"</script><script>{RAN}</script>",
    f'"><svg onload={RAN}>',
    f"' onmouseover='{RAN}",
    f"javascript:{RAN}",
    f"]]></title><script>{RAN}</script>",
    f"--><script>{RAN}</script>",
    f"*/}} body{{background:url(javascript:{RAN})}} /*",
    "red;background:url(https://outside.example/a)",
    f"</style><script>{RAN}</script>",
    f"$\\href{{javascript:{RAN}}}{{press}}$",
    "$\\frac{1}{",
    "&lt;script&gt; &amp; &#106;",
    "=cmd|' /C calc'!A0",
    "+1+1",
    "-1-1",
    "@SUM(A1)",
    "'=1",
    "../../outside",
    "/outside",
    "C:\\outside",
    "..",
    "con",
    "aux.txt",
    ".hidden",
    "~",
    "%2e%2e%2foutside",
    "n" * 300,
    "字" * 300,
    "\u202egnp.htolc\u202c",
    "\u200e\u200fmarks\u2066",
    "🧵🍓 emoji",
    "a,b;c|d",
    'say "so"',
    "{alias}.$value",
]


def watched(seen: dict[str, list[str]]) -> None:
    """Refuse whatever leads off this machine, and write down what is written where."""
    changes = {"os.mkdir", "os.rename", "os.remove", "os.rmdir", "os.link", "os.symlink",
               "os.truncate", "os.chmod", "shutil.rmtree"}  # fmt: skip
    net = {"socket.connect", "socket.bind", "socket.sendto", "socket.sendmsg",
           "socket.getaddrinfo", "socket.gethostbyname", "socket.gethostbyaddr",
           "socket.getnameinfo", "urllib.Request", "http.client.connect", "ftplib.connect",
           "smtplib.connect", "webbrowser.open", "os.system", "subprocess.Popen",
           "os.posix_spawn", "os.exec"}  # fmt: skip

    def hook(event: str, arguments: tuple[Any, ...]) -> None:
        if event in net:
            told = f"{event} {arguments!r}"[:300]
            seen["network"].append(told)
            raise ConnectionError(f"the network is closed: {told}")
        if event == "open":
            path, mode, flags = arguments
            writes = any(mark in (mode or "") for mark in "wax+")
            # What os.open is asked for; a folder opened to be synced is only read.
            writes |= mode is None and bool(flags & (os.O_WRONLY | os.O_RDWR | os.O_CREAT))
            if writes and not isinstance(path, int):
                seen["written"].append(os.path.abspath(os.fsdecode(path)))
        elif event in changes:
            path = arguments[0]
            # Relative to an open folder: inside what shutil.rmtree was asked for.
            relative = event in ("os.remove", "os.rmdir") and arguments[1] != -1
            if not isinstance(path, int) and not relative:
                seen["written"].append(os.path.abspath(os.fsdecode(path)))
            if event in ("os.rename", "os.link", "os.symlink"):
                seen["written"].append(os.path.abspath(os.fsdecode(arguments[1])))

    sys.addaudithook(hook)


def everything(folder: Path) -> dict[str, str]:
    """Do it all inside ``folder``; return what a page would show, by what it is."""
    from checkcloth import (
        Check,
        ChosenSet,
        Colourway,
        NamedColour,
        Palette,
        contact_sheet,
        draw_colourways,
        each_strength,
        hand_off,
        open_set,
        read_palette,
        save_set,
        score,
        tile_svg,
        write_palette,
    )  # fmt: skip
    from checkcloth import quality as analysis
    from checkcloth.errors import CheckclothError
    from checkcloth.export.charts.charts import lab_chart, pair_matrix
    from checkcloth.export.charts.charts_strength import compare_chart, ground_chart, strength_chart
    from checkcloth.export.data.tokens import read_tokens, set_tokens, write_tokens
    from checkcloth.export.data.web_colours import set_css
    from checkcloth.export.hand_off.hand_off import open_hand_off
    from checkcloth.export.hand_off.manifest import verify
    from checkcloth.export.paper.report import Heading, report
    from checkcloth.export.print.press import open_press
    from checkcloth.export.print.proof import soft_proof
    from checkcloth.ideas import palette_from_colour, palette_from_photo, shift_palette
    from checkcloth.lesson.compare import compare_mixings
    from checkcloth.search import Wanted, search

    shown: dict[str, str] = {}

    def show(label: str, thing: Any) -> None:
        shown[f"{label}.html"] = thing._repr_html_()

    colours = [
        NamedColour(name, ((n * 37 % 97) / 96, (n * 59 % 89) / 88, (n * 83 % 79) / 78),
                    "" if n else "ground", note=name)
        for n, name in enumerate(NAMES)
    ]  # fmt: skip
    palette = Palette(NAMES[0], colours)
    show("palette", palette)
    file = write_palette(palette, folder / "palette.csv")
    again = read_palette(file)
    assert again.colours == palette.colours
    tokens = write_tokens(palette, folder / "palette.tokens.json")
    assert [one.name for one in read_tokens(tokens)] == NAMES

    check = Check("1/4 in", 2)
    cloths = [
        Colourway(colours[0], [one, colours[(n + 1) % len(colours)]], name=one.name)
        for n, one in enumerate(colours)
    ]
    kept = ChosenSet(check, cloths, NAMES[2])
    show("colourway", cloths[2])
    show("mixings", compare_mixings(cloths[1]))
    show("kept", kept)
    assert open_set(save_set(kept, folder / "kept.json")) == kept
    ideas = draw_colourways(palette, 2, 30, seed=3)
    score(ideas)
    each_strength(cloths[0], [0.3, 0.6])
    contact_sheet(kept, check)
    shown["set.css"] = set_css(kept)
    shown["set.json"] = set_tokens(kept)
    for n, cloth in enumerate(cloths):
        shown[f"tile {n}.svg"] = tile_svg(cloth, check)

    some = Palette(NAMES[1], colours[:9])
    found = search(Wanted(some, 2, strengths=[0.5]), 20)
    show("search", found)
    show("shortlist", found.shortlist(6))
    nothing = search(Wanted(some, 2, strengths=[0.5], crossings_apart=60, ground_apart=90), 20)
    show("search, nothing", nothing)

    photo = folder / "<img src=x onerror=alert(1)>.png"
    _picture(photo)
    show("photo", palette_from_photo(photo))
    show("harmony", palette_from_colour(colours[1], "triad"))
    show("shifted", shift_palette(some, turn=30))

    press = open_press(_profile(folder / "<b>press.icc"))
    show("proof", soft_proof(cloths[0], press))
    made = hand_off(
        kept, None, folder / "handed", dpi=100, cloth=("4 in", "4 in"), plates="colours",
        sett="20 per in", press=press, sizes=("1/2 in",), zipped=True,
    )  # fmt: skip
    show("hand-off", made)
    verdict = verify(made.folder)
    assert verdict.ok, str(verdict)
    assert open_hand_off(made.folder).colourways == tuple(cloths)
    hand_off(kept, None, folder / "handed", dpi=100, paper="Letter", overwrite=True)

    analysis.write_colourways(cloths, folder / "cloths.csv")
    assert [c.name for c in analysis.read_colourways(folder / "cloths.csv")] == NAMES
    table = analysis.score_table(folder / "cloths.csv", threshold=5)
    table.to_csv(folder / "table.csv")
    analysis.write_score_table(kept, folder / "scores.csv", progress=False)
    cloth = Colourway(colours[0], colours[1:3], name=NAMES[0])
    readings = analysis.write_blank_readings(cloth, folder / "blank.csv", readings=1)
    _fill(readings, folder / "readings.csv")
    parts = {
        "table": table,
        "sweep": analysis.sweep(cloth, threshold=9),
        "windows": analysis.strength_windows(cloth, [analysis.Demand("edges", "de2000", 3)]),
        "tolerance": analysis.score_with_tolerance(
            cloth, analysis.Tolerance(1.0, "cmc"), threshold=9, draws=200, seed=1
        ),
        "striping": analysis.striping(
            cloth, check, distance="60 cm", width="120 cm", height="80 cm"
        ),
        "strike-off": analysis.check_strike_off(
            cloth, folder / "readings.csv", illuminant="D65", observer=2
        ),
    }
    pictures = [
        pair_matrix(cloth, threshold=10), lab_chart(cloth), strength_chart(cloth, threshold=9),
        ground_chart(cloth, some), compare_chart(cloth, cloths[3]),
    ]  # fmt: skip
    for label, part in parts.items():
        show(label, part)
    for n, picture in enumerate(pictures):
        show(f"chart {n}", picture)
    words = [item for name in NAMES for item in (Heading(name), name)]
    pages = report(NAMES[0], [*words, *parts.values(), *pictures])
    shown["report.html"] = pages.html()
    pages.save(folder / "report.html")
    pages.save(folder / "report.pdf")

    shown |= _travelling(folder, kept, some, cloth)
    shown |= _desk(folder, palette, some, cloths)
    for attempt in (
        lambda: palette[f"<script>{RAN}</script>"],
        lambda: Colourway(f"<script>{RAN}</script>", ["navy"]),
        lambda: read_palette(photo),
    ):
        try:
            attempt()
        except CheckclothError as error:
            shown[f"error {len(shown)}.txt"] = str(error)
    return shown


def _travelling(folder: Path, kept: Any, some: Any, cloth: Any) -> dict[str, str]:
    """What goes to clients, pupils and printers, and what clients send back."""
    from checkcloth import client_sheet, colour_gamp, match_answers, range_page, read_answers
    from checkcloth.export.print.chart import write_chart
    from checkcloth.ideas.pasted import colours_in_text
    from checkcloth.lesson import lesson_page, teacher_page

    texts = {"title": NAMES[1], "note": NAMES[0], "reference": NAMES[4], "date": NAMES[5]}
    files = {
        "range": range_page(kept, None, folder / "range.html", **texts),
        "lesson": lesson_page(folder / "lesson.html", cloth, palette=some),
    }
    teacher = teacher_page(folder / "teacher.html", cloth)
    client_sheet(kept, None, **texts).save(folder / "sheet.pdf")
    client_sheet(cloth, kept.check, **texts).save(folder / "sheet.png")
    write_chart(NAMES[:3], folder, 100)
    lines = (f"{n} {name}: maybe. {name}" for n, name in enumerate(NAMES, start=1))
    answers = read_answers("\n".join(["Reference x", *lines, f"To all: {NAMES[0]}"]))
    assert len(match_answers(answers, kept).found) > 20
    assert len(colours_in_text("\n".join(f"{name}: #a0b1c2" for name in NAMES)).colours) > 20
    # What stands there where no script runs; the rest is data, which the page's tests look at.
    texts = {name: file.read_text("utf-8") for name, file in files.items()}
    still = {
        f"{name} still.html": text[text.index("<noscript>") + 10 : text.index("</noscript>")]
        for name, text in texts.items()
    }
    gamp = colour_gamp(cloth.stripes, [cloth.ground, *cloth.stripes])
    return still | {
        "teacher.html": teacher.read_text("utf-8").partition("<body>")[2],
        "gamp.html": gamp._repr_html_(),
    }


def _desk(folder: Path, palette: Any, some: Any, cloths: list[Any]) -> dict[str, str]:
    from checkcloth.desk import open_desk, search_form
    from checkcloth.desk.forms.hand_off_order import CHOICES
    from checkcloth.desk.strength_explorer import charts_html
    from checkcloth.lesson import lesson

    shown = {}
    desk = open_desk([palette, some], count=24, stripes=2, name="../../desk", folder=folder)
    desk.show(cloths[:30], NAMES[0])
    desk.keep(1)
    desk.keep(2)
    desk.save()
    assert list(folder.glob("*.kept.json")), "the desk keeps its set where it was told"
    desk.export(folder / "from the desk", dpi=72)
    order = desk.hand_off
    place = folder / f"<b onclick={RAN}>"
    order.fields.show({"folder": str(place), "resolutions": "72"})
    assert order.run() is not None, order.work.words
    shown["handed links.html"] = "".join(one["data"]["text/html"] for one in order.links.outputs)
    for name, value in order.fields.shown.items():
        if isinstance(value, str) and name not in CHOICES:
            order.fields.show({name: NAMES[0]})
    order.run()
    assert order.faults
    shown["desk.html"] = desk._repr_html_()
    form = search_form([some], name="form")
    form.run()
    shown["form.html"] = form._repr_html_()
    shown["form said.html"] = form.said.value
    shown["bench.html"] = charts_html(cloths[0], "de2000", 9, "normal")
    shown["bench error.html"] = charts_html(cloths[0], f"<script>{RAN}</script>", 9, "normal")
    desk.retire()
    desk.close()
    for n, step in enumerate((lesson.kinds(*cloths[0].stripes), lesson.side_by_side(cloths[0]))):
        shown[f"lesson {n}.html"] = step._repr_html_()
    return shown


def _picture(file: Path) -> None:
    import numpy as np
    from PIL import Image

    pixels = (np.arange(40 * 30 * 3) * 37 % 251).astype(np.uint8).reshape(30, 40, 3)
    Image.fromarray(pixels).save(file)


def _profile(file: Path) -> Path:
    from PIL import ImageCms

    file.write_bytes(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    return file


def _fill(blank: Path, filled: Path) -> None:
    """Readings for a blank: any numbers will do."""
    import csv

    with blank.open(encoding="utf-8", newline="") as stream:
        rows = list(csv.reader(stream))
    with filled.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.writer(stream)
        writer.writerow(rows[0])
        writer.writerows([*row[:2], 50 + n, n, -n, *row[5:]] for n, row in enumerate(rows[1:]))


def main(folder: Path) -> None:
    seen: dict[str, list[str]] = {"network": [], "written": []}
    watched(seen)
    with warnings.catch_warnings(record=True) as heard:
        warnings.simplefilter("always")
        shown = everything(folder)
    written = sorted(set(seen["written"]))
    told = sorted({f"{one.category.__name__}: {one.message}" for one in heard})
    out = {"network": seen["network"], "written": written, "shown": shown, "warnings": told}
    sys.stdout.write(json.dumps(out))


if __name__ == "__main__":
    main(Path(sys.argv[1]))
