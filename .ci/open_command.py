"""Give the README's open command, word for word, and see what a new user would see.

    python .ci/open_command.py 'COMMAND' notebooks/explore.ipynb

The home is empty but for what a test needs: leave to run as root (CI is) and JupyterLab's own
application object on the page. BROWSER is a script that writes down the address JupyterLab
wants opened; Chromium then opens exactly that.
"""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from types import SimpleNamespace

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests" / "browser"))

from lab_driver import CHROMIUM_FLAGS, LabError, environment_for, find_chromium
from lab_page import LabPage
from playwright.sync_api import sync_playwright

START_LIMIT = 300.0  # seconds, with the installation


def prepare(home: Path) -> tuple[dict[str, str], Path]:
    """Return the environment for the command, and the file where the address will appear."""
    environment = environment_for(home, home)
    del environment["PYTHONPATH"]  # the command itself must make the kit importable
    config = Path(environment["JUPYTER_CONFIG_DIR"])
    config.mkdir()
    settings = {"ServerApp": {"allow_root": True}, "LabApp": {"expose_app_in_browser": True}}
    (config / "jupyter_server_config.json").write_text(json.dumps(settings))
    address, browser = home / "address", home / "browser.sh"
    browser.write_text(
        f'#!/bin/sh\nprintf %s "$1" > {address}.part && mv {address}.part {address}\n'
    )
    browser.chmod(0o755)
    return environment | {"BROWSER": f"{browser} %s"}, address


def main(command: str, notebook: str) -> None:
    """Run the command, open what it wants opened, run the notebook, and end it all."""
    chromium = find_chromium(whole=True)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        home = Path(folder)
        environment, address = prepare(home)
        log = home / "log"
        begun = time.monotonic()
        with log.open("wb") as out:
            server = subprocess.Popen(
                ["sh", "-c", command],
                env=environment,
                stdin=subprocess.DEVNULL,
                stdout=out,
                stderr=subprocess.STDOUT,
                start_new_session=True,
            )
        browser = playwright.chromium.launch(executable_path=chromium, args=list(CHROMIUM_FLAGS))
        try:
            while not address.exists():
                if server.poll() is not None or time.monotonic() - begun > START_LIMIT:
                    raise LabError(f"JupyterLab asked for no browser:\n{log.read_text()[-4000:]}")
                time.sleep(0.1)
            print(f"JupyterLab asked for a browser after {time.monotonic() - begun:.1f} s")
            tail = SimpleNamespace(log_tail=lambda _: log.read_text()[-2000:])
            lab = LabPage(browser.new_page(), tail, Path.cwd())
            begun = time.monotonic()
            lab.open_address(address.read_text(), notebook)
            print(f"kernel idle {time.monotonic() - begun:.1f} s after opening the page")
            prefix = lab.ask("__import__('sys').prefix").strip("'")
            if not Path(prefix).is_relative_to(Path.cwd()):
                raise LabError(f"the kernel is not this folder's: {prefix}")
            begun = time.monotonic()
            cells = lab.run_all()
            print(f"{len(cells)} cells ran in {time.monotonic() - begun:.1f} s")
            if lab.dialogs() or lab.problems:
                raise LabError(f"dialogs: {lab.dialogs()}; console: {lab.problems}")
            print("no dialog, no notification, no error on the page")
        finally:
            browser.close()
            os.killpg(server.pid, signal.SIGTERM)  # JupyterLab ends its kernels on the way
            server.wait(30)


if __name__ == "__main__":
    main(*sys.argv[1:])
