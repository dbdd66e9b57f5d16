"""Files under every limit, made to be read for ever: each ends at once, in a result or an error.

The times are processor seconds of this process, so that a busy machine changes little. The
cases marked (hung) took from seconds to hours before they were mended.
"""

from __future__ import annotations

import contextlib
import importlib.util
import io
import json
import struct
import time
import warnings
import zlib
from pathlib import Path

import pytest
from PIL import Image

from checkcloth import Check, Colourway, Palette
from checkcloth.errors import CheckclothError, shown
from checkcloth.export.data.tokens import palette_tokens, set_tokens
from checkcloth.files.names import file_stems

_spec = importlib.util.spec_from_file_location("readers", Path(__file__).with_name("readers.py"))
_readers = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(_readers)
READERS = _readers.READERS

VALUE = {"colorSpace": "srgb", "components": [0.1, 0.2, 0.3]}


def token(value: object = None) -> dict[str, object]:
    return {"$type": "color", "$value": VALUE if value is None else value}


def chain(steps: int) -> str:
    links = {f"t{n}": token(f"{{t{n + 1}}}") for n in range(steps)}
    return json.dumps(links | {f"t{steps}": token()})


def chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def png(width: int, height: int, extra: bytes = b"", pixels: bytes = b"") -> bytes:
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    data = pixels or zlib.compress(bytes((3 * 10 + 1) * 10))
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + extra
        + chunk(b"IDAT", data)
        + chunk(b"IEND", b"")
    )


def jpeg_of_scans(scans: int) -> bytes:
    stream = io.BytesIO()
    Image.new("L", (3000, 3000), 128).save(stream, "JPEG", progressive=True)
    raw = stream.getvalue()
    last = raw[raw.rindex(b"\xff\xda") : -2]
    return raw[:-2] + scans * last + raw[-2:]


def profile(**places: bytes) -> bytes:
    """The sRGB profile with bytes changed: ``at128=b"..."`` at byte 128."""
    raw = bytearray(READERS["press"][2][0])
    for place, change in places.items():
        start = int(place.removeprefix("at"))
        raw[start : start + len(change)] = change
    return bytes(raw)


BOMB = zlib.compress(bytes(100_000_000), 9)
DEEP = 200_000
NAMES_TWICE = "{" + ",".join(f'"{n}":1' for n in range(60_000)) + ',"59999":2}'
JSON = {
    "brackets": "[" * (1 << 20),
    "objects": '{"a":' * DEEP,
    "just under the depth": '{"format":' + "[" * 960 + "]" * 960 + "}",
    "groups just under the depth": '{"a":' * 960 + "1" + "}" * 960,
    "a number of a million digits": '{"version":' + "9" * 1_000_000 + "}",
    "a number of 4,299 digits": '{"format":"checkcloth set","version":' + "9" * 4299 + "}",
    "infinity": '{"format":1e999}',
    "one long text": '{"format":"' + "a" * 1_000_000 + '"}',
    "names twice (hung)": NAMES_TWICE,
    "a list to show in an error (slow)": '{"format":[' + "1," * 1_000_000 + "1]}",
}
CASES: list[tuple[str, str, str | bytes]] = [
    *((name, *case) for name in ("set", "tokens", "manifest") for case in JSON.items()),
    ("tokens", "a chain of references (RecursionError)", chain(3000)),
    ("tokens", "many references to one end", json.dumps(
        {"a": {f"b{n}": token(f"{{{'x.' * 900}y}}") for n in range(500)}})),
    ("tokens", "one name over and over (hung)", json.dumps(
        {f"g{n}": {"red": token()} for n in range(12_000)})),
    ("palette", "more colours than allowed", "name,colour\n" + "".join(
        f"{n:x},oklch({n / 1000:.3f}% .4 30)\n" if n > 10_000 else f"{n:x},#{n:06x}\n"
        for n in range(25_000))),
    ("palette", "one field of 1 MB", "name,colour\n" + "a" * 1_000_000 + ",red\n"),
    ("palette", "an open quote", 'name,colour\n"' + "a\n" * 500_000),
    ("palette", "commas", "," * 1_000_000),
    ("colourways", "one field of 10 MB", "ground,stripe 1\n" + "a" * 10_000_000),
    ("colourways", "a header of 1 MB", ",".join(f"x{n}" for n in range(140_000))),
    ("colourways", "an open quote", 'ground,stripe 1\n"' + "a\n" * 1_000_000),
    ("readings", "one field of 10 MB", "tone,L*,a*,b*\n" + "a" * 10_000_000),
    ("readings", "a header of 1 MB", ",".join(f"x{n}" for n in range(140_000))),
    ("readings", "an open quote", 'tone,L*,a*,b*\n"' + "a\n" * 1_000_000),
    *(("colour", text[:24], text) for text in (
        "a" * 1_000_000, "rgb(" * 49, "rgb(" + " " * 190 + "x", "rgb(" + "1 " * 97,
        "#" + "f" * 199, "color(" + "a-" * 95, "lab(" + "1" * 190, "rgb(calc(" + "1+" * 90,
        "rgb(1e308 1e308 1e308)", "oklch(1e300 1e300 1e300)", "lab(1e200 1e200 1e200)",
        "color(prophoto-rgb 9e99 -9e99 9e99)", "hsl(1e308deg 50% 50%)")),
    *(("length", text[:24], text) for text in (
        "1" * 1_000_000, "1 " * 49, "9" * 40 + "/" + "9" * 40 + " in", "1/" + "0" * 40 + " in",
        "." + "0" * 11 + "1 mm", "²in", "٣ in")),
    *(("sett", text[:24], text) for text in ("5" * 1_000_000, "64" + " " * 50 + "p", "64 per ın")),
    ("photo", "60,000 × 60,000 pixels", png(60_000, 60_000)),
    ("photo", "2³¹ − 1 pixels a side", png(2**31 - 1, 2**31 - 1)),
    ("photo", "pixels that unpack to 100 MB", png(10, 10, pixels=BOMB)),
    ("photo", "a profile that unpacks to 100 MB", png(10, 10, chunk(b"iCCP", b"x\0\0" + BOMB))),
    ("photo", "a text that unpacks to 100 MB", png(10, 10, chunk(b"zTXt", b"x\0\0" + BOMB))),
    ("photo", "a PNG of 300,000 chunks (slow)", png(10, 10, chunk(b"tEXt", b"a\0b") * 300_000)),
    ("photo", "a JPEG of 2,000 scans (hung)", jpeg_of_scans(2000)),
    ("photo", "a PPM comment without an end (hung)", b"P6 " + b"#" * 20_000_000),
    ("photo", "a PPM comment after its numbers", b"P6 1 1 255#" + b"#" * 20_000_000),
    ("photo", "a PPM number without an end", b"P6 " + b"1" * 20_000_000),
    ("photo", "a PPM of text (slow)", b"P3 7000 7000 255 " + b"1 " * 10_000_000),
    ("press", "a count of tags of 4 milliards", profile(at128=b"\xff\xff\xff\xff")),
    ("press", "tags that lie outside", profile(at136=b"\xff\xff\xff\x00\xff\xff\xff\xff")),
    ("press", "a size of 4 milliards", profile(at0=b"\xff\xff\xff\xff")),
    ("press", "32 MiB of zeros", profile() + bytes(32 << 20)),
]  # fmt: skip


