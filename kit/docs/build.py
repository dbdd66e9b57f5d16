"""Build the API reference from the docstrings: ``python kit/docs/build.py [FOLDER]``.

It goes to ``build/reference`` unless told. Any warning fails, such as a name in a docstring that is
described nowhere; afterwards every link and every public name is looked up in what was made.
"""

from __future__ import annotations

import sys
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE.parent), str(HERE)]

from pages import home_of, index, modules, page  # noqa: E402


class _Links(HTMLParser):
    """What a page links to, and what can be linked to in it."""

    def __init__(self) -> None:
        super().__init__()
        self.targets: set[str] = set()
        self.ids: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        for name, value in attrs:
            if name == "id" and value:
                self.ids.add(value)
            elif name in ("href", "src") and value:
                self.targets.add(value)


def faults_of(folder: Path) -> list[str]:
    """Return the links that lead nowhere, and the public names that no page describes."""
    read = {}
    for path in sorted(folder.rglob("*.html")):
        read[path.resolve()] = links = _Links()
        links.feed(path.read_text("utf-8"))
    faults = []
    for path, links in read.items():
        for target in sorted(links.targets):
            file, _, part = unquote(target).partition("#")
            file = file.partition("?")[0]
            if ":" in file.partition("/")[0]:
                continue  # another site
            there = (path.parent / file).resolve() if file else path
            if not there.is_file() or (part and there in read and part not in read[there].ids):
                faults.append(f"{path.name}: {target} leads nowhere")
    every = {name for links in read.values() for name in links.ids}
    faults += [f"{home} is described nowhere" for home in sorted({*home_of().values()} - every)]
    return faults


def write_pages(folder: Path) -> None:
    """Write the pages for Sphinx."""
    folder.mkdir(parents=True, exist_ok=True)
    for old in folder.glob("*.rst"):
        old.unlink()
    (folder / "index.rst").write_text(index(), "utf-8")
    for where in modules():
        (folder / f"{where}.rst").write_text(page(where), "utf-8")


def main(out: Path) -> int:
    """Build into a folder, and return 0 if all is well."""
    from sphinx.cmd.build import build_main

    source = out.parent / f"{out.name}-source"
    write_pages(source)
    arguments = ["-q", "-W", "--keep-going", "-n", "-j", "auto", "-c", str(HERE)]
    status = int(build_main([*arguments, "-b", "html", str(source), str(out)]))
    faults = faults_of(out)
    print(*faults, sep="\n", end="\n" if faults else "")
    if not status and not faults:
        print(f"{len({*home_of().values()})} public names in {out / 'index.html'}")
    return status or int(bool(faults))


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1] if len(sys.argv) > 1 else "build/reference").resolve()))
