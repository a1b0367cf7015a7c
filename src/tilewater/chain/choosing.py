# SPDX-License-Identifier: Apache-2.0
"""Which practice a job gets: the one that it asks for, or the cheapest that fits of those it has.

Where the job says "choose", every practice that it describes is designed. Of those that fit the one
with the least cost per kilogram is taken, at the middle of the removal; where none fits, the one
that falls short by the least of its own scale.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import inf

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.findings import Finding
from tilewater.basis.memory import Memory
from tilewater.basis.told import dollars_a_pound
from tilewater.chain.alternatives import Alternative, runners_up
from tilewater.chain.design import Design, design_practice
from tilewater.chain.inputs import JobInputs
from tilewater.chain.practices import CHOOSE, PRACTICES, described_in, kind_of
from tilewater.chain.verdict import FITS, OPEN, reasons

COST = "cost.usd_per_kg.p50"


@dataclass(frozen=True)
class Chosen:
    """A design and what was set beside it.

    Attributes
    ----------
    design : Design
    alternatives : tuple of Alternative
        Other practices and smaller sizes, and what stopped them.
    """

    design: Design
    alternatives: tuple[Alternative, ...]


def design_asked(
    job: JobInputs, *, by_days: bool = True, memories: Mapping[str, Memory] | None = None
) -> Chosen:
    """Design what a job asks for.

    Parameters
    ----------
    job : JobInputs
        Inputs of the job. [-]
    by_days : bool
        Whether known days are routed. [-]
    memories : mapping of str to Memory, or None
        What is remembered of earlier designs, by practice; it changes no number. [-]

    Returns
    -------
    Chosen

    Raises
    ------
    OutOfDomain
        If the job asks for what the program cannot design, or describes no practice to choose.
    """
    kind, kept = kind_of(job), memories or {}
    if kind == CHOOSE:
        return _choose(job, by_days, kept)
    if not isinstance(kind, str) or kind not in PRACTICES:
        raise _not_designed(kind)
    design = design_practice(job, PRACTICES[kind], by_days=by_days, memory=kept.get(kind))
    return Chosen(design, runners_up(design))


def _not_designed(kind: str | tuple[str, ...]) -> OutOfDomain:
    """What is said of a kind that is no single design, and how to get each part of it."""
    if isinstance(kind, str) or not set(kind) <= set(PRACTICES):
        asked = kind if isinstance(kind, str) else ", then ".join(kind)
        return OutOfDomain(
            f"practice.kind is {asked}. One of {', '.join(PRACTICES)}, or {CHOOSE}, is designed. "
            "Name one of them."
        )
    lines = ", then ".join(f'with kind = "{name}" under [practice]' for name in kind)
    return OutOfDomain(
        f"practice.kind is {', then '.join(kind)}. Practices in a row are designed one by one. Run "
        f"`tilewater design` {lines}, each with --out and a folder of its own; `tilewater compare` "
        "routes the same days through a bed and then a buffer, and judges the fall between them."
    )


def _choose(job: JobInputs, by_days: bool, kept: Mapping[str, Memory]) -> Chosen:
    practices = described_in(job)
    if not practices:
        raise OutOfDomain(
            f"practice.kind is {CHOOSE}. The job has none of the tables [bed] and [buffer], and no "
            "structure with daily weather for a raised outlet. Describe one of them, or more."
        )
    designs = [
        design_practice(job, practice, by_days=by_days, memory=kept.get(practice.name))
        for practice in practices
    ]
    taken = min(designs, key=_rank)
    others = tuple(
        Alternative(_with_article(other.practice.words), _why_not(other, taken))
        for other in designs
        if other is not taken
    )
    told = replace(taken, findings=(_told(taken, designs), *taken.findings))
    return Chosen(told, (*others, *runners_up(taken)))


def _with_article(words: str) -> str:
    return f"{'an' if words[0] in 'aeiou' else 'a'} {words}"


def _rank(design: Design) -> tuple[int, float, float]:
    """What fits goes first, the cheaper before the dearer; else what falls short least."""
    fits = design.verdict in (FITS, OPEN)
    short = (float(design.trace.value(f"{r.key}.slack")) for r in reasons(design.trace))
    slack = min(short, default=design.governs.slack if design.governs is not None else -inf)
    return (0 if fits else 1, _cost(design) if fits else inf, -slack)


def _cost(design: Design) -> float:
    return float(design.trace.value(COST)) if design.trace.known(COST) else inf


def _words(cost: float) -> str:
    if cost == inf:
        return "at a cost that is not known"
    return f"at ${dollars_a_pound(cost)} of nitrogen"


def _why_not(other: Design, taken: Design) -> str:
    if other.verdict not in (FITS, OPEN):
        what = other.governs.text if other.governs is not None else "nothing of it could be judged"
        return f"{other.verdict}: {what}"
    return f"{other.verdict}, {_words(_cost(other))}, and the {taken.practice.name} " + _words(
        _cost(taken)
    )


def _told(taken: Design, designs: list[Design]) -> Finding:
    *first, last = (_with_article(design.practice.words) for design in designs)
    names = f"{', '.join(first)} and {last}" if first else last
    fitting = [design for design in designs if design.verdict in (FITS, OPEN)]
    if not fitting:
        why = "None of them fits; the one that falls short least is shown"
    elif len(fitting) == 1:
        why = "It is the only one that fits"
    elif _cost(taken) == inf:
        why = "What a pound costs is not known of any that fits; the first is shown"
    else:
        why = f"Of those that fit it takes nitrate out for the least, {_words(_cost(taken))}"
    return Finding(
        "practice-chosen",
        "note",
        "Practice",
        f"The job describes {names} and leaves the choice open. The {taken.practice.words} is "
        f"shown. {why}.",
        source="derived",
    )
