# SPDX-License-Identifier: Apache-2.0
"""Parts of the result record that tell of the buffer: its line, its soil, its bank, its seasons."""

from tilewater.basis.trace import Trace
from tilewater.chain.plain import Record, plain_group
from tilewater.practices.buffer.choices import RemovalCurve
from tilewater.practices.buffer.line_steps import seasons
from tilewater.practices.buffer.soil_steps import BY, KINDS

BUFFER = (
    "line_length_m",
    "laid_length_m",
    "length_share",
    "width_m",
    "conductivity_m_s",
    "conductivity_low_m_s",
    "conductivity_high_m_s",
    "conductivity_from",
    "flow_m3_s",
    "flow_low_m3_s",
    "flow_high_m3_s",
    "flow_without_losses_m3_s",
    "share_of_peak",
    "share_low_of_peak",
    "share_high_of_peak",
    "flow_rule",
    "travel_time_days",
    "travel_time_linear_days",
    "oxic_days",
    "criterion_season",
    "head_line_m",
    "head_stream_m",
    "head_soil_m",
    "cover_m",
    "organic_matter",
    "far_share",
    "best_width_m",
)
BANK = (
    "bank_height_m",
    "gradient",
    "seep_m",
    "seep_above_toe_m",
    "exit_gradient",
    "exit_gradient_limit",
    "bank_factor_low",
    "bank_factor_high",
)
SEASON = (
    "flow_m3_s",
    "flow_low_m3_s",
    "flow_high_m3_s",
    "share_of_peak",
    "head_line_m",
    "head_stream_m",
    "head_soil_m",
    "travel_time_days",
    "travel_time_linear_days",
)
LAWS = ("first_order", "zero_order")
CURVES = ("width", "length", "crest")
CAPACITY = ("flow_m3_s", "share_of_peak", "retention_h", "share_of_annual_flow")


def buffer_record(trace: Trace) -> Record:
    """The buffer on its criterion line, by season, by kind of conductivity, and its bank."""
    record = plain_group(trace, "buffer", *BUFFER)
    kinds = (f"{kind}_{end}" for kind in KINDS.values() for end in ("m_s", "factor"))
    record["conductivity_by"] = plain_group(trace, BY, *kinds)
    record["hole"] = {
        hole: plain_group(trace, f"buffer.hole.{hole}", "conductivity_m_s")
        for hole in trace.names("buffer.hole")
    }
    record["season"] = {
        season: plain_group(trace, f"buffer.season.{season}", *SEASON) for season in seasons(trace)
    }
    record["bank"] = plain_group(trace, "buffer", *BANK)
    record["field_edge"] = plain_group(trace, "buffer.field_edge", "standing_m")
    record["removal"] = plain_group(trace, "buffer.removal", *LAWS)
    record["curve"] = {
        name: curve_record(trace.value(key))
        for name in CURVES
        if trace.known(key := f"buffer.curve.{name}")
    }
    return record


def curve_record(curve: RemovalCurve) -> Record:
    """Where a choice removes most, and between which values it is within 5 percent of that."""
    return {
        "best": curve.best,
        "flat_low": curve.flat_low,
        "flat_high": curve.flat_high,
        "removed_most": float(curve.removed_share.max()),
    }


def buffer_capacity_record(trace: Trace) -> Record:
    """The criterion line under the names that every practice has."""
    return {"criterion": plain_group(trace, "capacity.criterion", *CAPACITY)}
