# SPDX-License-Identifier: Apache-2.0
"""Steps that find the ditch level from a surveyed section, regional flows and high water marks."""

from collections.abc import Iterator

from tilewater.basis.findings import Finding
from tilewater.basis.told import feet
from tilewater.basis.trace import Trace, argument_name
from tilewater.chain.ditch_seasons import SPOKEN, WORDS, SeasonKeys, give_unknown
from tilewater.hydraulics import channel_marks, channel_sections
from tilewater.hydraulics.channels import channel_normal_level_manning
from tilewater.hydrology import ditch_section
from tilewater.practices.rules import difference, same

GIVEN = "inputs.ditch.section"
SHAPE = "ditch.section.shape"
N = "ditch.section.n"
MISFIT = "ditch.section.misfit_m"
USES = {"stage": "ordinary", "high": "high"}


def add_section(trace: Trace) -> None:
    """Record shape, roughness, misfit of the marks, and the level of every flow with its band."""
    _add_shape(trace)
    if f"{GIVEN}.slope" not in trace:
        give_unknown(
            trace,
            f"{GIVEN}.slope",
            "Slope of the bed of the ditch",
            "the section has no slope of the bed",
            "shoot the bed 300 ft up and down the ditch",
            unit="-",
        )
    _add_roughness(trace)
    for flow in trace.names("inputs.ditch_flow"):
        _add_flow_level(trace, flow)
    _tell(trace)


def add_season_levels(trace: Trace, season: SeasonKeys) -> None:
    """Record ordinary and high level of a season, each from the flow that stands for it."""
    for kind, use in USES.items():
        flow = _flow_for(trace, season, use)
        title = f"{WORDS[kind]}, {season.name}"
        if flow is None:
            cause = give_unknown(
                trace,
                f"inputs.ditch.flow_{use}_m3_s",
                f"{use.capitalize()} flow of the ditch",
                f"no flow of the ditch has the use {use}",
                "state it under [ditch_flow.NAME], by a regional regression or a gauge nearby",
                unit="m3/s",
            )
            give_unknown(
                trace,
                season.key(f"{kind}_m"),
                title,
                f"the {SPOKEN[kind]} flow is not known",
                "",
                causes=(cause,),
            )
            continue
        here = f"ditch.flows.{flow}"
        trace.compute(season.key(f"{kind}_m"), same, unit="m", title=title, value=f"{here}.level_m")
        for end in ("low", "high"):
            trace.compute(
                season.key(f"{kind}_{end}_m"),
                same,
                unit="m",
                title=f"{title}: {end} end of its band",
                value=f"{here}.level_{end}_m",
            )


def _flow_for(trace: Trace, season: SeasonKeys, use: str) -> str | None:
    """Name of the flow of a use, that of the season first; of several the last listed."""
    found = None
    own = None
    for name in trace.names("inputs.ditch_flow"):
        given = f"inputs.ditch_flow.{name}"
        if trace.value(f"{given}.use") != use:
            continue
        if f"{given}.season" not in trace:
            found = name
        elif trace.value(f"{given}.season") == season.name:
            own = name
    return own or found


def _add_shape(trace: Trace) -> None:
    title = "Section of the ditch"
    if f"{GIVEN}.points" in trace:
        trace.compute(
            SHAPE,
            channel_sections.channel_section_surveyed,
            unit="",
            title=title,
            across=f"{GIVEN}.points",
        )
        return
    inputs = {
        name: f"{GIVEN}.{name}{suffix}"
        for name, suffix in (("bottom_width", "_m"), ("side_slope", ""), ("side_slope_right", ""))
        if f"{GIVEN}.{name}{suffix}" in trace
    }
    if not {"bottom_width", "side_slope"} <= set(inputs):
        cause = give_unknown(
            trace,
            f"{GIVEN}.points",
            title,
            "no section of the ditch is given",
            "survey it from bank top to bank top, or tape its bottom and side slopes",
            unit="",
        )
        give_unknown(trace, SHAPE, title, "the section is not given", "", unit="", causes=(cause,))
        return
    if trace.known("inputs.ditch.bank_top_m", "inputs.ditch.bottom_m"):
        inputs["height"] = "ditch.section.height_m"
        trace.compute(
            inputs["height"],
            difference,
            unit="m",
            title="Bank top above the bottom of the ditch",
            upper="inputs.ditch.bank_top_m",
            lower="inputs.ditch.bottom_m",
        )
    trace.compute(
        SHAPE,
        channel_sections.channel_section_trapezoid,
        unit="",
        title=title,
        bottom="inputs.ditch.bottom_m",
        **inputs,
    )


def _add_roughness(trace: Trace) -> None:
    """Roughness as typed, else as the marks give it; and how far the marks lie off."""
    marks = dict(_marks(trace))
    place = {"section": SHAPE, "slope": f"{GIVEN}.slope"}
    if marks:
        for end, function, word in (
            ("fitted", channel_marks.channel_roughness_fitted, "that fits the marks best"),
            ("fitted_low", channel_marks.channel_roughness_least, "by a single mark, smallest"),
            ("fitted_high", channel_marks.channel_roughness_most, "by a single mark, largest"),
        ):
            trace.compute(
                f"{N}_{end}", function, unit="-", title=f"Roughness {word}", **place, **marks
            )
    if f"{GIVEN}.n" in trace:
        trace.compute(N, same, unit="-", title="Roughness of the ditch", value=f"{GIVEN}.n")
    elif marks:
        trace.compute(N, same, unit="-", title="Roughness of the ditch", value=f"{N}_fitted")
    else:
        cause = give_unknown(
            trace,
            f"{GIVEN}.n",
            "Roughness of the ditch, Manning's n",
            "neither n nor a high water mark with its flow is given",
            "take n from a table of channels, or find a mark whose flow is known",
            unit="-",
        )
        give_unknown(
            trace, N, "Roughness of the ditch", "n is not known", "", unit="-", causes=(cause,)
        )
    if not marks:
        return
    for name, key in marks.items():
        trace.compute(
            f"ditch.marks.{name.replace('_', '-')}.misfit_m",
            channel_marks.channel_misfit,
            unit="m",
            title=f"Mark {name.replace('_', '-')} above the computed level",
            mark=key,
            n=N,
            **place,
        )
    trace.compute(
        MISFIT,
        ditch_section.largest_misfit,
        unit="m",
        title="Largest distance of a mark from the computed level",
        **{name: f"ditch.marks.{name.replace('_', '-')}.misfit_m" for name in marks},
    )


