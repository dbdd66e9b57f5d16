"""The chart of what a search costs says what was found, not what it is."""

from __future__ import annotations

import pytest

from checkcloth.export.charts.growth_chart import growth_chart
from checkcloth.search.growth import Growth


@pytest.mark.parametrize(
    ("best", "said"),
    [
        ((0.5, 0.25), "Bounding saves most at 16 colours to choose from: 0.25 s where looking at"),
        ((2.0, 9.0), "never slower"),
    ],
)
def test_its_title_is_a_finding(best, said):
    picture = growth_chart([Growth("colours", (8, 16), (56, 560), (1.0, 4.0), best)])
    assert said in picture.title
    assert picture.paper
    assert "from 8 to 16 (56 to 560 colourways)" in picture.alt
