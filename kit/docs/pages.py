"""The pages of the API reference: a page a module, the stable surface first."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
from functools import lru_cache
from types import ModuleType
from typing import Any

import checkcloth

# What people write in a notebook or a script; names that stand here are described here.
SURFACE = (
    "checkcloth",
    "checkcloth.quality",
    "checkcloth.search",
    "checkcloth.ideas",
    "checkcloth.export.charts",
    "checkcloth.desk",
    "checkcloth.lesson",
)


def modules() -> list[str]:
    """Return all modules, the surface first, the others by name."""
    found = pkgutil.walk_packages(checkcloth.__path__, "checkcloth.")
    others = sorted(module.name for module in found if module.name.rpartition(".")[2] != "__main__")
    return [*SURFACE, *(name for name in others if name not in SURFACE)]


def public_names(module: ModuleType) -> list[str]:
    """Return ``__all__``, and then the other functions and classes that a module defines."""
    own = [
        (inspect.getsourcelines(unwrapped)[1], name)
        for name, thing in vars(module).items()
        if not name.startswith("_")
        and (inspect.isfunction(unwrapped := inspect.unwrap(thing)) or inspect.isclass(thing))
        and thing.__module__ == module.__name__
        and "<lambda>" not in thing.__qualname__
    ]
    return [*dict.fromkeys([*getattr(module, "__all__", ()), *(name for _, name in sorted(own))])]


@lru_cache(maxsize=1)
def home_of() -> dict[tuple[str, str], str]:
    """Return where each public name of each module is described: itself, or one before it."""
    first: dict[int, str] = {}
    homes: dict[tuple[str, str], str] = {}
    for where in modules():
        module = importlib.import_module(where)
        for name in public_names(module):
            thing = getattr(module, name)
            # A value such as a tuple has no place of its own: it is known by its name as well.
            key = id(thing) if callable(thing) else hash((id(thing), name))
            homes[where, name] = first.setdefault(key, f"{where}.{name}")
    return homes


def _directive(where: str, name: str, thing: Any) -> str:
    if inspect.isclass(thing):
        return f".. autoclass:: {where}.{name}\n"
    if callable(thing):
        return f".. autofunction:: {where}.{name}\n"
    return f".. autodata:: {where}.{name}\n   :no-value:\n"


def page(where: str) -> str:
    """Return the page of a module as reStructuredText."""
    module = importlib.import_module(where)
    title = f"``{where}``"
    # A function may have the name of its module: then that name leads to the function.
    quiet = "\n   :no-index:" if where in home_of().values() else ""
    parts = [f"{title}\n{'=' * len(title)}\n", f".. automodule:: {where}\n   :no-members:{quiet}\n"]
    elsewhere = []
    for name in public_names(module):
        home = home_of()[where, name]
        if home == f"{where}.{name}":
            parts.append(_directive(where, name, getattr(module, name)))
        else:
            elsewhere.append(f"* :py:obj:`{name} <{home}>`")
    if elsewhere:
        parts.append("Also here, described elsewhere:\n\n" + "\n".join(elsewhere) + "\n")
    return "\n".join(parts)


def index() -> str:
    """Return the first page."""

    def tree(caption: str, names: list[str]) -> str:
        return f".. toctree::\n   :caption: {caption}\n   :maxdepth: 1\n\n" + "".join(
            f"   {name}\n" for name in names
        )

    others = [name for name in modules() if name not in SURFACE]
    rooms = sorted({name.split(".")[1] for name in others})
    trees = [tree("The surface: kept stable", list(SURFACE))]
    for room in rooms:
        own = [name for name in others if name.split(".")[1] == room]
        trees.append(tree(f"Module by module: {room}", own))
    return (
        "checkcloth: the API reference\n=============================\n\n"
        "Every public name, with shapes, units, errors and sources. The first pages are what "
        "scripts rely on; the others describe the modules behind them, which may change.\n\n"
        "* :ref:`genindex`\n\n" + "\n".join(trees)
    )
