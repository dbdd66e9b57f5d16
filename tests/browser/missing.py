"""What a test needs and a machine may lack."""

from __future__ import annotations

import os
from typing import NoReturn

import pytest


def missing(reason: str) -> NoReturn:
    """Skip for a person who lacks it; under CI nothing may be missing."""
    if os.environ.get("CI", "").lower() in {"1", "true", "yes"}:
        pytest.fail(f"CI must run the browser tests, but: {reason}", pytrace=False)
    pytest.skip(reason)
