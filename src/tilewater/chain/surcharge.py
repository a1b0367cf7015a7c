# SPDX-License-Identifier: Apache-2.0
"""What a surcharged main does to the field, boards in beside boards out."""

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.hydrology import drain_flow


def surcharge_findings(trace: Trace) -> None:
    """Say what a surcharged main does to the field, boards in beside boards out."""
    for spot in trace.names("field"):
        trace.compute(
            f"drain_flow.surcharged.{spot}.boards_in_m3_s",
            drain_flow.main_flow_surcharged_boards,
            unit="m3/s",
            title=f"Flow that brings water to the ground at {spot}, boards in",
            ground=f"inputs.spot.{spot}.ground_m",
            distance=f"field.{spot}.distance_m",
            crest="elevations.inlet_crest.elevation_m",
            crest_width="inputs.structure.inlet.crest_width_m",
            diameter="inputs.main.diameter_m",
            n="drain_flow.main_n",
        )
        both = (
            f"drain_flow.surcharged.{spot}.flow_m3_s",
            f"drain_flow.surcharged.{spot}.boards_in_m3_s",
            "drain_flow.peak_for_bypass_m3_s",
        )
        if trace.known(*both):
            out, boards, peak = (float(trace.value(key)) for key in both)
            if min(out, boards) <= peak * (1 + 1e-9):
                trace.findings.append(
                    Finding(
                        "surcharge-reaches-ground",
                        "note",
                        spot,
                        f"In the largest flow the main can be made to carry, water reaches the "
                        f"ground at {spot}: from {out * 35.3147:.2f} cfs with the boards out, from "
                        f"{boards * 35.3147:.2f} cfs with the boards in. A main of this size "
                        "floods that spot in such a storm with or without the practice.",
                        value=min(out, boards),
                        operator=">=",
                        limit=peak,
                        unit="m3/s",
                        source="derived",
                    )
                )
