"""Drive a real Firefox by WebDriver BiDi (W3C), which it speaks itself over a WebSocket.

Playwright drives only a Firefox of its own making; this is the one that people have. Pages are
opened from file addresses, with what was asked of the network written down.
"""

from __future__ import annotations

import base64
import contextlib
import itertools
import json
import os
import re
import shutil
import subprocess
import time
from pathlib import Path
from typing import Any

import websocket  # websocket-client; JupyterLab's server needs it too

START_LIMIT = 60.0
ANSWER_LIMIT = 60.0
WAIT_LIMIT = 20.0

HOW_TO_GET_FIREFOX = (
    "no Firefox found: install one (Debian: apt install firefox-esr) "
    "or name it in the environment variable CHECKCLOTH_FIREFOX"
)
# Nothing of its own goes to the network, and nothing asks on the first start.
PREFERENCES = {
    "app.normandy.enabled": False,
    "app.update.disabledForTesting": True,
    "browser.aboutwelcome.enabled": False,
    "browser.shell.checkDefaultBrowser": False,
    "browser.startup.page": 0,
    "datareporting.policy.dataSubmissionEnabled": False,
    "extensions.update.enabled": False,
    "network.captive-portal-service.enabled": False,
    "network.connectivity-service.enabled": False,
    "network.dns.disablePrefetch": True,
    "network.prefetch-next": False,
    "services.settings.server": "data:,",
    "toolkit.telemetry.enabled": False,
}
# Code points of keys without a character: WebDriver (W3C), section "Keyboard actions".
KEYS = {
    "Backspace": "\ue003", "Tab": "\ue004", "Enter": "\ue007", "Shift": "\ue008",
    "Control": "\ue009", "Alt": "\ue00a", "Escape": "\ue00c", " ": " ", "Space": " ",
    "PageUp": "\ue00e", "PageDown": "\ue00f", "End": "\ue010", "Home": "\ue011",
    "ArrowLeft": "\ue012", "ArrowUp": "\ue013", "ArrowRight": "\ue014", "ArrowDown": "\ue015",
    "Delete": "\ue017",
}  # fmt: skip
_CENTRE = """selector => {
    const found = document.querySelector(selector);
    if (!found) throw new Error(`nothing at ${selector}`);
    found.scrollIntoView({block: 'center', inline: 'center', behavior: 'instant'});
    const {left, top, width, height} = found.getBoundingClientRect();
    if (!width || !height) throw new Error(`nothing to press at ${selector}`);
    return [Math.round(left + width / 2), Math.round(top + height / 2)];
}"""


class FirefoxError(AssertionError):
    """Firefox did not start, refused what it was told, or a script on the page raised."""


def find_firefox() -> str | None:
    """Return the path of a Firefox, or None; a named one that is missing is an error."""
    named = os.environ.get("CHECKCLOTH_FIREFOX")
    if named:
        if shutil.which(named) is None:
            raise FirefoxError(f"CHECKCLOTH_FIREFOX={named!r} is not a program that can be run")
        return named
    return shutil.which("firefox-esr") or shutil.which("firefox")


class Firefox:
    """One Firefox process without a window, in a home of its own; ``pages`` open in it."""

    def __init__(self, program: str, home: Path) -> None:
        self._home, self._ids = home, itertools.count(1)
        profile = home / "profile"
        profile.mkdir(parents=True)
        lines = [f"user_pref({json.dumps(k)}, {json.dumps(v)});" for k, v in PREFERENCES.items()]
        (profile / "user.js").write_text("\n".join(lines))
        self._log = home / "firefox.log"
        with self._log.open("wb") as log:
            self._process = subprocess.Popen(
                [program, "--headless", "--no-remote", "--profile", str(profile),
                 "--remote-debugging-port=0", "about:blank"],
                env=os.environ | {"HOME": str(home), "MOZ_HEADLESS": "1"},
                stdin=subprocess.DEVNULL, stdout=log, stderr=subprocess.STDOUT,
            )  # fmt: skip
        self.events: list[dict[str, Any]] = []
        try:
            address = self._address()
            # Firefox answers no page of the web: a connection that says an origin is refused.
            self._socket = websocket.create_connection(
                f"{address}/session", timeout=ANSWER_LIMIT, suppress_origin=True
            )
            self.version = self.tell("session.new", capabilities={})["capabilities"][
                "browserVersion"
            ]
            self.tell("session.subscribe", events=["log.entryAdded", "network.beforeRequestSent"])
        except BaseException:
            self.close()
            raise

    def _address(self) -> str:
        until = time.monotonic() + START_LIMIT
        while time.monotonic() < until and self._process.poll() is None:
            found = re.search(r"listening on (ws://\S+)", self._log.read_text("utf-8", "replace"))
            if found:
                return found[1]
            time.sleep(0.1)  # the pause between two looks for the line
        raise FirefoxError(f"Firefox did not start:\n{self._log.read_text('utf-8', 'replace')}")

    def tell(self, method: str, **parameters: Any) -> dict[str, Any]:
        """Give a command; return its result. What happens meanwhile goes to ``events``."""
        number = next(self._ids)
        self._socket.send(json.dumps({"id": number, "method": method, "params": parameters}))
        while True:
            message = json.loads(self._socket.recv())
            if message.get("id") != number:
                self.events.append(message)
            elif message["type"] == "error":
                raise FirefoxError(f"{method}: {message['error']}: {message['message']}")
            else:
                result: dict[str, Any] = message["result"]
                return result

    def open_page(self, width: int = 1000, height: int = 800) -> FirefoxPage:
        """Open a page of a size in CSS pixels."""
        context = self.tell("browsingContext.create", type="tab")["context"]
        viewport = {"width": width, "height": height}
        self.tell("browsingContext.setViewport", context=context, viewport=viewport)
        return FirefoxPage(self, context)

    def close(self) -> None:
        with contextlib.suppress(Exception):  # it may be gone, or never have been there
            self.tell("browser.close")
            self._socket.close()
        try:
            self._process.wait(10)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait(10)