@pytest.mark.parametrize(
    ("name", "data"),
    [pytest.param(name, data, id=f"{name}: {label}") for name, label, data in CASES],
)
def test_the_worst_case_ends_within_a_second(name, data, tmp_path):
    file_name, reader, _ = READERS[name]
    file = tmp_path / file_name
    file.write_bytes(data if isinstance(data, bytes) else data.encode())
    begun = time.process_time()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        with contextlib.suppress(CheckclothError):
            reader(file)
    took = time.process_time() - begun
    # Most take hundredths; the honest work of a second on one machine is not on every other.
    assert took < 1.5, f"took {took:.1f} s of the processor"


def test_pictures_of_the_same_kinds_are_still_read(tmp_path):
    """What is refused is the trick, not the format."""
    _, reader, _ = READERS["photo"]
    for name, raw, size in (
        ("many.png", png(10, 10, chunk(b"tEXt", b"a\0b") * 1000), (10, 10)),
        ("more.jpg", jpeg_of_scans(20), (3000, 3000)),
        ("a.ppm", b"P6\n# made by hand\n2 3\n255\n" + bytes(18), (2, 3)),
        ("b.ppm", b"P3 1 2 255 " + b"7 8 9 " * 2, (1, 2)),
        ("c.pgm", b"P5 2 2 # grey\n255\n" + bytes(4), (2, 2)),
        ("d.pbm", b"P4\n# two\n2 2\n" + bytes(2), (2, 2)),
    ):
        (tmp_path / name).write_bytes(raw)
        assert reader(tmp_path / name).size == size


def test_a_thousand_of_one_name_take_a_thousand_steps():
    begun = time.process_time()
    stems = file_stems(["Quay"] * 5000)
    assert len(set(stems)) == 5000
    assert stems[:3] == ["Quay", "Quay-2", "Quay-3"]
    text = set_tokens([Colourway("white", ["navy"], name="Quay")] * 300, Check("1 in", 1))
    assert len(json.loads(text)) == 301
    twins = [f"a{mark}b{n % 2}" for n in range(2) for mark in ".{}"]
    assert len(json.loads(palette_tokens(Palette("p", [_named(n) for n in twins])))) == 7
    assert time.process_time() - begun < 2


def _named(name: str):
    from checkcloth import NamedColour

    return NamedColour(name, (0.1, 0.2, 0.3))


def test_references_are_followed_as_far_as_anyone_goes(tmp_path):
    _, reader, _ = READERS["tokens"]
    file = tmp_path / "a.tokens.json"
    file.write_text(chain(20), "utf-8")
    assert len(reader(file)) == 21
    file.write_text(json.dumps({"a": token("{b}"), "b": token("{a}")}), "utf-8")
    with pytest.raises(CheckclothError, match="lead back to itself"):
        reader(file)


def test_an_error_shows_what_cannot_be_shown():
    deep: list[object] = []
    for _ in range(100_000):
        deep = [deep]
    assert shown(deep) == "a list too long to show"
    assert shown(10**5000) == "a int too long to show"
    assert shown([1] * 10_000_000).startswith("[1, 1, ")
    assert len(shown({n: n for n in range(1000)})) == 60
    assert shown("a" * 61) == "'" + "a" * 58 + "…"
    assert shown("a" * 57) == repr("a" * 57)
