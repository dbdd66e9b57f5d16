"""The API reference has every public name, and its own check finds what is missing.

It is built in CI (.ci/run); building it takes longer than a test may.
"""

from __future__ import annotations

import importlib
import sys
from pathlib import Path

import pytest

import checkcloth

DOCS = Path(__file__).resolve().parents[1] / "kit" / "docs"


@pytest.fixture(scope="module")
def made():
    """The two modules beside the settings of Sphinx, which they do not need."""
    sys.path.insert(0, str(DOCS))
    try:
        yield importlib.import_module("pages"), importlib.import_module("build")
    finally:
        sys.path.remove(str(DOCS))
        for name in ("pages", "build"):
            sys.modules.pop(name, None)


def test_every_name_of_every_all_is_in_it_once(made):
    pages, _ = made
    described = []
    for where in pages.modules():
        module = importlib.import_module(where)
        text = pages.page(where)
        for name in getattr(module, "__all__", ()):
            home = pages.home_of()[where, name]
            assert f":: {where}.{name}\n" in text or f"<{home}>`" in text, f"{where}.{name}"
        described += [line for line in text.splitlines() if line.startswith(".. auto")]
    modules = [line for line in described if ".. automodule::" in line]
    names = [line.partition(":: ")[2] for line in described if line not in modules]
    assert len(set(names)) == len(names) > 600
    assert {*pages.home_of().values()} == {*names}
    assert len(modules) == len(pages.modules())


def test_the_surface_is_described_on_its_own_pages(made):
    pages, _ = made
    for name in checkcloth.__all__:
        assert pages.home_of()["checkcloth", name] == f"checkcloth.{name}"
    listed = pages.index()
    for where in pages.modules():
        assert f"   {where}\n" in listed


def test_links_that_lead_nowhere_and_names_that_are_missing_are_found(made, tmp_path):
    pages, build = made
    ids = "".join(f'<p id="{home}">' for home in {*pages.home_of().values()})
    links = ("other.html?v=2#here", "https://example.org/x", "#checkcloth.score")
    text = ids + "".join(f'<a href="{link}">' for link in links)
    (tmp_path / "index.html").write_text(text, "utf-8")
    other = tmp_path / "other.html"
    other.write_text('<p id="here">', "utf-8")
    assert build.faults_of(tmp_path) == []
    other.write_text('<p id="elsewhere"><a href="gone.html">', "utf-8")
    assert build.faults_of(tmp_path) == [
        "index.html: other.html?v=2#here leads nowhere",
        "other.html: gone.html leads nowhere",
    ]
    (tmp_path / "index.html").write_text(ids.replace('id="checkcloth.score"', ""), "utf-8")
    assert "checkcloth.score is described nowhere" in build.faults_of(tmp_path)


def test_pages_of_names_that_went_go_too(made, tmp_path):
    _, build = made
    (tmp_path / "checkcloth.gone.rst").write_text("", "utf-8")
    build.write_pages(tmp_path)
    assert not (tmp_path / "checkcloth.gone.rst").exists()
    assert (
        (tmp_path / "checkcloth.quality.rst")
        .read_text("utf-8")
        .startswith("``checkcloth.quality``")
    )
