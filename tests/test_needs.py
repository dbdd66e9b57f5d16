"""What the extras hold, as the errors say it and as pyproject.toml does."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

from checkcloth.errors import MissingPackageError
from checkcloth.needs import EXTRAS, has, need

ROOT = Path(__file__).resolve().parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]


def packages(requirements: list[str]) -> set[str]:
    return {re.match(r"[\w-]+", line)[0] for line in requirements}


def test_each_extra_brings_what_the_error_says():
    extras = PROJECT["optional-dependencies"]
    for module, extra in EXTRAS.items():
        assert module.replace("_", "-") in packages(extras[extra])


def test_the_core_is_three_packages():
    everywhere = [line for line in PROJECT["dependencies"] if "sys_platform" not in line]
    assert packages(everywhere) == {"numpy", "coloraide", "pillow"}


def test_the_error_names_the_first_that_is_missing(monkeypatch):
    need("matplotlib", "tqdm")
    monkeypatch.setitem(__import__("sys").modules, "tqdm", None)
    assert not has("tqdm")
    with pytest.raises(MissingPackageError) as caught:
        need("matplotlib", "tqdm")
    assert caught.value.argument == "tqdm"
    assert 'pip install "checkcloth[lab]"' in str(caught.value)
    with pytest.raises(ImportError):
        need("tqdm")
