"""An HTML file that needs no other, and a policy that lets it run nothing but its own code."""

from __future__ import annotations

import base64
import hashlib
import json
from functools import lru_cache
from html import escape
from pathlib import Path
from typing import Any

from checkcloth.errors import ArgumentError
from checkcloth.version import PROGRAM

_BUNDLES = Path(__file__).parents[2] / "page" / "bundles"


@lru_cache(maxsize=8)
def bundle(name: str) -> str:
    """Return a committed bundle of the page: code, or a style sheet.

    Raises
    ------
    ArgumentError
        For one that could not stand inside an HTML file.
    """
    text = (_BUNDLES / name).read_text("utf-8")
    if "</script" in text.lower() or "</style" in text.lower() or "<!--" in text:
        raise ArgumentError("bundle", "without the tags that end it", name)
    return text


def page_policy(script: str, style: str) -> str:
    """Return the content security policy of a file with one script and one style sheet of its own.

    Nothing else runs and nothing is asked for (W3C Content Security Policy Level 3): what may run
    is named by the SHA-256 of its text.
    """
    script_hash, style_hash = (
        base64.b64encode(hashlib.sha256(text.encode("utf-8")).digest()).decode("ascii")
        for text in (script, style)
    )
    return (
        f"default-src 'none'; script-src 'sha256-{script_hash}'; style-src 'sha256-{style_hash}'; "
        "img-src data: blob:; base-uri 'none'; form-action 'none'"
    )


def json_in_html(data: Any) -> str:
    """Return JSON that can stand between script tags, whatever people typed.

    >>> json_in_html({"name": "</script>&"})
    '{"name":"\\\\u003c/script\\\\u003e\\\\u0026"}'
    """
    text = json.dumps(data, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    for char in "<>&\u2028\u2029":
        text = text.replace(char, f"\\u{ord(char):04x}")
    return text


def one_file(title: str, name: str, data: Any, still: str) -> str:
    """Return an HTML file made of the bundles ``NAME.js`` and ``NAME.css``.

    Parameters
    ----------
    title : str
    name : str
        Of the bundles; the data stand in the element ``NAME-data``.
    data : plain data
        What the code reads.
    still : str
        Ready HTML that stands in for the page where no scripts run.
    """
    script, style = bundle(f"{name}.js"), bundle(f"{name}.css")
    return (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{page_policy(script, style)}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        '<meta name="referrer" content="no-referrer">\n'
        f'<meta name="generator" content="{escape(PROGRAM)}">\n'
        f"<title>{escape(title)}</title>\n<style>{style}</style>\n</head>\n<body>\n"
        f'<script type="application/json" id="{name}-data">{json_in_html(data)}</script>\n'
        f"<noscript>{still}</noscript>\n"
        f'<script type="module">{script}</script>\n</body>\n</html>\n'
    )
