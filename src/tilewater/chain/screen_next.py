# SPDX-License-Identifier: Apache-2.0
"""What to measure next, what else could help, and when to look again."""

from dataclasses import dataclass

from tilewater.basis.tables import read_table
from tilewater.chain.screen_answers import CANNOT, Answer
from tilewater.chain.screen_rows import PACKAGE, STOPS, Said, ScreenRow

ELSE, AGAIN = "else", "again"


@dataclass(frozen=True)
class Measurement:
    """One thing to measure, and what it settles.

    Attributes
    ----------
    slug, what, how : str
    hours, usd : float
        What it takes, by judgement. [h], [USD]
    settles : tuple of ScreenRow
        Rows that wait for it, of practices that could still lie here.
    """

    slug: str
    what: str
    how: str
    hours: float
    usd: float
    settles: tuple[ScreenRow, ...]

    @property
    def practices(self) -> tuple[str, ...]:
        """Practices that wait for it."""
        return tuple(dict.fromkeys(row.practice for row in self.settles))

    @property
    def questions(self) -> tuple[str, ...]:
        """Questions that it settles."""
        return tuple(dict.fromkeys(row.ask for row in self.settles))


@dataclass(frozen=True)
class Advice:
    """One sentence of advice, and how it is known."""

    said: Said
    honesty: str


def measurements(answers: tuple[Answer, ...]) -> tuple[Measurement, ...]:
    """What to measure next: first what most of what could stop a practice waits for, then cheap.

    Parameters
    ----------
    answers : tuple of Answer
        Of every practice; one that cannot lie here waits for nothing. [-]

    Returns
    -------
    tuple of Measurement
    """
    waiting = [row for a in answers if a.answer != CANNOT for row in a.open]
    found = []
    for row in read_table(PACKAGE, "practice_screen_measurements").rows:
        settles = tuple(each for each in waiting if each.measure == row.text("slug"))
        if settles:
            found.append(
                Measurement(
                    row.text("slug"),
                    row.text("what"),
                    row.text("how"),
                    row.number("hours"),
                    row.number("usd"),
                    settles,
                )
            )
    return tuple(sorted(found, key=_rank))


def _rank(measurement: Measurement) -> tuple[int, int, float, float]:
    stops = sum(row.weight == STOPS for row in measurement.settles)
    return -stops, -len(measurement.settles), measurement.usd, measurement.hours


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
