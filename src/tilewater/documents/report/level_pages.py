# SPDX-License-Identifier: Apache-2.0
"""Pages of levels: boards by season, the ladder of elevations, the ditch, groundwater."""

from collections.abc import Iterator

from tilewater.basis.requirement import Requirement
from tilewater.documents.paper.blocks import Block, Cell, Column, Heading, Paragraph, Run, Table
from tilewater.documents.report.reading import Reading
from tilewater.documents.words import LID_CARD, NOT_KNOWN

STAGES = (
    ("liner_only", "lining only"),
    ("media_placed", "chips without cover"),
    ("finished", "finished"),
)


def level_pages(reading: Reading) -> tuple[Block, ...]:
    """Boards, elevations, ditch and groundwater."""
    is_bed = reading.material.design.practice.name == "bed"
    return (
        Heading("Boards and elevations", 1, new_page=True),
        Heading("Boards by season", 2),
        *_boards(reading),
        Heading("Elevations from the top down", 2),
        _ladder(reading),
        *_ditch(reading),
        Heading("Groundwater and the empty bed" if is_bed else "Anchors", 2),
        *_groundwater(reading),
    )


def stacks(reading: Reading) -> Iterator[tuple[str, str, str]]:
    """Structure, setting and group of keys of every stack of boards."""
    for name in reading.trace.names("boards"):
        structure, _, setting = name.partition("-")
        if setting and f"boards.{name}.stack_m" in reading.trace:
            yield structure, setting, f"boards.{name}"


def stack_words(reading: Reading, key: str) -> str:
    """Boards of a stack from the sill up."""
    value, words = reading.value(key), reading.words
    if not isinstance(value, tuple):
        return NOT_KNOWN
    if not value:
        return "none"
    unit = words.say(0.0, "size").rpartition(" ")[2]
    return " + ".join(words.say(one, "size", unit=False) for one in value) + f" {unit}"


def _boards(reading: Reading) -> Iterator[Block]:
    rows = tuple(
        (
            structure,
            setting,
            stack_words(reading, f"{here}.stack_m"),
            reading.cell(f"{here}.crest_m", "elevation"),
            reading.cell(f"{here}.rim_down_m", "size"),
        )
        for structure, setting, here in stacks(reading)
    )
    if not rows:
        yield Paragraph("No boards are given.")
        return
    yield Table(
        (
            Column("structure"),
            Column("setting"),
            Column("boards from the sill up"),
            Column("crest", "point"),
            Column("down from the rim", "point"),
        ),
        rows,
    )
    yield Paragraph(LID_CARD)
    head = reading.say("field_storm.head_m", "length")
    if head != NOT_KNOWN:
        low = reading.say("field_storm.head_low_m", "length", unit=False)
        high = reading.say("field_storm.head_high_m", "length")
        practice = reading.material.design.practice.name
        shut = "" if practice == "raised" else f" and {practice} shut off"
        spread = (
            f", {low} to {high} within the uncertainty of the rating" if low != NOT_KNOWN else ""
        )
        yield Paragraph(
            (
                f"Main full{shut}: {head} over the crest of the design setting{spread}.",
                *reading.marks("field_storm.head_m"),
            )
        )


def _ladder(reading: Reading) -> Block:
    """Rules on elevations; of one judged by season, the season with the least reserve."""
    tightest: dict[str, list[Requirement]] = {}
    for rule in reading.trace.requirements:
        if rule.key.startswith("elevations."):
            tightest.setdefault(rule.key.partition("-")[0], []).append(rule)

    def height(rules: list[Requirement]) -> float:
        key = f"{min(rules, key=lambda r: reserve(reading, r)).key}.elevation_m"
        return -float(reading.value(key)) if reading.known(key) else 0.0

    rows = []
    for rules in sorted(tightest.values(), key=height):
        one = min(rules, key=lambda r: reserve(reading, r))
        more = f", tightest of {len(rules)}" if len(rules) > 1 else ""
        rows.append(
            (
                reading.cell(f"{one.key}.elevation_m", "elevation", unit=False),
                Run(f"{one.title}{more}", "binds" if reading.binds(one.key) else ""),
                reading.cell(one.value, "length"),
                reading.cell(one.limit, "length"),
                reading.status(one.key),
            )
        )
    return Table(
        (
            Column("elevation", "point"),
            Column("rule", wide=True),
            Column("is", "point"),
            Column("at least", "point"),
            Column(""),
        ),
        tuple(rows),
        small=True,
    )


def reserve(reading: Reading, rule: Requirement) -> float:
    """Slack of a rule; what is not known comes first."""
    key = f"{rule.key}.slack"
    return float(reading.value(key)) if reading.known(key) else -float("inf")


def _ditch(reading: Reading) -> Iterator[Block]:
    seasons = reading.trace.names("inputs.season")
    rows: list[tuple[Cell, ...]] = []
    for season in seasons:
        found = [
            next((k for k in keys if k in reading.trace), "")
            for keys in (
                (f"ditch.{season}.ordinary_m", f"inputs.season.{season}.ditch_stage_m"),
                (f"ditch.{season}.high_m", f"inputs.season.{season}.ditch_high_m"),
            )
        ]
        days = " to ".join(reading.text(f"inputs.season.{season}.{end}") for end in ("from", "to"))
        rows.append((season, days, *(reading.cell(key, "elevation") for key in found)))
    if not rows:
        return
    yield Heading("Ditch", 2)
    yield Paragraph(f"How its level is known: {reading.say('inputs.ditch.stage')}.")
    yield Table(
        (
            Column("season"),
            Column("days"),
            Column("ordinary", "point"),
            Column("high", "point"),
        ),
        tuple(rows),
    )


def _groundwater(reading: Reading) -> Iterator[Block]:
    rows = tuple(
        (
            label,
            reading.cell(f"uplift.{stage}.groundwater_limit_m"),
            reading.status(f"uplift.{stage}"),
        )
        for stage, label in STAGES
        if f"uplift.{stage}.groundwater_limit_m" in reading.trace
        and f"uplift.{stage}.status" in reading.trace
    )
    if rows:
        yield Paragraph("Keep the bed full while groundwater stands above these levels.")
        yield Table((Column("stage"), Column("groundwater", "point"), Column("")), rows)
    elif reading.material.design.practice.name == "bed":
        yield Paragraph("No rule on uplift for this lining.")
    anchors = tuple(
        (
            f"{name} structure",
            (
                reading.words.concrete(reading.value(f"flotation.{name}.anchor_m3")),
                *reading.marks(f"flotation.{name}.anchor_m3"),
            ),
        )
        for name in reading.trace.names("flotation")
    )
    if anchors:
        yield Table((Column("anchor against flotation"), Column("concrete", "right")), anchors)
