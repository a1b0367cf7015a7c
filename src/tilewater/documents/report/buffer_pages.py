# SPDX-License-Identifier: Apache-2.0
"""Pages of a buffer: its line, what it takes by either arm, its seasons, its bank, what is best."""

from collections.abc import Iterator

from tilewater.chain.buffer import AT_STAKE, flow_rule_words
from tilewater.documents.paper.blocks import (
    Block,
    Cell,
    Column,
    Heading,
    Paragraph,
    Run,
    Table,
    number,
)
from tilewater.documents.report.reading import TWO, Reading
from tilewater.practices.buffer.line_steps import YEAR, seasons
from tilewater.practices.buffer.soil_steps import BY, KINDS, used_kind

SIZES = (
    ("Line that lets water out", "buffer.line_length_m", "length"),
    ("Solid pipe of the line", "quantities.solid-line.quantity", "length"),
    ("Strip that the line takes up", "buffer.length_used_m", "length"),
    ("Strip that there is", "inputs.buffer.length_available_m", "length"),
    ("From line to water", "buffer.width_m", "length"),
    ("Pipe of the line", "inputs.buffer.pipe_diameter_m", "size"),
    ("Invert of the line", "inputs.buffer.line_invert_m", "elevation"),
    ("Soil over the line", "buffer.cover_m", "length"),
    ("Restrictive layer", "inputs.buffer.barrier_m", "elevation"),
    ("Head at the line above it", "buffer.head_line_m", "length"),
    ("Clear soil at the field edge", "buffer.field_edge.standing_m", "length"),
    ("Organic matter", "buffer.organic_matter", "ratio"),
)
BANK = (
    ("Height over the bottom of the ditch", "buffer.bank_height_m", "length"),
    ("Water comes out up to", "buffer.seep_m", "elevation"),
    ("That over the bottom of the ditch", "buffer.seep_above_toe_m", "length"),
    ("Gradient from line to ditch", "buffer.gradient", "number"),
    ("Gradient where water leaves", "buffer.exit_gradient", "number"),
    ("Limit of that gradient", "buffer.exit_gradient_limit", "number"),
    ("Lowest factor of safety", "buffer.bank_factor_low", "number"),
    ("Highest factor of safety", "buffer.bank_factor_high", "number"),
)
CURVES = (
    ("width", "Strip from line to water", "buffer.width_m"),
    ("length", "Line that lets water out", "buffer.line_length_m"),
    ("crest", "Bypass crest", "boards.inlet-design.crest_m"),
)


def buffer_pages(reading: Reading) -> tuple[Block, ...]:
    """The buffer and the water through it."""
    return (
        Heading("The buffer", 1, new_page=True),
        Table((Column("size"), Column("", "point")), _listed(reading, SIZES), small=True),
        Heading("What it takes", 2),
        Paragraph(Run(flow_rule_words(reading.trace), "bold")),
        *_conductivity(reading),
        Heading("By season", 2),
        _seasons(reading),
        Heading("The bank", 2),
        Table((Column("bank"), Column("", "point")), _listed(reading, BANK), small=True),
        Paragraph(AT_STAKE, "note"),
        *_best(reading),
    )


def _listed(
    reading: Reading, rows: tuple[tuple[str, str, str], ...]
) -> tuple[tuple[Cell, ...], ...]:
    return tuple(
        (label, reading.cell(key, kind)) for label, key, kind in rows if key in reading.trace
    )


def _conductivity(reading: Reading) -> Iterator[Block]:
    """Each kind of conductivity with the flow by it, and which one is computed with."""
    used, season = used_kind(reading.trace), reading.text("buffer.criterion_season")
    here = f"buffer.season.{season}"
    rows: list[tuple[Cell, ...]] = [
        (
            Run(label, "bold" if kind == used else ""),
            reading.cell(f"{BY}.{kind}_m_s", "conductivity"),
            reading.cell(f"{BY}.{kind}_factor", "number"),
            reading.cell(f"{here}.flow_{kind}_m3_s"),
            reading.cell(f"{here}.share_{kind}_of_peak"),
            "used" if kind == used else "",
        )
        for label, kind in KINDS.items()
        if f"{BY}.{kind}_m_s" in reading.trace
    ]
    if not rows:
        yield Paragraph("No conductivity of the strip is given, so nothing of this is known.")
        return
    when = "" if season == YEAR else f" in {season}"
    yield Paragraph(
        f"By each kind of conductivity, with the water at the bypass crest and the ditch at its "
        f"ordinary level{when}. Kinds are never mixed."
    )
    heads = ("conductivity", "off by, factor", "flow", "of capacity")
    yield Table((Column("by"), *(Column(head, "point") for head in heads), Column("")), tuple(rows))


def _seasons(reading: Reading) -> Table:
    def line(season: str) -> tuple[Cell, ...]:
        here, setting = f"buffer.season.{season}", "design" if season == YEAR else season
        return (
            season,
            reading.cell(f"boards.inlet-{setting}.crest_m", "elevation"),
            reading.cell(f"ditch.{season}.stage_m", "elevation"),
            reading.cell(f"{here}.flow_m3_s"),
            reading.cell(f"{here}.share_of_peak"),
            reading.cell(f"{here}.travel_time_days", "days"),
        )

    heads = ("bypass crest", "ditch", "flow", "of capacity", "travel time")
    return Table(
        (Column("season"), *(Column(head, "point") for head in heads)),
        tuple(map(line, seasons(reading.trace))),
    )


def _best(reading: Reading) -> Iterator[Block]:
    """What would remove most here, and between what it makes little difference."""
    trace, words = reading.trace, reading.words
    rows: list[tuple[Cell, ...]] = []
    for name, label, key in CURVES:
        if not trace.known(f"buffer.curve.{name}"):
            continue
        curve = trace.value(f"buffer.curve.{name}")
        rows.append(
            (
                label,
                reading.cell(key, "length"),
                number(words.say(curve.best, "length"), reading.mark(f"buffer.curve.{name}")),
                number(words.say(curve.flat_low, "length")),
                number(words.say(curve.flat_high, "length")),
                number(words.say(float(curve.removed_share.max()), "ratio", style=TWO)),
            )
        )
    if not rows:
        return
    yield Heading("What removes most here", 2)
    yield Paragraph(
        "Over the days of the record, one thing changed at a time, within what there is room for. "
        "Between the two ends no more than a twentieth of the most is lost."
    )
    heads = ("here", "most at", "from", "to", "of the nitrate")
    yield Table((Column("what"), *(Column(head, "point") for head in heads)), tuple(rows))
