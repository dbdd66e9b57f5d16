"""The file that travels: small, closed, the same bytes for the same set, whatever people typed."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from html.parser import HTMLParser

import numpy as np
import pytest
from tea_rooms import OPTIONS, many, tea_rooms

from checkcloth import MIXINGS, Check, Chosen, ChosenSet, Colourway, range_page
from checkcloth.cloth.mixing import find_mixing
from checkcloth.errors import ArgumentError, ExistsError, LengthError
from checkcloth.export.for_client import ForClient
from checkcloth.export.page.one_file import json_in_html, page_policy
from checkcloth.export.page.range_page import range_page_html, stops_around, usual_reference

HOSTILE = "</script><img src=x onerror=alert(1)>&<!--\u2028"


class Parts(HTMLParser):
    """What a browser would find: tags with attributes, and the text of scripts and styles."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.texts: dict[str, list[str]] = {"script": [], "style": []}
        self._inside = ""
        self.feed(html)

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))
        self._inside = tag if tag in self.texts else ""
        if self._inside:
            self.texts[tag].append("")

    def handle_data(self, data):
        if self._inside:
            self.texts[self._inside][-1] += data

    def handle_endtag(self, tag):
        if tag == self._inside:
            self._inside = ""


def data_of(html: str) -> dict:
    return json.loads(Parts(html).texts["script"][0])


def test_it_holds_the_range_and_nothing_of_the_search():
    chosen = tea_rooms()
    kept = [
        Chosen(m.colourway, m.note, {"seed": 77123}, m.family, "yes", "nice") for m in chosen.chosen
    ]
    secret = ChosenSet(chosen.check, kept, chosen.name, {"export": {"folder": "/home/somebody"}})
    html = range_page_html(secret, None, ForClient(**OPTIONS))
    data = data_of(html)
    assert [one["name"] for one in data["colourways"]] == [one.name for one in chosen]
    assert (data["reference"], data["strengths"][0]) == ("QH 26-04", 0.3)
    assert [words for words, _ in data["sizes"]] == ["1/4 in", "1/2 in", "1 in"]
    for word in ("77123", "somebody", "nice", "ΔE"):
        assert word not in html


@pytest.mark.parametrize("mixing", MIXINGS)
def test_colours_travel_encoded_for_their_mixing(mixing):
    chosen = tea_rooms(mixing)
    data = data_of(range_page_html(chosen))
    floats = np.frombuffer(base64.b64decode(data["colours"]), "<f4")
    rgb = [c.rgb for one in chosen for c in (one.ground, *one.stripes)]
    encoded = find_mixing(mixing).encode(np.array(rgb), 1.0)
    assert np.allclose(floats, encoded.ravel(), rtol=1e-6)
    assert [recipe[0] for recipe in data["recipes"]] == [mixing]


def test_bands_travel_both_ways():
    one = data_of(range_page_html(Colourway("white", ["navy"]), Check("1 in", 1)))["colourways"][0]
    check = Check("1 in", 1)
    assert one["warp"] == [list(band) for band in check.warp_bands]
    assert one["weft"] == [list(band) for band in check.weft_bands]


@pytest.mark.parametrize("mixing", ["source-over", "pigment"])
def test_twenty_four_of_six_stripes_stay_small(mixing):
    """300 kB were agreed with whoever has to send it by mail."""
    html = range_page_html(many(24, mixing), None, ForClient(**OPTIONS))
    assert len(html.encode("utf-8")) <= 300_000


def test_nothing_runs_but_its_own_script():
    """The hash of Content Security Policy Level 3 is SHA-256 of the text between the tags."""
    parts = Parts(range_page_html(tea_rooms()))
    policy = next(a["content"] for t, a in parts.tags if "http-equiv" in a)
    for text, kind in ((parts.texts["script"][1], "script"), (parts.texts["style"][0], "style")):
        digest = base64.b64encode(hashlib.sha256(text.encode("utf-8")).digest()).decode("ascii")
        assert f"{kind}-src 'sha256-{digest}'" in policy
    assert policy.startswith("default-src 'none';")
    assert "unsafe" not in policy
    assert "connect-src" not in policy, "so default-src holds: no request at all"
    for tag, attributes in parts.tags:
        assert not any(name.startswith("on") or name == "style" for name in attributes), tag
        source = attributes.get("src") or attributes.get("href") or ""
        assert source == "" or source.startswith("data:image/png;base64,")