class FirefoxPage:
    """A page as a test sees it; close it with :meth:`close`."""

    def __init__(self, browser: Firefox, context: str) -> None:
        self.browser, self.context = browser, context

    def goto(self, address: str) -> None:
        """Open an address; return when the page has loaded."""
        self.browser.tell(
            "browsingContext.navigate", context=self.context, url=address, wait="complete"
        )

    def open_file(self, path: Path) -> None:
        """Open a file as a double click does: from its file address."""
        self.goto(path.resolve().as_uri())

    def evaluate(self, function: str, *arguments: object) -> Any:
        """Call a JavaScript function (``"(a, b) => a + b"``) with JSON data; return JSON data."""
        call = f"async () => JSON.stringify(await ({function})(...{json.dumps(arguments)}) ?? null)"
        answer = self.browser.tell(
            "script.callFunction",
            functionDeclaration=call,
            awaitPromise=True,
            target={"context": self.context},
        )
        if answer["type"] == "exception":
            raise FirefoxError(f"{function}\n{answer['exceptionDetails']['text']}")
        return json.loads(answer["result"]["value"])

    def wait_for(self, function: str, *arguments: object, limit: float = WAIT_LIMIT) -> Any:
        """Call a function until it returns something true; return that."""
        until = time.monotonic() + limit
        while not (found := self.evaluate(function, *arguments)):
            if time.monotonic() > until:
                raise FirefoxError(f"waited {limit:g} s for {function} of {arguments}")
            time.sleep(0.05)
        return found

    def text(self, selector: str) -> str:
        """Return the text that shows in the first element of a selector."""
        return str(self.evaluate("s => document.querySelector(s).innerText", selector))

    def click(self, selector: str, *, kind: str = "mouse") -> None:
        """Press the middle of the first element of a selector, by ``mouse`` or ``touch``."""
        x, y = self.evaluate(_CENTRE, selector)
        steps = [{"type": "pointerMove", "x": x, "y": y}, {"type": "pointerDown", "button": 0},
                 {"type": "pause", "duration": 60}, {"type": "pointerUp", "button": 0}]  # fmt: skip
        self._perform("pointer", steps, id=kind, parameters={"pointerType": kind})

    def press(self, *keys: str) -> None:
        """Press keys one after another: ``"Tab"``, ``"a"``, ``"Shift+Tab"``."""
        steps: list[dict[str, Any]] = []
        for key in keys:
            parts = [key] if len(key) == 1 else key.split("+")
            codes = [KEYS.get(part, part) for part in parts]
            steps += [{"type": "keyDown", "value": code} for code in codes]
            steps += [{"type": "keyUp", "value": code} for code in reversed(codes)]
        self._perform("key", steps, id="keyboard")

    def type(self, text: str) -> None:
        """Type a text into what has the focus."""
        self.press(*text)

    def _perform(self, kind: str, steps: list[dict[str, Any]], **more: Any) -> None:
        source = {"type": kind, "actions": steps, **more}
        self.browser.tell("input.performActions", context=self.context, actions=[source])

    def screenshot(self, path: Path, *, whole: bool = False) -> Path:
        """Save what shows, or the ``whole`` document, as PNG."""
        answer = self.browser.tell(
            "browsingContext.captureScreenshot",
            context=self.context,
            origin="document" if whole else "viewport",
        )
        path.write_bytes(base64.b64decode(answer["data"]))
        return path

    def _events(self, method: str) -> list[dict[str, Any]]:
        self.browser.tell("session.status")  # so that what was on its way is heard
        found = [event["params"] for event in self.browser.events if event["method"] == method]
        return [
            one for one in found
            if self.context in (one.get("context"), one.get("source", {}).get("context"))
        ]  # fmt: skip

    @property
    def problems(self) -> list[str]:
        """Errors of the page's scripts and of its console."""
        return [one["text"] for one in self._events("log.entryAdded") if one["level"] == "error"]

    @property
    def requests(self) -> list[str]:
        """Every address that the page asked of a network; files are none."""
        return [one["request"]["url"] for one in self._events("network.beforeRequestSent")]

    def close(self) -> None:
        self.browser.tell("browsingContext.close", context=self.context)
