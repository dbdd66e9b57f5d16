"""Makes small, valid CMYK profiles for an imaginary press.

``make_press_profile`` makes ICC version 2 with 8-bit tables over Lab. ``make_matrix_profile``
makes version 4 with 16-bit tables over XYZ and a matrix before the inks (lut16Type, 10.10 of
ISO 15076-1): LittleCMS reads that and cannot write it again.

The press mixes inks by multiplying, and can neither reach white above ``HIGH`` nor colours
below ``LOW``: its gamut is the box of sRGB between them, so what lies outside is known.
Built after ICC.1:2001-04: header 6.1, lut8Type 6.5.7, lut16Type 6.5.8, encoding of Lab in
annex A.
"""

from __future__ import annotations

import itertools
import struct
from functools import cache

import numpy as np
from coloraide import Color

LOW, HIGH = 0.25, 0.92


def _lab_bytes(rgb) -> bytes:
    lightness, a, b = Color("srgb", [float(v) for v in rgb]).convert("lab").coords()
    lab = [lightness * 2.55, a + 128, b + 128]
    return bytes(int(min(max(round(value), 0), 255)) for value in lab)


def printed(c, m, y, k) -> list[float]:
    """The sRGB of ink amounts 0–1."""
    return [LOW + (HIGH - LOW) * (1 - ink) * (1 - k) for ink in (c, m, y)]


def _lut8(inputs: int, outputs: int, grid: int, table: bytes) -> bytes:
    identity = struct.pack(">9i", *(65536 if n % 4 == 0 else 0 for n in range(9)))
    ramp = bytes(range(256))
    head = struct.pack(">4sI4B", b"mft1", 0, inputs, outputs, grid, 0)
    return head + identity + ramp * inputs + table + ramp * outputs


def _to_lab(grid: int) -> bytes:
    steps = np.linspace(0, 1, grid)
    return b"".join(_lab_bytes(printed(*inks)) for inks in itertools.product(steps, repeat=4))


def _to_inks(grid: int) -> bytes:
    out = bytearray()
    for light, a, b in itertools.product(np.linspace(0, 255, grid), repeat=3):
        lab = Color("lab", [light / 2.55, a - 128, b - 128])
        rgb = np.clip(lab.convert("srgb").coords(), 0, 1)
        inks = 1 - np.clip((rgb - LOW) / (HIGH - LOW), 0, 1)
        out += bytes(round(value * 255) for value in inks) + b"\0"
    return bytes(out)


def _text(text: bytes) -> bytes:
    return b"text\0\0\0\0" + text + b"\0"


def _description(text: bytes) -> bytes:
    body = struct.pack(">4sII", b"desc", 0, len(text) + 1) + text + b"\0"
    return body + bytes(4 + 4 + 2 + 1 + 67)


@cache
def make_press_profile() -> bytes:
    """Return the bytes of the profile of version 2."""
    return _profile(2, b"Lab ", _lut8(4, 3, 9, _to_lab(9)), _lut8(3, 4, 25, _to_inks(25)))


# PCSXYZ in 16 bits: 1.0 is 32768 (6.5.8).
_XYZ_UNIT = 65535 / 32768


def _lut16(inputs: int, outputs: int, grid: int, matrix, curve, table) -> bytes:
    """16-bit tables: a matrix, one curve for every input, a grid, straight output curves."""
    head = struct.pack(">4sI4B", b"mft2", 0, inputs, outputs, grid, 0)
    head += struct.pack(">9i", *(round(float(v) * 65536) for v in np.ravel(matrix)))
    head += struct.pack(">2H", len(curve), 2)
    numbers = np.concatenate([np.tile(curve, inputs), np.ravel(table), np.tile([0, 1], outputs)])
    return head + (np.clip(numbers, 0, 1) * 65535).round().astype(">u2").tobytes()


@cache
def make_matrix_profile() -> bytes:
    """Return the bytes of the profile of version 4: the same press."""
    steps = np.linspace(0, 1, 9)
    to_xyz = [
        np.array(Color("srgb", printed(*inks)).convert("xyz-d50").coords()) / _XYZ_UNIT
        for inks in itertools.product(steps, repeat=4)
    ]
    primaries = [Color("srgb", one).convert("xyz-d50").coords() for one in np.eye(3).tolist()]
    to_linear = np.linalg.inv(np.array(primaries).T) * _XYZ_UNIT
    ramp = np.linspace(0, 1, 1024)
    to_srgb = np.where(ramp <= 0.0031308, 12.92 * ramp, 1.055 * ramp ** (1 / 2.4) - 0.055)
    rgb = np.array(list(itertools.product(np.linspace(0, 1, 25), repeat=3)))
    inks = np.zeros((len(rgb), 4))
    inks[:, :3] = 1 - np.clip((rgb - LOW) / (HIGH - LOW), 0, 1)
    to_print = _lut16(4, 3, 9, np.eye(3), [0, 1], to_xyz)
    return _profile(4, b"XYZ ", to_print, _lut16(3, 4, 25, to_linear, to_srgb, inks))


def _profile(version: int, space: bytes, from_inks: bytes, to_inks: bytes) -> bytes:
    white = struct.pack(">4sI3i", b"XYZ ", 0, *(round(v * 65536) for v in (0.9642, 1, 0.8249)))
    tags = {
        b"desc": _description(b"Imaginary press for tests"),
        b"cprt": _text(b"No rights reserved"),
        b"wtpt": white,
        **dict.fromkeys((b"A2B0", b"A2B1", b"A2B2"), from_inks),
        **dict.fromkeys((b"B2A0", b"B2A1", b"B2A2"), to_inks),
    }
    placed, body, table = {}, b"", b""
    start = 128 + 4 + 12 * len(tags)
    for name, data in tags.items():
        if data not in placed:
            placed[data] = start + len(body)
            body += data + bytes(-len(data) % 4)
        table += struct.pack(">4sII", name, placed[data], len(data))
    size = start + len(body)
    head = struct.pack(">I4sI4s4s4s", size, bytes(4), version << 24, b"prtr", b"CMYK", space)
    head += struct.pack(">6H4s4sI", 2026, 1, 1, 0, 0, 0, b"acsp", bytes(4), 0)
    head += bytes(4 + 4 + 8) + struct.pack(">I", 0)
    head += struct.pack(">3i", *(round(v * 65536) for v in (0.9642, 1, 0.8249)))
    head += bytes(128 - len(head))
    return head + struct.pack(">I", len(tags)) + table + body
