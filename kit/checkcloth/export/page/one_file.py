"""An HTML file that needs no other, and a policy that lets it run nothing but its own code."""

from __future__ import annotations

import base64
import hashlib
import json
from html import escape
from typing import Any

from checkcloth.errors import ArgumentError
from checkcloth.files.shipped import page_text
from checkcloth.version import PROGRAM


def _inside(path: str) -> str:
    """Code or a style sheet of the page; refused if it could not stand inside an HTML file."""
    text = page_text(path)
    if "</script" in text.lower() or "</style" in text.lower() or "<!--" in text:
        raise ArgumentError("path", "of a text without the tags that end it", path)
    return text


def _named(text: str) -> str:
    """Name a text by its SHA-256, as a policy does."""
    digest = hashlib.sha256(text.encode("utf-8")).digest()
    return f"'sha256-{base64.b64encode(digest).decode('ascii')}'"


def page_policy(script: str | None, style: str) -> str:
    """Return the content security policy of a file with one style sheet and one script of its own.

    Nothing else runs and nothing is asked for (W3C Content Security Policy Level 3): what may run
    is named by the SHA-256 of its text; where there is none, no script at all.
    """
    runs = f"script-src {_named(script)}; " if script is not None else ""
    return (
        f"default-src 'none'; {runs}style-src {_named(style)}; "
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


def html_file(title: str, style: str, body: str, script: str | None = None) -> str:
    """Return an HTML file of a ready ``body``, one style sheet and at most one script."""
    code = f'<script type="module">{script}</script>\n' if script is not None else ""
    return (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{page_policy(script, style)}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        '<meta name="referrer" content="no-referrer">\n'
        f'<meta name="generator" content="{escape(PROGRAM)}">\n'
        f"<title>{escape(title)}</title>\n<style>{style}</style>\n</head>\n<body>\n{body}\n"
        f"{code}</body>\n</html>\n"
    )


def one_file(title: str, name: str, data: Any, still: str) -> str:
    """Return an HTML file made of the bundle ``NAME.js`` and of ``page/NAME/NAME.css``.

    The plain data that the code reads stand in the element ``NAME-data``; ``still`` is ready HTML
    for where no scripts run.
    """
    body = (
        f'<script type="application/json" id="{name}-data">{json_in_html(data)}</script>\n'
        f"<noscript>{still}</noscript>"
    )
    return html_file(title, _inside(f"{name}/{name}.css"), body, _inside(f"bundles/{name}.js"))
