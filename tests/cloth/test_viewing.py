"""From how far threads merge: our trial's table, a picture filtered for itself, and limits."""

from __future__ import annotations

import math

import numpy as np
import pytest
import scipy

from checkcloth import Colourway
from checkcloth.cloth.viewing import merging_distances, thread_colours, viewing
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.css import parse_css
from checkcloth.colour.scielab import merging_distance
from checkcloth.colour.spaces import linear_to_xyz, srgb_to_linear, xyz_to_lab
from checkcloth.errors import ArgumentError, LengthError

# At 50, 64 and 76 ends an inch, in metres: an independent trial of ours, within 2 %.
TABLE = {
    ("white", "black"): (1.48, 1.16, 0.97),
    ("royalblue", "gold"): (1.40, 1.10, 0.92),
    ("red", "green"): (1.23, 0.96, 0.81),
    ("teal", "seagreen"): (0.92, 0.72, 0.60),
    ("lightpink", "lightblue"): (0.69, 0.54, 0.45),
}


@pytest.mark.parametrize(("pair", "metres"), TABLE.items())
def test_the_table(pair, metres):
    one, two = map(parse_css, pair)
    for ends, wanted in zip((50, 64, 76), metres, strict=True):
        assert merging_distance(one, two, ends / 25.4) == pytest.approx(wanted, rel=0.02)


def test_a_picture_of_threads_filtered_by_scipy():
    """Zhang and Wandell's filters as kernels on a row of threads: ΔE00 1 at the distance found.

    The matrix and the Gaussians are written out again, as the paper gives them.
    """
    one, two = parse_css("royalblue"), parse_css("gold")
    metres = float(merging_distance(one, two, 64 / 25.4))
    samples = 24  # a thread
    thread_degrees = 25.4 / 64 / (metres * 1000 * math.tan(math.radians(1)))
    row = np.repeat(np.resize([0, 1], 4001), samples)
    xyz = linear_to_xyz(srgb_to_linear(np.array([one, two])))
    matrix = np.array([[0.279, 0.72, -0.107], [-0.449, 0.29, -0.077], [0.086, -0.59, 0.501]])
    opponent = (xyz @ matrix.T)[row]
    gaussians = (
        ((0.05, 1.00327), (0.225, 0.114416), (7.0, -0.117686)),
        ((0.0685, 0.616725), (0.826, 0.383275)),
        ((0.092, 0.567885), (0.6451, 0.432115)),
    )
    degrees = np.arange(-20000, 20001) * thread_degrees / samples
    seen = np.zeros_like(opponent)
    for channel, parts in enumerate(gaussians):
        for width, weight in parts:
            kernel = np.exp(-4 * math.log(2) * (degrees / width) ** 2)
            kernel /= kernel.sum()
            kernel = kernel[kernel > 1e-9]
            seen[:, channel] += weight * scipy.ndimage.convolve1d(
                opponent[:, channel], kernel, mode="wrap"
            )
    lab = xyz_to_lab(seen @ np.linalg.inv(matrix).T)
    middle = 2000 * samples + samples // 2
    apart = delta_e_2000(lab[middle], lab[middle + samples])
    assert apart == pytest.approx(1.0, abs=0.02)


def test_distances_of_a_cloth():
    cloth = Colourway("white", ["black", "royalblue"], 1.0, "woven")
    metres = merging_distances(cloth, "76 per in")
    assert metres.shape == (3, 3)
    assert np.diag(metres) == pytest.approx(0)
    assert metres == pytest.approx(metres.T)
    assert metres[0, 1] == pytest.approx(0.97, rel=0.02)
    # Twice as fine merges at half the distance; weaker stripes merge sooner.
    assert merging_distances(cloth, "152 per in") == pytest.approx(metres / 2, rel=1e-6)
    assert (merging_distances(cloth.with_(strength=0.3), "76 per in") <= metres + 1e-9).all()
    assert thread_colours(cloth)[1] == pytest.approx([0, 0, 0])


def test_a_viewer_who_stands_nearer():
    cloth = Colourway("white", ["black"], 1.0, "woven")
    assert viewing(cloth, "1 m", "64 per in").nearer
    assert not viewing(cloth, "1 m", "76 per in").nearer
    alone = viewing(Colourway("white", ["white"], 1.0, "woven"))
    assert alone.metres == 0
    assert not alone.nearer
    with pytest.raises(LengthError, match="distance"):
        viewing(cloth, "0 m")
    with pytest.raises(ArgumentError, match="sett"):
        viewing(cloth, "1 m", "fine")
    with pytest.raises(ArgumentError, match="threads_per_mm"):
        merging_distance([1, 1, 1], [0, 0, 0], 0)
