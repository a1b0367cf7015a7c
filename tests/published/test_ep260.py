# SPDX-License-Identifier: Apache-2.0
"""Least grades of drains, as an extension guide prints them after ASABE EP260.

Grades in percent at which a full drain has 0.5 ft/s (no fines) or 1.4 ft/s (fine sand or silt).
"""

import pytest

from tests.digits import printed
from tilewater.hydraulics.pipes import (
    pipe_roughness_manning,
    pipe_slope_for_velocity_full_manning,
    pipe_velocity_least,
)

INCH = 0.0254
ROUNDED_DOWN = pytest.mark.xfail(
    reason="0.306 percent by the equation rounds to 0.31; the guide prints 0.30",
    strict=True,
)


def grade_percent(material, inches, fines):
    n = pipe_roughness_manning(material, inches * INCH)
    velocity = pipe_velocity_least(fines=fines)
    return 100 * pipe_slope_for_velocity_full_manning(velocity, inches * INCH, n=n)


@pytest.mark.published(
    "ep260",
    "table of minimum grades, page of an extension guide whose address was not kept",
    of=(pipe_slope_for_velocity_full_manning, pipe_velocity_least, pipe_roughness_manning),
)
@pytest.mark.parametrize(
    ("material", "inches", "fines", "grade"),
    [
        ("clay-tile", 3, False, "0.08"),
        ("clay-tile", 4, False, "0.05"),
        ("clay-tile", 5, False, "0.04"),
        ("clay-tile", 6, False, "0.03"),
        ("corrugated-plastic", 3, False, "0.10"),
        ("corrugated-plastic", 4, False, "0.07"),
        ("corrugated-plastic", 5, False, "0.05"),
        ("corrugated-plastic", 6, False, "0.04"),
        ("clay-tile", 3, True, "0.60"),
        ("clay-tile", 4, True, "0.41"),
        pytest.param("clay-tile", 5, True, "0.30", marks=ROUNDED_DOWN),
        ("clay-tile", 6, True, "0.24"),
        ("corrugated-plastic", 3, True, "0.81"),
        ("corrugated-plastic", 4, True, "0.55"),
        ("corrugated-plastic", 5, True, "0.41"),
        ("corrugated-plastic", 6, True, "0.32"),
    ],
)
def test_least_grade(material, inches, fines, grade):
    assert printed(grade) == grade_percent(material, inches, fines)
