# SPDX-License-Identifier: Apache-2.0
"""The operation and maintenance plan: boards and dates, what is looked at when, what can hurt.

What is looked at and how often is common practice without a source, and says so; what a program or
a state asks for goes before it.
"""

from collections.abc import Iterator

from tilewater.chain.operate_given import DATES
from tilewater.chain.operate_plan import Period
from tilewater.chain.operate_rows import ROWS
from tilewater.documents.pages.operate_page import (
    day_said,
    set_said,
    stack_said,
)
from tilewater.documents.paper.blocks import (
    Banner,
    Block,
    Cell,
    Column,
    Document,
    Heading,
    Items,
    Paragraph,
    Run,
    Table,
    Words,
)
from tilewater.documents.paper.press import press
from tilewater.documents.running.inspections import INSPECTIONS
from tilewater.documents.running.material import (
    SMELL,
    RunningMaterial,
    empty_words,
    frost_words,
)

STAY_SAFE: tuple[Words, ...] = (
    "Nobody enters a structure, not for a moment and not to save another: gas collects there, and "
    "air without oxygen gives no warning. Entering is for people trained and equipped for confined "
    "spaces. Work from above with the hook.",
    "Never alone: somebody stands by and knows whom to call.",
    "A lid is heavy. Lift it with two people or a tool, stand clear of the opening, and lock it.",
    "Open water, ice and a steep bank: keep off; ice over a structure or the ditch does not carry.",
    "No traffic over the bed or the line: no planter, combine, truck or stored bales.",
    "No digging before the utilities are marked, private lines too.",
    "Local codes, and the person who is competent on the site, go before this plan.",
)
PRACTICE = {"bed": "bed", "buffer": "saturated buffer", "raised": "raised outlet"}


def press_plan(material: RunningMaterial) -> bytes:
    """The plan as a PDF file."""
    return press(plan_document(material))


def plan_document(material: RunningMaterial) -> Document:
    """The plan as plain records."""
    return Document(
        title=f"Operation and maintenance plan, {material.title}",
        head=material.title,
        kind="operation and maintenance plan",
        foot=f"Tilewater {material.version}",
        paper=material.paper,
        blocks=tuple(_blocks(material)),
    )


def _blocks(material: RunningMaterial) -> Iterator[Block]:
    yield Banner(
        "Operation and maintenance plan",
        (material.title, f"How the {PRACTICE[material.practice]} is run and looked after."),
    )
    yield Heading("What can hurt someone", 2)
    yield Items(STAY_SAFE)
    yield Heading("Boards through the year", 2)
    yield from _boards(material)
    yield Heading("Moving them", 2)
    yield Items(tuple(_moving(material)))
    yield Heading("Why these boards", 2)
    yield from _why(material)
    if material.practice == "bed":
        yield Heading("The first weeks of new chips", 2)
        yield Paragraph(_flush(material))
    yield Heading("What to look at", 2)
    yield Paragraph(
        "Common practice, no source; what your program asks for goes before it.", "note"
    )
    yield _looks(material)
    yield Heading("When it grows old", 2)
    yield Paragraph(_renewal(material))
    yield Heading("Whom to call", 2)
    yield Items(tuple(_call(material)))
    yield Paragraph("Tilewater assists an engineer; it does not seal a design.", "note")


def _boards(material: RunningMaterial) -> Iterator[Block]:
    words = material.words
    lines: list[tuple[Cell, ...]] = []
    ruled = []
    for period in material.periods:
        ruled.append(len(lines))
        for number, stack in enumerate(period.stacks):
            lines.append(
                (
                    _dates(period) if number == 0 else "",
                    set_said(stack.board_set, period.stacks),
                    stack_said(stack.boards, words),
                    Run(words.say(stack.rim_down, "size"), "bold"),
                    words.say(stack.crest, "elevation"),
                )
            )
    yield Paragraph("Measure from the rim of the structure down to the top board.")
    yield Table(
        (
            Column("days"),
            Column("set"),
            Column("stack from the sill up", wide=True),
            Column("rim down", "right"),
            Column("crest", "right"),
        ),
        tuple(lines),
        ruled=tuple(ruled[1:]),
    )
    basis = material.trace.value(DATES).basis if material.trace.known(DATES) else ""
    if basis:
        yield Paragraph(
            f"The days are those of {basis}. A date that moves takes with it only the days that "
            "hang on it; run the program again for the boards.",
            "note",
        )


