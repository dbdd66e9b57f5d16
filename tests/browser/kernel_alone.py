"""A desk in the browser over a kernel of our own: no JupyterLab, but all that a kernel does.

The desk lives in an event loop in a thread of its own, so that what it does later, bit by bit or
in other threads happens as it does in a notebook; page and desk tell each other the very messages
of ipywidgets, by HTTP. What only JupyterLab has (cells, links to files, its keys and styles) needs
the fixture ``lab``; all else is tested here, in a tenth of the time::

    def test_something(alone):
        desk = alone.open_desk(stripes=3)
        desk.keep(0)
        assert alone.problems == []

``desk`` is the same ``DeskPage`` as in JupyterLab, and ``alone`` does what ``lab`` does, as far as
both can: ``page``, ``folder``, ``ask``, ``press``, ``problems``.
"""

from __future__ import annotations

import asyncio
import base64
import json
import threading
from collections.abc import Callable, Iterator
from concurrent.futures import Future
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from queue import Queue
from typing import TYPE_CHECKING, Any, TypeVar

from desk_driver import DeskPage
from lab_page import BrowserPage
from page_alone import PAGE, TIMERS, host_page

if TYPE_CHECKING:
    from playwright.sync_api import Page

    from checkcloth.desk.session import Desk

LIMIT = 60.0  # seconds that a test waits for the kernel
HERE = Path(__file__).parent
_FILES = {
    "/desk.js": (PAGE / "bundles" / "desk.js", "text/javascript"),
    "/desk.css": (PAGE / "bundles" / "desk.css", "text/css"),
    "/fake_model.js": (HERE / "fake_model.js", "text/javascript"),
    "/kernel_alone.js": (HERE / "kernel_alone.js", "text/javascript"),
}
_SHOW = """async () => {
    const [{ KernelModel }, desk] = await Promise.all(
        [import('/kernel_alone.js'), import('/desk.js')]);
    window.model = await KernelModel.opened();
    window.closeDesk = desk.default.render({ model, el: document.querySelector('#desk') });
}"""

_Result = TypeVar("_Result")
_Event = dict[str, Any]


def _coded(buffers: Any) -> list[str]:
    return [base64.b64encode(bytes(one)).decode() for one in buffers or ()]


class Kernel:
    """An event loop with names in it, as a notebook's kernel has; ``desk`` is shown by its page."""

    def __init__(self) -> None:
        self.names: dict[str, Any] = {}
        self.faults: list[str] = []
        self._loop = asyncio.new_event_loop()
        self._loop.set_exception_handler(lambda _, about: self.faults.append(str(about)))
        self._thread = threading.Thread(target=self._loop.run_forever, daemon=True)
        self._thread.start()
        self._views: list[Queue[_Event | None]] = []
        self._parent: int | None = None
        handler = type("_OfKernel", (_Handler,), {"kernel": self})
        self._server = ThreadingHTTPServer(("127.0.0.1", 0), handler)
        self._server.daemon_threads = True
        threading.Thread(target=self._server.serve_forever, args=(0.05,), daemon=True).start()
        self.address = f"http://127.0.0.1:{self._server.server_address[1]}/"

    def do(self, work: Callable[[], _Result]) -> _Result:
        """Do something in the kernel, once it is its turn."""
        done: Future[_Result] = Future()

        def act() -> None:
            try:
                done.set_result(work())
            except BaseException as error:
                done.set_exception(error)

        self._loop.call_soon_threadsafe(act)
        return done.result(LIMIT)

    @contextmanager
    def stopped(self) -> Iterator[None]:
        """Let the kernel stand still for a while."""
        go_on = threading.Event()
        self._loop.call_soon_threadsafe(go_on.wait)
        try:
            yield
        finally:
            go_on.set()

    def show(self, desk: Desk) -> None:
        """Let the page hear a desk: what its widget tells goes there from now on."""
        self.names["desk"] = desk
        desk.widget.comm.publish_msg = self._tell

    def hear(self, message: dict[str, Any]) -> None:
        """Take a message of the page; what comes of it is told in turn."""
        self._loop.call_soon_threadsafe(self._hear, message)

    def _hear(self, message: dict[str, Any]) -> None:
        buffers = [memoryview(base64.b64decode(one)) for one in message["buffers"]]
        self._parent = message["id"]
        try:
            comm = self.names["desk"].widget.comm
            if comm is not None:  # a desk that is closed hears nothing, as in a kernel
                comm.handle_msg({"content": {"data": message["data"]}, "buffers": buffers})
        except Exception as error:
            self.faults.append(f"{type(error).__name__}: {error}")
        finally:
            self._put({"done": True, "parent": self._parent})
            self._parent = None

    def _tell(self, what: str, data: Any = None, *_: Any, buffers: Any = None, **__: Any) -> None:
        if what == "comm_msg":
            self._put({"parent": self._parent, "data": data, "buffers": _coded(buffers)})

    def _put(self, event: _Event) -> None:
        for view in self._views:
            view.put(event)

    def follow(self) -> Queue[_Event | None]:
        """Return what is told from now on, all that the desk is first."""
        return self.do(self._follow)

    def _follow(self) -> Queue[_Event | None]:
        from ipywidgets.widgets.widget import _remove_buffers

        widget = self.names["desk"].widget
        state, paths, buffers = _remove_buffers(widget.get_state())
        view: Queue[_Event | None] = Queue()
        view.put({"data": {"state": state, "buffer_paths": paths}, "buffers": _coded(buffers)})
        self._views.append(view)
        return view

    def close(self) -> None:
        """End the desk with what it still does, the loop and the server."""
        desk = self.names.get("desk")
        if desk is not None:
            self.do(desk.retire)
            self.do(desk.close)
        for view in self._views:
            view.put(None)
        self._server.shutdown()
        self._server.server_close()

        async def end() -> None:
            rest = asyncio.all_tasks() - {asyncio.current_task()}
            for task in rest:
                task.cancel()
            await asyncio.gather(*rest, return_exceptions=True)
            await self._loop.shutdown_default_executor()

        asyncio.run_coroutine_threadsafe(end(), self._loop).result(LIMIT)
        self._loop.call_soon_threadsafe(self._loop.stop)
        self._thread.join(LIMIT)
        self._loop.close()


