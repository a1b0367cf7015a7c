# SPDX-License-Identifier: Apache-2.0
"""Two gates: nobody digs, and nobody starts building, before what stands here is there.

A gate names exactly what is missing and what to do next. What is not known keeps it shut as much
as what is missing. Every row says how its rule is known; the law of the place and the contract of
the job govern.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from tilewater.basis.trace import Trace
from tilewater.chain.approvals import Approval, Seen
from tilewater.chain.locate import Ticket

State = Literal["there", "missing", "not known", "not needed"]
FUNDING = "inputs.funding"
SIGNED = "contract_signed"
CONSTRUCTION = "construction"
NEEDLESS = ("there", "not needed")
"""States of a row that keep no gate shut."""


@dataclass(frozen=True)
class Row:
    """One thing that a gate asks for.

    Attributes
    ----------
    what : str
    state : "there", "missing", "not known" or "not needed"
    said : str
        How it stands, in words.
    next : str
        What to do next; "" where nothing is.
    seen : "read", "memory" or "practice"
        How the rule is known.
    key : str
        What of the job file it reads.
    """

    what: str
    state: State
    said: str
    next: str
    seen: Seen
    key: str

    @property
    def is_open(self) -> bool:
        """Whether it lets pass."""
        return self.state in NEEDLESS


@dataclass(frozen=True)
class Gate:
    """A gate with all that it asks for.

    Attributes
    ----------
    name : "dig" or "start"
    title : str
    rows : tuple of Row
    """

    name: str
    title: str
    rows: tuple[Row, ...]

    @property
    def missing(self) -> tuple[Row, ...]:
        """What keeps it shut."""
        return tuple(row for row in self.rows if not row.is_open)

    @property
    def is_open(self) -> bool:
        """Whether nothing is missing."""
        return not self.missing

    @property
    def sentence(self) -> str:
        """How it stands, in a sentence."""
        if self.is_open:
            return f"{self.title}: open."
        names = ", ".join(row.what for row in self.missing)
        return f"{self.title}: shut. Missing or not known: {names}."


@dataclass(frozen=True)
class Issue:
    """An issued copy of the design: its day, what for, by whom, whether it is as issued."""

    day: str
    status: str
    by: str
    is_sound: bool


def gate_for_dig(ticket: Ticket, day: str) -> Gate:
    """What must be there before the ground is opened.

    Parameters
    ----------
    ticket : Ticket
        As it stands on the day. [-]
    day : str
        As `2027-09-20`. [-]

    Returns
    -------
    Gate
        Shut while a private line is not asked about. [-]
    """
    rows = [_number(ticket), _waited(ticket, day), _lasts(ticket, day), _answered(ticket)]
    return Gate("dig", "Gate for dig", (*rows, *_private(ticket)))


def _number(ticket: Ticket) -> Row:
    what, key = "locate ticket", "locate.ticket"
    if ticket.number:
        return Row(what, "there", f"ticket {ticket.number}", "", "read", key)
    if ticket.stated and not ticket.is_given:
        do = "put ticket and time filed under [locate]"
        return Row(what, "missing", f"[site] utilities says '{ticket.stated}'", do, "read", key)
    do = "call the one-call center, and write the number down"
    return Row(what, "missing", "no ticket", do, "read", key)


def _waited(ticket: Ticket, day: str) -> Row:
    what, key = "waiting time of the locate request", "locate.filed"
    if not ticket.earliest:
        do = "note day and hour at which the request was filed"
        if ticket.stated and not ticket.is_given:
            do = "put the time filed under [locate]; words under [site] are not counted from"
        return Row(what, "not known", "when it was filed is not known", do, "read", key)
    told = f"filed {ticket.filed}, digging may begin {ticket.earliest}"
    if day < ticket.earliest[:10]:
        return Row(what, "missing", told, f"wait until {ticket.earliest}", "read", key)
    do = f"not before {ticket.earliest[11:]}" if day == ticket.earliest[:10] else ""
    return Row(what, "there", told, do, "read", key)


def _lasts(ticket: Ticket, day: str) -> Row:
    what, key = "ticket still good", "locate.expires"
    if not ticket.last:
        do = "read on the ticket how long it is good"
        return Row(what, "not known", "its last day is not known", do, "memory", key)
    told = f"good to {ticket.last}"
    if day > ticket.last:
        return Row(what, "missing", f"expired on {ticket.last}", "file it again", "memory", key)
    return Row(what, "there", told, "", "memory", key)


def _answered(ticket: Ticket) -> Row:
    what, key = "answers of the owners of lines", "locate.answered"
    if ticket.answered == "yes":
        return Row(what, "there", "every owner has answered or marked", "", "read", key)
    if ticket.answered == "no":
        do = "call the owners that have not answered; the marks must stand"
        return Row(what, "missing", "not every owner has answered", do, "read", key)
    do = "read the answers on the ticket"
    return Row(what, "not known", "not written", do, "read", key)


def _private(ticket: Ticket) -> Iterable[Row]:
    """Private lines: each asked about; those that are there marked."""
    unasked = [words for words, answer in ticket.private if answer == "not known"]
    there = [words for words, answer in ticket.private if answer == "yes"]
    what, key = "private lines asked about", "locate"
    if unasked:
        do = f"ask the owner about: {', '.join(unasked)}"
        yield Row(what, "not known", f"{len(unasked)} not asked or not known", do, "practice", key)
    else:
        yield Row(what, "there", "every one answered by the owner", "", "practice", key)
    what, key = "private lines marked", "locate.private_marked"
    if there and ticket.private_marked != "yes":
        do = "walk them with the owner or hire a private locator; a ticket does not mark them"
        yield Row(what, "missing", f"there: {', '.join(there)}", do, "practice", key)
    elif there:
        told = f"there and marked: {', '.join(there)}"
        yield Row(what, "there", told, "expose them by hand", "practice", key)
    elif not unasked:
        yield Row(what, "not needed", "none is there", "", "practice", key)


def gate_for_start(
    trace: Trace, found: tuple[Approval, ...], issues: tuple[Issue, ...], day: str
) -> Gate:
    """What must be there before construction starts.

    Parameters
    ----------
    trace : Trace
        Of the design. [-]
    found : tuple of Approval
        As they stand on the day. [-]
    issues : tuple of Issue
        Issued copies of the design. [-]
    day : str
        As `2027-09-20`. [-]

    Returns
    -------
    Gate
        It does not stand for the gate for dig. [-]
    """
    rows = [_issued(issues, day), *_contracts(trace, day), *map(_approval, found)]
    return Gate("start", "Gate for start of construction", (*rows, _before(trace, day)))


def _issued(issues: tuple[Issue, ...], day: str) -> Row:
    what, key = "design issued for construction", "issued"
    good = [i for i in issues if CONSTRUCTION in i.status.casefold() and i.day <= day]
    if any(issue.is_sound for issue in good):
        last = [issue for issue in good if issue.is_sound][-1]
        return Row(what, "there", f"{last.status}, {last.day}, {last.by}", "", "read", key)
    if good:
        do = "issue it again: the copy is no longer as it was issued"
        return Row(what, "missing", "the issued copy was altered", do, "read", key)
    do = 'issue it: tilewater design JOB --issue "for construction" --by NAME'
    return Row(what, "missing", "no copy issued for construction", do, "read", key)


def _contracts(trace: Trace, day: str) -> Iterable[Row]:
    """Contracts of what pays: work that began before one is signed may not be paid."""
    names = trace.names(FUNDING)
    what = "contract before start"
    none = "inputs.approval.contract.not_needed"
    if not names and trace.known(none):
        yield Row(what, "not needed", str(trace.value(none)), "", "practice", "approval.contract")
    elif not names:
        do = "name each under [funding.NAME], or write under [approval.contract] why there is none"
        yield Row(what, "not known", "no source of money is named", do, "practice", "funding")
    for name in names:
        key = f"{FUNDING}.{name}.{SIGNED}"
        signed = str(trace.value(key)) if trace.known(key) else ""
        told, at = f"{what}, {name.replace('-', ' ')}", f"funding.{name}.{SIGNED}"
        if signed and signed <= day:
            yield Row(told, "there", f"signed {signed}", "", "practice", at)
        elif signed:
            do = "do not start before it is signed: the work may not be paid"
            yield Row(told, "missing", f"to be signed {signed}", do, "practice", at)
        else:
            do = "ask whether it must be signed before the start, and note the day"
            yield Row(told, "not known", "no day of signing is written", do, "practice", at)


def _approval(approval: Approval) -> Row:
    states: dict[str, State] = {
        "received": "there",
        "not needed": "not needed",
        "not known": "not known",
    }
    said = ", ".join(filter(None, (approval.state, approval.document or approval.not_needed)))
    seen: Seen = "practice"
    if approval.seen in ("read", "memory"):
        seen = "read" if approval.seen == "read" else "memory"
    return Row(
        approval.what,
        states.get(approval.state, "missing"),
        said,
        "" if approval.is_closed else approval.next,
        seen,
        f"approval.{approval.name}",
    )


def _before(trace: Trace, day: str) -> Row:
    what, key = "owner's record of the ground before", "before.signed_on"
    signed, by = (
        str(trace.value(each)) if trace.known(each) else ""
        for each in ("inputs.before.signed_on", "inputs.before.signed_by")
    )
    if signed and by and signed <= day:
        return Row(what, "there", f"signed by {by}, {signed}", "", "practice", key)
    do = "print it, walk the field with the owner, and have it signed before anything is opened"
    return Row(what, "missing", "not signed", do, "practice", key)
