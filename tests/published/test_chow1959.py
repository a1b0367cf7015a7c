# SPDX-License-Identifier: Apache-2.0
"""Chow, V. T. (1959). Open-Channel Hydraulics. McGraw-Hill.

Geometry of circular sections as tabulated by a page that cites the book; roughness of closed
conduits from the copy in the source text of a library.
"""

import pytest

from tests.digits import printed
from tilewater.hydraulics.pipes import (
    pipe_area_wetted,
    pipe_hydraulic_radius,
    pipe_perimeter_wetted,
    pipe_roughness_entry,
    pipe_roughness_manning,
    pipe_top_width,
)

CIRCLE = "geometric elements of circular sections, as copied by the page named in the source"


@pytest.mark.published(
    "chow1959", CIRCLE, of=(pipe_area_wetted, pipe_hydraulic_radius, pipe_top_width)
)
@pytest.mark.parametrize(
    ("depth", "area", "radius", "width"),
    [
        (0.05, "0.014681", "0.032551", "0.435890"),
        (0.10, "0.040875", "0.063520", "0.600000"),
        (0.15, "0.073875", "0.092878", "0.714143"),
        (0.55, "0.442616", "0.264886", "0.994987"),
        (0.60, "0.492028", "0.277644", "0.979796"),
        (0.65, "0.540418", "0.288148", "0.953939"),
        (0.70, "0.587230", "0.296235", "0.916515"),
        (0.75, "0.631852", "0.301687", "0.866025"),
    ],
)
def test_section_of_a_pipe_of_diameter_one(depth, area, radius, width):
    assert printed(area) == pipe_area_wetted(depth, 1.0)
    assert printed(radius) == pipe_hydraulic_radius(depth, 1.0)
    assert printed(width) == pipe_top_width(depth, 1.0)


@pytest.mark.published("chow1959", CIRCLE, of=(pipe_area_wetted, pipe_hydraulic_radius))
def test_section_at_four_fifths_of_the_diameter():
    assert printed("0.673574") == pipe_area_wetted(0.8, 1.0)
    assert printed("0.304193") == pipe_hydraulic_radius(0.8, 1.0)


@pytest.mark.published("chow1959", CIRCLE, of=(pipe_perimeter_wetted,))
@pytest.mark.parametrize(
    ("depth", "perimeter"),
    [
        (0.05, "0.451027"),
        (0.10, "0.643501"),
        (0.15, "0.795399"),
        (0.60, "1.772154"),
        (0.75, "2.094395"),
    ],
)
def test_wetted_perimeter_of_a_pipe_of_diameter_one(depth, perimeter):
    assert printed(perimeter) == pipe_perimeter_wetted(depth, 1.0)


@pytest.mark.published(
    "chow1959", "table 5-6, closed conduits", of=(pipe_roughness_entry, pipe_roughness_manning)
)
@pytest.mark.parametrize(
    ("material", "low", "n", "high"),
    [
        ("clay-tile", "0.011", "0.013", "0.017"),
        ("clay-subdrain-open-joint", "0.014", "0.016", "0.018"),
        ("corrugated-metal", "0.017", "0.019", "0.021"),
    ],
)
def test_roughness_of_drains(material, low, n, high):
    entry = pipe_roughness_entry(material, 0.25)
    assert [printed(low), printed(n), printed(high)] == [entry.low, entry.n, entry.high]
    assert printed(n) == pipe_roughness_manning(material, 0.25)
