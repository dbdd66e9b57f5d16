"""axe-core over a page: what it finds wrong, in words.

The library is a development tool of the page (``npm ci`` in ``.ci/page``). The page must be
opened with ``bypass_csp``, for the check is a script of its own.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from missing import missing

if TYPE_CHECKING:
    from playwright.sync_api import Page

SOURCE = Path(__file__).resolve().parents[2] / ".ci/page/node_modules/axe-core/axe.min.js"
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa", "best-practice"]
_RUN = """async ([tags, within]) => {
    const { violations } = await axe.run(within ?? document, { runOnly: tags });
    return violations.map(({ id, help, nodes }) =>
        `${id}: ${help}: ${nodes.map(({ target, failureSummary }) =>
            `${target.join(" ")} ${failureSummary}`).join("; ")}`);
}"""


def source() -> str:
    """Return the library's code."""
    if not SOURCE.is_file():
        missing("axe-core is not installed: npm ci in .ci/page")
    return SOURCE.read_text("utf-8")


def violations(page: Page, within: str | None = None) -> list[str]:
    """Return what axe-core finds on a page, or within a selector of it."""
    if not page.evaluate("typeof axe !== 'undefined'"):
        page.add_script_tag(content=source())
    return list(page.evaluate(_RUN, [TAGS, within]))
