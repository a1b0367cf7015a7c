# SPDX-License-Identifier: Apache-2.0
"""A designed practice at a flow and a ditch that somebody wants to look at.

Neither stands in the job: the main full or nearly dry, the ditch low or up to the bank. The steps
are those by which the chain solves its own lines, on a copy of the trace of the design; a design is
never changed by being looked at. All keys begin with `looked_at.`.
"""

from dataclasses import dataclass

from tilewater.basis.trace import Given, Origin, Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain.design import Design
from tilewater.chain.scene_water import LOOKED_AT
from tilewater.practices.bed import capacity
from tilewater.practices.bed.board_steps import set_key
from tilewater.practices.bed.capacity_steps import add_balance, add_levels
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.bed.system import wet_media_volume
from tilewater.practices.bed.system_steps import path_key
from tilewater.practices.buffer import balance, line
from tilewater.practices.buffer.board_steps import field_level
from tilewater.practices.buffer.givens import LINE, SOIL, or_default
from tilewater.practices.buffer.soil import head_above_barrier
from tilewater.practices.rules import difference, same

HERE = LOOKED_AT
FULL = "drain_flow.full_m3_s"
WORDS = "as looked at"


@dataclass(frozen=True)
class LookedAt:
    """What is looked at; what is None is as the design has it.

    Attributes
    ----------
    flow_m3_s : float or None
        Flow of the main; full where None. [m3/s]
    ditch_stage_m : float or None
        Water of the ditch; the ordinary water of the setting where None. [m]
    setting : str
        Boards that stand: "design" or a season of the job.
    """

    flow_m3_s: float | None = None
    ditch_stage_m: float | None = None
    setting: str = DESIGN


def stage_key(trace: Trace, setting: str) -> str:
    """Key of the ordinary water of the ditch that goes with a setting."""
    if setting != DESIGN:
        return f"ditch.{setting}.stage_m"
    return "ditch.ordinary_m" if "ditch.ordinary_m" in trace else "ditch.year.stage_m"


def setting_of(trace: Trace, looked_at: LookedAt) -> str:
    """The boards that stand: those asked for where the job has them, else the design setting."""
    setting = looked_at.setting
    return setting if f"boards.inlet-{setting}.crest_m" in trace else DESIGN


def media_key(trace: Trace, setting: str) -> str:
    """Key of the chips that go with a setting: aged, as cold as the season."""
    own = f"seasons.{setting}.media"
    return own if own in trace else "capacity.criterion.media"


def look_at(design: Design, looked_at: LookedAt) -> Trace:
    """Steps of a design with those of a flow and a ditch that are looked at.

    Parameters
    ----------
    design : Design
        The designed practice; it is not changed. [-]
    looked_at : LookedAt
        Flow, ditch and boards. [-]

    Returns
    -------
    Trace
        The steps of the design, then `looked_at.inflow_m3_s`, `.stage_m`, `.level_m`,
        `.flow_m3_s` into the practice, `.bypass_flow_m3_s`, `.share` and what else the practice
        has. [-]
    """
    trace = Trace()
    for step in design.trace:
        trace.put(step)
    trace.requirements.extend(design.trace.requirements)
    setting = setting_of(trace, looked_at)
    _take(trace, "inflow_m3_s", looked_at.flow_m3_s, FULL, "m3/s", "Flow of the main")
    _take(
        trace, "stage_m", looked_at.ditch_stage_m, stage_key(trace, setting), "m",
        "Water of the ditch",
    )  # fmt: skip
    _STEPS[design.practice.name](trace, setting)
    return trace


def _take(trace: Trace, name: str, value: float | None, usual: str, unit: str, title: str) -> None:
    """Record what is looked at, or what the design has."""
    key = f"{HERE}.{name}"
    if value is None and usual in trace:
        trace.compute(key, same, unit=unit, title=f"{title}, {WORDS}", value=usual)
        return
    origin = Origin(note="looked at; it stands nowhere in the job")
    given = Unknown(f"{title.lower()} is not given", "look at one") if value is None else value
    trace.give(Given(key, given, unit, f"{title}, {WORDS}", origin))


