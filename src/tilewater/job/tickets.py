# SPDX-License-Identifier: Apache-2.0
"""Tickets of the trucks that bring chips: a row for each, in cubic yards or in tons.

Columns `ticket`, `time`, `volume [CY]` or `mass [ton]` or both, and `refused` with the reason where
a load was sent back. A ticket that stands twice is a fault: it would be counted, and paid, twice.
"""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from tilewater.basis.errors import BadInputFile
from tilewater.job.rows import Row, Sheet, read_sheet

REQUIRED = ("ticket", "time")


@dataclass(frozen=True)
class Ticket:
    """One truck.

    Attributes
    ----------
    ticket : str
    time : str
        Day and time, as `2027-09-27 09:40`.
    volume : float or None
        As it lies in the truck. [m3]
    mass : float or None
        As weighed with its water. [kg]
    refused : str
        Why it was sent back; "" where it was taken.
    line : int
    """

    ticket: str
    time: str
    volume: float | None
    mass: float | None
    refused: str
    line: int


def read_tickets(path: Path) -> tuple[Ticket, ...]:
    """Tickets of a file, in the order of their time.

    Parameters
    ----------
    path : Path
        The file.

    Returns
    -------
    tuple of Ticket

    Raises
    ------
    BadInputFile
        With every fault of the file at once.
    """
    sheet = read_sheet(path, REQUIRED)
    if "volume" not in sheet.units and "mass" not in sheet.units:
        message = (
            "there is neither a column 'volume' nor a column 'mass'. Write volume [CY] or mass "
            "[ton] in the first row."
        )
        sheet.fault(sheet.line, "volume", message)
        sheet.close()
    tickets: dict[str, Ticket] = {}
    for row in sheet.rows:
        ticket = _ticket(sheet, row)
        if ticket is None:
            continue
        if ticket.ticket in tickets:
            before = tickets[ticket.ticket].line
            message = f"ticket {ticket.ticket} stands on line {before} already. Keep one of them."
            sheet.fault(row.line, "ticket", message)
        tickets.setdefault(ticket.ticket, ticket)
    sheet.close()
    return tuple(sorted(tickets.values(), key=lambda ticket: ticket.time))


def refused_tickets(path: Path) -> frozenset[str]:
    """Numbers of the tickets that were sent back; none where the file cannot be read."""
    try:
        return frozenset(ticket.ticket for ticket in read_tickets(path) if ticket.refused)
    except BadInputFile:
        return frozenset()


def _ticket(sheet: Sheet, row: Row) -> Ticket | None:
    if not row["ticket"]:
        sheet.fault(row.line, "ticket", "the row has no ticket. Write its number.")
    time = _time(sheet, row)
    volume = sheet.quantity(row, "volume", "volume") if row["volume"] else None
    mass = sheet.quantity(row, "mass", "mass") if row["mass"] else None
    if not row["volume"] and not row["mass"]:
        message = f"ticket {row['ticket']} has neither volume nor mass. Write what it prints."
        sheet.fault(row.line, "volume", message)
    for column, value in (("volume", volume), ("mass", mass)):
        if value is not None and value <= 0.0:
            message = (
                f"{column} {row[column]} is no load. It is more than 0. Read the ticket again."
            )
            sheet.fault(row.line, column, message)
    if not row["ticket"] or time is None or (volume is None and mass is None):
        return None
    return Ticket(row["ticket"], time, volume, mass, row["refused"], row.line)


def _time(sheet: Sheet, row: Row) -> str | None:
    try:
        moment = datetime.fromisoformat(row["time"].replace("T", " "))
    except ValueError:
        message = (
            f"time '{row['time']}' is no day and time. Write year-month-day hour:minute, like "
            "2027-09-27 09:40."
        )
        sheet.fault(row.line, "time", message)
        return None
    return moment.isoformat(sep=" ", timespec="minutes")