def _dates(period: Period) -> str:
    if period.turn is None:
        return "all year"
    return f"{day_said(period.turn.day)} to {day_said(period.until)}"


def _moving(material: RunningMaterial) -> Iterator[Words]:
    yield (
        "In spring take out or put in no more than one board in 12 hours, the top one first, so "
        "that neither the bank of the ditch nor the field drains with a shock (common practice, "
        "no source)."
    )
    for period in material.periods:
        key = f"{period.key}.change_s"
        if period.turn is None or not material.trace.known(key):
            continue
        told = f"{day_said(period.turn.day)}, {period.why}: {material.say(key, 'time')} from the "
        told += "first board to the last"
        drain = material.say(f"{period.key}.drain_s", "time")
        if drain:
            told += (
                f"; the bed then lets go 90 percent of what stands too high in {drain}, feed shut"
            )
        soil = material.say(f"{period.key}.clear_soil_m", "length")
        if soil:
            told += f". Clear soil over standing water at the lowest spot: {soil}"
        yield f"{told}."
    yield from filter(None, (frost_words(material), empty_words(material)))
    yield "Write every change down: day, hour, set, stack, who. The analysis rests on it."


def _why(material: RunningMaterial) -> Iterator[Block]:
    told = [f.message for f in material.findings if f.code in ("boards-worth", "boards-low-flow")]
    told += [
        f.message
        for f in material.findings
        if f.code in ("boards-not-searched", "boards-by-seasons", "boards-wet")
    ]
    for message in told:
        yield Paragraph(message)
    here, words = f"{ROWS}.{material.operation.chosen}", material.words
    if material.trace.known(f"{here}.removed_kg.p50"):
        low, mid, high = (
            words.say(material.trace.value(f"{here}.removed_kg.{p}"), "mass", style="two figures")
            for p in ("p10", "p50", "p90")
        )
        verb = "keep back" if material.practice == "raised" else "take out"
        yield Paragraph(
            f"With these boards a year may {verb} {mid} of nitrate nitrogen; one year in ten less "
            f"than {low}, one in ten more than {high}."
        )


def _flush(material: RunningMaterial) -> str:
    trace, words = material.trace, material.words
    season = material.text("start_up.season")
    ends = [f"start_up.seasons.{season}.days_{end}" for end in ("first", "last")]
    text = (
        "New chips give off brown water. Leave the outlet boards out until 3 pore volumes have run "
        "through, put them in one by one until 10 have, and do it while the ditch carries much "
        "water (common practice, no source)."
    )
    if season and trace.known(*ends):
        first, last = (words.say(trace.value(k), "days", style="two figures") for k in ends)
        text += f" At the usual flow of {season}: {first} to {last}."
    return text


def _looks(material: RunningMaterial) -> Table:
    rows = tuple(
        (Run(each.what, "bold"), each.when, each.do)
        for each in INSPECTIONS
        if material.practice in each.practices
    )
    columns = (
        Column("what", wide=True, share=1.3),
        Column("when", wide=True),
        Column("what to do", wide=True, share=1.8),
    )
    return Table(columns, rows)


def _renewal(material: RunningMaterial) -> str:
    if material.practice == "bed":
        years = material.say("inputs.media.design_year", "number")
        counted = f" The design counts on new chips after {years} years." if years else ""
        return (
            "Chips lose their openings long before their carbon. Think of renewal where two of "
            "these are so: less water goes in at the same levels than half of what it was; the "
            "share treated stays small in two ordinary years; at the same time in the bed half as "
            f"much nitrate goes; the ground over it sinks.{counted}"
        )
    if material.practice == "buffer":
        return (
            "A line takes less water when its openings or the soil around it clog. Think of "
            "flushing or renewing it where, at the same level of the boards, less goes in each "
            "year."
        )
    return "Boards and seals wear. Renew a board that warps, and seals that leak."


def _call(material: RunningMaterial) -> Iterator[Words]:
    yield f"About the boards: {material.call}."
    if material.district:
        yield f"About the ditch: {material.district}."
    yield SMELL[material.practice]
    yield "Before anyone digs: the one-call center of your state."
