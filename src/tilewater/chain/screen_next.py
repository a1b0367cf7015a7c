# SPDX-License-Identifier: Apache-2.0
"""What to measure next, what else could help, and when to look again."""

from dataclasses import dataclass

from tilewater.basis.tables import read_table
from tilewater.basis.trace import Trace
from tilewater.chain.measurements import ANY, LITTLE, NOTHING, Weighed, measurement_of
from tilewater.chain.screen_answers import CANNOT, COULD, Answer
from tilewater.chain.screen_rows import PACKAGE, STOPS, Said, ScreenRow
from tilewater.chain.screen_worth import price_of, weighed_for

ELSE, AGAIN = "else", "again"
HOUR = 60.0
"""An hour of a crew in the field or at a desk, judgement. [USD]"""


@dataclass(frozen=True)
class Measurement:
    """One thing to measure, and what it settles.

    Attributes
    ----------
    slug, what, how : str
    hours, usd : float
        What it takes, by judgement, the price that of the job where it states one. [h], [USD]
    settles : tuple of ScreenRow
        Rows that wait for it, of practices that could still lie here.
    weighed : Weighed or None
        How often it could change an answer; None where nothing is known before it is made.
    """

    slug: str
    what: str
    how: str
    hours: float
    usd: float
    settles: tuple[ScreenRow, ...]
    weighed: Weighed | None = None

    @property
    def practices(self) -> tuple[str, ...]:
        """Practices that wait for it, or whose answer it could change."""
        told = tuple(dict.fromkeys(row.practice for row in self.settles))
        if told or self.weighed is None:
            return told
        own = self.weighed.measurement.practice
        return tuple(COULD) if own == ANY else (own,)

    @property
    def changes(self) -> float:
        """Answers that it brings or could change: an unknown row is one, the rest by chance."""
        unknown = sum(not row.hangs for row in self.settles)
        chance = self.weighed.changes if self.weighed is not None else NOTHING
        return unknown + (chance.share if chance.is_told else 0.0)

    @property
    def price(self) -> float:
        """Money and hours together. [USD]"""
        return max(1.0, self.usd + HOUR * self.hours)

    @property
    def questions(self) -> tuple[str, ...]:
        """Questions that it settles."""
        return tuple(dict.fromkeys(row.ask for row in self.settles))


@dataclass(frozen=True)
class Advice:
    """One sentence of advice, and how it is known."""

    said: Said
    honesty: str


def measurements(trace: Trace, answers: tuple[Answer, ...]) -> tuple[Measurement, ...]:
    """What to measure next: what could stop a practice first, then what changes most for its price.

    Parameters
    ----------
    trace : Trace
        Steps of the screening. [-]
    answers : tuple of Answer
        Of every practice; one that cannot lie here waits for nothing. [-]

    Returns
    -------
    tuple of Measurement
    """
    table = read_table(PACKAGE, "practice_screen_measurements").rows
    names = {row.text("slug"): row.text("weighs") for row in table if row.text("weighs")}
    weighed = weighed_for(trace, answers, names)
    waiting = [row for a in answers if a.answer != CANNOT for row in a.open]
    found = []
    for row in table:
        slug = row.text("slug")
        settles = tuple(each for each in waiting if each.measure == slug)
        worth = weighed.get(slug)
        if settles or (worth is not None and is_worth_telling(worth)):
            listed = row.text("weighs")
            own = measurement_of(listed).usd if listed else row.number("usd")
            usd = price_of(trace, listed or slug, own)
            what, how, hours = row.text("what"), row.text("how"), row.number("hours")
            found.append(Measurement(slug, what, how, hours, usd, settles, worth))
    return tuple(sorted(found, key=_rank))


def is_worth_telling(weighed: Weighed) -> bool:
    """Whether a measurement could change an answer more often than by chance."""
    return weighed.changes.is_told and weighed.changes.share >= LITTLE


def _rank(measurement: Measurement) -> tuple[bool, float]:
    stops = any(row.weight == STOPS and not row.hangs for row in measurement.settles)
    return not stops, -measurement.changes / measurement.price


def advice(answers: tuple[Answer, ...], sort: str) -> tuple[Advice, ...]:
    """What else could help, or when to look again, by the rows that fall short.

    Parameters
    ----------
    answers : tuple of Answer
        Of every practice. [-]
    sort : "else" or "again"
        Which of the two. [-]

    Returns
    -------
    tuple of Advice
        When to look again is told of practices that cannot lie here only.
    """
    short = {
        row.slug: row
        for answer in answers
        if sort == ELSE or answer.answer == CANNOT
        for row in answer.rows
        if row.status == "short"
    }
    return tuple(
        Advice(Said(each.text("text"), short[each.text("row")].short.figures), each.text("honesty"))
        for each in read_table(PACKAGE, "practice_screen_advice").rows
        if each.text("sort") == sort and each.text("row") in short
    )
