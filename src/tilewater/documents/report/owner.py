# SPDX-License-Identifier: Apache-2.0
"""The owner's two pages: what the practice does, costs and asks, in plain words."""

from collections.abc import Iterator

from tilewater.chain.calculation import calculation
from tilewater.chain.verdict import FITS, OPEN, SHORT, reasons
from tilewater.documents.paper.blocks import (
    Banner,
    Block,
    Cell,
    Column,
    Document,
    Heading,
    Items,
    NewPage,
    Paragraph,
    Run,
    Table,
    Words,
)
from tilewater.documents.report import owner_buffer, owner_raised
from tilewater.documents.report.governing import removal_group, span
from tilewater.documents.report.material import ReportMaterial
from tilewater.documents.report.owner_care import care_pages
from tilewater.documents.report.owner_sketch import water_under_field
from tilewater.documents.report.reading import TWO, Reading, sentence
from tilewater.documents.report.sheet import on_paper
from tilewater.documents.words import NOT_KNOWN

ANSWERS = {
    FITS: "{} fits at this outlet.",
    OPEN: "{} fits here, as far as we know today.",
    SHORT: "As planned, {} does not fit here.",
}
UNSURE = "We cannot say yet whether {} fits here."
OF_PRACTICE = {
    "buffer": (owner_buffer.does, owner_buffer.will_not),
    "raised": (owner_raised.does, owner_raised.will_not),
}
"""What a practice does and what it does not; of a bed it stands here."""
REASONS = 3
SPOTS = 4


def owner_document(material: ReportMaterial) -> Document:
    """Two pages for the owner."""
    reading = Reading(material, calculation(material.trace))
    does, will_not = OF_PRACTICE.get(material.design.practice.name, (_does, _will_not))
    return on_paper(
        material,
        "For the owner",
        (
            Banner(
                material.title,
                tuple(_about(reading)),
                sentence(
                    ANSWERS.get(material.design.verdict, UNSURE).format(_with_article(material))
                ),
                _why(reading),
            ),
            *_short_list(reading),
            Heading("What it does", 2),
            Paragraph(does(reading)),
            Heading("What it will not do", 2),
            Items(tuple(will_not(reading))),
            Heading("Your wet corner", 2),
            *_wet_corner(reading),
            NewPage(),
            *care_pages(reading),
        ),
    )


def _with_article(material: ReportMaterial) -> str:
    """What is designed, as one says it in a sentence."""
    words = material.design.practice.words
    return f"{'an' if words[0] in 'aeiou' else 'a'} {words}"


def _about(reading: Reading) -> Iterator[str]:
    owner, by = reading.text("inputs.people.owner"), reading.text("inputs.job.prepared_by")
    day = reading.text("inputs.job.date")
    parts = (f"For {owner}" if owner else "For the owner", f"from {by}" if by else "", day)
    yield " · ".join(filter(None, parts))


def _why(reading: Reading) -> Words:
    """Reasons against it, or how much is still open."""
    design, trace = reading.material.design, reading.trace
    short = [requirement.title for requirement in reasons(trace)]
    if short:
        told = "; ".join(short[:REASONS])
        return f"What falls short: {told[0].lower()}{told[1:]}."
    if design.open_items:
        return "Some questions are still open; they are listed on the next page."
    return ""


def _short_list(reading: Reading) -> Iterator[Block]:
    if items := tuple(_in_short(reading)):
        yield Items(items)


def _in_short(reading: Reading) -> Iterator[Words]:
    """What one asks first: what it takes out, costs, does to the field, and asks of one.

    Nothing of what does not fit.
    """
    if reading.material.design.verdict == SHORT:
        return
    if taken := _taken_out(reading):
        yield taken
    whole = reading.say("cost.total_usd", "money")
    if whole != NOT_KNOWN:
        yield "It costs ", Run(whole, "bold"), " to build; your share of that is not known yet."
    wet = _wettest(reading)
    if wet:
        yield wet
    if reading.trace.names("inputs.season"):
        yield "You set the boards by season and look at it once a year."


