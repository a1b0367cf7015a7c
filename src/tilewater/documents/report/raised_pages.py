# SPDX-License-Identifier: Apache-2.0
"""Pages of an outlet raised in season: its boards, its ground, what is kept back and where it goes.

No water is treated by boards alone; every heading says "kept back", and what may come out again
past the boards stands beside it.
"""

from collections.abc import Iterator

from tilewater.chain.raised_days import WAYS
from tilewater.documents.paper.blocks import Block, Cell, Column, Heading, Paragraph, Table
from tilewater.documents.report.level_pages import stack_words
from tilewater.documents.report.reading import TWO, Reading
from tilewater.documents.words import LID_CARD

ZONE = (
    ("Pool reaches up the main", "pool_reach_m", "length"),
    ("Highest crest of all settings", "raised.highest_crest_m", "elevation"),
    ("Highest crest that the field allows", "highest_crest_m", "elevation"),
    ("Highest water under the lowest ground", "raised.water_below_lowest_m", "length"),
    ("Fall of the ground that the boards reach", "raised.zone_fall_m", "length"),
    ("Slope of that ground along the main", "raised.zone_slope", "slope"),
    ("Solid pipe on each side of the structure", "raised.solid_pipe_m", "length"),
    ("Water in the structure at the largest flow", "bypass.level_m", "elevation"),
)
KEPT = (
    ("Nitrate-N kept back in a year", "removal.removed_kg", ""),
    ("of the site's load", "removal.site_percent", "percent"),
    ("Nitrate-N kept back, mean of all years", "removal.long_run_removed_kg", ""),
    ("Drain flow kept back, all years", "days.kept_share", ""),
    ("Nitrate-N that may pass round the boards", "days.round_boards_kg", ""),
)
QUANTILES = ("p10", "p50", "p90")


def raised_pages(reading: Reading) -> tuple[Block, ...]:
    """The raised outlet, and the water that it holds back."""
    return (
        Heading("The raised outlet", 1, new_page=True),
        Heading("Boards and the ground that they reach", 2),
        Table(
            (Column("ground"), Column("", "point")),
            tuple((label, reading.cell(key, kind)) for label, key, kind in ZONE),
        ),
        *_seasons(reading),
        Heading("Kept back", 2),
        *_kept(reading),
        *_where(reading),
    )


def _seasons(reading: Reading) -> Iterator[Block]:
    rows: list[tuple[Cell, ...]] = []
    for season in reading.trace.names("inputs.season"):
        here = f"boards.inlet-{season}"
        if f"{here}.crest_m" not in reading.trace:
            continue
        days = " to ".join(reading.text(f"inputs.season.{season}.{end}") for end in ("from", "to"))
        rows.append(
            (
                season,
                days,
                stack_words(reading, f"{here}.stack_m"),
                reading.cell(f"{here}.crest_m", "elevation"),
                reading.cell(f"{here}.rim_down_m", "size"),
            )
        )
    if not rows:
        return
    yield Heading("The boards of each season", 2)
    yield Table(
        (
            Column("season"),
            Column("days"),
            Column("boards from the sill up"),
            Column("crest", "point"),
            Column("down from the rim", "point"),
        ),
        tuple(rows),
    )
    yield Paragraph(LID_CARD)


def _kept(reading: Reading) -> Iterator[Block]:
    """What does not leave by the drains, with its honest range."""
    rows: list[tuple[Cell, ...]] = []
    for label, group, kind in KEPT:
        keys = [f"{group}.{p}" for p in QUANTILES]
        if reading.known(*keys):
            rows.append((label, *(reading.cell(key, kind, style=TWO) for key in keys)))
    if not rows:
        yield Paragraph(
            "Not known: the field is not known day by day. Give a file of daily weather, and the "
            "field is run with the boards in and out."
        )
        return
    draws = f"{len(reading.value('days.draws'))} draws of soil and nitrate"
    years = reading.say("removal.whole_years", "years")
    yield Paragraph(
        "No water is treated: this is nitrate that does not leave by the drains, since less water "
        f"does. Each of {draws} was run over {years} of weather with the boards in and out. Of a "
        "single year the range holds years that keep back nothing or let out more, since water "
        "held in autumn leaves in spring. Beside measured plots the model kept back less than "
        "they did. Two figures, no more are known."
    )
    heads = ("one in ten below", "middle", "one in ten above")
    yield Table((Column(""), *(Column(head, "point") for head in heads)), tuple(rows))


def _where(reading: Reading) -> Iterator[Block]:
    """Where the water of a mean year goes, boards out and in."""
    parts = {"drain_flow": "through the drains", "inlet_flow": "through surface inlets", **WAYS}
    rows: list[tuple[Cell, ...]] = []
    for part, words in parts.items():
        here = f"raised.balance.{part}"
        if not reading.known(f"{here}.out_m", f"{here}.change_m"):
            continue
        rows.append(
            (
                words,
                reading.cell(f"{here}.out_m", "depth"),
                reading.cell(f"water.balance.{part}_m", "depth"),
                reading.cell(f"{here}.change_m", "depth"),
            )
        )
    if not rows:
        return
    yield Heading("Where the water goes", 2)
    yield Paragraph("Depth over the field, mean year of the record, best estimate of the field.")
    heads = ("boards out", "boards in", "more with them")
    yield Table((Column("goes"), *(Column(head, "point") for head in heads)), tuple(rows))
