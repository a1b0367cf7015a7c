# SPDX-License-Identifier: Apache-2.0
"""Part of the result record that tells of a raised outlet: its zone, and what is kept back."""

from tilewater.basis.trace import Trace
from tilewater.chain.plain import Record, plain, plain_group
from tilewater.chain.raised_days import WAYS

ZONE = (
    "highest_crest_m",
    "zone_fall_m",
    "zone_slope",
    "water_below_lowest_m",
    "solid_pipe_m",
    "annual_depth_m",
)
QUANTILES = ("p10", "p50", "p90")
KEPT = ("kept_share", "kept_depth_m", "round_boards_kg", *(f"way_{way}_m" for way in WAYS))
PARTS = ("drain_flow", "inlet_flow", *WAYS)


def raised_record(trace: Trace) -> Record:
    """What only a raised outlet has."""
    record = plain_group(trace, "raised", *ZONE)
    record["balance"] = {
        part: plain_group(trace, f"raised.balance.{part}", "out_m", "change_m") for part in PARTS
    }
    record["kept"] = {
        name: {p: plain(trace, f"days.{name}.{p}") for p in QUANTILES}
        for name in KEPT
        if f"days.{name}.p50" in trace
    }
    if trace.known("days.draws", "removal.whole_years"):
        record["draws"] = len(trace.value("days.draws"))
        record["whole_years"] = plain(trace, "removal.whole_years")
    return record
