# SPDX-License-Identifier: Apache-2.0
"""Blocks of a design about levels: the field, the ladder of elevations, uplift."""

from collections.abc import Iterator

from tilewater.basis.requirement import Requirement
from tilewater.basis.trace import Trace
from tilewater.chain.design import Design
from tilewater.documents.pages.numbers import keyed, number
from tilewater.documents.pages.said import Cell, Part, Said, Tone, block, dim, rows, status
from tilewater.documents.words import NOT_KNOWN, Words, step_value

KINDS = ("standing", "storm", "midway")
SHOWN_ELSEWHERE = ("elevations.", "field.", "criteria.", "uplift.", "emptying.", "frost.")
STAGES = (
    ("liner_only", "lining only"),
    ("media_placed", "chips without cover"),
    ("finished", "finished"),
)


def field(design: Design, words: Words) -> Part:
    """Clear soil at every spot against its limits."""
    trace = design.trace
    binds = design.governs.key if design.governs else ""

    def line(spot: str) -> Iterator[Cell]:
        yield spot
        yield number(trace, words, f"inputs.spot.{spot}.station_m", "station")
        for kind in KINDS:
            key = f"field.{spot}.{kind}"
            tone: Tone = "binds" if key == binds else ""
            clear = f"{key}_m"
            yield number(trace, words, clear, "length", unit=False, tone=tone, if_not_known="?")
        yield number(trace, words, f"field.{spot}.highest_crest_m", "elevation")
        yield status(_worst(trace, spot), binds=binds.startswith(f"field.{spot}."))

    spots = trace.names("field")
    limits = [
        dim(words.say(step_value(trace, f"inputs.limits.{kind}_m"), "length", unit=False))
        for kind in KINDS
    ]
    if not spots:
        return block(
            "Field", "", Said("No spot is listed. Add low spots and junctions as [spot.NAME].")
        )
    unit = words.say(0.0, "length").rpartition(" ")[2]
    reach = words.about(step_value(trace, "pool_reach_m"))
    pool = f"the pool reaches {reach} up"
    if reach == NOT_KNOWN:
        pool = "reach of the pool not known"
    name = design.practice.name
    closed = "" if name == "raised" else f", {name} closed"
    return block(
        "Field",
        f"clear soil in {unit}, main full{closed}; {pool}",
        rows(
            ("spot", "station", *KINDS, "highest crest", ""),
            [[dim("at least"), "", *limits, "", ""], *(list(line(spot)) for spot in spots)],
            right=(1, 2, 3, 4, 5),
        ),
        *_held_higher(trace, words),
    )


HAIR = 0.003
"""A hundredth of a foot: what the page can show of a level. [m]"""


def _held_higher(trace: Trace, words: Words) -> tuple[Cell, ...]:
    """Where the ditch holds the storm at the boards higher than the clear soil is counted with."""
    counted = "field_storm.head_m"
    if not trace.known(counted):
        return ()
    free = float(trace.value(counted))
    cases = [("at snowmelt, ditch high,", "capacity.snowmelt")]
    cases += [(f"in {s}", f"seasons.{s}.full") for s in trace.names("seasons")]
    held = [
        (float(trace.value(f"{here}.level_m")), float(trace.value(f"{here}.bypass_head_m")), when)
        for when, here in cases
        if trace.known(f"{here}.level_m", f"{here}.bypass_head_m")
    ]
    held = [case for case in held if case[1] > free + HAIR]
    if not held:
        return ()
    level, head, when = max(held)
    stands = words.say(level, "elevation")
    over, fallen = words.say(head, "length", unit=False), words.say(free, "length")
    return (
        dim(
            f"Counted for water that falls free over the bypass boards. The ditch holds it higher: "
            f"{when} the main full stands at {stands} at the boards, {over} over their crest where "
            f"{fallen} are counted, and the soil upstream is that much wetter."
        ),
    )


def _worst(trace: Trace, spot: str) -> str:
    found = {str(trace.value(f"field.{spot}.{kind}.status")) for kind in KINDS}
    return next((word for word in ("short", "not known") if word in found), "holds")


