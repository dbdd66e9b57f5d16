"""Nothing leaves this machine, and nothing is written outside the folder asked for.

``everything.py`` beside this file does all that the kit does with files, on names that mean
harm, in a process of its own whose home, temporary folder and working folder are empty. A hook
on Python's audit events (PEP 578) refuses sockets and notes what is opened for writing.
"""

from __future__ import annotations

import contextlib
import hashlib
import importlib.util
import json
import os
import re
import subprocess
import sys
from base64 import b64decode
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest

from checkcloth import Check, ChosenSet, Colourway, hand_off, save_set
from checkcloth.errors import ArgumentError, ExistsError, FileFormatError
from checkcloth.export.hand_off.manifest import verify
from checkcloth.export.paper.report import report

HERE = Path(__file__).parent
KIT = HERE.parents[1] / "kit"
KEPT = ChosenSet(Check("1/4 in", 1), [Colourway("white", ["navy"], name="../../Quay")], "bay")

_spec = importlib.util.spec_from_file_location("everything", HERE / "everything.py")
_everything = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(_everything)


def snapshot(folder: Path) -> dict[str, tuple[int, str]]:
    """Every path below a folder, with when it changed and what it holds."""
    found = {}
    for path in sorted(folder.rglob("*")):
        held = "" if path.is_dir() or path.is_symlink() else hashlib.sha256(path.read_bytes())
        stamp = 0 if path.is_dir() else path.lstat().st_mtime_ns
        found[path.relative_to(folder).as_posix()] = (stamp, held and held.hexdigest())
    return found


@pytest.fixture(scope="module")
def ran(tmp_path_factory) -> dict[str, Any]:
    root = tmp_path_factory.mktemp("alone")
    for name in ("home", "temporary", "here", "beside"):
        (root / name).mkdir()
    for place in (root, root / "beside", root / "here", root / "home"):
        (place / "outside").write_text("as it was", "utf-8")
    asked = root / "here" / "asked"
    asked.mkdir()
    before = snapshot(root)
    environment = {
        **{k: v for k, v in os.environ.items() if not k.startswith(("XDG_", "MPL", "JUPYTER"))},
        "HOME": str(root / "home"),
        "USERPROFILE": str(root / "home"),
        "TMPDIR": str(root / "temporary"),
        "PYTHONPATH": str(KIT),
        "PYTHONDONTWRITEBYTECODE": "1",
        "PYTHONUTF8": "1",
    }
    done = subprocess.run(
        [sys.executable, str(HERE / "everything.py"), str(asked)],
        cwd=root / "here",
        env=environment,
        capture_output=True,
        encoding="utf-8",
        timeout=600,
        check=False,
    )
    assert done.returncode == 0, done.stderr[-3000:]
    changed = sorted(set(snapshot(root).items()) ^ set(before.items()))
    out = json.loads(done.stdout)
    return out | {"root": root, "asked": asked, "changed": [name for name, _ in changed]}


def test_no_network_is_touched(ran):
    # In a new home matplotlib asks the system's own font list once, a program of this machine.
    met = [one for one in ran["network"] if not one.startswith("subprocess.Popen ('fc-list'")]
    assert met == []
    # Older matplotlib calls pyparsing by names since renamed, as pyproject.toml knows.
    assert [one for one in ran["warnings"] if not one.startswith("Pyparsing")] == []


def test_the_watch_sees_what_it_is_there_to_see(tmp_path):
    code = (
        "import sys; sys.path.insert(0, sys.argv[1])\n"
        "from everything import watched\n"
        "seen = {'network': [], 'written': []}\nwatched(seen)\n"
        "import socket, urllib.request, pathlib\n"
        "for act in (lambda: socket.create_connection(('127.0.0.1', 9)),\n"
        "            lambda: socket.getaddrinfo('outside.example', 80),\n"
        "            lambda: urllib.request.urlopen('http://outside.example/')):\n"
        "    try: act()\n"
        "    except OSError: pass\n"
        "    else: raise SystemExit('reached')\n"
        "pathlib.Path('made.txt').write_text('x')\npathlib.Path('made').mkdir()\n"
        "assert len(seen['network']) >= 3 and len(seen['written']) == 2, seen\n"
    )
    command = [sys.executable, "-c", code, str(HERE)]
    done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def test_nothing_is_written_outside_the_folder_asked_for(ran):
    root, asked = ran["root"], ran["asked"]
    allowed = f"{asked}{os.sep}"
    # matplotlib keeps its settings folder and its list of fonts in the home, for every program
    # that draws with it; the kit's own font comes with it and is not looked up there.
    theirs = re.compile(r"home/(Library/|AppData/)?\.?(config|cache|matplotlib)(/matplotlib.*)?")
    outside = [name for name in ran["changed"] if not name.startswith("here/asked/")]
    assert [name for name in outside if not theirs.fullmatch(name)] == []
    written = [path for path in ran["written"] if not path.startswith(allowed)]
    home = f"{root}{os.sep}"
    left = [
        path
        for path in written
        if not theirs.fullmatch(path.removeprefix(home).replace(os.sep, "/"))
        and path not in (os.devnull, str(asked))
    ]
    assert left == []
    files = [path for path in asked.rglob("*") if path.is_file()]
    assert len(files) > 100
    assert not [path.name for path in files if path.name.endswith((".part", ".lock", ".old"))]


