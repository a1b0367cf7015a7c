# SPDX-License-Identifier: Apache-2.0
"""Pages of the field: clear soil at its spots, days too wet, the pool up the main."""

from collections.abc import Iterator

from tilewater.documents.paper.blocks import Block, Cell, Column, Heading, Paragraph, Run, Table
from tilewater.documents.report.level_pages import reserve
from tilewater.documents.report.reading import SHAPES, Reading
from tilewater.documents.words import NOT_KNOWN

KINDS = ("standing", "storm", "midway")
WET = ("season_days_per_year", "usual_run_days", "longest_run_days")


def field_pages(reading: Reading) -> tuple[Block, ...]:
    """What the boards do to the field."""
    spots = reading.trace.names("field")
    if not spots:
        return (
            Heading("The field", 1),
            Paragraph("No low spot or junction is listed, so the field could not be judged."),
        )
    reach = reading.words.about(reading.value("pool_reach_m"))
    pool = "How far the pool reaches up the main is not known"
    if reach != NOT_KNOWN:
        pool = f"The standing pool reaches {reach} up the main"
    return (
        Heading("The field", 1),
        Heading("Clear soil over the water", 2),
        Paragraph(
            (
                "Standing: the level pool of the boards. Storm: the grade line with the main just "
                "full and the bed shut off. Midway: the water table between two laterals in that "
                f"storm. {pool}",
                *reading.marks("pool_reach_m"),
                ".",
            )
        ),
        _clear_soil(reading, spots),
        *_wet_days(reading),
    )


def _clear_soil(reading: Reading, spots: tuple[str, ...]) -> Table:
    def line(spot: str) -> Iterator[Cell]:
        yield spot
        yield reading.say(f"inputs.spot.{spot}.station_m", "station")
        for kind in KINDS:
            yield reading.cell(f"field.{spot}.{kind}_m", "length", unit=False)
        yield reading.cell(f"field.{spot}.highest_crest_m", "elevation", unit=False)
        yield _worst(reading, spot)

    limits: tuple[Cell, ...] = (
        Run("at least", "muted"),
        "",
        *(reading.cell(f"inputs.limits.{kind}_m", "length", unit=False) for kind in KINDS),
        "",
        "",
    )
    unit = reading.words.say(0.0, "length").rpartition(" ")[2]
    return Table(
        (
            Column("spot", wide=True),
            Column("station", "right"),
            *(Column(f"{kind}, {unit}", "point") for kind in KINDS),
            Column("highest crest", "point"),
            Column(""),
        ),
        (limits, *(tuple(line(spot)) for spot in spots)),
        small=True,
    )


def _worst(reading: Reading, spot: str) -> Run:
    rules = [r for r in reading.trace.requirements if r.key.startswith(f"field.{spot}.")]
    kinds = [r for r in rules if r.key.rpartition(".")[2] in KINDS]
    if not kinds:
        return Run(SHAPES[NOT_KNOWN])
    binding = [r for r in kinds if reading.binds(r.key)]
    return reading.status((binding or [min(kinds, key=lambda r: reserve(reading, r))])[0].key)


def _wet_days(reading: Reading) -> Iterator[Block]:
    spots = reading.trace.names("water.spot")
    if not spots:
        return

    def line(spot: str) -> Iterator[Cell]:
        yield spot
        for state in ("boards_in", "boards_out"):
            for name in WET:
                yield reading.cell(f"water.spot.{spot}.{state}.{name}", "days", unit=False)
        key = f"field.{spot}.wet_days"
        yield reading.status(key) if f"{key}.status" in reading.trace else ""

    limit = reading.say("inputs.limits.wet_days", "days")
    yield Heading("Days too wet", 2)
    yield Paragraph(
        "Days of the crop season that end with less clear soil midway than the limit, from the "
        "daily record, boards in and boards out. Usual: days in a row that half the seasons keep "
        f"to, at most {limit}. Longest: of the whole record. Each spot is run as if the whole "
        "field lay like it."
    )
    yield Table(
        (
            Column("spot", wide=True),
            *(
                Column(f"{name}, {state}", "point")
                for state in ("in", "out")
                for name in ("a season", "usual", "longest")
            ),
            Column(""),
        ),
        tuple(tuple(line(spot)) for spot in spots),
        small=True,
    )
