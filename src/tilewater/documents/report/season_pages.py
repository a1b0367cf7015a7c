# SPDX-License-Identifier: Apache-2.0
"""Pages of the seasons: emptying, the first weeks of a new bed, the winter."""

from collections.abc import Iterator
from math import isfinite

from tilewater.documents.paper.blocks import Block, Cell, Column, Heading, Paragraph, Table, number
from tilewater.documents.report.reading import TWO, Reading
from tilewater.documents.words import NOT_KNOWN

SHARES = ("50", "90", "95")
COVERS = (
    ("feed", "feed"),
    ("header_inlet", "inlet header"),
    ("header_outlet", "outlet header"),
)


def season_pages(reading: Reading) -> tuple[Block, ...]:
    """Emptying, start-up and winter."""
    blocks = (*_emptying(reading), *_start_up(reading), *_winter(reading))
    return (Heading("Emptying, start-up, winter", 1), *blocks) if blocks else ()


def _never(reading: Reading, key: str, text: str) -> Cell:
    return number("never" if text == "no limit" else text, reading.mark(key))


def _emptying(reading: Reading) -> Iterator[Block]:
    rows = tuple(
        (
            label,
            *(
                _never(reading, key, reading.say(key, "time"))
                for key in (f"drain_down.{label}_{share}_s" for share in SHARES)
            ),
        )
        for label in ("warm", "cold")
        if f"drain_down.{label}_50_s" in reading.trace
    )
    if not rows:
        return
    yield Heading("Emptying", 2)
    yield Paragraph("From full, feed shut, outlet boards out: time until this share has left.")
    heads = (f"{share} % out" for share in SHARES)
    yield Table((Column("water"), *(Column(head, "point") for head in heads)), rows)
    seasons = tuple(
        (
            season,
            reading.cell(f"emptying.seasons.{season}.ordinary.share"),
            reading.cell(f"emptying.seasons.{season}.high.share"),
            reading.cell(f"emptying.seasons.{season}.high.pool_m", "length"),
            reading.status(key)
            if f"{(key := f'emptying.seasons.{season}.stands_empty')}.status" in reading.trace
            else "no rule",
        )
        for season in reading.trace.names("emptying.seasons")
    )
    if seasons:
        yield Table(
            (
                Column("season"),
                Column("comes out", "point"),
                Column("ditch high", "point"),
                Column("left wet then", "point"),
                Column("may stand empty"),
            ),
            seasons,
        )
    first, full = (f"emptying.{k}_m3_s" for k in ("first_hour", "return_full"))
    yield Paragraph(
        (
            f"All boards out at once, new chips give {reading.say(first)} in the first hour",
            *reading.marks(first),
            f"; the return carries {reading.say(full)} full",
            *reading.marks(full),
            ". What stays is wet chips.",
        )
    )


def _start_up(reading: Reading) -> Iterator[Block]:
    if not reading.known("start_up.settings"):
        return
    words = reading.words
    unit = words.say(0.0, "size").rpartition(" ")[2]

    def days(first: float, last: float) -> str:
        return f"{first:.0f} to {last:.0f}" if isfinite(last) else f"from {first:.0f}"

    def boards(stack: tuple[float, ...]) -> str:
        listed = " + ".join(words.say(one, "size", unit=False) for one in stack)
        return f"{listed} {unit}" if stack else "none"

    yield Heading("The first weeks", 2)
    yield Paragraph(
        (
            f"New chips, begun in {reading.say('start_up.season')}; inlet boards as designed. ",
            "Below ",
            reading.say("start_up.least_m3_s"),
            *reading.marks("start_up.least_m3_s"),
            " a full bed holds its water long enough for sulfide: no season to start in.",
        )
    )
    yield Table(
        (Column("days"), Column("outlet boards"), Column("why", wide=True)),
        tuple(
            (days(s.from_day, s.to_day), boards(s.outlet_boards), s.why)
            for s in reading.value("start_up.settings")
        ),
    )
    here = "start_up.seasons"
    yield Table(
        (
            Column("season"),
            Column("flow", "point"),
            Column("pore volumes a day", "point"),
            Column("first board after", "point"),
            Column("last board after", "point"),
        ),
        tuple(
            (
                season,
                reading.cell(f"{here}.{season}.flow_m3_s"),
                reading.cell(f"{here}.{season}.pore_volumes_per_day", "number", style=TWO),
                reading.cell(f"{here}.{season}.days_first", "days", style=TWO),
                reading.cell(f"{here}.{season}.days_last", "days", style=TWO),
            )
            for season in reading.trace.names(here)
        ),
    )


def _winter(reading: Reading) -> Iterator[Block]:
    if "frost.setting" not in reading.trace:
        return
    yield Heading("Winter", 2)
    first, last = (reading.say(f"inputs.frost.frozen_{end}") for end in ("from", "to"))
    here = "capacity.snowmelt"
    flow, share = reading.say(f"{here}.flow_m3_s"), reading.say(f"{here}.share_of_peak")
    melt = "not known" if NOT_KNOWN in (flow, share) else f"{flow}, {share} of the peak"
    yield Paragraph(
        (
            f"Boards may be frozen in from {first} to {last}, set as in "
            f"{reading.say('frost.setting')}. Snowmelt through the bed: {melt}",
            *reading.marks(f"{here}.flow_m3_s"),
            ".",
        )
    )
    rows = tuple(
        (
            label,
            reading.cell(f"frost.{name}_cover_m", "length"),
            reading.cell("inputs.frost.depth_m", "length"),
            reading.status(f"frost.{name}"),
        )
        for name, label in COVERS
        if f"frost.{name}.status" in reading.trace
    )
    if rows:
        yield Table(
            (
                Column("pipe"),
                Column("soil over it", "point"),
                Column("frost", "point"),
                Column(""),
            ),
            rows,
        )
