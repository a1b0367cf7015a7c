# SPDX-License-Identifier: Apache-2.0
"""Steps of the rough answer: a bed of the size that the rule asks, and the strip as a buffer."""

from tilewater.basis.trace import Trace
from tilewater.chain import rough_bed
from tilewater.chain import rough_parts as parts
from tilewater.hydraulics.groundwater import buffer_flow_dupuit
from tilewater.hydraulics.media import bed_volume_for_residence
from tilewater.nitrate.kinetics import rate_at_temperature
from tilewater.nitrate.removal import nitrate_removed_volumetric
from tilewater.practices.rules import same


def add_treated(trace: Trace, what: str, flow: str) -> None:
    """Share of the year's water, its volume and its load."""
    compute = trace.compute
    compute(
        f"rough.all.{what}.treated_share",
        parts.share_caught,
        unit="-",
        title="Share of the year's water",
        flow=flow,
        area="rough.told.area_m2",
        share_at_reference="rough.draw.caught-share",
    )
    for name, whole, unit in (
        ("treated_m3", "volume_m3", "m3"),
        ("treated_kg", "load_kg", "kg"),
    ):
        compute(
            f"rough.all.{what}.{name}",
            parts.times,
            unit=unit,
            title="What goes through it in a year",
            value=f"rough.all.{whole}",
            factor=f"rough.all.{what}.treated_share",
        )


def add_rough_bed(trace: Trace) -> None:
    """Record flow, chips, size and worth of the bed, draw by draw."""
    compute, bed = trace.compute, "rough.all.bed"
    compute(
        f"{bed}.flow_m3_s",
        parts.times,
        unit="m3/s",
        title="Flow that the rule asks the bed to take",
        value="rough.all.peak_m3_s",
        factor="rough.rule.bed_share",
    )
    add_treated(trace, "bed", f"{bed}.flow_m3_s")
    compute(
        f"{bed}.rate",
        rate_at_temperature,
        unit="g/m3/day",
        title="Removal rate at the temperature of the water",
        rate="rough.draw.removal-rate",
        temperature="rough.draw.water-temperature",
        q10="rough.draw.q10",
        reference="rough.reference_c",
    )
    nitrate = "rough.told.nitrate_mg_per_l"
    compute(
        f"{bed}.for_reduction_m3",
        rough_bed.volume_for_reduction,
        unit="m3",
        title="Wet chips for the reduction",
        reduction="rough.rule.reduction",
        nitrate_mg_per_l=nitrate if nitrate in trace else "rough.draw.nitrate-unknown",
        volume_per_year=f"{bed}.treated_m3",
        flow_days="rough.draw.flow-days",
        rate_g_per_m3_day=f"{bed}.rate",
    )
    compute(
        f"{bed}.for_time_m3",
        bed_volume_for_residence,
        unit="m3",
        title="Wet chips for the time in the bed",
        flow=f"{bed}.flow_m3_s",
        time="rough.draw.retention",
        porosity="rough.draw.porosity-effective",
    )
    compute(
        f"{bed}.wet_m3",
        parts.greater,
        unit="m3",
        title="Wet chips, the greater of the two",
        first=f"{bed}.for_reduction_m3",
        second=f"{bed}.for_time_m3",
    )
    _add_bed_size(trace, bed)
    _add_bed_worth(trace, bed)


def _add_bed_size(trace: Trace, bed: str) -> None:
    compute = trace.compute
    water = {
        "flow": f"{bed}.flow_m3_s",
        "depth_upstream": "rough.draw.media-depth",
        "drop": "rough.draw.head-drop",
        "conductivity": "rough.draw.conductivity-aged",
    }
    compute(
        f"{bed}.length_m",
        rough_bed.bed_length,
        unit="m",
        title="Length of the bed",
        wet_volume=f"{bed}.wet_m3",
        **water,
    )
    compute(
        f"{bed}.width_m",
        rough_bed.bed_width,
        unit="m",
        title="Bottom width of the bed",
        length=f"{bed}.length_m",
        side_slope="rough.side_slope",
        least="rough.least_width_m",
        **water,
    )


