"""Who imports whom in the kit: read from the source, drawn, and searched for cycles.

``python tests/draw_imports.py`` prints the drawing that stands in DEVELOPERS.md, and below it what
to look at: modules that import each other, that nothing imports, that stand alone. With
``--write`` it puts the drawing into DEVELOPERS.md.
"""

from __future__ import annotations

import ast
import re
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path

# A room imports itself, those to its right, and checkcloth.errors. "base" is the ground floor:
# files, pictures and HTML at their plainest.
ROOMS = ("desk", "output", "explore", "cloth", "colour", "base")
SHARED = "errors"

Graph = dict[str, set[str]]


def imported_names(module: Path, kit: Path, *, for_types: bool = True) -> Iterator[tuple[int, str]]:
    """Yield line and absolute dotted name of every import, at whatever depth it is written.

    Without ``for_types`` those that only a type checker reads are left out.
    """
    package = ["checkcloth", *module.relative_to(kit).parts[:-1]]
    tree = ast.parse(module.read_text("utf-8"), str(module))
    unread = {
        inner
        for node in ast.walk(tree)
        if isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING" and not for_types
        for inner in ast.walk(node)
    }
    for node in ast.walk(tree):
        if node in unread:
            continue
        if isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else []
            start = ".".join([*base, *([node.module] if node.module else [])])
            # "from checkcloth import cloth" names a module only in the alias, so keep both
            yield from ((node.lineno, f"{start}.{alias.name}") for alias in node.names)


def dotted(module: Path, kit: Path) -> str:
    """Return the name of a module below the package, such as ``cloth.check``."""
    parts = module.relative_to(kit).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def import_graph(kit: Path) -> Graph:
    """Return every module but the package root, and the modules that it imports."""
    files = {dotted(path, kit): path for path in sorted(kit.rglob("*.py"))}
    files.pop("", None)
    graph: Graph = {name: set() for name in files}
    for name, path in files.items():
        for _, target in imported_names(path, kit, for_types=False):
            inside = target.removeprefix("checkcloth.")
            while inside and inside not in files:
                inside = inside.rpartition(".")[0]
            if inside and inside != name:
                graph[name].add(inside)
    return graph


def cycles(graph: Mapping[str, set[str]]) -> list[list[str]]:
    """Return the groups of modules that import each other in a ring (Tarjan, 1972)."""
    order: dict[str, int] = {}
    lowest: dict[str, int] = {}
    stack: list[str] = []
    found: list[list[str]] = []

    def visit(one: str) -> None:
        order[one] = lowest[one] = len(order)
        stack.append(one)
        for other in sorted(graph[one]):
            if other not in order:
                visit(other)
                lowest[one] = min(lowest[one], lowest[other])
            elif other in stack:
                lowest[one] = min(lowest[one], order[other])
        if lowest[one] == order[one]:
            ring = []
            while not ring or ring[-1] != one:
                ring.append(stack.pop())
            if len(ring) > 1:
                found.append(sorted(ring))

    for name in sorted(graph):
        if name not in order:
            visit(name)
    return sorted(found)


def room_of(module: str) -> str:
    return module.split(".")[0]


def folders(graph: Mapping[str, set[str]]) -> dict[str, set[str]]:
    """Return every folder of the kit, and the folders that its modules import from."""
    packages = {other.rpartition(".")[0] for other in graph} - {""}

    def folder(module: str) -> str:
        package = module if module in packages else module.rpartition(".")[0]
        return package.replace(".", "/")

    parts: dict[str, set[str]] = {}
    for name, targets in graph.items():
        if name != SHARED:
            there = {folder(target) for target in targets - {SHARED}}
            parts.setdefault(folder(name), set()).update(there - {folder(name)})
    return parts


def drawing(kit: Path) -> str:
    """Return the folders from the top down, and what each imports from."""
    parts = folders(import_graph(kit))
    order = [part for room in ROOMS for part in sorted(p for p in parts if p.split("/")[0] == room)]
    lines = [
        f"{part:17} → {' · '.join(p for p in order if p in parts[part])}".rstrip(" →")
        for part in order
    ]
    return "\n".join(lines) + "\n"


def users_of(graph: Mapping[str, set[str]]) -> Graph:
    """Return every module, and the modules that import it."""
    return {name: {user for user in graph if name in graph[user]} for name in graph}


def unasked(graph: Mapping[str, set[str]]) -> list[str]:
    """Return modules that no module imports: ways in from a notebook, or left over."""
    users = users_of(graph)
    return sorted(name for name in graph if "." in name and not users[name])


def alone(graph: Mapping[str, set[str]]) -> list[str]:
    """Return modules with no tie to another of their room: they may belong elsewhere."""
    users = users_of(graph)
    return sorted(
        name
        for name in graph
        if "." in name and all(room_of(one) != room_of(name) for one in graph[name] | users[name])
    )


if __name__ == "__main__":
    kit = Path(__file__).resolve().parents[1] / "kit" / "checkcloth"
    print(drawing(kit))
    if "--write" in sys.argv:
        page = kit.parents[1] / "DEVELOPERS.md"
        text = page.read_text("utf-8")
        page.write_text(
            re.sub(r"(?<=```\n)desk +→ .*?(?=```)", drawing(kit), text, flags=re.S), "utf-8"
        )
    graph = import_graph(kit)
    for what, names in (
        ("import each other", [" and ".join(ring) for ring in cycles(graph)]),
        ("no module imports", unasked(graph)),
        ("have no tie in their room", alone(graph)),
    ):
        print(f"{what}: {', '.join(names) or 'none'}")