def _taken_out(reading: Reading) -> Words:
    """What it takes out in a year, "" where that is not known; of boards what they keep back."""
    if reading.material.design.practice.name == "raised":
        return owner_raised.in_short(reading)
    group = removal_group(reading)
    removed = span(reading, f"{group}.removed_kg")
    share = span(reading, f"{group}.site_percent", "percent")
    if NOT_KNOWN in (removed, share):
        return ""
    return (
        "It takes out ",
        Run(f"{removed} of nitrogen a year", "bold"),
        f", {share} of what leaves the field in this main.",
    )


def _wettest(reading: Reading) -> Words:
    """Days too wet at the worst spot, with the boards and without; "" where no day is known."""
    here = "water.spot"
    key = "season_days_per_year"
    spots = [
        spot
        for spot in reading.trace.names(here)
        if reading.known(f"{here}.{spot}.boards_in.{key}", f"{here}.{spot}.boards_out.{key}")
    ]
    if not spots:
        return ""
    worst = max(spots, key=lambda spot: float(reading.value(f"{here}.{spot}.boards_in.{key}")))
    within, without = (
        reading.say(f"{here}.{worst}.{state}.{key}", "days", style=TWO)
        for state in ("boards_in", "boards_out")
    )
    return (
        f"Your wettest spot, {worst}, is too wet on ",
        Run(f"{within} of a usual crop season", "bold"),
        f"; without the boards on {without}.",
    )


def _does(reading: Reading) -> str:
    length, width, depth = (
        reading.words.about(reading.value(f"bed.{key}"))
        for key in ("length_bottom_m", "width_bottom_m", "media_depth_m")
    )
    size = "a pit filled with woodchips"
    if NOT_KNOWN not in (length, width, depth):
        size = (
            f"a pit {length} long and {width} wide at its floor, filled {depth} deep with woodchips"
        )
    text = (
        f"The water of your tile main is led through {size}. Microbes that live on the wet chips "
        "turn nitrate into nitrogen gas, which is most of the air. "
    )
    group = removal_group(reading)
    treated = reading.say(f"{group}.treated_volume_share.p50", style=TWO)
    if treated != NOT_KNOWN:
        text += f"In a usual year about {treated} of the water goes through; the rest goes past. "
    if span(reading, f"{group}.removed_kg") == NOT_KNOWN:
        return text + "How much nitrogen that takes out is not known yet."
    return text + (
        "No one can name closer what it takes out: no two beds and no two years are alike."
    )


def _will_not(reading: Reading) -> Iterator[Words]:
    yield "It does not drain your field any better, and it does not change what you apply."
    yield "It does not treat the water that goes past when the drains run hardest."
    yield "It is not made for phosphorus; in the first weeks it lets some go, and runs brown."
    life = reading.say("life.permeability_years", "years", style=TWO)
    if life == NOT_KNOWN:
        yield "It does not last for ever: the chips clog and rot, and are renewed."
    else:
        yield f"It does not last for ever: by our sums the chips take their share for {life}."


def _wet_corner(reading: Reading) -> Iterator[Block]:
    spots = reading.trace.names("field")
    if not spots:
        yield Paragraph(
            "Nobody has told us of a low spot above the boards. If there is one, tell us before "
            "anything is built: the boards hold the water higher."
        )
        return
    yield Paragraph(
        "The boards hold water back in the main, so a low spot close above them gets wetter. This "
        "is how it stands at the spots that were surveyed."
    )
    figure = water_under_field(reading)
    if figure is not None:
        yield figure
    yield from _wet_days(reading)


def _wet_days(reading: Reading) -> Iterator[Block]:
    here = "water.spot"
    spots = [
        spot
        for spot in reading.trace.names(here)
        if reading.known(f"{here}.{spot}.boards_in.season_days_per_year")
    ]
    if not spots:
        yield Paragraph(
            "How many more wet days that makes is not known: there is no daily record to work "
            "them from."
        )
        return
    limit = reading.say("inputs.limits.midway_m", "length")

    def days(spot: str, state: str) -> Cell:
        return reading.say(f"{here}.{spot}.{state}.season_days_per_year", "days", style=TWO)

    yield Paragraph(
        f"Too wet means less than {limit} of dry soil midway between two tiles. Days of a usual "
        "crop season that are too wet:"
    )
    yield Table(
        (Column("spot"), Column("boards in", "right"), Column("without boards", "right")),
        tuple((s, days(s, "boards_in"), days(s, "boards_out")) for s in spots[:SPOTS]),
    )