# -- what a page would load ----------------------------------------------------------------------

OUTSIDE = re.compile(r"(?:https?:)?//[\w.-]+\.\w|@import|\burl\(|\bimport\s*\(|\bfetch\(|XMLHttp"
                     r"|WebSocket|EventSource|sendBeacon|importScripts", re.I)  # fmt: skip
NAMESPACE = 'xmlns="http://www.w3.org/2000/svg"'
PNG, SVG = "data:image/png;base64,", "data:image/svg+xml;base64,"
# Attributes that make a browser load or run something.
LOADING = {"src", "href", "xlink:href", "srcset", "action", "formaction", "data", "poster",
           "background", "ping", "srcdoc", "http-equiv", "manifest"}  # fmt: skip


class Elements(HTMLParser):
    """Every element and attribute of a page, and the text of its styles."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.found: list[tuple[str, dict[str, str]]] = []
        self.styles: list[str] = []
        self.words: list[str] = []
        self._in_style = False
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attrs):
        self.found.append((tag, {key: value or "" for key, value in attrs}))
        self._in_style = tag == "style"

    def handle_startendtag(self, tag, attrs):
        self.handle_starttag(tag, attrs)

    def handle_endtag(self, tag):
        self._in_style = False

    def handle_data(self, data):
        (self.styles if self._in_style else self.words).append(data)

    def handle_comment(self, data):
        raise AssertionError(f"a comment that nobody wrote: {data!r}")


def pages(ran) -> dict[str, Elements]:
    return {
        name: Elements(text)
        for name, text in ran["shown"].items()
        if text and name.endswith((".html", ".svg"))
    }


@pytest.mark.parametrize(
    "file",
    sorted(path for path in (KIT / "checkcloth" / "page").rglob("*") if path.is_file()),
    ids=lambda p: p.name,
)
def test_the_pages_own_code_loads_nothing(file):
    text = file.read_text("utf-8").replace("/** @import", "")  # names of types, in comments
    text = text.replace('"http://www.w3.org/2000/svg"', "")  # a namespace, which is no address
    assert OUTSIDE.findall(text) == []
    assert "innerHTML" not in file.read_text("utf-8")
    assert "insertAdjacentHTML" not in file.read_text("utf-8")
    assert not re.search(r"\beval\(|new Function\(|document\.write", file.read_text("utf-8"))


KNOWN = {
    "html", "head", "meta", "title", "style", "body", "h1", "h2", "h3", "p", "div", "span", "br",
    "b", "strong", "small", "table", "caption", "thead", "tbody", "tr", "th", "td", "ul", "li",
    "figure", "figcaption", "img", "svg", "desc", "path", "details", "summary", "a", "main",
    "section", "header", "ol", "dl", "dt", "dd",
}  # fmt: skip
PLAIN = {
    "style", "scope", "alt", "width", "height", "src", "role", "class", "lang", "charset", "name",
    "content", "id", "fill", "d", "xmlns", "viewbox", "shape-rendering", "colspan", "aria-hidden",
    "aria-label", "title", "href", "open", "value",
}  # fmt: skip


def _sound_picture(value: str) -> bool:
    """Whether an address is a picture in itself: PNG, or an SVG that loads and runs nothing."""
    if value.startswith(PNG):
        return True
    if not value.startswith(SVG):
        return False
    text = b64decode(value.removeprefix(SVG)).decode("utf-8").replace(NAMESPACE, "")
    page = Elements(text)
    tags = {tag for tag, _ in page.found}
    return not OUTSIDE.search(text) and tags <= {"svg", "g", "path", "text"}


def test_names_make_no_element_and_no_attribute(ran):
    names = {re.sub(r"\s+", " ", name) for name in _everything.NAMES}
    seen = 0
    for label, page in pages(ran).items():
        assert page.found, label
        for tag, attributes in page.found:
            assert tag in KNOWN, f"{label}: <{tag}>"
            assert set(attributes) <= PLAIN, f"{label}: <{tag}> {attributes}"
            assert not [key for key in attributes if key.startswith("on")], label
            for key in LOADING & set(attributes):
                value = attributes[key]
                here = key == "href" and re.fullmatch(r"[\w./%-]+", value) and value[0] != "/"
                assert here or _sound_picture(value), f"{label} {value}"
            style = attributes.get("style", "")
            assert "url(" not in style, f"{label}: {style}"
            assert _everything.RAN not in style, f"{label}: {style}"
        for style in page.styles:
            assert not OUTSIDE.search(style), label
            assert _everything.RAN not in style, label
        text = " ".join(page.words)
        seen += sum(name in text for name in names)
    assert seen > 100, "the names do stand there, as words"


def test_an_svg_is_sound_xml_without_scripts(ran):
    from xml.etree import ElementTree

    for label, text in ran["shown"].items():
        if not label.endswith(".svg"):
            continue
        tags = {one.tag.rpartition("}")[2] for one in ElementTree.fromstring(text).iter()}
        assert tags == {"svg", "title", "desc", "path"}, label
        assert not OUTSIDE.search(re.sub(r"<(title|desc)>.*?</\1>", "", text, flags=re.S)
                                  .replace(NAMESPACE, "")), label  # fmt: skip


def test_a_style_sheet_holds_nothing_but_its_colours(ran):
    text = re.sub(r"/\*.*?\*/", "", ran["shown"]["set.css"], flags=re.S)
    body = re.fullmatch(r"\s*:root \{(.*)\}\s*", text, flags=re.S)
    assert body, text[:300]
    for line in filter(None, map(str.strip, body[1].split("\n"))):
        assert re.fullmatch(r"--[\w-]+: #[0-9a-f]{6};", line), line


def test_tokens_hold_the_names_as_text(ran):
    held = json.loads(ran["shown"]["set.json"])
    # The format keeps a leading $ and braces for itself, also in group names.
    groups = [name for name in held if not name.startswith("$")]
    assert len(groups) == len(_everything.NAMES)
    assert not [name for name in groups if set(name) & set("{}.")]


# -- files that would lead outside ---------------------------------------------------------------


@pytest.mark.parametrize(
    "file",
    ["../outside", "/outside", "a/../../outside", "..\\outside", "", ".", "a//b", "a\0b", "./a"],
)
def test_a_manifest_names_nothing_outside_its_folder(file, tmp_path):
    (tmp_path / "outside").write_text("as it was", "utf-8")
    made = hand_off(KEPT, None, tmp_path / "handed", dpi=72, paper=None)
    manifest = made.folder / "manifest.json"
    held = json.loads(manifest.read_text("utf-8"))
    held["files"][0]["file"] = file
    manifest.write_text(json.dumps(held), "utf-8")
    before = snapshot(tmp_path)
    if file in ("a\0b", "a//b"):  # inside, as far as a manifest goes, but not there
        verdict = verify(made.folder)
        assert not verdict.ok
        assert file in verdict.missing
    else:
        with pytest.raises(FileFormatError, match="a path inside the folder"):
            verify(made.folder)
    # Nor is such a folder replaced: what stands in it is not what it says.
    with pytest.raises(ExistsError):
        hand_off(KEPT, None, tmp_path / "handed", dpi=72, paper=None, overwrite=True)
    assert snapshot(tmp_path) == before


def test_links_lead_nowhere(tmp_path):
    """A link in the place of a folder or a file is refused, or replaced itself."""
    other = tmp_path / "other"
    made = hand_off(KEPT, None, other, dpi=72, paper=None)
    place = tmp_path / "place"
    try:
        place.symlink_to(other, target_is_directory=True)
    except OSError:
        pytest.skip("no links on this system")
    before = snapshot(other)
    with pytest.raises(ExistsError):
        hand_off(KEPT, None, place, dpi=72, paper=None, overwrite=True)
    assert snapshot(other) == before

    target = tmp_path / "target.json"
    target.write_text("as it was", "utf-8")
    link = tmp_path / "set.json"
    link.symlink_to(target)
    save_set(KEPT, link, overwrite=True)
    assert target.read_text("utf-8") == "as it was"
    assert not link.is_symlink()

    # A file that was swapped for a link is said to be changed, even if it leads to the same.
    file = made.folder / made.files[0].file
    moved = tmp_path / "moved"
    file.rename(moved)
    file.symlink_to(moved)
    assert made.files[0].file in verify(made.folder).changed


@pytest.mark.parametrize("name", ["a\0b", "a\nb", "a\x1b[31mb", "\ud800", "x" * 501])
def test_names_that_no_file_can_hold_are_refused(name, tmp_path):
    with pytest.raises(ArgumentError):
        Colourway("white", ["navy"], name=name)
    with pytest.raises(ArgumentError):
        ChosenSet(Check("1 in", 1), [Colourway("white", ["navy"])], name)
    with pytest.raises(ArgumentError):
        report(name, ["x"])
    with contextlib.suppress(OSError, ValueError):
        save_set(KEPT, tmp_path / f"inside-{name}")
    with contextlib.suppress(OSError, ValueError):
        hand_off(KEPT, None, tmp_path / f"inside {name}", dpi=72, paper=None)
    assert not [path.name for path in tmp_path.iterdir() if not path.name.startswith("inside")]


def test_a_desk_keeps_its_sets_where_it_was_told(tmp_path):
    from checkcloth import Palette
    from checkcloth.desk import open_desk

    place = tmp_path / "place"
    place.mkdir()
    for name in ("../../x", "C:\\x", "con", "x" * 300, "\u202egnp", "", "-rf", "字" * 300):
        desk = open_desk(Palette("p", ["white", "navy", "teal"]), stripes=2, count=4, name=name,
                         folder=place)  # fmt: skip
        desk.keep(1)
        desk.save()
        assert "NOT SAVED" not in desk.saved
        desk.retire()
        desk.close()
    assert [path.name for path in tmp_path.iterdir()] == ["place"]
    names = [path.name for path in place.iterdir()]
    assert len(names) == 8
    assert not [name for name in names if name.startswith(("-", "."))]
