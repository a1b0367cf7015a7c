# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: the locate ticket, when digging may begin and how long it is good.

The rule of the state governs: waiting time, how it is counted and how long a ticket is good are
values of the job; where the job says nothing a rule that was read in one state stands in, and says
so. A ticket marks public lines only, so private ones are asked of the owner one by one.
"""

from dataclasses import dataclass

from tilewater.basis.trace import Trace
from tilewater.basis.unknown import Unknown
from tilewater.ground.notices import AT_FILING, earliest_dig, last_day_of_ticket

LOCATE = "locate"
WAIT = 48 * 3600.0
PRIVATE = {
    "yard_hydrant": "a water line to a yard hydrant",
    "old_phone": "an old telephone cable",
    "barn_drain": "a drain of a barn or a feedlot",
    "rural_water": "a stub of rural water behind the meter",
    "fiber": "fiber or cable between buildings",
    "septic": "a septic tank, its field or its drain",
    "private_power": "power or gas of the farm behind the meter",
    "other_tile": "other tile in the same ground",
}
GIVEN = "inputs.locate"
STATED = "inputs.site.utilities"


@dataclass(frozen=True)
class Ticket:
    """The locate ticket as it stands on a day.

    Attributes
    ----------
    number, filed, earliest, last : str
        "" where not known.
    is_good : bool or None
        Whether digging may go on that day under it; None where it cannot be told.
    answered : str
        "yes", "no" or "".
    private : tuple of (question, answer)
        Answers "yes", "no" or "not known".
    private_marked : str
        "yes", "no" or "".
    stated : str
        What `[site] utilities` says in words; it stands in for nothing of the above.
    """

    number: str
    filed: str
    earliest: str
    last: str
    is_good: bool | None
    answered: str
    private: tuple[tuple[str, str], ...]
    private_marked: str
    stated: str = ""

    @property
    def is_given(self) -> bool:
        """Whether its number or the time of filing is given."""
        return bool(self.number or self.filed)

    @property
    def words(self) -> str:
        """How it stands in a sentence: as given, else as `[site] utilities` says."""
        if self.is_given:
            number = f"Ticket {self.number}" if self.number else "Locate request, number not given"
            told = [
                number,
                f"filed {self.filed}" if self.filed else "time filed not given",
                f"digging may begin {self.earliest}" if self.earliest else "",
                f"good to {self.last}" if self.last else "last day not given",
            ]
            return f"{', '.join(filter(None, told))}."
        if self.stated:
            return f"As stated: {self.stated}. Ticket and time filed are not given under [locate]."
        return "No locate ticket is given."


def add_locate(trace: Trace, holidays: tuple[str, ...]) -> None:
    """Record when digging may begin, and the last day of the ticket.

    Parameters
    ----------
    trace : Trace
        Of the design or of the inputs. [-]
    holidays : tuple of str
        Legal holidays of country, state and county. [-]
    """
    trace.constant(f"{LOCATE}.holidays", holidays, "Legal holidays", source="holidays-library")
    wait, begins = f"{GIVEN}.waiting_s", f"{GIVEN}.begins"
    if wait not in trace:
        title = "Waiting time: the rule of your state governs"
        wait = trace.constant(f"{LOCATE}.waiting_s", WAIT, title, unit="s", source="iowa-one-call")
    if begins not in trace:
        begins = trace.constant(
            f"{LOCATE}.begins", AT_FILING, "Waiting begins", source="iowa-one-call"
        )
    filed = f"{GIVEN}.filed"
    if filed not in trace:
        why = Unknown("no locate request is filed", "call the one-call center")
        filed = trace.constant(f"{LOCATE}.filed", why, "Request filed", source="derived")
    trace.compute(
        f"{LOCATE}.earliest",
        earliest_dig,
        unit="",
        title="Digging may begin",
        filed=filed,
        wait=wait,
        holidays=f"{LOCATE}.holidays",
        begins=begins,
    )
    if f"{GIVEN}.expires" not in trace and f"{GIVEN}.valid_days" in trace:
        trace.compute(
            f"{LOCATE}.last_day",
            last_day_of_ticket,
            unit="",
            title="Last day of the ticket",
            begins=filed,
            days=f"{GIVEN}.valid_days",
        )


def ticket_on(trace: Trace, day: str) -> Ticket:
    """The locate ticket as it stands on a day.

    Parameters
    ----------
    trace : Trace
        With the steps of `add_locate`. [-]
    day : str
        As `2027-09-20`; the ticket counts from the first moment of it that is late enough. [-]

    Returns
    -------
    Ticket
        What is not written is "". [-]
    """

    def said(key: str) -> str:
        return str(trace.value(key)) if trace.known(key) else ""

    earliest = said(f"{LOCATE}.earliest")
    last = said(f"{GIVEN}.expires") or said(f"{LOCATE}.last_day")
    is_good = None if not earliest or not last else earliest[:10] <= day <= last
    if earliest and day < earliest[:10]:
        is_good = False
    return Ticket(
        number=said(f"{GIVEN}.ticket"),
        filed=said(f"{GIVEN}.filed"),
        earliest=earliest,
        last=last,
        is_good=is_good,
        answered=said(f"{GIVEN}.answered"),
        private=tuple(
            (words, said(f"{GIVEN}.{key}") or "not known") for key, words in PRIVATE.items()
        ),
        private_marked=said(f"{GIVEN}.private_marked"),
        stated=said(STATED),
    )
