"""Draw which room of the kit imports from which, as DEVELOPERS.md shows it.

``python tests/draw_imports.py`` prints the drawing; ``--write`` puts it into DEVELOPERS.md.
Direction and circles are held by import-linter (pyproject.toml), which this asks for its graph.
"""

from __future__ import annotations

import re
import sys
from pathlib import Path

import grimp

# From the top down, as the contracts in pyproject.toml have them.
ROOMS = (
    "desk", "lesson", "start", "export", "quality", "search", "ideas", "scoring", "cloth", "colour",
    "cores", "files",
)  # fmt: skip
SHARED = {"errors", "arguments", "needs", "version"}  # every room may use them
PAGE = Path(__file__).resolve().parents[1] / "DEVELOPERS.md"


def drawing() -> str:
    """Return the rooms from the top down, and what each imports from."""
    graph = grimp.build_graph("checkcloth")
    packages = {name for name in graph.modules if graph.find_children(name)}

    def room(module: str) -> str:
        package = module if module in packages else module.rpartition(".")[0]
        return package.removeprefix("checkcloth").lstrip(".").replace(".", "/")

    uses: dict[str, set[str]] = {}
    for module in graph.modules - {"checkcloth"}:
        here = room(module)
        targets = graph.find_modules_directly_imported_by(module)
        uses.setdefault(here, set()).update(room(target) for target in targets)
    known = [name for top in ROOMS for name in sorted(uses) if name.split("/")[0] == top]
    lines = [
        f"{name:17} → {' · '.join(n for n in known if n in uses[name] - {name})}".rstrip(" →")
        for name in known
    ]
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    print(drawing())
    if "--write" in sys.argv:
        text = PAGE.read_text("utf-8")
        # The first drawing is today's; the one of the version before stands below it.
        new = re.sub(r"(?<=```\n)desk +→ .*?(?=```)", drawing(), text, count=1, flags=re.S)
        PAGE.write_text(new, "utf-8")
