# SPDX-License-Identifier: Apache-2.0
"""Blocks of a design about water and the bed: drain flow, size, capacity, boards."""

from collections.abc import Iterator
from itertools import pairwise

from tilewater.basis.trace import Trace
from tilewater.basis.units import Style
from tilewater.documents.pages.numbers import keyed, number
from tilewater.documents.pages.said import Cell, Part, block, dim, pairs, rows
from tilewater.documents.pages.summary_main import areas
from tilewater.documents.pages.summary_raised import is_raised
from tilewater.documents.words import NOT_KNOWN, Words, folded, step_value, together
from tilewater.practices.bed.board_kinds import crest_kind, ratings_of
from tilewater.practices.bed.board_steps import set_key

CANDIDATES = (
    ("main_full", "main, full"),
    ("drainage_coefficient", "drainage coefficient over the area"),
    ("laterals", "laterals, design water height"),
    ("main_surcharged", "main, surcharged to the ground"),
    ("laterals_at_surface", "laterals, water at the surface"),
    ("surface_inlets", "surface inlets"),
    ("pump", "pump"),
    ("measured", "largest flow measured"),
)
HEAD_AND_BYPASS = {"inlet": "bypass", "head": "head"}
"""What the sets of boards of a buffer are called; both stand in the one structure."""
TWO: Style = "two figures"
SIDES = ("length", "width")
LINES = (
    ("criterion", "criterion"),
    ("spring", "spring"),
    ("new", "new"),
)


def water(trace: Trace, words: Words) -> Part:
    """Drain flow: what could supply it, what controls it, both peaks."""
    group = "drain_flow.candidates_m3_s"
    named = dict(CANDIDATES)
    candidates = [
        (named.get(name, name.replace("_", " ")), f"{group}.{name}")
        for name in sorted(
            trace.names(group), key=lambda n: list(named).index(n) if n in named else 99
        )
    ]
    table = rows(
        ("could supply", "flow"),
        ((label, number(trace, words, key, "flow")) for label, key in candidates),
        right=(1,),
    )
    controls = str(words.of_key("", trace.value("drain_flow.controlled_by"), ""))
    lines: list[tuple[str, Cell]] = [
        ("controls", keyed(trace, controls, "drain_flow.controlled_by", "strong")),
        ("peak for shares", number(trace, words, "drain_flow.peak_for_share_m3_s", "flow")),
        ("peak for bypass", number(trace, words, "drain_flow.peak_for_bypass_m3_s", "flow")),
        ("mean year", _year(trace, words)),
    ]
    seen = areas(trace, words)
    if seen is not None:
        lines.insert(0, ("area", seen))
    basis = words.of_key("", trace.value("drain_flow.basis"), "")
    return block("Water", f"the year's flow is {basis}", table, pairs(lines))


def _year(trace: Trace, words: Words) -> str:
    depth = words.say(trace.value("drain_flow.mean_annual_depth_m"), "depth")
    days = words.say(trace.value("drain_flow.flow_days_per_year"), "days")
    nitrate = words.say(step_value(trace, "inputs.nitrate.mean_mg_per_l"), "concentration")
    load = words.say(trace.value("drain_flow.annual_load_kg"), "mass", style="two figures")
    return together(
        ("water", depth if depth == NOT_KNOWN else f"{depth} on {days}"),
        ("nitrate-N", folded("{} nitrate-N", nitrate)),
        ("load", folded("load {}", load)),
    )


def bed(trace: Trace, words: Words) -> Part:
    """The size of the bed, its floor and its chips."""

    def length(key: str) -> str:
        return words.say(step_value(trace, f"bed.{key}"), "length")

    def level(key: str) -> str:
        return words.say(step_value(trace, f"bed.{key}"), "elevation")

    slope = words.say(step_value(trace, "bed.side_slope"), "side_slope")
    size = folded("{} by {}", length("length_bottom_m"), length("width_bottom_m"))
    sides = ("sides", folded("sides {}", slope))
    deep = ("depth", folded("{} deep", length("media_depth_m")))
    wide = ("mean width", folded("mean width {}", length("width_mean_m")))
    ordered = words.say(step_value(trace, "quantities.chips-order.quantity"), "volume")
    neat = words.say(step_value(trace, "bed.media_volume_m3"), "volume")
    floor = level("floor_inlet_m")
    if level("floor_outlet_m") != floor:
        floor = f"{floor} at the inlet, {level('floor_outlet_m')} at the outlet"
    return block(
        "Bed",
        "",
        pairs(
            (
                *(_cells(trace, words) or [("floor", together(("size", size), sides))]),
                ("chips", keyed(trace, together(deep, wide), "bed.media_depth_m")),
                (
                    "volume",
                    together(
                        ("volume", folded("{} neat in place", neat)),
                        ("order", folded("order {}", ordered)),
                    ),
                ),
                ("floor at", keyed(trace, floor, "bed.floor_inlet_m")),
            )
        ),
    )


