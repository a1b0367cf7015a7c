# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: what is staked, to which height it is dug, its hubs, and tape checks.

They follow a design and change nothing of it. Every point of the plan that has a grade gets its
height; outlines of the cut get hubs beyond their corners that are not dug away; a hub that was
driven and shot gets its cut.
"""

from collections.abc import Callable, Iterator
from itertools import pairwise

from tilewater.basis.trace import Trace, argument_name
from tilewater.chain.plan_parts import BASELINE, LINES, OUTLINES, PIPES, POINTS
from tilewater.chain.stake_parts import (
    geographic_outline,
    hub_of_corner,
    hub_of_line_end,
    offset_of_place,
    offset_on_line,
    places_along,
    rectangle_around,
    stands_beside,
    station_of_place,
    station_on_line,
)
from tilewater.ground.baseline import east_at, north_at
from tilewater.ground.stakes import cut_at_hub, ground_distance
from tilewater.practices.rules import same

STAKES = "stake.points"
HUBS = "stake.hubs"
TAPES = "stake.tapes"
FACTOR = "stake.factor"
LOCATE = "stake.locate"
FEWEST_OF_LINE = 2
"""Stakes of a line that have a direction."""
DUG = ("-cut", "-structure")
"""How the names of outlines end that are dug."""

PIPE_LEVELS = {
    "feed": ("system.feed.pipe", "invert_up", "invert_down"),
    "bed outlet": ("system.drain.pipe", "invert_up", "invert_down"),
    "return": ("system.outflow.pipe", "invert_up", "invert_down"),
    "bypass": ("system.bypass.pipe", "invert_up", "invert_down"),
}
"""Where the inverts of a pipe stand, by what it does: a step, and its inputs for both ends."""
HEADERS = {"inlet header": "bed.floor_inlet_m", "outlet header": "bed.floor_outlet_m"}
CORNERS = ("lower-near", "lower-far", "upper-far", "upper-near")
SIDES_ALONG = (("lower-near", "upper-near"), ("lower-far", "upper-far"))
"""Long sides of an outline; its hubs stand on their lines."""


def add_stakes(trace: Trace) -> None:
    """Record heights of points, hubs with their cuts, and tape checks."""
    if not trace.known(BASELINE):
        return
    _add_factor(trace)
    for name, level, what in _graded(trace):
        here = f"{STAKES}.{name}"
        trace.constant(f"{here}.what", what, f"What is staked: {what}", source="derived")
        trace.compute(
            f"{here}.height_m", same, unit="m", title=f"Grade: {what}, {_words(name)}", value=level
        )
    _add_line_stakes(trace)
    for outline in _cuts(trace):
        _add_hubs(trace, outline)
    for structure in ("inlet", "outlet"):
        _add_structure_hubs(trace, structure)
    _add_locate(trace)
    for outline in (*_cuts(trace), *(_floor_of(cut) for cut in _cuts(trace))):
        _add_tapes(trace, outline)


def _add_factor(trace: Trace) -> None:
    given = "inputs.stake.combined_factor"
    if given in trace:
        trace.compute(FACTOR, same, unit="-", title="Combined factor of the grid", value=given)
    else:
        trace.constant(
            FACTOR,
            1.0,
            "Combined factor of the grid: none given, a tape is taken to measure grid distance",
            unit="-",
            source="derived",
        )


def _words(name: str) -> str:
    return name.replace("-", " ")


def _graded(trace: Trace) -> Iterator[tuple[str, str, str]]:
    """Points of the plan that have a grade: name, key of the level, what the level is."""
    for name in trace.names(POINTS):
        for part, corner in ((f"-floor-{c}", c) for c in CORNERS):
            if name.endswith(part):
                end = "inlet" if corner.startswith("upper") else "outlet"
                floor = f"bed.floor_{end}_m"
                cell = name.removesuffix(part)
                if cell.startswith("cell-"):
                    floor = f"bed.cells.{cell.removeprefix('cell-')}.floor_{end}_m"
                if floor in trace:
                    yield name, floor, "floor"
        if name.endswith("-structure"):
            box = f"inputs.structure.{name.removesuffix('-structure')}.floor_m"
            if box in trace:
                yield name, box, "floor of the box"
    yield from _pipe_ends(trace)
    for name in trace.names("inputs.benchmark"):
        if f"{POINTS}.benchmark-{name}.north_m" in trace:
            yield f"benchmark-{name}", f"inputs.benchmark.{name}.elevation_m", "benchmark"


def _pipe_ends(trace: Trace) -> Iterator[tuple[str, str, str]]:
    for pipe in trace.names("inputs.pipe"):
        use = str(trace.value(f"inputs.pipe.{pipe}.use"))
        for place, end in enumerate(("upper", "lower"), start=1):
            name = f"pipe-{pipe}-{end}"
            if f"{POINTS}.{name}.north_m" not in trace:
                continue
            if use in HEADERS and HEADERS[use] in trace:
                yield name, HEADERS[use], "floor under the header"
            elif use in PIPE_LEVELS:
                step = PIPE_LEVELS[use][0]
                taken = dict(trace.steps[step].inputs) if step in trace else {}
                level = taken.get(PIPE_LEVELS[use][place])
                if level is not None:
                    yield name, level, "invert"


def _add_line_stakes(trace: Trace) -> None:
    """Stakes along a distribution line; it is laid level at its invert."""
    level = "inputs.buffer.line_invert_m"
    if level not in trace:
        return
    for line in trace.names("inputs.line"):
        key = f"{LINES}.{line}"
        if key not in trace or trace.value(f"inputs.line.{line}.kind") != "distribution line":
            continue
        places = f"stake.lines.{line}"
        trace.compute(
            places,
            places_along,
            unit="m",
            title=f"Stakes along line {line}: station, offset",
            line=key,
            every="inputs.stake.every_m",
        )
        if not trace.known(places):
            continue
        for count in range(1, len(trace.value(places)) + 1):
            name = f"{line}-{count}"
            number = trace.constant(
                f"stake.numbers.{count}", count, f"Number {count} of a line", source="derived"
            )
            _add_place(
                trace,
                f"{STAKES}.{name}",
                f"line {line}, stake {count}",
                (station_on_line, offset_on_line),
                {"places": places, "count": number},
            )
            trace.constant(
                f"{STAKES}.{name}.what", "invert", "What is staked: invert", source="derived"
            )
            trace.compute(
                f"{STAKES}.{name}.height_m",
                same,
                unit="m",
                title=f"Grade: invert, line {line}, stake {count}",
                value=level,
            )
        _add_line_ends(trace, line, len(trace.value(places)))


def _add_line_ends(trace: Trace, line: str, last: int) -> None:
    """A hub beyond both ends of a line, and a tape from its first stake to its last."""
    if last < FEWEST_OF_LINE:
        return
    for end, count in (("start", 1), ("end", last)):
        name = f"{line}-{end}"
        trace.compute(
            f"{HUBS}.{name}.place",
            hub_of_line_end,
            unit="m",
            title=f"Hub {_words(name)}: station, offset",
            places=f"stake.lines.{line}",
            count=f"stake.numbers.{count}",
            away="inputs.stake.hub_away_m",
        )
        _finish_hub(trace, name, f"{STAKES}.{line}-{count}.height_m")
    a, b = f"{STAKES}.{line}-1", f"{STAKES}.{line}-{last}"
    trace.compute(
        f"{TAPES}.{line}.stake-1-to-stake-{last}_m",
        ground_distance,
        unit="m",
        title=f"Tape, {_words(line)}: stake 1 to stake {last}, straight",
        north=f"{a}.north_m",
        east=f"{a}.east_m",
        other_north=f"{b}.north_m",
        other_east=f"{b}.east_m",
        factor=FACTOR,
    )


def _add_place(
    trace: Trace,
    here: str,
    words: str,
    functions: tuple[Callable[..., float], Callable[..., float]],
    inputs: dict[str, str],
) -> None:
    """A place by station and offset, and in the grid."""
    for side, function in zip(("station", "offset"), functions, strict=True):
        trace.compute(
            f"{here}.{side}_m",
            function,
            unit="m",
            title=f"{side.capitalize()}: {words}",
            **inputs,
        )
    for side, at in (("north", north_at), ("east", east_at)):
        trace.compute(
            f"{here}.{side}_m",
            at,
            unit="m",
            title=f"{side.capitalize()}: {words}",
            baseline=BASELINE,
            station=f"{here}.station_m",
            offset=f"{here}.offset_m",
        )


def _cuts(trace: Trace) -> tuple[str, ...]:
    """Outlines of the top of a cut."""
    return tuple(name for name in trace.names(OUTLINES) if name.endswith("-cut"))


def _floor_of(cut: str) -> str:
    return f"{cut.removesuffix('-cut')}-floor"


def _add_hubs(trace: Trace, outline: str) -> None:
    """Two hubs at each end of both long sides of a cut, on the line of the side."""
    key = f"{OUTLINES}.{outline}"
    if not trace.known(key):
        return
    body = outline.removesuffix("-cut")
    for low, high in SIDES_ALONG:
        for corner, other in ((low, high), (high, low)):
            name = f"{body}-{corner}"
            here = f"{HUBS}.{name}"
            words = {
                which: trace.constant(
                    f"plan.corners.{which}",
                    which,
                    f"Corner: {_words(which)}",
                    source="derived",
                )
                for which in (corner, other)
            }
            trace.compute(
                f"{here}.place",
                hub_of_corner,
                unit="m",
                title=f"Hub {_words(name)}: station, offset",
                outline=key,
                corner=words[corner],
                other=words[other],
                away="inputs.stake.hub_away_m",
            )
            _finish_hub(trace, name, f"{STAKES}.{body}-floor-{corner}.height_m")


def _add_structure_hubs(trace: Trace, structure: str) -> None:
    """A hub on both sides of a structure, square to the main."""
    point = f"{POINTS}.{structure}-structure"
    if f"{point}.station_m" not in trace:
        return
    for side, sign in (("left", -1.0), ("right", 1.0)):
        name = f"{structure}-structure-{side}"
        way = trace.constant(f"stake.sides.{side}", sign, f"To the {side}", source="derived")
        trace.compute(
            f"{HUBS}.{name}.place",
            stands_beside,
            unit="m",
            title=f"Hub {_words(name)}: station, offset",
            station=f"{point}.station_m",
            offset=f"{point}.offset_m",
            away="inputs.stake.hub_away_m",
            side=way,
        )
        _finish_hub(trace, name, f"{STAKES}.{structure}-structure.height_m")


def _finish_hub(trace: Trace, name: str, grade: str) -> None:
    """Grid coordinates of a hub, the grade below it, and its cut once it was shot."""
    here, words = f"{HUBS}.{name}", f"hub {_words(name)}"
    if trace.known(f"{here}.place"):
        _add_place(
            trace,
            here,
            words,
            (station_of_place, offset_of_place),
            {"place": f"{here}.place"},
        )
    if grade not in trace:
        return
    trace.compute(f"{here}.grade_m", same, unit="m", title=f"Grade below {words}", value=grade)
    shot = f"inputs.hub.{name}.height_m"
    if shot in trace:
        trace.compute(
            f"{here}.cut_m",
            cut_at_hub,
            unit="m",
            title=f"Cut at {words}",
            hub=shot,
            grade=f"{here}.grade_m",
        )


def _add_tapes(trace: Trace, outline: str) -> None:
    """Four sides and both diagonals of an outline, as a tape on the ground measures them."""
    if f"{POINTS}.{outline}-{CORNERS[0]}.north_m" not in trace:
        return
    around = [*pairwise((*CORNERS, CORNERS[0])), (CORNERS[0], CORNERS[2]), (CORNERS[1], CORNERS[3])]
    for first, second in around:
        a, b = (f"{POINTS}.{outline}-{corner}" for corner in (first, second))
        trace.compute(
            f"{TAPES}.{outline}.{first}-to-{second}_m",
            ground_distance,
            unit="m",
            title=f"Tape, {_words(outline)}: {_words(first)} to {_words(second)}",
            north=f"{a}.north_m",
            east=f"{a}.east_m",
            other_north=f"{b}.north_m",
            other_east=f"{b}.east_m",
            factor=FACTOR,
        )


def _add_locate(trace: Trace) -> None:
    """The ground that a locate request asks about: around all that is dug, and a margin."""
    parts = [f"{OUTLINES}.{n}" for n in trace.names(OUTLINES) if n.endswith(DUG)]
    parts += [f"{PIPES}.{name}.line" for name in trace.names(PIPES)]
    parts += [f"stake.lines.{name}" for name in trace.names("stake.lines")]
    parts = [key for key in parts if trace.known(key)]
    if not parts:
        return
    trace.compute(
        f"{LOCATE}.outline",
        rectangle_around,
        unit="m",
        title="Ground of the locate request: station, offset",
        margin="inputs.stake.locate_margin_m",
        **{argument_name(key): key for key in parts},
    )
    known = "inputs.baseline"
    if not trace.known(f"{known}.latitude_deg", f"{known}.longitude_deg"):
        return
    more = {}
    if f"{known}.convergence_deg" in trace:
        more["convergence_deg"] = f"{known}.convergence_deg"
    trace.compute(
        f"{LOCATE}.geographic",
        geographic_outline,
        unit="deg",
        title="Ground of the locate request: latitude, longitude",
        outline=f"{LOCATE}.outline",
        baseline=BASELINE,
        latitude_deg=f"{known}.latitude_deg",
        longitude_deg=f"{known}.longitude_deg",
        **more,
    )
