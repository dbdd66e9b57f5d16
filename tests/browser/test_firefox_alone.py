"""The Firefox that other tests open files in: it is a real one, and it hears what goes wrong."""

from __future__ import annotations

import pytest
from firefox_driver import FirefoxError
from lab_driver import free_port

PAGE = """<!doctype html><meta charset="utf-8"><title>Halt</title>
<label>Name <input id="name"></label> <button>Say</button> <p></p><script>
document.querySelector("button").onclick = (event) => {
  const { value } = document.querySelector("input");
  document.querySelector("p").textContent = `${value}, by ${event.pointerType}`;
};
</script>"""


@pytest.mark.browser
def test_a_file_is_opened_typed_into_and_pressed(firefox_page, tmp_path):
    page = tmp_path / "a page.html"
    page.write_text(PAGE, "utf-8")
    firefox_page.open_file(page)
    assert firefox_page.evaluate("() => location.protocol") == "file:"
    assert "Firefox/" in firefox_page.evaluate("() => navigator.userAgent")
    firefox_page.press("Tab")
    firefox_page.type("Quéy")
    firefox_page.press("Shift+ArrowLeft", "Backspace")
    for kind in ("mouse", "touch"):
        firefox_page.click("button", kind=kind)
        firefox_page.wait_for("kind => document.querySelector('p').innerText.includes(kind)", kind)
        assert firefox_page.text("p") == f"Qué, by {kind}"
    picture = firefox_page.screenshot(tmp_path / "page.png")
    assert picture.read_bytes()[:4] == b"\x89PNG"
    assert not firefox_page.problems
    assert not firefox_page.requests


@pytest.mark.browser
def test_errors_and_requests_of_a_page_are_heard(firefox_page, tmp_path):
    page = tmp_path / "page.html"
    address = f"http://127.0.0.1:{free_port()}/a.png"
    page.write_text(f'<img src="{address}"><script>throw Error("torn")</script>')
    firefox_page.open_file(page)
    assert "torn" in " ".join(firefox_page.problems)
    assert firefox_page.requests == [address]
    with pytest.raises(FirefoxError, match="frayed"):
        firefox_page.evaluate("() => { throw new Error('frayed'); }")
