# SPDX-License-Identifier: Apache-2.0
"""The owner's second page: what it costs, what to do through the year, safety, whom to call."""

from collections.abc import Iterator
from datetime import date

from tilewater.documents.paper.blocks import (
    Block,
    Cell,
    Column,
    Heading,
    Items,
    Paragraph,
    Run,
    Table,
    Words,
)
from tilewater.documents.report import owner_buffer, owner_raised
from tilewater.documents.report.reading import TWO, Reading, sentence
from tilewater.documents.words import NOT_KNOWN

SHOWN = 4
YEARLY: tuple[Words, ...] = (
    "Open both lids and look in from above: water should run over the boards, not under them.",
    "After a wet week look whether water still goes into the bed, or all of it goes past.",
    "Walk the bed: no sunk places, no rutting, no trees, no burrows; keep heavy machines off it.",
    "Look at the outlet pipe in the ditch: its guard on, nothing in it, the bank whole.",
    "Note the boards, the date and what you saw; the office asks for it.",
)
REMARK = "Rotten eggs or black water: pull one outlet board, and call."
REMARKS = {
    "buffer": "A bank that cracks or slumps: pull two boards, and call.",
    "raised": owner_raised.REMARK,
}
SAFE: tuple[Words, ...] = (
    "Never climb into a structure, not for a moment. Pull boards from above with the hook. Gas in "
    "there kills without warning.",
    "Keep the lids locked, and children away from the open hole while it is being built.",
    "No digging before the utilities have been marked, your own lines too.",
)


def care_pages(reading: Reading) -> tuple[Block, ...]:
    """Cost, boards, yearly look, safety, open questions, whom to call."""
    name = reading.material.design.practice.name
    return (
        Heading("What it costs", 2),
        Paragraph(_cost(reading)),
        Heading("Your boards through the year", 2),
        *_boards(reading),
        Heading("Once a year", 2),
        Items({"buffer": owner_buffer.YEARLY, "raised": owner_raised.YEARLY}.get(name, YEARLY)),
        Heading("Stay safe", 2),
        Items(SAFE),
        *_open(reading),
        Heading("Whom to call", 2),
        Items(tuple(_call(reading))),
        Paragraph("Tilewater assists an engineer; it does not seal a design.", "note"),
    )


def _cost(reading: Reading) -> Words:
    whole, year = (
        reading.say("cost.total_usd", "money"),
        reading.say("cost.annual_usd", "money", style=TWO),
    )
    if whole == NOT_KNOWN:
        text = "The whole cost is not known yet: a price or a size is missing. "
    else:
        text = f"The engineer's estimate for the whole is {whole}. "
    if year != NOT_KNOWN:
        chips = "new chips, " if "cost.renewals_usd" in reading.trace else ""
        text += (
            f"Spread over the years, with {chips}upkeep and interest, it is {year} a year; what is "
            "set aside for surprises is not in that. "
        )
    return (
        text,
        "Your share of it is not known yet: it hangs on the programs that pay. ",
        Run("Do not let anyone break ground before the contract with them is signed.", "bold"),
    )


def _boards(reading: Reading) -> Iterator[Block]:
    rows = tuple(_season(reading, season) for season in reading.trace.names("inputs.season"))
    if not rows:
        yield Paragraph("No seasons are set yet; leave the boards as they are built.")
        return
    yield Paragraph("Measure from the rim of the structure down to the top board.")
    yield Table(
        (
            Column("season"),
            Column("from"),
            Column("to"),
            *(Column(f"{words}, down", "right") for _, words in _sets(reading)),
        ),
        rows,
    )
    told = []
    first, last = (reading.text(f"inputs.frost.frozen_{end}") for end in ("from", "to"))
    if first and last:
        told.append(
            f"Move no board from {day_words(first)} to {day_words(last)}: they may be frozen in."
        )
    limit = reading.say("uplift.finished.groundwater_limit_m")
    if limit != NOT_KNOWN:
        told.append(
            f"Call before you empty the bed: while the ground water stands above {limit}"
            f"{_ground(reading)} the sheet would lift."
        )
    told.append(REMARKS.get(reading.material.design.practice.name, REMARK))
    yield Paragraph(" ".join(told))


def _ground(reading: Reading) -> str:
    """Level of the ground, so that an elevation tells how deep the water may stand."""
    ground = reading.say("inputs.site.ground_at_bed_m", "elevation")
    return "" if ground == NOT_KNOWN else f", the ground there lying at {ground},"


def _season(reading: Reading, season: str) -> tuple[Cell, ...]:
    def down(structure: str) -> str:
        here = f"boards.{structure}-{season}.rim_down_m"
        key = here if here in reading.trace else f"boards.{structure}-design.rim_down_m"
        return reading.say(key, "size")

    days = (day_words(reading.text(f"inputs.season.{season}.{end}")) for end in ("from", "to"))
    return (season, *days, *(down(boards) for boards, _ in _sets(reading)))


def _sets(reading: Reading) -> tuple[tuple[str, str], ...]:
    """Sets of boards that are moved through the year, and what the owner calls them."""
    practice = reading.material.design.practice.name
    if practice == "raised":
        return (("inlet", "boards"),)
    if practice != "buffer":
        return (("inlet", "inlet"), ("outlet", "outlet"))
    head = (("head", "boards before the line"),)
    stack = "boards.head-design.stack_m"
    has_head = reading.known(stack) and reading.value(stack)
    return (("inlet", "boards"), *(head if has_head else ()))


def day_words(text: str) -> str:
    """A day of the year as one says it: `12-01` is December 1."""
    month, _, day = text.partition("-")
    if not (month.isdecimal() and day.isdecimal()):
        return text or NOT_KNOWN
    return f"{date(2000, int(month), int(day)):%B} {int(day)}"


def _open(reading: Reading) -> Iterator[Block]:
    items = reading.material.design.open_items
    if not items:
        return
    asked = [item for item in items if item.key.startswith("inputs.")]
    yield Heading("Still open", 2)
    if asked:
        yield Items(
            tuple(
                sentence(item.why.replace(": answered unknown", ": not known yet"))
                for item in asked[:SHOWN]
            )
        )
    if len(asked) > SHOWN or len(items) > len(asked):
        yield Paragraph("The engineer has further questions; the report lists them all.")


def _call(reading: Reading) -> Iterator[Words]:
    by = reading.text("inputs.job.prepared_by")
    yield f"About the design and the boards: {by or 'the office that gave you this sheet'}."
    district = reading.text("inputs.people.drainage_district")
    if district and district != "none":
        yield f"About the ditch: {district}."
    yield "Before anyone digs: the one-call center of your state."
