"""Calls functions of the page's modules in Node; loaded by tests with ``runpy``."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

RUNNER = Path(__file__).with_name("call.mjs")
HOW_TO_GET_NODE = "no node found: install Node.js 20.19 or newer (https://nodejs.org)"


def ask_page(calls: list[list[Any]]) -> list[Any]:
    """Return the answers to [module, function, arguments] each; NaN and infinity come as None."""
    node = shutil.which("node")
    if node is None:
        if os.environ.get("CI", "").lower() in {"1", "true", "yes"}:
            pytest.fail(f"CI must run the page's tests, but: {HOW_TO_GET_NODE}", pytrace=False)
        pytest.skip(HOW_TO_GET_NODE)
    done = subprocess.run(
        [node, str(RUNNER)],
        input=json.dumps(calls),
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return list(json.loads(done.stdout))
