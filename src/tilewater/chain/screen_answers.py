# SPDX-License-Identifier: Apache-2.0
"""The answer for each practice from its rows, its reasons, and the rule that makes them."""

from collections.abc import Iterator
from dataclasses import dataclass

from tilewater.chain.screen_rows import ASIDE, CLOSER, STOPS, Said, ScreenRow

CANNOT, NOT_KNOWN, CLOSER_LOOK = "cannot", "not known", "look closer"
COULD = {
    "bed": "could hold a bed",
    "buffer": "could hold a buffer",
    "raised": "could hold a raised outlet",
}
WORDS = {"bed": "woodchip bed", "buffer": "saturated buffer", "raised": "outlet raised in season"}
RULE = (
    "Cannot: something that stops it falls short. Not known: nothing does, but something that "
    "could stop it is not known. Look closer: nothing stops it, but something else falls short, "
    "is not known or hangs on a range. Could hold: every row holds."
)
"""The rule of the answers, as it is printed."""


@dataclass(frozen=True)
class Answer:
    """What could be said of one practice.

    Attributes
    ----------
    practice, answer : str
    rows : tuple of ScreenRow
        Every row, worst first.
    reasons : tuple of Said
        What speaks against it, one for each group that falls short, worst first.
    also : tuple of Said
        What falls short beside those, of the same groups.
    """

    practice: str
    answer: str
    rows: tuple[ScreenRow, ...]
    reasons: tuple[Said, ...]
    also: tuple[Said, ...]

    @property
    def could(self) -> bool:
        """Whether everything holds."""
        return self.answer == COULD[self.practice]

    @property
    def open(self) -> tuple[ScreenRow, ...]:
        """Rows that count and are not known, those that could stop it first."""
        found = [r for r in self.rows if r.weight != ASIDE and r.status == "not known"]
        return tuple(sorted(found, key=lambda row: row.weight != STOPS))

    @property
    def told(self) -> tuple[Said, ...]:
        """What is told of it however it stands."""
        return tuple(r.told for r in self.rows if r.told.text)

    @property
    def notes(self) -> tuple[Said, ...]:
        """What is told aside."""
        return tuple(r.short for r in self.rows if r.weight == ASIDE and r.status == "short")


def answer_of(practice: str, rows: tuple[ScreenRow, ...]) -> Answer:
    """The answer for one practice.

    Parameters
    ----------
    practice : str
        "bed", "buffer" or "raised". [-]
    rows : tuple of ScreenRow
        Rows of every practice, worst first. [-]

    Returns
    -------
    Answer
    """
    own = tuple(row for row in rows if row.practice == practice)
    answer = _word(practice, own)
    short = [row for row in own if row.weight != ASIDE and row.status == "short"]
    if answer == CANNOT:  # what is drawn there is refused with the place, and told by itself
        short = [row for row in short if row.group != "drawing"]
    groups = tuple(_groups(short))
    return Answer(
        practice=practice,
        answer=answer,
        rows=own,
        reasons=tuple(group[0].short for group in groups),
        also=tuple(row.short for group in groups for row in group[1:]),
    )


def _word(practice: str, rows: tuple[ScreenRow, ...]) -> str:
    stops = [row for row in rows if row.weight == STOPS]
    closer = [row for row in rows if row.weight == CLOSER]
    if any(row.status == "short" for row in stops):
        return CANNOT
    if any(row.status == "not known" and not row.hangs for row in stops):
        return NOT_KNOWN
    if any(row.status != "holds" for row in (*stops, *closer)):
        return CLOSER_LOOK
    return COULD[practice]


def _groups(short: list[ScreenRow]) -> Iterator[tuple[ScreenRow, ...]]:
    """Rows by group, groups with a row that stops it first, each in the order of the table."""
    names = tuple(dict.fromkeys(row.group for row in short))
    by_name = {name: tuple(row for row in short if row.group == name) for name in names}
    stopping = [n for n in names if any(row.weight == STOPS for row in by_name[n])]
    for name in dict.fromkeys((*stopping, *names)):
        yield by_name[name]
