"""What only some of the kit needs, and how to get it: the optional extras, in one place."""

from __future__ import annotations

from importlib.util import find_spec

from checkcloth.errors import MissingPackageError

# Module to extra, as pyproject.toml has them; the core needs none of these.
EXTRAS = {
    "anywidget": "lab",
    "colour_cxf": "cxf",
    "ipywidgets": "lab",
    "jupyterlab": "lab",
    "matplotlib": "lab",
    "pandas": "more",
    "reportlab": "pdf",
    "tqdm": "lab",
}


def has(module: str) -> bool:
    """Whether a module can be imported; it is not loaded."""
    try:
        return find_spec(module) is not None
    except (ImportError, ValueError):  # one that was taken out of sys.modules by hand
        return False


def need(*modules: str) -> None:
    """Refuse to go on without modules, before anything is done.

    Raises
    ------
    MissingPackageError
        Names the first that is missing, and the line to type.
    """
    for module in modules:
        if not has(module):
            raise MissingPackageError.of(module, EXTRAS[module])
