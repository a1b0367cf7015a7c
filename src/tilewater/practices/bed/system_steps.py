# SPDX-License-Identifier: Apache-2.0
"""Steps that put the pipes, headers, boards and ditch of a bed together for its balance."""

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Given, Trace, argument_name
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.hydrology.drain_flow import largest_of, least_of
from tilewater.practices.bed.board_steps import set_key
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.bed.system_parts import (
    header_evenness,
    laid_pipe_roughness,
    length_on_grade,
    total_of,
)
from tilewater.practices.bed.works import BedPath, header_loss, pipe_run
from tilewater.practices.rules import difference, same

ENTRANCE = 0.5
"""Entrance loss of a pipe that ends flush in a box, in velocity heads, from memory. [-]"""
OPENINGS = 0.00064516 / 0.3048
"""Open area of perforated drain pipe, one square inch per foot, from memory. [m2/m]"""
EVEN = 0.9
"""A header that spreads less evenly than this is told."""


def add_pipes(trace: Trace) -> None:
    """Record every pipe of the bed as the balance takes it, the two headers and the old main."""
    trace.constant(
        "system.entrance", ENTRANCE, "Entrance loss in velocity heads", unit="-", source="practice"
    )
    trace.constant(
        "system.openings_m2_m",
        OPENINGS,
        "Open area of a header per length",
        unit="m2/m",
        source="practice",
    )
    inlet, outlet = "inputs.structure.inlet.floor_m", "inputs.structure.outlet.floor_m"
    floors = "inputs.bed.floor_inlet_m", "inputs.bed.floor_outlet_m"
    _add_pipe(trace, "feed", "feed", "diversion to inlet header", inlet, floors[0])
    _add_pipe(trace, "drain", "bed outlet", "outlet header to outlet structure", floors[1], outlet)
    ends = "inputs.bed.outlet_invert_m", "inputs.bed.return_invert_m"
    _add_pipe(trace, "outflow", "return", "outlet structure to where the return ends", *ends)
    for end in ("inlet", "outlet"):
        _add_header(trace, end)
    _add_old_main(trace)


def _pipes_for(trace: Trace, use: str) -> list[str]:
    return [
        name for name in trace.names("inputs.pipe") if trace.value(f"inputs.pipe.{name}.use") == use
    ]


def _add_parts(trace: Trace, here: str, use: str) -> str | None:
    """Diameter, length and roughness of the pipes of a use; the key of the first pipe."""
    names = _pipes_for(trace, use)
    if not names:
        listed = f"{here}.listed"
        missing = Unknown(
            f"no pipe with the use {use} is listed",
            "list it under [pipe.NAME] of the job",
            (listed,),
        )
        trace.give(Given(listed, missing, "", f"Pipe with the use {use}"))
        for part, unit, title in (
            ("diameter_m", "m", "Inside diameter"),
            ("length_m", "m", "Length"),
            ("n", "-", "Roughness"),
        ):
            trace.give(Given(f"{here}.{part}", missing, unit, f"{title} of the {use}"))
        return None
    for name in names:
        _add_roughness(trace, f"{here}.n_{name}", name)
    words = {name: argument_name(name) for name in names}
    for part, function, unit, title, source in (
        ("diameter_m", least_of, "m", "Inside diameter", "inputs.pipe.{}.diameter_m"),
        ("length_m", total_of, "m", "Length", "inputs.pipe.{}.length_m"),
        ("n", largest_of, "-", "Roughness", here + ".n_{}"),
    ):
        trace.compute(
            f"{here}.{part}",
            function,
            unit=unit,
            title=f"{title} of the {use}",
            **{words[name]: source.format(name) for name in names},
        )
    return f"inputs.pipe.{names[0]}" if len(names) == 1 else None


def _add_roughness(trace: Trace, key: str, name: str) -> None:
    given, title = f"inputs.pipe.{name}", f"Roughness of the pipe {name}"
    if f"{given}.n" in trace and trace.known(f"{given}.n"):
        trace.compute(key, same, unit="-", title=title, value=f"{given}.n")
        return
    trace.compute(
        key,
        laid_pipe_roughness,
        unit="-",
        title=title,
        kind=f"{given}.kind",
        diameter=f"{given}.diameter_m",
    )


def _add_pipe(trace: Trace, name: str, use: str, words: str, upper: str, lower: str) -> None:
    here = f"system.{name}"
    given = _add_parts(trace, here, use)
    ends = {"invert_up": upper, "invert_down": lower}
    for end, field in (("invert_up", "invert_upper_m"), ("invert_down", "invert_lower_m")):
        if given is not None and f"{given}.{field}" in trace and trace.known(f"{given}.{field}"):
            ends[end] = f"{given}.{field}"
    trace.compute(
        f"{here}.pipe",
        pipe_run,
        unit="",
        title=f"The {use}: {words}",
        diameter=f"{here}.diameter_m",
        length=f"{here}.length_m",
        n=f"{here}.n",
        entrance="system.entrance",
        **ends,
    )


def _add_header(trace: Trace, end: str) -> None:
    here = f"system.header_{end}"
    _add_parts(trace, here, f"{end} header")
    trace.compute(
        f"{here}.loss_s2_m5",
        header_loss,
        unit="s2/m5",
        title=f"Loss of the {end} header per flow squared",
        diameter=f"{here}.diameter_m",
        length=f"{here}.length_m",
        n=f"{here}.n",
        open_area="system.openings_m2_m",
    )


