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
# Names without an example, whole modules or one name, and why.
WIDGETS = "stands on a page: tests/browser and tests/desk drive it"
PAPER = "draws on a page or on axes that are open: the picture as a whole has an example"
PART = "a row of what check_strike_off returns, whose example shows it"
WORKERS = "lives as long as a search: search() has the example"
NO_EXAMPLE = {
    "desk.bench.strength_bench": WIDGETS,
    "desk.controls.Controls": WIDGETS,
    "desk.desk": WIDGETS,
    "desk.doing": WIDGETS,
    "desk.file_field": WIDGETS,
    "desk.form_parts": WIDGETS,
    "desk.hand_off_fields": WIDGETS,
    "desk.hand_off_form": WIDGETS,
    "desk.lesson": WIDGETS,
    "desk.lesson_step": WIDGETS,
    "desk.listening": WIDGETS,
    "desk.opening.open_desk": WIDGETS,
    "desk.rest": WIDGETS,
    "desk.search_fields": WIDGETS,
    "desk.search_form": WIDGETS,
    "desk.search_sources": WIDGETS,
    "desk.sending": WIDGETS,
    "desk.wall": WIDGETS,
    "explore.analysis.colourway_csv.write_colourways": "read_colourways() shows both ways",
    "explore.analysis.strike_off.ToneCheck": PART,
    "explore.search.crew.Crew": WORKERS,
    "explore.search.keep.Kept": WORKERS,
    "output.chart_style": PAPER,
    "output.lesson_parts": PAPER,
    "output.pdf": PAPER,
    "output.spec_cloth": PAPER,
    "output.spec_page.SpecPage": PAPER,
    "output.spec_tables": PAPER,
}


def public_names() -> dict[str, object]:
    """Return every function and class that a module declares its own, by dotted name."""
    found = {}
    for name in MODULES:
        module = importlib.import_module(name)
        for public in getattr(module, "__all__", ()):
            thing = getattr(module, public)
            if callable(thing) and getattr(thing, "__module__", name) == name:
                found[f"{name.removeprefix('checkcloth.')}.{public}"] = thing
    return found


PUBLIC = public_names()


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
    assert ">>>" in inspect.getdoc(thing), f"{name} has no example"


@pytest.mark.parametrize("name", sorted(PUBLIC))
def test_every_declared_name_has_an_example(name):
    said = PUBLIC[name].__doc__ or ""
    assert len(said) > 20, f"{name} does not say what it does"
    excepted = name in NO_EXAMPLE or name.rpartition(".")[0] in NO_EXAMPLE
    assert excepted or ">>>" in said, f"{name} has no example"


FACADES = ("checkcloth", "checkcloth.search", "checkcloth.ideas")
FUNCTIONS = [
    (module, name)
    for module in FACADES
    for name in importlib.import_module(module).__all__
    if inspect.isfunction(getattr(importlib.import_module(module), name))
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


def test_no_exception_is_left_over():
    modules = {name.rpartition(".")[0] for name in PUBLIC}
    assert [name for name in NO_EXAMPLE if name not in modules and name not in PUBLIC] == []
    done = [name for name in NO_EXAMPLE if name in PUBLIC and ">>>" in PUBLIC[name].__doc__]
    assert done == [], "these have examples by now"
    assert len(NO_EXAMPLE) < 30


def test_everything_declared_is_there():
    for name in MODULES:
        module = importlib.import_module(name)
        for public in getattr(module, "__all__", ()):
            assert hasattr(module, public), f"{name}.{public}"
