# SPDX-License-Identifier: Apache-2.0
"""Steps that belong to the size of the bed: as given, or the smallest that passes."""

from tilewater.basis.trace import Trace
from tilewater.nitrate.kinetics import rate_at_temperature
from tilewater.practices.bed import sizing
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.bed.system_steps import path_key
from tilewater.practices.rules import same


def add_size(trace: Trace) -> None:
    """Record the floor of the bed."""
    searched = trace.known("inputs.bed.size") and (
        trace.value("inputs.bed.size") == "smallest that passes"
    )
    if not searched:
        for side, words in (("length", "Length"), ("width", "Width")):
            trace.compute(
                f"bed.{side}_bottom_m",
                same,
                unit="m",
                title=f"{words} of the floor",
                value=f"inputs.bed.{side}_bottom_m",
            )
        return
    _add_reduction(trace)
    trace.compute(
        "bed.task",
        sizing.SizingTask,
        unit="",
        title="What the smallest bed must pass",
        media="capacity.criterion.media",
        path=path_key(),
        level=f"boards.inlet-{DESIGN}.crest_m",
        tailwater="system.free_m",
        peak="drain_flow.peak_for_share_m3_s",
        porosity="inputs.media.porosity_effective",
        share="sizing.share_limit",
        retention_h="sizing.retention_limit_h",
        reduction="sizing.reduction",
    )
    trace.compute(
        "bed.room",
        sizing.Room,
        unit="",
        title="Ground that may be used",
        length="inputs.bed.footprint_length_m",
        width="inputs.bed.footprint_width_m",
        side_slope="inputs.bed.side_slope",
        media_depth="inputs.bed.media_depth_m",
        cut_margin="quantities.cut_margin_m",
    )
    trace.compute(
        "bed.size_found",
        sizing.smallest_bed,
        unit="",
        title="Smallest bed that passes",
        task="bed.task",
        room="bed.room",
    )
    for side, words in (("length", "Length"), ("width", "Width")):
        trace.compute(
            f"bed.{side}_bottom_m",
            getattr(sizing, f"{side}_of"),
            unit="m",
            title=f"{words} of the floor of the smallest bed that passes",
            size="bed.size_found",
        )


def _add_reduction(trace: Trace) -> None:
    needed = (
        "inputs.media.rate_high_g_per_m3_day",
        "capacity.spring.temperature_c",
        "inputs.media.q10",
        "drain_flow.flow_days_per_year",
        "drain_flow.annual_load_kg",
        "drain_flow.mean_flow_m3_s",
    )
    if not trace.known(*needed):
        trace.constant(
            "sizing.reduction",
            sizing.NO_REDUCTION,
            "Nitrate is not known, so size is found without it",
            source="derived",
        )
        return
    reference = trace.constant(
        "sizing.reference_c", 15.0, "Temperature of the rates", unit="degC", source="derived"
    )
    trace.compute(
        "sizing.rate_high_g_per_m3_day",
        rate_at_temperature,
        unit="g/m3/day",
        title="High removal rate at the temperature of the spring line",
        rate="inputs.media.rate_high_g_per_m3_day",
        temperature="capacity.spring.temperature_c",
        q10="inputs.media.q10",
        reference=reference,
    )
    record = {}
    if "inputs.record.daily_depth_m_s" in trace:
        record = {
            "daily_depth": "inputs.record.daily_depth_m_s",
            "area": "drain_flow.area_above_m2",
        }
    trace.compute(
        "sizing.reduction",
        sizing.Reduction,
        unit="",
        title="What is known of nitrate when the size is searched",
        limit="sizing.reduction_limit",
        rate="sizing.rate_high_g_per_m3_day",
        flow_days="drain_flow.flow_days_per_year",
        load="drain_flow.annual_load_kg",
        mean_flow="drain_flow.mean_flow_m3_s",
        **record,
    )
