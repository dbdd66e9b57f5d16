"""Settings of Sphinx for the API reference; ``build.py`` beside this file runs it."""

from __future__ import annotations

import re
import sys
from importlib import import_module
from pathlib import Path
from typing import Any

sys.path[:0] = [str(Path(__file__).resolve().parents[1]), str(Path(__file__).resolve().parent)]

from numpydoc import xref  # noqa: E402
from pages import home_of  # noqa: E402
from sphinx.util.nodes import make_refnode  # noqa: E402

from checkcloth import __version__  # noqa: E402

project = "checkcloth"
author = "the checkcloth maintainers"
version = release = __version__
language = "en_GB"
extensions = ["sphinx.ext.autodoc", "numpydoc"]
html_theme = "alabaster"
html_theme_options = {
    "description": "multi-colour gingham, from a palette to files for print and mill",
    "page_width": "1100px",
    "sidebar_width": "310px",
}
html_copy_source = html_show_sourcelink = False
html_show_sphinx = False
pygments_style = "default"

# Types are said in the docstrings, in words; names of ours among those words are links.
autodoc_typehints = "none"
autodoc_member_order = "bysource"
autodoc_default_options = {"members": True}
numpydoc_show_class_members = False
numpydoc_attributes_as_param_list = True
numpydoc_xref_param_type = True
numpydoc_xref_ignore = "all"
xref.DEFAULT_LINKS.clear()  # words such as "int" would lead to other sites
numpydoc_xref_aliases = {
    home.rpartition(".")[2]: f":py:obj:`{home.rpartition('.')[2]} <{home}>`"
    for home in home_of().values()
    if home.rpartition(".")[2][0].isupper()
}
nitpicky = True
# Of other packages; nothing is fetched from the network.
nitpick_ignore_regex = [("py:.*", r"(zlib|anywidget|ipywidgets|reportlab)(\..*)?")]


def _plain_bars(app: Any, what: str, name: str, thing: Any, options: Any, lines: list[str]) -> None:
    """A bar is a bar, as in \\|ΔL\\*\\|, and no substitution; code stays as it is."""
    code = False
    for number, line in enumerate(lines):
        code = line.lstrip().startswith(">>>") or (code and bool(line.strip()))
        if not code:
            parts = re.split(r"(``.+?``)", line)
            parts[::2] = [part.replace("|", "\\|") for part in parts[::2]]
            lines[number] = "".join(parts)


def _by_last_name(app: Any, env: Any, node: Any, contnode: Any) -> Any:
    """Find what a docstring names shortly, or by where it is defined and not described."""
    if node.get("refdomain") != "py":
        return None
    target = node["reftarget"].lstrip(".")
    every = env.get_domain("py").objects
    objects = {name: entry for name, entry in every.items() if not entry.aliased}
    found = _homes(target, node) or [name for name in objects if f".{name}".endswith(f".{target}")]
    here = ".".join(filter(None, [node.get("py:module"), node.get("py:class")]))
    while here and len(found) > 1:
        near = [name for name in found if name.startswith(f"{here}.")]
        found, here = near or found, here.rpartition(".")[0]
    found = [name for name in found if name in objects]
    if len(found) != 1:
        return None
    entry = objects[found[0]]
    return make_refnode(app.builder, node["refdoc"], entry.docname, entry.node_id, contnode)


def _homes(target: str, node: Any) -> list[str]:
    """Where a name is described: its module's, a base's of the class it is in, or its class."""
    where, _, name = target.rpartition(".")
    homes = home_of()
    if (where, name) in homes:
        return [homes[where, name]]
    last = {home.rpartition(".")[2]: home for home in homes.values()}
    if node.get("reftype") == "attr" and where in last:  # listed in the text of its class
        return [last[where]]
    inside = last.get(node.get("py:class") or "")
    if inside is None or where:
        return []
    module, _, name = inside.rpartition(".")
    bases = getattr(import_module(module), name).__mro__[1:]
    own = [
        base for base in bases if target in vars(base) and (base.__module__, base.__name__) in homes
    ]
    return [f"{homes[base.__module__, base.__name__]}.{target}" for base in own[:1]]


def setup(app: Any) -> None:
    """Tell Sphinx of both."""
    app.connect("autodoc-process-docstring", _plain_bars, priority=900)
    app.connect("missing-reference", _by_last_name)
