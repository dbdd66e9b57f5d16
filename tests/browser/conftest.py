"""Fixtures: ``lab`` is one JupyterLab page over this test's own copy of the notebooks.

    @pytest.mark.browser
    def test_something(lab):
        lab.open_notebook("explore.ipynb")
        lab.run_all()
        assert lab.page.get_by_role("slider").count() == 3
        assert not lab.problems

The server is started once a session, in an empty home, so that nobody's settings matter; each
test has a folder of its own under it (``lab.folder``), a JupyterLab with nothing open in it, and
no kernel left behind. ``lab.start_anew()`` is for whoever wants it loaded anew, and
``lab.open_notebook(..., stays=True)`` for tests that begin with the same notebook: the next finds
it open, as saved, in the folder of the first.
What needs no JupyterLab takes ``alone`` in its place (``kernel_alone.py``), ten times as quick.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable, Generator, Iterator
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from desk_alone import LiveDesk
from firefox_driver import HOW_TO_GET_FIREFOX, Firefox, FirefoxPage, find_firefox
from kernel_alone import AlonePage, Kernel
from lab_driver import CHROMIUM_FLAGS, HOW_TO_GET_CHROMIUM, LabServer, find_chromium
from lab_page import LabPage
from missing import missing
from page_alone import close_page

if TYPE_CHECKING:
    from playwright.sync_api import (
        Browser,
        BrowserContext,
        Page,
        Playwright,
        ViewportSize,
    )

pytest.register_assert_rewrite("cloth_driver")

HERE = Path(__file__).resolve().parent
CHECKOUT = HERE.parents[1]
COPIED = ("notebooks", "palettes")
NOT_COPIED = shutil.ignore_patterns(".ipynb_checkpoints", "__pycache__", "out")
_FAILED = pytest.StashKey[bool]()


@pytest.fixture(scope="session")
def chromium_path() -> str:
    path = find_chromium()
    if path is None:
        missing(HOW_TO_GET_CHROMIUM)
    return path


class _Chromium:
    """One browser for all tests of this process, closed while others have their turn.

    As long as Playwright is up, an event loop runs in this thread, and tests outside this folder
    would trip over it: notebooks (nbval), or whoever runs a loop of their own.
    """

    def __init__(self) -> None:
        self._playwright: Playwright | None = None
        self._browser: Browser | None = None
        self._contexts: dict[Any, BrowserContext] = {}
        self.lab: LabPage | None = None  # a JupyterLab that waits for the next test

    def opened(self, path: str) -> Browser:
        if self._browser is None or not self._browser.is_connected():
            self.close()
            try:
                from playwright.sync_api import expect, sync_playwright
            except ImportError:
                missing("Playwright is not installed: pip install -e '.[test]'")
            expect.set_options(timeout=20_000)  # the machine may be busy
            self._playwright = sync_playwright().start()
            self._browser = self._playwright.chromium.launch(
                executable_path=path, args=list(CHROMIUM_FLAGS)
            )
        return self._browser

    def page(self, path: str, viewport: ViewportSize, **options: Any) -> Page:
        """Open a page in a context that stands, with a page that keeps its renderer alive.

        A context and a process of its own would cost as much again as showing the desk.
        """
        browser = self.opened(path)
        key = tuple(sorted(options.items()))
        if key not in self._contexts:
            self._contexts[key] = browser.new_context(accept_downloads=True, **options)
            self._contexts[key].new_page()
        page = self._contexts[key].new_page()
        page.set_viewport_size(viewport)
        return page

    def close(self) -> None:
        self._contexts.clear()
        lab, self.lab = self.lab, None
        if lab is not None:
            with suppress(OSError):  # a server that has ended took its kernels along
                lab.server.end_kernels()
        browser, self._browser = self._browser, None
        playwright, self._playwright = self._playwright, None
        if browser is not None:
            browser.close()
        if playwright is not None:
            playwright.stop()


_chromium = _Chromium()


@pytest.hookimpl(wrapper=True)
def pytest_runtest_teardown(
    item: pytest.Item, nextitem: pytest.Item | None
) -> Generator[None, None, None]:
    try:
        return (yield)
    finally:
        if nextitem is None or HERE not in nextitem.path.parents:
            _chromium.close()


@pytest.fixture(scope="module")
def chromium(chromium_path: str) -> Browser:
    return _chromium.opened(chromium_path)


@pytest.fixture
def new_page(chromium_path: str) -> Iterator[Callable[..., Page]]:
    """Return a function that opens a page without JupyterLab; it is closed with the test.

    Pages asked for with the same options (those of a browser context) are in one context: who
    changes that (``set_offline``, cookies, permissions) makes one alone with ``chromium``.
    """
    made: list[Page] = []

    def opened(width: int = 1320, height: int = 1000, **options: Any) -> Page:
        made.append(_chromium.page(chromium_path, {"width": width, "height": height}, **options))
        made[-1].set_default_timeout(30_000)
        return made[-1]

    yield opened
    for page in made:
        close_page(page)


@pytest.fixture
def page_size() -> tuple[int, int]:
    """Return the size of ``page``; a test module may lay its own over it."""
    return 1320, 1000


@pytest.fixture
def page(new_page: Callable[..., Page], page_size: tuple[int, int]) -> Page:
    """A page without JupyterLab."""
    return new_page(*page_size)


@pytest.fixture
def live(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[LiveDesk]:
    """A real desk behind such a page; its faults are faults of the test."""
    monkeypatch.chdir(tmp_path)
    made = LiveDesk(tmp_path, stripes=3, count=24)
    yield made
    made.close()
    assert made.problems == []
    assert made.desk.troubles == []


@pytest.fixture
def alone_options() -> dict[str, Any]:
    """Return what is asked of the page of ``alone``; a test module may lay its own over it."""
    return {"viewport": {"width": 1400, "height": 1000}}


@pytest.fixture
def alone(
    chromium_path: str,
    alone_options: dict[str, Any],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> Iterator[AlonePage]:
    """Return a page for a desk over a kernel of our own; its faults are faults of the test."""
    (tmp_path / "notebooks").mkdir()
    shutil.copytree(CHECKOUT / "palettes", tmp_path / "palettes", ignore=NOT_COPIED)
    monkeypatch.chdir(tmp_path / "notebooks")
    page = _chromium.page(chromium_path, **alone_options)
    kernel = Kernel()
    try:
        yield AlonePage(page, kernel, tmp_path)
    finally:
        page.close()
        kernel.close()
    assert kernel.faults == []


@pytest.fixture(scope="session")
def firefox(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Firefox]:
    path = find_firefox()
    if path is None:
        missing(HOW_TO_GET_FIREFOX)
    browser = Firefox(path, tmp_path_factory.mktemp("firefox") / "home")
    yield browser
    browser.close()


@pytest.fixture
def firefox_page(firefox: Firefox) -> Iterator[FirefoxPage]:
    """Return a page of a real Firefox; ``open_file`` opens a file from its file address."""
    page = firefox.open_page()
    yield page
    page.close()


@pytest.fixture(scope="session")
def lab_server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[LabServer]:
    root, home = tmp_path_factory.mktemp("lab"), tmp_path_factory.mktemp("home")
    server = LabServer(root, home, CHECKOUT)
    try:
        server.start()
        yield server
    finally:
        server.stop()


@pytest.fixture
def lab_folder(request: pytest.FixtureRequest, lab_server: LabServer) -> Path:
    """Return this test's own folder under the server, with copies of notebooks and palettes."""
    folder = lab_server.root / re.sub(r"[^A-Za-z0-9_-]+", "-", request.node.name)
    for name in COPIED:
        if (CHECKOUT / name).is_dir():
            shutil.copytree(CHECKOUT / name, folder / name, ignore=NOT_COPIED)
        else:
            (folder / name).mkdir(parents=True)
    return folder


SIZE: ViewportSize = {"width": 1400, "height": 1000}


@pytest.fixture
def lab(
    request: pytest.FixtureRequest,
    # before the server: without a browser there is no reason to wait for one
    chromium: Browser,
    lab_server: LabServer,
    lab_folder: Path,
    tmp_path: Path,
) -> Iterator[LabPage]:
    # A JupyterLab with nothing open is as good as one just loaded, and there at once; nobody
    # gets one in which a test has failed.
    page, _chromium.lab = _chromium.lab, None
    if page is None:
        context = chromium.new_context(accept_downloads=True, viewport=SIZE)
        page = LabPage(context.new_page(), lab_server, lab_folder)
    page.folder = lab_folder
    yield page
    if request.node.stash.get(_FAILED, True):
        picture = page.screenshot(tmp_path / "failure.png")
        print(f"the page when the test failed: {picture}")
        print("\n".join(page.console))
        page.page.context.close()
        lab_server.end_kernels()
    else:
        page.leave(SIZE)
        _chromium.lab = page


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item, call: pytest.CallInfo[None]) -> Iterator[None]:
    report = yield
    if call.when == "call":
        item.stash[_FAILED] = report.failed
    return report