def _add_bed_worth(trace: Trace, bed: str) -> None:
    compute = trace.compute
    compute(
        f"{bed}.chips_m3",
        rough_bed.chips_volume,
        unit="m3",
        title="Chips neat in place",
        length=f"{bed}.length_m",
        width=f"{bed}.width_m",
        depth="rough.draw.media-depth",
        side_slope="rough.side_slope",
    )
    compute(
        f"{bed}.cost_usd",
        parts.times,
        unit="USD",
        title="Cost of the bed built",
        value=f"{bed}.chips_m3",
        factor="rough.draw.chips-cost",
    )
    compute(
        f"{bed}.removed_kg",
        nitrate_removed_volumetric,
        unit="kg",
        title="Taken out in a year",
        rate_g_per_m3_day=f"{bed}.rate",
        wet_volume=f"{bed}.wet_m3",
        flow_days="rough.draw.flow-days",
        inflow_load=f"{bed}.treated_kg",
    )
    compute(
        "rough.bed.fits_strip",
        rough_bed.share_that_fits,
        unit="-",
        title="Share of the draws whose bed fits into the strip",
        length=f"{bed}.length_m",
        width=f"{bed}.width_m",
        strip_length="inputs.call.strip_length_m",
        strip_width="inputs.call.strip_width_m",
        margin="rough.margin_m",
    )


def add_rough_buffer(trace: Trace) -> None:
    """Record what the whole strip takes as a buffer, draw by draw."""
    compute, buffer = trace.compute, "rough.all.buffer"
    compute(
        f"{buffer}.ditch_below_ground_m",
        parts.depth_below_ground,
        unit="m",
        title="Ditch water below the ground of the strip",
        tile_depth="rough.draw.tile-depth",
        below_tile="inputs.call.ditch_below_m",
    )
    for name, below in (
        ("head_line_m", "rough.draw.clear-soil"),
        ("head_ditch_m", f"{buffer}.ditch_below_ground_m"),
    ):
        compute(
            f"{buffer}.{name}",
            parts.head_over_barrier,
            unit="m",
            title="Head over the restrictive layer",
            barrier="rough.draw.buffer-barrier",
            below_ground=below,
        )
    compute(
        f"{buffer}.flow_m3_s",
        buffer_flow_dupuit,
        unit="m3/s",
        title="Flow that the whole strip takes",
        head_line=f"{buffer}.head_line_m",
        head_stream=f"{buffer}.head_ditch_m",
        width="inputs.call.strip_width_m",
        length="inputs.call.strip_length_m",
        conductivity="rough.draw.buffer-conductivity",
    )
    _add_buffer_worth(trace, buffer)


def _add_buffer_worth(trace: Trace, buffer: str) -> None:
    compute = trace.compute
    compute(
        f"{buffer}.share_of_peak",
        parts.share_of,
        unit="-",
        title="Share of the peak",
        part=f"{buffer}.flow_m3_s",
        whole="rough.all.peak_m3_s",
    )
    add_treated(trace, "buffer", f"{buffer}.flow_m3_s")
    compute(
        f"{buffer}.removed_kg",
        parts.times,
        unit="kg",
        title="Taken out in a year",
        value=f"{buffer}.treated_kg",
        factor="rough.draw.buffer-removal",
    )
    compute(
        f"{buffer}.cost_usd",
        same,
        unit="USD",
        title="Cost of the buffer built",
        value="rough.draw.buffer-cost",
    )
    compute(
        "rough.buffer.meets_share",
        parts.share_above,
        unit="-",
        title="Share of the draws in which the strip takes 5 percent of the peak",
        values=f"{buffer}.share_of_peak",
        limit="rough.rule.buffer_share",
    )