def _add_old_main(trace: Trace) -> None:
    """The main past the bed, which is the bypass; below a junction it carries both."""
    main = "inputs.main"
    trace.compute(
        "system.bypass.whole_m",
        difference,
        unit="m",
        title="Main from its outlet to the diversion",
        upper=f"{main}.station_diversion_m",
        lower=f"{main}.station_outlet_m",
    )
    _add_parts(trace, "system.bypass", "bypass")
    shared = {"n": "drain_flow.main_n", "entrance": "system.entrance"}
    back = trace.value("inputs.bed.return")
    if is_unknown(back):
        why = Unknown("where the treated water goes is not known", "decide the return of the bed")
        trace.give(Given("system.bypass.pipe", why, "", "The main past the bed"))
        return
    if back != "main":
        trace.compute(
            "system.bypass.pipe",
            pipe_run,
            unit="",
            title="The main past the bed, to the ditch",
            invert_up=f"{main}.invert_diversion_m",
            invert_down=f"{main}.invert_outlet_m",
            diameter="system.bypass.diameter_m",
            length="system.bypass.whole_m",
            **shared,
        )
        return
    _add_junction(trace, shared)


def _add_junction(trace: Trace, shared: dict[str, str]) -> None:
    """The main below the return, which carries all, and that between return and diversion."""
    main = "inputs.main"
    trace.compute(
        "system.lower.length_m",
        length_on_grade,
        unit="m",
        title="Main from its outlet to where the return comes in",
        upper="inputs.bed.return_invert_m",
        lower=f"{main}.invert_outlet_m",
        slope=f"{main}.slope",
    )
    trace.compute(
        "system.lower.pipe",
        pipe_run,
        unit="",
        title="The main below the return, which carries all",
        invert_up="inputs.bed.return_invert_m",
        invert_down=f"{main}.invert_outlet_m",
        diameter=f"{main}.diameter_m",
        length="system.lower.length_m",
        **shared,
    )
    trace.compute(
        "system.bypass.beside_m",
        difference,
        unit="m",
        title="Main from where the return comes in to the diversion",
        upper="system.bypass.whole_m",
        lower="system.lower.length_m",
    )
    trace.compute(
        "system.bypass.pipe",
        pipe_run,
        unit="",
        title="The main past the bed, to where the return comes in",
        invert_up=f"{main}.invert_diversion_m",
        invert_down="inputs.bed.return_invert_m",
        diameter="system.bypass.diameter_m",
        length="system.bypass.beside_m",
        **shared,
    )


def lower_main(trace: Trace) -> dict[str, str]:
    """Input of the main below the junction, for the functions that take it."""
    return {"lower": "system.lower.pipe"} if "system.lower.pipe" in trace else {}


def add_paths(trace: Trace) -> None:
    """Record the way through the bed, for the design setting and each season's own boards."""
    for setting in (DESIGN, *trace.names("inputs.season")):
        add_path(trace, setting)
    trace.compute(
        "system.free_m",
        same,
        unit="m",
        title="Water below the bed with a free outlet: the invert where the return ends",
        value="inputs.bed.return_invert_m",
    )


def add_path(trace: Trace, setting: str) -> None:
    """Record the way through the bed with the outlet boards of a setting."""
    trace.compute(
        path_key(setting),
        BedPath,
        unit="",
        title=f"Pipes, headers and outlet boards of the bed, {setting} setting",
        floor="bed.floor_mean_m",
        feed="system.feed.pipe",
        drain="system.drain.pipe",
        outflow="system.outflow.pipe",
        header_in="system.header_inlet.loss_s2_m5",
        header_out="system.header_outlet.loss_s2_m5",
        outlet=set_key("outlet", setting),
    )


def add_stage(trace: Trace) -> None:
    """Record the ordinary water of the ditch, by season and the highest, where nothing else has."""
    if "ditch.ordinary_m" in trace:
        return
    seasons = trace.names("inputs.season")
    for season in seasons:
        key, given = f"ditch.{season}.stage_m", f"inputs.season.{season}.ditch_stage_m"
        if key not in trace:
            title = f"Ordinary water of the ditch, {season}"
            trace.compute(key, same, unit="m", title=title, value=given)
    title = "Highest ordinary water of the ditch over the seasons"
    if not seasons:
        why = "the stage of the ditch is not known"
        how = "read the stage on a staff through one spring"
        trace.give(Given("ditch.ordinary_m", Unknown(why, how), "m", title))
        return
    trace.compute(
        "ditch.ordinary_m",
        largest_of,
        unit="m",
        title=title,
        **{argument_name(season): f"ditch.{season}.stage_m" for season in seasons},
    )


def path_key(setting: str = DESIGN) -> str:
    """Key of the way through the bed in a setting."""
    return f"system.path-{setting}"


def tell_headers(trace: Trace) -> None:
    """Record how evenly the headers spread the water, and tell where they do not."""
    for end, words in (("inlet", "spreads"), ("outlet", "gathers")):
        here = f"system.header_{end}"
        trace.compute(
            f"{here}.evenness",
            header_evenness,
            unit="-",
            title=f"How evenly the {end} header {words} the water, new media",
            flow="capacity.new.flow_m3_s",
            friction=f"{here}.loss_s2_m5",
            inlet_end="capacity.new.levels_m.inlet_end",
            outlet_end="capacity.new.levels_m.outlet_end",
        )
        if trace.known(f"{here}.evenness") and float(trace.value(f"{here}.evenness")) < EVEN:
            even = float(trace.value(f"{here}.evenness"))
            trace.findings.append(
                Finding(
                    "header-uneven",
                    "caution",
                    f"{end.capitalize()} header",
                    f"At its largest flow the header takes so much head that its far end {words} "
                    f"about {even:.0%} of what its near end does. Part of the bed would stand "
                    "still. Take a larger pipe, more openings, or feed it in the middle.",
                    value=even,
                    operator=">=",
                    limit=EVEN,
                    unit="-",
                    source="practice",
                )
            )