def _marks(trace: Trace) -> Iterator[tuple[str, str]]:
    """Marks whose flow is known, as records; by the name of an argument."""
    for name in trace.names("inputs.mark"):
        given = f"inputs.mark.{name}"
        if f"{given}.flow_m3_s" not in trace:
            continue
        key = f"ditch.marks.{name}.mark"
        trace.compute(
            key,
            channel_marks.HighWaterMark,
            unit="",
            title=f"High water mark {name} with its flow",
            level=f"{given}.elevation_m",
            flow=f"{given}.flow_m3_s",
            doubt=f"{given}.sure_m",
        )
        yield argument_name(name), key


def _add_flow_level(trace: Trace, flow: str) -> None:
    here, given = f"ditch.flows.{flow}", f"inputs.ditch_flow.{flow}"
    place = {"flow": f"{given}.flow_m3_s", "section": SHAPE, "slope": f"{GIVEN}.slope", "n": N}
    title = f"Ditch level at the flow {flow}"
    trace.compute(f"{here}.level_m", channel_normal_level_manning, unit="m", title=title, **place)
    shared = {}
    if f"{given}.error" in trace:
        shared["flow_error"] = f"{given}.error"
    if MISFIT in trace:
        shared["misfit"] = MISFIT
    low, high = _end_of_n(trace, "low"), _end_of_n(trace, "high")
    if not (shared or low or high):
        for end in ("low", "high"):
            give_unknown(
                trace,
                f"{here}.level_{end}_m",
                f"{title}: {end} end of its band",
                "neither a range of n nor an error of the flow nor a mark is given",
                "state n_low and n_high, the standard error of the flow, or a mark",
            )
        return
    for end, function, own in (
        ("low", ditch_section.stage_section_low, {"n_low": low} if low else {}),
        ("high", ditch_section.stage_section_high, {"n_high": high} if high else {}),
    ):
        trace.compute(
            f"{here}.level_{end}_m",
            function,
            unit="m",
            title=f"{title}: {end} end of its band",
            **place,
            **own,
            **shared,
        )
    trace.compute(
        f"{here}.doubt",
        ditch_section.stage_section_doubt,
        unit="",
        title=f"{title}: what makes the band",
        **place,
        **({"n_high": high} if high else {}),
        **shared,
    )


def _end_of_n(trace: Trace, end: str) -> str | None:
    """Key of an end of the range of n: typed, else of single marks where they gave n."""
    if f"{GIVEN}.n_{end}" in trace:
        return f"{GIVEN}.n_{end}"
    by_marks = f"{N}_fitted_{end}"
    return by_marks if by_marks in trace and f"{GIVEN}.n" not in trace else None


def _tell(trace: Trace) -> None:
    """What the engineer must know of levels that come from a section."""
    trace.findings.append(
        Finding(
            "ditch-section-uniform",
            "note",
            "Ditch",
            "The level of the ditch is that of uniform flow at the section. A culvert, a bridge, "
            "a beaver dam or another ditch below holds it higher: look downstream, and read a "
            "staff in one high water.",
            source="chow1959",
        )
    )
    names = trace.names("inputs.season")
    for flow in trace.names("inputs.ditch_flow"):
        season = f"inputs.ditch_flow.{flow}.season"
        if season in trace and trace.known(season) and trace.value(season) not in names:
            trace.findings.append(
                Finding(
                    "ditch-flow-season",
                    "caution",
                    f"Flow {flow}",
                    f"The flow {flow} is for the season '{trace.value(season)}', which the job "
                    f"does not have. Its seasons: {', '.join(names) or 'none'}. It judges nothing.",
                )
            )
    _tell_marks_without_flow(trace)


def _tell_marks_without_flow(trace: Trace) -> None:
    tops = [
        float(trace.value(key))
        for flow in trace.names("inputs.ditch_flow")
        for key in (f"ditch.flows.{flow}.level_high_m", f"ditch.flows.{flow}.level_m")
        if trace.known(key)
    ]
    for name in trace.names("inputs.mark"):
        given = f"inputs.mark.{name}"
        if not tops or f"{given}.flow_m3_s" in trace or not trace.known(f"{given}.elevation_m"):
            continue
        level = float(trace.value(f"{given}.elevation_m"))
        if level > max(tops):
            trace.findings.append(
                Finding(
                    "ditch-mark-higher",
                    "caution",
                    f"Mark {name}",
                    f"Mark {name} at {feet(level)} ({trace.value(f'{given}.event')}) is "
                    f"{feet(level - max(tops))} above the highest computed level, its "
                    "band included. The flow was larger than those listed, or the ditch is rougher "
                    "or held back from below. Find out the flow of that day.",
                    value=level,
                    operator="<=",
                    limit=max(tops),
                    unit="m",
                )
            )
