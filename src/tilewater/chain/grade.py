# SPDX-License-Identifier: Apache-2.0
"""Whether the stated grade of the main and its surveyed inverts agree."""

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace

AGREES = 0.1
"""Share of the stated grade within which the inverts agree with it."""


def tell_grade(trace: Trace) -> None:
    """Tell where the stated grade and the surveyed inverts disagree."""
    keys = ("invert_diversion_m", "invert_outlet_m", "station_diversion_m", "station_outlet_m")
    given = tuple(f"inputs.main.{key}" for key in (*keys, "slope"))
    if not trace.known(*given):
        return
    upper, lower, station, start, slope = (float(trace.value(key)) for key in given)
    if station <= start:
        return
    grade = (upper - lower) / (station - start)
    if abs(grade - slope) > AGREES * slope:
        trace.findings.append(
            Finding(
                "grade-unlike-inverts",
                "caution",
                "Main",
                f"The grade is given as {slope:.2%} and the two inverts make {grade:.2%}. "
                "Shoot them again, or give the grade they make.",
                value=slope,
                limit=grade,
                unit="-",
                source="derived",
            )
        )
