# SPDX-License-Identifier: Apache-2.0
"""Parts of pages: what the spread of the answer comes from, what to measure, what else it does."""

from collections.abc import Iterator
from itertools import pairwise

from tilewater.chain.advice import advice_in_order
from tilewater.chain.decides import HERE
from tilewater.chain.measurements import LITTLE, advice_words, cannot_tell
from tilewater.chain.side_effects import HERE as SIDE
from tilewater.documents.paper.blocks import (
    Block,
    Column,
    Heading,
    Items,
    Paragraph,
    Run,
    Table,
)
from tilewater.documents.report.reading import TWO, Reading

OUTPUTS = (
    ("removed_kg", "removed in a year"),
    ("long_run_removed_kg", "removed in a mean year"),
    ("long_run_share", "share of the water treated"),
    ("share_of_peak", "share of the peak"),
)
MOST = 4
"""Causes of a spread, or measurements, that a page names."""


def what_decides(reading: Reading) -> Iterator[Block]:
    """Which parameters the spread of each answer comes from."""
    rows = tuple(
        (label, _causes(reading, output))
        for output, label in OUTPUTS
        if reading.known(f"{HERE}.{output}.shares")
    )
    if rows:
        yield Heading("What the spread comes from", 2)
        yield Paragraph("Percent of the variance over the draws, and its standard error.")
        yield Table((Column("spread of"), Column("comes from", wide=True)), rows)


def _causes(reading: Reading, output: str) -> str:
    shares = reading.value(f"{HERE}.{output}.shares").first
    order = sorted(shares.items(), key=lambda item: -float(item[1].share))
    told = [(name, one) for name, one in order if one.is_told and one.share >= LITTLE]
    return (
        ", ".join(
            f"{name.replace('-', ' ')} {100 * one.share:.0f} ± {100 * one.error:.0f}"
            for name, one in told[:MOST]
        )
        or "nothing that can be told"
    )


def what_to_measure(reading: Reading) -> Iterator[Block]:
    """What would be worth knowing before anything is built, the first first."""
    if not reading.known("advice.order"):
        return
    order = advice_in_order(reading.trace)
    told = [one for one in order if max(one.changes.share, one.narrows.share) >= LITTLE][:MOST]
    if not told:
        return
    practice = reading.material.design.practice.name
    yield Heading("What to measure next", 2)
    yield Items(tuple(advice_words(one, practice) for one in told))
    if any(cannot_tell(one, other) for one, other in pairwise(told)):
        yield Paragraph("Which of these comes first cannot be told for sure.", "note")


def side_effects(reading: Reading) -> Iterator[Block]:
    """What it does besides: days without nitrate, sulfide, nitrous oxide, the first flush."""
    if not reading.known(f"{SIDE}.used_up_days"):
        return
    rows = [
        ("Days a year with the nitrate used up", "used_up_days", "days"),
        ("Days a year on which sulfide can form", "sulfide_days", "days"),
    ]
    spans = [
        ("Nitrogen let go as nitrous oxide in a year", "nitrous_oxide_kg", "mass"),
        ("Phosphorus let go in the first year", "phosphorus_kg", "mass"),
    ]
    yield Heading("What else it does", 2)
    yield Table(
        (Column("counted from the days, and by published rates"), Column("", "right")),
        (
            *(
                (label, (reading.say(f"{SIDE}.{name}", kind, style=TWO), *_marks(reading, name)))
                for label, name, kind in rows
            ),
            *(
                (label, _span(reading, name, kind))
                for label, name, kind in spans
                if reading.known(f"{SIDE}.{name}.low", f"{SIDE}.{name}.high")
            ),
        ),
    )


def _marks(reading: Reading, *names: str) -> tuple[str | Run, ...]:
    return reading.marks(*(f"{SIDE}.{name}" for name in names))


def _span(reading: Reading, name: str, kind: str) -> tuple[str | Run, ...]:
    low, high = (
        reading.say(f"{SIDE}.{name}.{end}", kind, style=TWO, unit=unit)
        for end, unit in (("low", False), ("high", True))
    )
    return f"{low} to {high}", *_marks(reading, f"{name}.low", f"{name}.high")