def _look_at_bed(trace: Trace, setting: str) -> None:
    media = media_key(trace, setting)
    inflow, stage = f"{HERE}.inflow_m3_s", f"{HERE}.stage_m"
    add_balance(trace, HERE, WORDS, inflow=inflow, stage=stage, media=media, setting=setting)
    tailwater = f"{HERE}.tailwater_m"
    add_levels(trace, HERE, WORDS, tailwater=tailwater, media=media, setting=setting)
    _add_share(trace)
    trace.compute(
        f"{HERE}.wet_volume_m3",
        wet_media_volume,
        unit="m3",
        title=f"Media under water, {WORDS}",
        flow=f"{HERE}.flow_m3_s",
        tailwater=tailwater,
        path=path_key(setting),
        shape="bed.shape",
        media=media,
    )
    trace.compute(
        f"{HERE}.retention_h",
        capacity.retention_hours,
        unit="h",
        title=f"Time in the bed, {WORDS}",
        wet_volume=f"{HERE}.wet_volume_m3",
        porosity="inputs.media.porosity_effective",
        flow=f"{HERE}.flow_m3_s",
    )


def _look_at_buffer(trace: Trace, setting: str) -> None:
    compute, barrier = trace.compute, f"{LINE}.barrier_m"
    compute(
        f"{HERE}.split",
        balance.split_of_inflow,
        unit="",
        title=f"How the inflow divides between line and bypass, {WORDS}",
        inflow=f"{HERE}.inflow_m3_s",
        stage=f"{HERE}.stage_m",
        barrier=barrier,
        invert=f"{LINE}.line_invert_m",
        pipe="buffer.pipe",
        soil="buffer.soil",
        bypass=set_key("inlet", setting),
    )
    for name, function, unit, title in (
        ("flow_m3_s", balance.line_flow_of, "m3/s", "Flow into the buffer"),
        ("bypass_flow_m3_s", balance.bypass_flow_of, "m3/s", "Flow over the bypass boards"),
        ("line_level_m", balance.level_of, "m", "Water in the chamber of the line"),
    ):
        key = f"{HERE}.{name}"
        compute(key, function, unit=unit, title=f"{title}, {WORDS}", split=f"{HERE}.split")
    _add_field_level(trace, setting)
    _add_share(trace)
    head_stream, head_soil = f"{HERE}.head_stream_m", f"{HERE}.head_soil_m"
    compute(
        head_stream,
        head_above_barrier,
        unit="m",
        title=f"Head of the ditch above the restrictive layer, {WORDS}",
        elevation=f"{HERE}.stage_m",
        barrier=barrier,
    )
    compute(
        head_soil,
        line.head_in_soil,
        unit="m",
        title=f"Head in the soil at the line, {WORDS}",
        flow=f"{HERE}.flow_m3_s",
        head_stream=head_stream,
        pipe="buffer.pipe",
        soil="buffer.soil",
    )
    compute(
        f"{HERE}.travel_time_days",
        line.travel_days,
        unit="days",
        title=f"Travel time from line to ditch, {WORDS}",
        head_soil=head_soil,
        head_stream=head_stream,
        soil="buffer.soil",
        porosity=or_default(trace, f"{SOIL}.porosity_effective"),
    )


def _add_field_level(trace: Trace, setting: str) -> None:
    """Water where the main comes in: over the head boards, where there are any."""
    level, before, title = f"{HERE}.level_m", set_key("head", setting), "Water where the main comes"
    if before not in trace:
        trace.compute(
            level, same, unit="m", title=f"{title} in, {WORDS}", value=f"{HERE}.line_level_m"
        )
        return
    trace.compute(
        level,
        field_level,
        unit="m",
        title=f"{title} in, {WORDS}",
        flow=f"{HERE}.inflow_m3_s",
        tailwater=f"{HERE}.line_level_m",
        bypass=before,
    )


def _look_at_raised(trace: Trace, setting: str) -> None:
    trace.compute(
        f"{HERE}.level_m",
        field_level,
        unit="m",
        title=f"Water in the structure, {WORDS}",
        flow=f"{HERE}.inflow_m3_s",
        tailwater=f"{HERE}.stage_m",
        bypass=set_key("inlet", setting),
    )
    trace.compute(
        f"{HERE}.bypass_head_m",
        difference,
        unit="m",
        title=f"Water above the crest, {WORDS}",
        upper=f"{HERE}.level_m",
        lower=f"boards.inlet-{setting}.crest_m",
    )


def _add_share(trace: Trace) -> None:
    trace.compute(
        f"{HERE}.share",
        capacity.share_of_flow,
        unit="-",
        title=f"Share of the inflow that is treated, {WORDS}",
        flow=f"{HERE}.flow_m3_s",
        peak=f"{HERE}.inflow_m3_s",
    )


_STEPS = {"bed": _look_at_bed, "buffer": _look_at_buffer, "raised": _look_at_raised}