def _cells(trace: Trace, words: Words) -> list[tuple[str, Cell]]:
    """A line for each cell of a bed in several; they stand in place of the one floor."""
    lines: list[tuple[str, Cell]] = []
    for cell in trace.names("bed.cells"):
        here = f"bed.cells.{cell}"
        sides = (words.say(step_value(trace, f"{here}.{s}_bottom_m"), "length") for s in SIDES)
        opens = f"inputs.cell.{cell}.opens_at_m"
        when = "always open"
        if opens in trace:
            when = folded("opens at {}", words.say(step_value(trace, opens), "elevation"))
        size = ("size", folded("{} by {}", *sides))
        lines.append((f"cell {cell}", together(size, ("opens", when))))
    return lines


def capacity(trace: Trace, words: Words) -> Part:
    """The capacity lines side by side."""

    def line(name: str, label: str) -> Iterator[Cell]:
        here = f"capacity.{name}"
        yield label
        yield number(trace, words, f"{here}.flow_m3_s", "flow")
        yield number(trace, words, f"{here}.share_of_peak", "ratio")
        yield number(trace, words, f"{here}.retention_h")
        yield number(trace, words, f"{here}.conductivity_m_s", "media_conductivity")
        yield number(trace, words, f"{here}.temperature_c", "temperature")
        yield number(trace, words, f"{here}.age_years", "years")

    porosity = words.say(step_value(trace, "capacity.criterion.porosity"), "number")
    kind = words.of_key("", step_value(trace, "capacity.criterion.porosity_kind"), "")
    head = words.say(step_value(trace, "capacity.spring.bypass_head_m"), "length")
    over = "" if head == NOT_KNOWN else f", {head} over the bypass boards"
    return block(
        "Through the bed",
        "the verdict uses the criterion line",
        rows(
            ("line", "flow", "of peak", "in the bed", "chips", "water", "age"),
            (list(line(name, label)) for name, label in LINES),
            right=(1, 2, 3, 4, 5, 6),
        ),
        dim(
            f"Time in the bed with {kind} porosity {porosity}. Criterion: water at the "
            f"bypass crest, free outlet. Spring: main full{over}, ordinary ditch. "
            + _losses(trace, words)
        ),
    )


def _losses(trace: Trace, words: Words) -> str:
    """Where the head of the criterion line goes, from the diversion to the outlet crest."""
    here = "capacity.criterion.levels_m"
    nodes = ("diversion", "inlet_end", "outlet_end", "outlet_box")
    crest = "elevations.outlet_crest.elevation_m"
    keys = (*(f"{here}.{node}" for node in nodes), crest)
    if not trace.known(*(key for key in keys if key in trace)) or keys[0] not in trace:
        return "Where its head goes is not known."
    levels = [float(trace.value(key)) for key in keys]
    falls = [words.say(upper - lower, "length") for upper, lower in pairwise(levels)]
    return (
        f"Of the criterion line's head feed and inlet header take {falls[0]}, the chips "
        f"{falls[1]}, outlet header and pipe {falls[2]}, the outlet boards {falls[3]}."
    )


def seasons(trace: Trace, words: Words) -> Part | None:
    """What the aged bed takes in each season, with the boards and the ditch of that season."""
    lines: list[list[Cell]] = [
        [
            season,
            number(trace, words, f"boards.inlet-{season}.crest_m", "elevation"),
            number(trace, words, f"inputs.season.{season}.water_temperature_c", "temperature"),
            number(trace, words, f"seasons.{season}.flow_m3_s", "flow"),
            number(trace, words, f"seasons.{season}.share_of_peak", "ratio"),
        ]
        for season in trace.names("seasons")
    ]
    if not lines:
        return None
    heads = ("season", "bypass crest", "water", "flow", "of peak")
    note = "aged chips, water at that season's bypass crest"
    return block("By season", note, rows(heads, lines, right=(1, 2, 3, 4)), *_runs_back(trace))


