# SPDX-License-Identifier: Apache-2.0
"""What leave a design needs before it is built, drawn from the design itself, and how it stands.

Each need says why it is asked about, and how that rule is known: read in a public page, from
memory, or common practice. None of it is legal advice: state and local law governs, and an office
may ask for more. What the design cannot tell is asked about, never passed over.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from tilewater.basis.told import acres, feet
from tilewater.basis.trace import Trace
from tilewater.chain.approval_numbers import CAPACITY, DISTURBED, UNCOUNTED

Wanted = Literal["yes", "no", "ask"]
Seen = Literal["read", "memory", "practice"]
State = Literal[
    "received", "asked, waiting", "not asked", "expired", "refused", "not known", "not needed"
]
REGISTER = "inputs.approval"
CLOSED = ("received", "not needed")
"""States in which nothing is left to do."""
NONE_WORDS = ("none", "no ", "no,")


@dataclass(frozen=True)
class Need:
    """An approval that a design may need.

    Attributes
    ----------
    name : str
        Name of its entry in the register.
    what, why, who : str
    wanted : "yes", "no" or "ask"
        Whether the design needs it; "ask" where the design cannot tell.
    seen : "read", "memory" or "practice"
        How the rule is known.
    """

    name: str
    what: str
    why: str
    who: str
    wanted: Wanted
    seen: Seen


@dataclass(frozen=True)
class Approval:
    """An approval as it stands.

    Attributes
    ----------
    name, what, why, who : str
    wanted : "yes", "no" or "ask"
    seen : str
        How the rule is known; "" for one that only the register has.
    state : str
    asked, received, expires, document, not_needed : str
        As written in the register.
    next : str
        What to do next; "" where nothing is.
    """

    name: str
    what: str
    why: str
    who: str
    wanted: Wanted
    seen: str
    state: State
    asked: str
    received: str
    expires: str
    document: str
    not_needed: str
    next: str

    @property
    def is_closed(self) -> bool:
        """Whether nothing is left to do."""
        return self.state in CLOSED


def needs(trace: Trace) -> tuple[Need, ...]:
    """Approvals that a design needs or may need.

    Parameters
    ----------
    trace : Trace
        Of the design, with the numbers of `add_approvals`. [-]

    Returns
    -------
    tuple of Need
        In the order of asking. [-]
    """
    return (
        _upstream(trace),
        _shared(trace),
        _district(trace),
        _right_of_way(trace),
        _easement(trace),
        Need(
            "wetland",
            "wetland determination",
            "new, improved or altered drainage is told to the farm agency, which may ask for one",
            "the farm service office, then the conservation service",
            "yes",
            "read",
        ),
        _bank(trace),
        Need(
            "floodplain",
            "floodplain permit",
            "earth moved or piled on a mapped floodplain; this design has no flood map",
            "the county or the state",
            "ask",
            "read",
        ),
        Need(
            "cultural-review",
            "review of cultural resources",
            "ground is broken below the depth of past tillage; where federal money or a permit is",
            "the agency that pays or permits",
            "ask",
            "read",
        ),
        Need(
            "species",
            "review of protected species",
            "trees cut, banks worked; where federal money or a permit is in it",
            "the agency that pays or permits",
            "ask",
            "memory",
        ),
        Need(
            "road",
            "leave of the road authority",
            "pipe, trucks or a way in across a road or its ditch; this design has no road",
            "the county or township road office",
            "ask",
            "practice",
        ),
        _stormwater(trace),
    )


def _upstream(trace: Trace) -> Need:
    name, what, who = "upstream-owner", "consent of the owner upstream", "the owner upstream"
    rule = "water backed into a main past the property line"
    if not trace.known("property_line.reserve_m"):
        why = f"{rule}: pool or line is not known"
        return Need(name, what, why, who, "ask", "read")
    reserve = float(trace.value("property_line.reserve_m"))
    if reserve >= 0.0:
        why = f"the pool ends {feet(reserve, '.0f')} below the property line"
        return Need(name, what, why, who, "no", "read")
    why = f"the pool passes the property line by {feet(-reserve, '.0f')}"
    return Need(name, what, why, who, "yes", "read")


def _said(trace: Trace, key: str) -> str:
    return str(trace.value(key)) if trace.known(key) else ""


def _is_none(said: str) -> bool:
    return said.casefold() == "no" or said.casefold().startswith(NONE_WORDS)


def _shared(trace: Trace) -> Need:
    """Others whose water comes through the main; they keep the capacity that they had."""
    name, what = "shared-main", "consent of others who drain through the main"
    said, who = _said(trace, "inputs.people.neighbour_upstream"), "each of them"
    if not said:
        why = "whose water comes through the main is not known"
        return Need(name, what, why, who, "ask", "practice")
    if _is_none(said):
        return Need(name, what, said, who, "no", "practice")
    return Need(name, what, f"{said}{_kept(trace)}", who, "yes", "practice")


def _kept(trace: Trace) -> str:
    """Whether the main past the practice carries what it did, as words behind others."""
    status = _said(trace, f"{CAPACITY}.status")
    tail = {"holds": "; capacity past the practice is kept", "short": "; capacity is NOT kept"}
    return tail.get(status, "; whether capacity is kept is not known")


def _district(trace: Trace) -> Need:
    name, what = "drainage-district", "consent of the drainage district"
    said = _said(trace, "inputs.people.drainage_district")
    if not said:
        why = "whether a district owns ditch or main is not known"
        return Need(name, what, why, "the drainage clerk", "ask", "memory")
    if _is_none(said):
        return Need(name, what, f"district: {said}", "", "no", "memory")
    why = f"{said}{_kept(trace)}"
    return Need(name, what, why, "the board of the district", "yes", "memory")


def _right_of_way(trace: Trace) -> Need:
    name, what, who = "right-of-way", "leave to work in the right of way", "who holds it"
    inside = [
        each.replace("-", " ")
        for each in trace.names("plan.right_of_way")
        if trace.known(f"plan.right_of_way.{each}.length_m")
        and float(trace.value(f"plan.right_of_way.{each}.length_m")) > 0.0
    ]
    if inside:
        return Need(name, what, f"in it lie: {', '.join(inside)}", who, "yes", "practice")
    if trace.known("plan.right_of_way.line"):
        return Need(name, what, "nothing of the works lies in it", who, "no", "practice")
    why = "where the works lie to the right of way is not known"
    return Need(name, what, why, who, "ask", "practice")


def _easement(trace: Trace) -> Need:
    name, what = "easement", "consent of who holds an easement or a program contract"
    said = _said(trace, "inputs.people.easements")
    if not said:
        why = "easements and program contracts on the ground are not known"
        return Need(name, what, why, "the owner and the county recorder", "ask", "practice")
    wanted: Wanted = "no" if _is_none(said) else "yes"
    return Need(name, what, said, "who holds it", wanted, "practice")


def _bank(trace: Trace) -> Need:
    name, what = "bank-works", "permit for works in the bank or bed of the ditch"
    who = "the corps of engineers and the state, often by one application"
    rule = "an outfall, a cut or rock in a bank"
    returns = _said(trace, "inputs.bed.return")
    if returns == "own outlet":
        return Need(name, what, f"the bed has its own outlet: {rule}", who, "yes", "read")
    return Need(name, what, f"{rule}, if the old outlet is touched", who, "ask", "read")


def _stormwater(trace: Trace) -> Need:
    name, what = "stormwater", "construction stormwater permit"
    who = "the state; farm work may be exempt"
    area, limit = f"{DISTURBED}.area_m2", f"{DISTURBED}.limit_m2"
    if not trace.known(area, limit):
        return Need(name, what, "disturbed ground is not known", who, "ask", "memory")
    told = f"{acres(float(trace.value(area)))} disturbed"
    over = float(trace.value(area)) >= float(trace.value(limit))
    if over:
        told += ", one acre or more"
        return Need(name, what, told, who, "yes", "memory")
    left = trace.value(f"{DISTURBED}.{UNCOUNTED}")
    if left:
        return Need(name, what, f"{told}, without {', '.join(left)}", who, "ask", "memory")
    told += ", under one acre"
    return Need(name, what, told, who, "no", "memory")


def approvals(trace: Trace, day: str) -> tuple[Approval, ...]:
    """Every approval as it stands on a day: those of the design, then others of the register.

    Parameters
    ----------
    trace : Trace
        Of the design, with the numbers of `add_approvals`. [-]
    day : str
        As `2027-09-20`. [-]

    Returns
    -------
    tuple of Approval
        What is left to do stands in `next`. [-]
    """
    found = needs(trace)
    named = {need.name for need in found}
    others = (name for name in trace.names(REGISTER) if name not in named)
    extra = (Need(name, name.replace("-", " "), "", "", "yes", "practice") for name in others)
    return tuple(_standing(trace, need, day, need.name in named) for need in (*found, *extra))


def _standing(trace: Trace, need: Need, day: str, is_derived: bool) -> Approval:
    here = f"{REGISTER}.{need.name}"
    entry = {key: _said(trace, f"{here}.{key}") for key in ENTRY}
    state = state_on(day, need.wanted, entry)
    consent = _said(trace, "inputs.main.consent_upstream") if need.name == "upstream-owner" else ""
    if consent.startswith("given") and state in ("not asked", "not known"):
        state, entry["document"] = "received", entry["document"] or consent
    elif consent.startswith("refused") and state not in CLOSED:
        state = "refused"
    why = ". ".join(filter(None, (entry["why"], need.why)))
    return Approval(
        name=need.name,
        what=entry["what"] or need.what,
        why=why,
        who=entry["who"] or need.who,
        wanted=need.wanted,
        seen=need.seen if is_derived else "",
        state=state,
        asked=entry["asked"],
        received=entry["received"],
        expires=entry["expires"],
        document=entry["document"],
        not_needed=entry["not_needed"],
        next=_next(state, entry, entry["who"] or need.who),
    )


ENTRY = ("what", "why", "who", "asked", "received", "expires", "document", "not_needed")


def state_on(day: str, wanted: Wanted, entry: dict[str, str]) -> State:
    """How an approval stands on a day.

    Parameters
    ----------
    day : str
        As `2027-09-20`. [-]
    wanted : "yes", "no" or "ask"
        Whether the design needs it. [-]
    entry : dict of str to str
        The entry of the register; "" for what is not written. [-]

    Returns
    -------
    str
        An approval of a later day is not there yet. [-]
    """
    received, expires, asked = entry["received"], entry["expires"], entry["asked"]
    if received and received <= day:
        return "expired" if expires and expires < day else "received"
    if asked and asked <= day:
        return "asked, waiting"
    if entry["not_needed"] or wanted == "no":
        return "not needed"
    return "not asked" if wanted == "yes" else "not known"


def _next(state: State, entry: dict[str, str], who: str) -> str:
    of_whom = f" {who}" if who else ""
    match state:
        case "asked, waiting":
            return f"asked on {entry['asked']}: ask{of_whom} again, and note the day it comes"
        case "not asked":
            return f"ask{of_whom}, and note the day"
        case "expired":
            return f"expired on {entry['expires']}: ask{of_whom} to renew it"
        case "refused":
            return "refused: lower the pool, or do not build"
        case "not known":
            return f"find out from{of_whom or ' the office'}; if it is not needed, write why"
        case _:
            return "" if entry["document"] or state == "not needed" else "note the document"


def open_approvals(found: tuple[Approval, ...]) -> Iterator[Approval]:
    """Approvals that something is left to do about."""
    return (approval for approval in found if not approval.is_closed)
