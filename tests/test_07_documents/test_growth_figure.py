# SPDX-License-Identifier: Apache-2.0
"""The figure of how wall time grows shows the times that it is given, and each label has room."""

import re
from itertools import combinations
from xml.etree import ElementTree

import pytest

from benchmarks.growth import FIGURE, HEIGHT, Growth, figure, note_of
from tools.package import ROOT

SIZES = (2, 4, 8, 16)
EVEN = Growth("Even", "all else as it is", SIZES, (1.0, 2.0, 4.0, 8.0), (0.5, 1.0, 2.0, 4.0))
STEEP = Growth("Steep", "all else as it is", SIZES, (1.0, 4.0, 16.0, 64.0), (1.1, 2.0, 8.0, 30.0))

pytestmark = pytest.mark.works(of=())


def points(panel: ElementTree.Element, name: str) -> list[tuple[float, float]]:
    """A line of a panel in doublings of the size and of the time."""
    (line,) = (path for path in panel.iter() if path.get("data-part") == name)
    pixels = re.findall(r"([\d.]+) ([\d.]+)", line.attrib["d"])
    left, base, across, up, lowest = (
        float(panel.attrib[f"data-{name}"]) for name in ("left", "base", "across", "up", "z0")
    )
    return [((float(x) - left) / across, (base - float(y)) / up + lowest) for x, y in pixels]


def panels(*growths: Growth) -> list[ElementTree.Element]:
    root = ElementTree.fromstring(figure(growths, "note").svg("title", "about", HEIGHT))
    return [each for each in root.iter() if "data-panel" in each.attrib]


def test_lines_are_the_times_in_doublings():
    even, steep = panels(EVEN, STEEP)
    for number in range(4):
        at = points(even, "one thread")[number]
        assert at == pytest.approx((number, number), abs=0.02)
        assert points(even, "two threads")[number][1] == pytest.approx(number - 1, abs=0.02)
        assert points(steep, "one thread")[number][1] == pytest.approx(2 * number, abs=0.02)
    assert points(steep, "even")[1] == pytest.approx((3.0, 3.0), abs=0.02)


def test_no_label_touches_another_or_leaves_the_sheet():
    sheet = figure((EVEN, STEEP, EVEN), note_of(2.0))
    assert len(sheet.labels) > 30
    assert not [(a.text, b.text) for a, b in combinations(sheet.labels, 2) if a.collides(b)]
    assert all(0 < label.x0 and label.x1 < sheet.width for label in sheet.labels)


def test_a_busy_machine_is_told():
    assert "The machine had other work: load 1.3." in note_of(1.3)
    assert "other work" not in note_of(0.1)


def test_the_page_of_results_shows_the_figure_as_drawn():
    page = (ROOT / "benchmarks" / "results.md").read_text(encoding="utf-8")
    assert f"]({FIGURE.name})" in page
    assert len([e for e in ElementTree.parse(FIGURE).iter() if "data-panel" in e.attrib]) == 3