def _runs_back(trace: Trace) -> tuple[Cell, ...]:
    """What a flow below zero means, where a season has one."""
    flows = [f"seasons.{season}.flow_m3_s" for season in trace.names("seasons")]
    if not any(trace.known(flow) and trace.value(flow) < 0 for flow in flows):
        return ()
    return (dim("Below zero: the ditch stands above that crest, and its water runs back."),)


def boards(trace: Trace, words: Words) -> Part:
    """Board stacks from the sill up; seasons with the same stack on one line."""
    stacks: dict[tuple[str, str, str, str], list[str]] = {}
    for name in trace.names("boards"):
        structure, _, season = name.partition("-")
        here = f"boards.{name}"
        if not season or f"{here}.stack_m" not in trace:
            continue
        key = (
            structure,
            _stack(trace, f"{here}.stack_m", words),
            words.say(step_value(trace, f"{here}.crest_m"), "elevation"),
            words.say(step_value(trace, f"{here}.rim_down_m"), "size"),
        )
        stacks.setdefault(key, []).append(season)
    called = HEAD_AND_BYPASS if "buffer.flow_m3_s" in trace else {}
    return block(
        "Boards",
        "from the sill up; the measure is down from the rim to the top board",
        rows(
            ("structure", "seasons", "boards", "crest", "down"),
            (
                (
                    called.get(structure, structure),
                    ", ".join(seasons),
                    keyed(trace, stack, f"boards.{structure}-{seasons[0]}.stack_m"),
                    keyed(trace, crest, f"boards.{structure}-{seasons[0]}.crest_m"),
                    keyed(trace, down, f"boards.{structure}-{seasons[0]}.rim_down_m"),
                )
                for (structure, stack, crest, down), seasons in stacks.items()
            ),
            right=(3, 4),
            wide=(1,),
        ),
        *(dim(line) for line in _ratings(trace, words)),
    )


def _ratings(trace: Trace, words: Words) -> Iterator[str]:
    """What the boards are rated by where it is no sharp crest, and what hangs on the rating."""
    for structure in ("inlet", "outlet"):
        if set_key(structure) not in trace:
            continue
        kind, names = crest_kind(trace, structure), ratings_of(trace, structure)[-1:]
        if kind != "sharp":
            said = words.of_key("", kind, "") + "".join(f" by rating.{name}" for name in names)
            yield f"Crest of the {structure} boards: {said}."
    yield from _heads(trace, words)


def _heads(trace: Trace, words: Words) -> Iterator[str]:
    """Head over the bypass crest with the range its rating leaves, and over the old main."""
    storm = "field_storm"
    head = words.say(step_value(trace, f"{storm}.head_m"), "length")
    low = words.say(step_value(trace, f"{storm}.head_low_m"), "length", unit=False)
    high = words.say(step_value(trace, f"{storm}.head_high_m"), "length")
    good = step_value(trace, f"{storm}.rating_uncertainty")
    if head != NOT_KNOWN:
        spread = f", {low} to {high} for a rating good to {words.say(good, 'ratio', style=TWO)}"
        told = spread if low != NOT_KNOWN else "; how well its rating is known is not said"
        shut = "line" if "buffer.flow_m3_s" in trace else "bed"
        off = "" if is_raised(trace) else f", {shut} shut off"
        yield f"Main full{off}: {head} over the bypass crest{told}."
    standing, full = (
        words.say(step_value(trace, f"old_main.diversion.{state}_head_m"), "length")
        for state in ("standing", "storm")
    )
    if full != NOT_KNOWN:
        yield f"Over the crown of the main at the boards: {standing} standing, {full} main full."


def _stack(trace: Trace, key: str, words: Words) -> str:
    value = trace.value(key)
    if not isinstance(value, tuple):
        return words.of_key(key, value, "m")
    if not value:
        return "none"
    unit = words.say(0.0, "size").rpartition(" ")[2]
    return " + ".join(words.say(one, "size", unit=False) for one in value) + f" {unit}"
