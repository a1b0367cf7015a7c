# SPDX-License-Identifier: Apache-2.0
"""The part of the result record that tells where things lie in plan."""

from tilewater.basis.trace import Trace
from tilewater.chain.plain import Record, plain_group

SIDES = ("north_m", "east_m", "station_m", "offset_m")


def plan_record(trace: Trace) -> Record:
    """Corners and ends by name, what keeps its distance, and what lies in the right of way."""
    way = "plan.right_of_way"
    return {
        **plain_group(trace, "plan", "azimuth_rad"),
        "points": {
            name: plain_group(trace, f"plan.points.{name}", *SIDES)
            for name in trace.names("plan.points")
        },
        "distances": plain_group(trace, "plan.distances", *trace.names("plan.distances")),
        "right_of_way": {
            name: plain_group(trace, f"{way}.{name}", "length_m")
            for name in trace.names(way)
            if f"{way}.{name}.length_m" in trace
        },
    }
