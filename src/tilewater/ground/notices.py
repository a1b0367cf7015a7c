# SPDX-License-Identifier: Apache-2.0
"""Notice before digging, and the ground that a permit counts: hours, days and areas.

Times are texts such as `2027-09-02 15:00`, in the local time of the job. There is no clock here:
the day of asking comes in as an argument. The rules differ from state to state; every number of
them is an argument, and the rule of the state governs.
"""

from datetime import date, datetime, time, timedelta

from tilewater.basis.errors import OutOfDomain

SATURDAY = 5
AT_FILING, NEXT_DAY = "when filed", "the next working day"
MOST_DAYS = 400
"""Days that are looked through for working hours, at most."""


def earliest_dig(
    filed: str, wait: float, holidays: tuple[str, ...] = (), begins: str = AT_FILING
) -> str:
    """When the waiting time of a locate request is over.

    Parameters
    ----------
    filed : str
        Day and time of the request. [-]
    wait : float
        Waiting time, in which Saturdays, Sundays and holidays do not count. [s]
    holidays : tuple of str
        Days that do not count, as `2026-09-07`. [-]
    begins : str
        Whether waiting begins when filed, or with the next working day. [-]

    Returns
    -------
    str
        Day and time. [-]

    Raises
    ------
    OutOfDomain
        If the waiting time is negative, or would not end within a year of holidays.

    Notes
    -----
    Hours are counted round the clock on days that are no Saturday, Sunday or holiday; the others
    are passed over. (iowa-one-call)

    References
    ----------
    iowa-one-call, 48 hours
    """
    if wait < 0.0:
        raise OutOfDomain(f"wait is {wait / 3600:g} h. Waiting is 0 h or more. Correct the rule.")
    free = {date.fromisoformat(day) for day in holidays}
    at, left = datetime.fromisoformat(filed), timedelta(seconds=wait)
    if begins == NEXT_DAY:
        at = _midnight_after(at)
    for _ in range(MOST_DAYS):
        counts = at.weekday() < SATURDAY and at.date() not in free
        rest = _midnight_after(at) - at
        if counts and left <= rest:
            return (at + left).isoformat(sep=" ", timespec="minutes")
        left -= rest if counts else timedelta()
        at = _midnight_after(at)
    raise OutOfDomain(
        f"wait is {wait / 3600:g} h. It does not end within {MOST_DAYS} days. Check the rule and "
        "the holidays."
    )


def _midnight_after(at: datetime) -> datetime:
    return datetime.combine(at.date() + timedelta(days=1), time())


def last_day_of_ticket(begins: str, days: float) -> str:
    """Last day on which a locate ticket is good.

    Parameters
    ----------
    begins : str
        Day and time from which it counts. [-]
    days : float
        Days that it is good. [days]

    Returns
    -------
    str
        The day. [-]

    Raises
    ------
    OutOfDomain
        If it is good for less than a day.

    Notes
    -----
    Calendar days; the day that it counts from is the day before the first. What the ticket itself
    prints governs. (practice)

    References
    ----------
    practice, days of a ticket
    """
    if days < 1.0:
        raise OutOfDomain(f"days is {days:g} days. A ticket is good for 1 day at least. Read it.")
    return (datetime.fromisoformat(begins) + timedelta(days=int(days))).date().isoformat()


def ground_disturbed(**areas: float) -> float:
    """Ground that is opened or covered while building.

    Parameters
    ----------
    areas : float
        Each piece of it, under its name. [m2]

    Returns
    -------
    float
        Their sum. [m2]

    Notes
    -----
    A = A_works + A_spoil + A_pad + A_access    (derived)

    References
    ----------
    derived, a sum; pieces do not overlap
    """
    return sum(areas.values())
