# SPDX-License-Identifier: Apache-2.0
"""The ten-minute answer: six numbers from a telephone call, one page, every figure a band.

What nobody knows yet is drawn from a table of ranges, the rest is closed forms. It says whether
a visit is worth the drive, what size a bed or a buffer would have, what would stop it, and which
five shots to take first. It is no design and satisfies no rule.
"""

from dataclasses import dataclass

from tilewater.basis.trace import Given, Origin, Trace
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.chain import rough_parts as parts
from tilewater.chain.rough_practices import add_rough_bed, add_rough_buffer
from tilewater.chain.rough_stops import Shot, Stop, five_shots, three_stops
from tilewater.hydraulics.pipes import drainage_flow, pipe_flow_full_manning
from tilewater.hydrology.drain_flow import annual_volume
from tilewater.nitrate.parameter_ranges import default_ranges, read_ranges
from tilewater.nitrate.removal import nitrate_load

RANGES = read_ranges("tilewater.chain", "practice_rough_ranges")
BED_RANGES = ("conductivity-aged", "porosity-effective", "removal-rate", "q10")
DRAWS, SEED = 4096, 1
SECONDS_PER_UNIT = {"roughness": 1.0, "coefficient": 1.0 / 86400.0, "retention": 3600.0}
"""From the unit of a range to the coherent one, where they differ."""
BAND = (("p10", 0.1), ("p50", 0.5), ("p90", 0.9))
CONSTANTS = (
    ("side_slope", 1.0, "-", "Sides of the chips, horizontal to vertical"),
    ("least_width_m", 3.0, "m", "Narrowest bed that is dug"),
    ("margin_m", 4.5, "m", "Top of cut, access and clearance beyond the floor, each side"),
    ("rise_m", 0.9, "m", "Boards over the invert of the main"),
    ("reference_c", 15.0, "degC", "Temperature of the removal rates"),
)
RULES = (
    ("bed_share", 0.15, "-", "Share of the peak that a bed takes", "nrcs605summary"),
    ("reduction", 0.30, "-", "Reduction in the treated water", "nrcs605summary"),
    ("buffer_share", 0.05, "-", "Share of the peak that a buffer takes", "practice"),
)
BANDS = {
    "main_full_m3_s": ("m3/s", "Main full"),
    "coefficient_m3_s": ("m3/s", "Drainage coefficient over the acres"),
    "peak_m3_s": ("m3/s", "Peak, the lesser of the two"),
    "volume_m3": ("m3", "Drain water of a year"),
    "load_kg": ("kg", "Nitrate nitrogen of a year"),
    "bed.chips_m3": ("m3", "Chips neat in place"),
    "bed.length_m": ("m", "Length of the floor of the bed"),
    "bed.width_m": ("m", "Width of the floor of the bed"),
    "bed.cost_usd": ("USD", "Cost of the bed built"),
    "bed.treated_share": ("-", "Share of the year's water through the bed"),
    "bed.removed_kg": ("kg", "Nitrate nitrogen that the bed takes out in a year"),
    "buffer.share_of_peak": ("-", "Share of the peak that the whole strip takes as a buffer"),
    "buffer.cost_usd": ("USD", "Cost of the buffer built"),
    "buffer.treated_share": ("-", "Share of the year's water into the buffer"),
    "buffer.removed_kg": ("kg", "Nitrate nitrogen that the buffer takes out in a year"),
    "pool_reach_m": ("m", "Raised water up the main"),
}
"""What is told as a band, by its key below `rough.`."""


@dataclass(frozen=True)
class RoughAsk:
    """What the caller said, in SI; Unknown for what he did not know.

    Attributes
    ----------
    area : float
        Acres that drain to the outlet. [m2]
    main_diameter : float
        Inside diameter of the main. [m]
    slope : float or Unknown
        Grade of the main. [m/m]
    ditch_below : float or Unknown
        Ordinary ditch water below the end of the main, negative where it stands above. [m]
    strip_length, strip_width : float or Unknown
        Ground that may be used, along the ditch and away from it. [m]
    nitrate_mg_per_l : float or Unknown
        One sample, as N. [mg/L]
    """

    area: float
    main_diameter: float
    slope: float | Unknown
    ditch_below: float | Unknown
    strip_length: float | Unknown
    strip_width: float | Unknown
    nitrate_mg_per_l: float | Unknown


@dataclass(frozen=True)
class Rough:
    """A rough answer: its trace, three things that would stop it, five shots to take first."""

    trace: Trace
    stops: tuple[Stop, ...]
    shots: tuple[Shot, ...]


def rough_answer(ask: RoughAsk) -> Rough:
    """Work out the rough answer.

    Parameters
    ----------
    ask : RoughAsk
        What the caller said. [-]

    Returns
    -------
    Rough
        Bands under `rough.` in its trace, what would stop it, what to shoot first.
    """
    trace = Trace()
    _give(trace, ask)
    _draw(trace)
    _add_flow(trace)
    add_rough_bed(trace)
    add_rough_buffer(trace)
    for key, (unit, title) in BANDS.items():
        _add_band(trace, key, unit, title)
    return Rough(trace, three_stops(trace), five_shots(trace))


