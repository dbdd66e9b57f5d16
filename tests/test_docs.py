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


@pytest.mark.parametrize("name", sorted(checkcloth.__all__))
def test_public_name_is_documented(name):
    thing = getattr(checkcloth, name)
    if isinstance(thing, tuple):  # a tuple of names has no docstring of its own
        assert all(isinstance(member, str) for member in thing)
        return
    assert inspect.getdoc(thing)
    if not (inspect.isclass(thing) and issubclass(thing, Exception)):
        assert ">>>" in inspect.getdoc(thing), f"{name} has no example"


def test_everything_declared_is_there():
    for name in MODULES:
        module = importlib.import_module(name)
        for public in getattr(module, "__all__", ()):
            assert hasattr(module, public), f"{name}.{public}"
