"""Every public name says what it does, and the examples in the documentation run."""

from __future__ import annotations

import doctest
import importlib
import inspect
import pkgutil

import pytest

import checkcloth

MODULES = sorted(
    module.name for module in pkgutil.walk_packages(checkcloth.__path__, "checkcloth.")
)
# What people write in a notebook: the package root, and the rooms that declare a surface.
FACADES = [
    name
    for name in ["checkcloth", *MODULES]
    if hasattr(importlib.import_module(name), "__path__")
    and getattr(importlib.import_module(name), "__all__", None)
]
PUBLIC = [
    (module, name)
    for module in FACADES
    for name in importlib.import_module(module).__all__
    if not isinstance(getattr(importlib.import_module(module), name), tuple)
]


@pytest.mark.parametrize("name", ["checkcloth", *MODULES])
def test_examples_run(name):
    result = doctest.testmod(importlib.import_module(name), raise_on_error=False)
    assert result.failed == 0


def test_a_wrong_example_is_found():
    def wrong():
        """
        >>> 1 + 1
        3
        """

    (example,) = doctest.DocTestFinder().find(wrong, "wrong", globs={})
    assert doctest.DocTestRunner(verbose=False).run(example, out=lambda text: None).failed == 1


def test_the_surface_is_where_it_should_be():
    assert {"checkcloth", "checkcloth.search", "checkcloth.quality"} <= set(FACADES)
    assert set(checkcloth.__all__) <= set(dir(checkcloth))


@pytest.mark.parametrize(("module", "name"), PUBLIC)
def test_public_name_is_documented(module, name):
    thing = getattr(importlib.import_module(module), name)
    assert len(inspect.getdoc(thing) or "") > 20, f"{name} does not say what it does"
    if module == "checkcloth":
        assert ">>>" in inspect.getdoc(thing), f"{name} has no example"


FUNCTIONS = [
    (module, name)
    for module, name in PUBLIC
    if module in ("checkcloth", "checkcloth.search", "checkcloth.ideas")
    and inspect.isfunction(getattr(importlib.import_module(module), name))
]


@pytest.mark.parametrize(("module", "name"), FUNCTIONS)
def test_what_scripts_call_says_what_it_takes_and_gives(module, name):
    thing = getattr(importlib.import_module(module), name)
    said = inspect.getdoc(thing)
    if inspect.signature(thing).parameters:
        assert "Parameters\n---" in said
    assert "Returns\n---" in said or said.startswith(("Return", "Yield", "Write", "Say"))
    if module == "checkcloth":
        assert "Raises\n---" in said