def ladder(design: Design, words: Words) -> Part:
    """Elevations from the top down; of a rule judged by season, the season with least reserve."""
    trace = design.trace
    binds = design.governs.key if design.governs else ""
    tightest: dict[str, list[Requirement]] = {}
    for requirement in trace.requirements:
        if requirement.key.startswith("elevations."):
            tightest.setdefault(requirement.key.partition("-")[0], []).append(requirement)

    def line(requirements: list[Requirement]) -> list[Cell]:
        one = min(requirements, key=lambda r: _reserve(trace, r))
        more = f", tightest of {len(requirements)}" if len(requirements) > 1 else ""
        return [
            number(trace, words, f"{one.key}.elevation_m", "elevation"),
            Said(f"{one.title}{more}", "binds" if one.key == binds else ""),
            number(trace, words, one.value, "length"),
            number(trace, words, one.limit, "length"),
            status(str(trace.value(f"{one.key}.status")), binds=one.key == binds),
        ]

    def height(requirements: list[Requirement]) -> float:
        key = f"{min(requirements, key=lambda r: _reserve(trace, r)).key}.elevation_m"
        return -float(trace.value(key)) if trace.known(key) else 0.0

    return block(
        "Elevations",
        "",
        rows(
            ("elevation", "rule", "is", "at least", ""),
            (line(found) for found in sorted(tightest.values(), key=height)),
            right=(0, 2, 3),
            wide=(1,),
        ),
    )


def site(design: Design, words: Words) -> Part | None:
    """Rules that belong to no other block: footprint, right of way, bypass, the line above."""
    trace = design.trace
    binds = design.governs.key if design.governs else ""
    lines: list[list[Cell]] = []
    for one in trace.requirements:
        if one.key.startswith(SHOWN_ELSEWHERE):
            continue
        sign = "at least" if one.operator == ">=" else "at most"
        style: Tone = "binds" if one.key == binds else "" if one.binding else "quiet"
        lines.append(
            [
                Said(one.title, style),
                number(trace, words, one.value),
                keyed(trace, f"{sign} {words.of_step(trace.steps[one.limit])}", one.limit),
                status(str(trace.value(f"{one.key}.status")), binds=one.key == binds),
            ]
        )
    heads = ("rule", "is", "limit", "")
    return block("Site", "", rows(heads, lines, right=(1,), wide=(0,))) if lines else None


def _reserve(trace: Trace, requirement: Requirement) -> float:
    """Slack of a requirement; what is not known comes first."""
    key = f"{requirement.key}.slack"
    return float(trace.value(key)) if trace.known(key) else -float("inf")


def groundwater(design: Design, words: Words) -> Part:
    """Groundwater above which the empty bed may not be left, and anchors of the structures."""
    trace = design.trace
    binds = design.governs.key if design.governs else ""
    lines: list[list[Cell]] = []
    for stage, label in STAGES:
        if f"uplift.{stage}.groundwater_limit_m" not in trace:
            continue
        judged = f"uplift.{stage}.status"
        if judged not in trace:
            continue
        lines.append(
            [
                label,
                number(trace, words, f"uplift.{stage}.groundwater_limit_m", "elevation"),
                status(str(trace.value(judged)), binds=binds == f"uplift.{stage}"),
            ]
        )
    concrete = {
        name: words.concrete(step_value(trace, f"flotation.{name}.anchor_m3"))
        for name in trace.names("flotation")
    }
    anchors = ", ".join(f"{name} {text}" for name, text in concrete.items())
    if set(concrete.values()) == {NOT_KNOWN}:
        anchors = NOT_KNOWN
    if design.practice.name != "bed":
        words_of = f"Concrete that anchors the structure: {anchors}."
        return block("Structure", "when groundwater stands round its empty box", dim(words_of))
    note = "keep the bed full while groundwater stands above"
    body: list[Part] = []
    if lines:
        body.append(rows(("stage", "groundwater", ""), lines, right=(1,)))
    if anchors:
        body.append(dim(f"Anchor concrete of the structures: {anchors}."))
    return block("Uplift", note if lines else "no rule for this lining", *body)