class _Handler(BaseHTTPRequestHandler):
    kernel: Kernel
    protocol_version = "HTTP/1.1"
    disable_nagle_algorithm = True

    def do_GET(self) -> None:
        if self.path == "/events":
            self._tell_events()
        elif self.path in _FILES:
            file, kind = _FILES[self.path]
            self._answer(file.read_bytes(), kind)
        elif self.path.startswith("/favicon"):
            self._answer(b"", "image/png")
        else:
            self._answer(host_page("dark" in self.path).encode(), "text/html")

    def do_POST(self) -> None:
        body = self.rfile.read(int(self.headers["Content-Length"]))
        self.kernel.hear(json.loads(body))
        self._answer(b"", "text/plain")

    def _answer(self, body: bytes, kind: str) -> None:
        self.send_response(200)
        self.send_header("Content-Type", f"{kind}; charset=utf-8")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def _tell_events(self) -> None:
        self.send_response(200)
        self.send_header("Content-Type", "text/event-stream")
        self.send_header("Connection", "close")
        self.end_headers()
        events = self.kernel.follow()
        try:
            while (event := events.get()) is not None:
                self.wfile.write(f"data: {json.dumps(event, default=str)}\n\n".encode())
        except ConnectionError:
            pass  # the page is gone
        self.close_connection = True

    def log_message(self, *_: Any) -> None:
        """Say nothing of every request."""


class AlonePage(BrowserPage):
    """The page over such a kernel; ``folder`` holds notebooks/, where it runs, and palettes/."""

    def __init__(self, page: Page, kernel: Kernel, folder: Path) -> None:
        super().__init__(page, folder)
        self.kernel = kernel
        page.set_default_timeout(30_000)

    def open_desk(
        self, show: Callable[[Desk], object] = lambda _: None, **options: Any
    ) -> DeskPage:
        """Open a desk as ``explore.ipynb`` does and show it, after ``show`` was done with it."""
        from checkcloth.desk import open_desk

        def opened() -> None:
            desk = open_desk(
                **{"palettes": "../palettes", "palette": "harvest-stall", "folder": "."} | options
            )
            show(desk)
            self.kernel.show(desk)

        self.kernel.do(opened)
        self.page.add_init_script(TIMERS)
        self.page.goto(self.kernel.address)
        self.page.evaluate(_SHOW)
        return DeskPage(self)

    def ask(self, expression: str) -> str:
        """Return what the kernel says an expression is, once it is its turn."""
        return self.kernel.do(lambda: repr(eval(expression, self.kernel.names)))

    def stopped(self) -> Any:
        """Let the kernel stand still for a while."""
        return self.kernel.stopped()