def _give(trace: Trace, ask: RoughAsk) -> None:
    for name, value, unit, title in (
        ("area_m2", ask.area, "m2", "Acres that drain to the outlet"),
        ("main_m", ask.main_diameter, "m", "Inside diameter of the main"),
        ("slope", ask.slope, "m/m", "Grade of the main"),
        ("ditch_below_m", ask.ditch_below, "m", "Ordinary ditch water below the end of the main"),
        ("strip_length_m", ask.strip_length, "m", "Strip along the ditch"),
        ("strip_width_m", ask.strip_width, "m", "Strip away from the ditch"),
        ("nitrate_mg_per_l", ask.nitrate_mg_per_l, "mg/L", "Nitrate of one sample, as N"),
    ):
        trace.give(
            Given(f"inputs.call.{name}", value, unit, title, Origin(note="as told in the call"))
        )
    for name, constant, unit, title in CONSTANTS:
        trace.constant(f"rough.{name}", constant, title, unit=unit, source="practice")
    for name, limit, unit, title, source in RULES:
        trace.constant(f"rough.rule.{name}", limit, title, unit=unit, source=source)
    for name, share in BAND:
        trace.constant(f"rough.quantile.{name}", share, f"Share below {name}", source="derived")
    trace.constant("rough.draws", float(DRAWS), "Draws", source="derived")
    trace.constant("rough.seed", float(SEED), "Seed of the draws", source="derived")


def _draw(trace: Trace) -> None:
    """Every range as draws under `rough.draw.`, in coherent units."""
    ranges = {**RANGES, **{slug: default_ranges()[slug] for slug in BED_RANGES}}
    for slug, parameter in ranges.items():
        title = f"Range of {slug.replace('-', ' ')}: {parameter.basis}"
        trace.constant(f"rough.range.{slug}", parameter, title, source=parameter.source)
        key = f"rough.drawn.{slug}"
        trace.compute(
            key,
            parts.drawn,
            unit=parameter.unit,
            title=f"Draws of {slug.replace('-', ' ')}",
            parameter=f"rough.range.{slug}",
            count="rough.draws",
            seed="rough.seed",
        )
        factor = SECONDS_PER_UNIT.get(slug, 1.0)
        trace.constant(f"rough.unit.{slug}", factor, "To the coherent unit", source="derived")
        trace.compute(
            f"rough.draw.{slug}",
            parts.times,
            unit="",
            title=f"Draws of {slug.replace('-', ' ')}, in coherent units",
            value=key,
            factor=f"rough.unit.{slug}",
        )


def _told(trace: Trace, given: str, otherwise: str, factor: str = "") -> str:
    """Key of what the caller said, with its factor; of a wide range where he did not know."""
    if is_unknown(trace.value(given)):
        return f"rough.draw.{otherwise}"
    if not factor:
        return given
    key = f"rough.told.{given.rsplit('.', 1)[-1]}"
    step = trace.steps[given]
    trace.compute(
        key,
        parts.times,
        unit=step.unit,
        title=f"{step.title}, as far as it is known",
        value=given,
        factor=f"rough.draw.{factor}",
    )
    return key


def _add_flow(trace: Trace) -> None:
    compute, area = trace.compute, _told(trace, "inputs.call.area_m2", "", "area-factor")
    slope = _told(trace, "inputs.call.slope", "grade-unknown")
    nitrate = _told(trace, "inputs.call.nitrate_mg_per_l", "nitrate-unknown", "nitrate-factor")
    compute(
        "rough.all.main_full_m3_s",
        pipe_flow_full_manning,
        unit="m3/s",
        title="Main full",
        diameter="inputs.call.main_m",
        slope=slope,
        n="rough.draw.roughness",
    )
    compute(
        "rough.all.coefficient_m3_s",
        drainage_flow,
        unit="m3/s",
        title="Drainage coefficient over the acres",
        drainage_coefficient="rough.draw.coefficient",
        area=area,
    )
    compute(
        "rough.all.peak_m3_s",
        parts.lesser,
        unit="m3/s",
        title="Peak",
        first="rough.all.main_full_m3_s",
        second="rough.all.coefficient_m3_s",
    )
    compute(
        "rough.all.volume_m3",
        annual_volume,
        unit="m3",
        title="Drain water of a year",
        annual_depth="rough.draw.annual-depth",
        area=area,
    )
    compute(
        "rough.all.load_kg",
        nitrate_load,
        unit="kg",
        title="Nitrate of a year",
        volume="rough.all.volume_m3",
        nitrate_mg_per_l=nitrate,
    )
    compute(
        "rough.all.pool_reach_m",
        parts.pool_reach,
        unit="m",
        title="Raised water up the main",
        rise="rough.rise_m",
        slope=slope,
    )


def _add_band(trace: Trace, key: str, unit: str, title: str) -> None:
    for name, _ in BAND:
        trace.compute(
            f"rough.{key}.{name}",
            parts.quantile,
            unit=unit,
            title=f"{title}, {name}",
            values=f"rough.all.{key}",
            share=f"rough.quantile.{name}",
        )