def test_no_address_in_the_file():
    texts = Parts(range_page_html(tea_rooms())).texts
    assert not re.search(r"https?://|//[a-z]+\.", "".join(texts["script"] + texts["style"]))


def test_names_with_markup_stay_text():
    hostile = ChosenSet(
        Check("1 in", 1),
        [Chosen(Colourway("white", ["navy"], name=HOSTILE.strip("\u2028")), "<b>note</b>",
                family="</noscript><script>")],
        "</title><script>alert(2)</script>",
    )  # fmt: skip
    asked = ForClient(note="<script>alert(3)</script>", reference="<i>")
    html = range_page_html(hostile, None, asked)
    parts = Parts(html)
    tags = [tag for tag, _ in parts.tags]
    assert (tags.count("script"), tags.count("img"), tags.count("b")) == (2, 1, 0)
    data = data_of(html)
    assert data["colourways"][0]["family"] == "</noscript><script>"
    assert data["title"] == "</title><script>alert(2)</script>"


def test_json_cannot_end_its_script():
    text = json_in_html({HOSTILE: [HOSTILE]})
    assert not set("<>&\u2028") & set(text)
    assert json.loads(text) == {HOSTILE: [HOSTILE]}


def test_without_scripts_pictures_names_and_codes():
    html = range_page_html(tea_rooms())
    still = html[html.index("<noscript>") : html.index("</noscript>")]
    assert still.count("<img ") == 9
    assert "Sugared Almond #eda3b5" in still
    assert "Sugared Almond #eda3b5" not in range_page_html(
        tea_rooms(), None, ForClient(codes=False)
    )


def test_the_same_bytes_for_the_same_set_and_another_reference_for_another():
    assert range_page_html(tea_rooms()) == range_page_html(tea_rooms())
    chosen = tea_rooms()
    fewer = ChosenSet(chosen.check, chosen.chosen[1:], chosen.name)
    assert usual_reference(chosen) != usual_reference(fewer)
    answered = [Chosen(m.colourway, m.note, {}, m.family, "no", "x") for m in chosen.chosen]
    assert usual_reference(ChosenSet(chosen.check, answered)) == usual_reference(chosen)


def test_it_is_written_whole_or_not_at_all(tmp_path):
    path = range_page(tea_rooms(), None, tmp_path / "range.html")
    before = path.read_bytes()
    with pytest.raises(ExistsError):
        range_page(tea_rooms(), None, path)
    many_stops = {"strengths": np.linspace(0, 1, 99)}
    for wrong in ({"sizes": ["5 km"]}, {"strengths": [2]}, {"note": "a\nb"}, {"reference": 3},
                  {"sizes": "1 in"}, {"strengths": "0.5"}, many_stops):  # fmt: skip
        with pytest.raises((ArgumentError, LengthError)):
            range_page(tea_rooms(), None, path, overwrite=True, **wrong)
    with pytest.raises(ArgumentError):
        range_page([], Check("1 in", 1), tmp_path / "none.html")
    with pytest.raises(ArgumentError):
        range_page([Colourway("white", ["navy"])] * 501, Check("1 in", 1), tmp_path / "none.html")
    assert path.read_bytes() == before
    assert [p.name for p in tmp_path.iterdir()] == ["range.html"]


def test_a_policy_names_what_may_run():
    # The digest of the empty text is published in FIPS 180-4's examples (e3b0c442…b855).
    assert "script-src 'sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU='" in page_policy(
        "", "x"
    )


def test_stops_reach_around_what_is_there():
    assert stops_around([0.1]) == [0.05, 0.1, 0.15, 0.2, 0.25, 0.3]
    assert stops_around([0.9, 1.0])[-1] == 1.0
