"""Drive a real JupyterLab in a real Chromium: the server, the page, and what went wrong on it.

Nothing here knows of pytest; ``conftest.py`` beside this file turns it into fixtures. Every wait
is for a condition, with a limit; the page is asked through JupyterLab's own application object
(``--LabApp.expose_app_in_browser``), because cells out of sight may not be in the document.
"""

from __future__ import annotations

import contextlib
import json
import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path
from typing import Any
from urllib.parse import quote

START_LIMIT = 90.0  # seconds; a cold start on two busy cores has been seen to take 20
PAGE_LIMIT = 60.0
RUN_LIMIT = 180.0

# Chromium without its windows: draws the same, and takes a third less of the processor for it.
HEADLESS_SHELL = "chromium-headless-shell"
CHROMIUM_NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
CHROMIUM_FLAGS = (
    "--no-sandbox",  # Chromium refuses to start as root with it
    "--disable-gpu",
    "--disable-quic",
    "--disable-dev-shm-usage",  # containers give /dev/shm 64 MB
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
HOW_TO_GET_CHROMIUM = (
    "no Chromium found: install one (Debian, Ubuntu: apt install chromium) "
    "or name it in the environment variable CHECKCLOTH_CHROMIUM"
)

# Lines that JupyterLab writes to the browser's console on a good day.
CONSOLE_NOISE = re.compile(r"favicon|ResizeObserver loop|/api/me\b|translation|\.map\b")

ANSI = re.compile(r"\x1b\[[0-9;]*[A-Za-z]")
_KEEP_OUT = re.compile(r"JUPYTER|IPYTHON|PYTHON|VIRTUAL_ENV")


class LabError(AssertionError):
    """The page did not do what was waited for, or a cell raised."""


def find_chromium(*, whole: bool = False) -> str | None:
    """Return the path of a Chromium, or None; a named one that is missing is an error.

    A whole one is what people have: for pictures, figures, and what a start command opens.
    """
    named = os.environ.get("CHECKCLOTH_CHROMIUM")
    if named:
        if shutil.which(named) is None:
            raise LabError(f"CHECKCLOTH_CHROMIUM={named!r} is not a program that can be run")
        return named
    names = ("/usr/bin/chromium", *CHROMIUM_NAMES)
    candidates = map(shutil.which, names if whole else (HEADLESS_SHELL, *names))
    return next((path for path in candidates if path), None)


def environment_for(home: Path, kit: Path) -> dict[str, str]:
    """Return an environment where no setting of the user's reaches Jupyter or the kernel."""
    kept = {k: v for k, v in os.environ.items() if not _KEEP_OUT.match(k)}
    scripts = str(Path(sys.executable).parent)
    return kept | {
        "HOME": str(home),
        "USERPROFILE": str(home),
        "PATH": scripts + os.pathsep + kept.get("PATH", ""),
        "PYTHONPATH": str(kit),
        "IPYTHONDIR": str(home / "ipython"),
        "JUPYTER_CONFIG_DIR": str(home / "config"),
        "JUPYTER_DATA_DIR": str(home / "data"),
        "JUPYTER_RUNTIME_DIR": str(home / "runtime"),
        "JUPYTERLAB_SETTINGS_DIR": str(home / "settings"),
        "JUPYTERLAB_WORKSPACES_DIR": str(home / "workspaces"),
    }


def free_port() -> int:
    """Return a port of 127.0.0.1 that nobody listens on at this moment."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


class LabServer:
    """One JupyterLab process over ``root``, ended with everything it started."""

    token = "checkcloth-test"
    module = "jupyterlab"
    tree = "lab/tree"  # what the address of a notebook begins with
    status = "/api/status"  # answers once the server is up

    def __init__(self, root: Path, home: Path, checkout: Path, base: str = "") -> None:
        self.root = root
        self.base = base  # what all its addresses begin with: "/tea/rooms"
        self.log = home / "jupyterlab.log"
        self._environment = environment_for(home, checkout / "kit")
        # As the README's open command does: the answer to the question about news.
        self._settings = checkout / ".jupyter"
        self._process: subprocess.Popen[bytes] | None = None
        self.url = ""

    def start(self) -> None:
        # Between asking for a free port and taking it somebody else may take it: try again then.
        for attempt in range(3):
            port = free_port()
            self.url = f"http://127.0.0.1:{port}{self.base}"
            with self.log.open("ab") as log:
                self._process = subprocess.Popen(
                    [sys.executable, "-m", self.module, *self._options(port)],
                    cwd=self.root,
                    env=self._environment,
                    stdin=subprocess.DEVNULL,
                    stdout=log,
                    stderr=subprocess.STDOUT,
                    start_new_session=True,
                )
            if self._ready():
                return
            self.stop()
            if attempt == 2 or "already in use" not in self.log_tail():
                raise LabError(f"JupyterLab did not start:\n{self.log_tail()}")

    def _options(self, port: int) -> list[str]:
        return [
            *("--no-browser", "--allow-root", f"--ServerApp.base_url={self.base or '/'}"),
            *("--ServerApp.ip=127.0.0.1", f"--ServerApp.port={port}"),
            *("--ServerApp.port_retries=0", f"--IdentityProvider.token={self.token}"),
            f"--ServerApp.root_dir={self.root}",
            f"--LabApp.app_settings_dir={self._settings}",
            "--LabApp.expose_app_in_browser=True",
        ]

    def _ready(self) -> bool:
        assert self._process is not None
        until = time.monotonic() + START_LIMIT
        while time.monotonic() < until and self._process.poll() is None:
            try:
                self.api("GET", self.status)
                return True
            except OSError:
                time.sleep(0.1)  # the pause between two polls of the condition
        return False

    def api(self, method: str, path: str, body: object = None) -> Any:
        """Call the server's REST interface; return the decoded answer."""
        request = urllib.request.Request(
            self.url + path,
            method=method,
            data=None if body is None else json.dumps(body).encode(),
            headers={"Authorization": f"token {self.token}", "Content-Type": "application/json"},
        )
        with urllib.request.urlopen(request, timeout=20) as answer:
            text = answer.read()
        return json.loads(text) if text else None

    def set_lab_setting(self, plugin: str, **values: object) -> None:
        """Write the user's settings of one JupyterLab plugin; no values is back to defaults."""
        self.api("PUT", f"/lab/api/settings/{plugin}", {"raw": json.dumps(values)})

    def end_kernels(self) -> None:
        # A kernel is a session leader of its own, so ending the server's group misses it.
        for session in self.api("GET", "/api/sessions"):
            with contextlib.suppress(urllib.error.HTTPError):
                self.api("DELETE", f"/api/sessions/{session['id']}")

    def address_of(self, path: str) -> str:
        """Return the address that opens a notebook under the root."""
        return f"{self.url}/{self.tree}/{quote(path)}?reset&token={self.token}"

    def stop(self) -> None:
        process, self._process = self._process, None
        if process is None:
            return
        if process.poll() is None:
            with contextlib.suppress(OSError):
                self.end_kernels()
        _signal_group(process, signal.SIGTERM)
        try:
            process.wait(20)
        except subprocess.TimeoutExpired:
            pass
        finally:
            _signal_group(process, getattr(signal, "SIGKILL", signal.SIGTERM))
            process.wait(20)

    def log_tail(self, lines: int = 30) -> str:
        return "\n".join(self.log.read_text("utf-8", "replace").splitlines()[-lines:])


class NotebookServer(LabServer):
    """Notebook 7, one document a page, which hears keys before the document does."""

    module = "notebook"
    tree = "notebooks"

    def _options(self, port: int) -> list[str]:
        return [*super()._options(port), "--JupyterNotebookApp.expose_app_in_browser=True"]


class VoilaServer(LabServer):
    """voilà, which runs a notebook anew for each who opens it and shows what came of it."""

    module = "voila"
    status = "/voila/api/contents/"
    tree = "voila/render"

    def _options(self, port: int) -> list[str]:
        return [
            *("--no-browser", "--Voila.ip=127.0.0.1", f"--port={port}", "--Voila.port_retries=0"),
            *(f"--base_url={self.base}/", f"--token={self.token}", str(self.root)),
        ]

    def end_kernels(self) -> None:
        """Leave them to voilà, which ends them with itself; it lists none."""


def _signal_group(process: subprocess.Popen[bytes], what: signal.Signals) -> None:
    with contextlib.suppress(ProcessLookupError, PermissionError):
        if hasattr(os, "killpg"):
            os.killpg(process.pid, what)  # start_new_session made the process its group's leader
        else:
            process.send_signal(what)
