# SPDX-License-Identifier: Apache-2.0
"""The best shape of a practice: cost against nitrate over sizes that exist, each by its days.

A front of candidates that no other beats in both; of these the cheapest that passes, the most for
the money, the most nitrate, and the one to be sure of under the range of chips and kinetics. What
is named is designed again by the whole chain.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.findings import Finding
from tilewater.basis.memory import Memory
from tilewater.basis.requirement import Requirement
from tilewater.basis.unknown import is_unknown
from tilewater.chain.design import Design, design_practice
from tilewater.chain.inputs import JobInputs
from tilewater.chain.practice import Practice
from tilewater.chain.search_ask import COST, Asking, GoesOn, Progress, why_no_cost
from tilewater.chain.search_axes import Candidate, Planner, SearchPlan
from tilewater.chain.search_bed import plan_of_bed
from tilewater.chain.search_buffer import plan_of_buffer
from tilewater.chain.search_draws import WEIGHED, Weighed, robust_of, weigh
from tilewater.chain.search_walk import START, Tried, Walk, amount, front_of, spread

PLANNERS: Mapping[str, Planner] = {"bed": plan_of_bed, "buffer": plan_of_buffer}
BEDS = 10_000
"""Beds or buffers that are routed, at most, where nothing is said."""
SAME = 1e-9
"""Relative difference between search and design that is only the rounding of arithmetic. [-]"""
SEARCHED = "inputs.bed.size"


@dataclass(frozen=True)
class Choice:
    """A member of the front that has a name, designed again.

    Attributes
    ----------
    name, words, why : str
        "cheapest", "money", "nitrate" or "robust"; the same in words; how it was chosen.
    tried : Tried
        What the search says of it.
    design : Design
        What the whole chain says of it.
    """

    name: str
    words: str
    why: str
    tried: Tried
    design: Design


@dataclass(frozen=True)
class Search:
    """What a search found.

    Attributes
    ----------
    design : Design
        The engineer's own.
    plan : SearchPlan
        What could change.
    own : Tried
        The engineer's own, asked like the others.
    tried : tuple of Tried
        All candidates in the order in which they were asked.
    routed : int
        How many of them met the days.
    front : tuple of Tried
        Those that no other beats, from the cheapest.
    weighed : tuple of Weighed
        Members of the front under the draws.
    choices : tuple of Choice
    ended : "all asked", "front settled", "nothing passes", "most routed" or "stopped"
        Why it ended.
    untouched : tuple of Requirement
        What no candidate changes and falls short.
    findings : tuple of Finding
    """

    design: Design
    plan: SearchPlan
    own: Tried
    tried: tuple[Tried, ...]
    routed: int
    front: tuple[Tried, ...]
    weighed: tuple[Weighed, ...]
    choices: tuple[Choice, ...]
    ended: str
    untouched: tuple[Requirement, ...]
    findings: tuple[Finding, ...]

    def choice(self, name: str) -> Choice | None:
        """The choice of a name."""
        return next((each for each in self.choices if each.name == name), None)


def never_stops(progress: Progress) -> bool:
    """Goes on, whatever the progress is."""
    return True


def search_shape(
    job: JobInputs,
    practice: Practice,
    *,
    beds: int = BEDS,
    threads: int = 2,
    goes_on: GoesOn = never_stops,
    plan_for: Planner | None = None,
    start: int = START,
    is_named: Callable[[], bool] = lambda: True,
    memory: Memory | None = None,
) -> Search:
    """Search cost against nitrate over the sizes of a practice.

    Parameters
    ----------
    job : JobInputs
        Inputs of the job; its own size is where the comparison stands. [-]
    practice : Practice
        What is searched. [-]
    beds : int
        Beds or buffers that are routed, at most. [-]
    threads : int
        Threads that route; the result does not depend on it. [-]
    goes_on : callable
        Told of the progress now and then; False ends the search with what is known. [-]
    plan_for : callable or None
        What may change, made from the design; that of the practice where nothing is said. [-]
    start : int
        Candidates of the first grid, at most. [-]
    is_named : callable
        Asked before a choice is designed again by the whole chain; no leaves the choices out. [-]
    memory : Memory or None
        What is remembered of an earlier design; its word may stop the design before. [-]

    Returns
    -------
    Search

    Raises
    ------
    OutOfDomain
        If the practice has no sizes to change, its cost is not known or no days are routed.

    Notes
    -----
    min cost, max nitrate, subject to every requirement that the sizes change    (derived)

    References
    ----------
    derived, a front of two measures by ever smaller steps
    """
    planner = plan_for or PLANNERS.get(practice.name)
    if planner is None:
        raise OutOfDomain(
            f"No sizes of a {practice.name} can be searched. Known: {', '.join(PLANNERS)}. "
            "Change its sizes in the job and design it again."
        )
    design = design_practice(_as_given(job, practice), practice, memory=memory)
    trace = design.trace
    unknown = why_no_cost(trace)
    if unknown is not None:
        raise OutOfDomain(
            f"The cost is {unknown.why if unknown.why else 'not known'}. A search sets cost "
            "against nitrate. Give the prices that are missing."
        )
    plan = planner(trace)
    asking = Asking(trace, plan, budget=beds, threads=threads, goes_on=goes_on)
    walk = Walk([len(axis.levels) for axis in plan.axes], asking.ask, start)
    own = asking.own()
    is_whole = walk.go()
    front = front_of(walk.tried.values())
    weighed = _weigh(design, plan, asking, front, own, threads, goes_on)
    choices = _choices(design, plan, front, weighed, practice, asking, is_named)
    ended = "most routed"
    if is_whole:
        ended = "front settled" if front else "nothing passes"
        ended = "all asked" if len(walk.tried) == plan.size else ended
    elif asking.is_stopped:
        ended = "stopped"
    return Search(
        design=design,
        plan=plan,
        own=own,
        tried=tuple(walk.tried.values()),
        routed=asking.routed,
        front=front,
        weighed=weighed,
        choices=choices,
        ended=ended,
        untouched=tuple(r for r in asking.untouched if trace.value(f"{r.key}.status") == "short"),
        findings=tuple(f for choice in choices for f in _apart(choice, plan)),
    )


def _as_given(job: JobInputs, practice: Practice) -> JobInputs:
    """The job with the size that it finds by itself written in, so that it can be changed."""
    searched = next((g for g in job.givens if g.key == SEARCHED), None)
    if searched is None or is_unknown(searched.value) or searched.value == "as given":
        return job
    trace = design_practice(job, practice, by_days=False).trace
    sides = {side: trace.value(f"bed.{side}_bottom_m") for side in ("length", "width")}
    found = {f"inputs.bed.{side}_bottom_m": value for side, value in sides.items()}
    return job.changed(found | {SEARCHED: "as given"})


def _weigh(
    design: Design,
    plan: SearchPlan,
    asking: Asking,
    front: tuple[Tried, ...],
    own: Tried,
    threads: int,
    goes_on: GoesOn,
) -> tuple[Weighed, ...]:
    """Named members and others between them under the draws; and the design itself, last."""
    if not front or asking.is_stopped:
        return ()
    named = {most_for_money(front).candidate}
    named.update(each for each in spread([t.candidate for t in front])[: WEIGHED - 1])
    members = [each for each in front if each.candidate in named]
    budget = asking.budget

    def told(done: int) -> bool:
        at = f"leading {done} of {len(members)} through the draws"
        return goes_on(Progress(asking.tried, asking.routed, budget, at))

    return weigh(design.trace, plan, asking, members, threads=threads, goes_on=told)


def most_for_money(front: tuple[Tried, ...]) -> Tried:
    """The member whose kilogram costs least; of equals the cheaper."""
    return min(front, key=lambda t: (usd_per_kg(t), amount(t.cost), t.candidate))


def usd_per_kg(tried: Tried) -> float:
    """Cost of a year over what is taken out in a mean year; infinite where nothing is.

    Parameters
    ----------
    tried : Tried
        A candidate. [-]

    Returns
    -------
    float
        [USD]

    Notes
    -----
    c = C_year / M    (derived)

    References
    ----------
    derived, a ratio
    """
    return amount(tried.annual) / tried.removed if tried.removed else float("inf")


def _choices(
    design: Design,
    plan: SearchPlan,
    front: tuple[Tried, ...],
    weighed: tuple[Weighed, ...],
    practice: Practice,
    asking: Asking,
    is_named: Callable[[], bool],
) -> tuple[Choice, ...]:
    if not front:
        return ()
    named = [
        (
            "cheapest",
            "cheapest",
            "Of all that fall short of nothing, the one with the least estimate.",
            front[0],
        ),
        (
            "money",
            "most for money",
            "Of the front, the one whose year costs least for a kilogram of a mean year.",
            most_for_money(front),
        ),
        (
            "nitrate",
            "most nitrate",
            "Of all that fall short of nothing, the one that takes out most.",
            front[-1],
        ),
    ]
    robust = robust_of(weighed)
    if robust is not None:
        named.append(("robust", "surest", _why_robust(robust, weighed, plan.matter), robust.tried))
    made: dict[Candidate, Design] = {}
    for *_, tried in named:
        if tried.candidate not in made:
            if not is_named():
                return ()
            asking.goes_on(
                Progress(asking.tried, asking.routed, asking.budget, "designing the chosen again")
            )
            changed = design.job.changed(plan.inputs_of(tried.candidate))
            made[tried.candidate] = design_practice(changed, practice)
    return tuple(Choice(n, w, why, t, made[t.candidate]) for n, w, why, t in named)


def _why_robust(robust: Weighed, weighed: tuple[Weighed, ...], matter: str) -> str:
    doubt = min(len(each.in_doubt) for each in weighed)
    clear = "nine of ten draws agree on every rule, and " if doubt == 0 else ""
    return (
        f"Of {len(weighed)} of the front under the same draws of {matter}, the one of which"
        f" {clear}a kilogram costs in nine of ten draws at most "
        f"{robust.regret:.2f} USD more than with the best of them."
    )


def _apart(choice: Choice, plan: SearchPlan) -> list[Finding]:
    """What the whole chain says otherwise than the search."""
    trace, tried = choice.design.trace, choice.tried
    pairs: list[tuple[str, float, Callable[[], float]]] = [
        ("estimate in USD", amount(tried.cost), lambda: float(trace.value(COST))),
        ("nitrate in kg", amount(tried.removed), lambda: plan.removed_as_designed(trace)),
    ]
    return [
        Finding(
            "search-differs",
            "caution",
            f"The {plan.noun} {choice.words}",
            f"The search has {searched:.6g} for its {what}, the whole design {designed:.6g}. "
            f"What is said of this {plan.noun} is that of the whole design.",
            value=searched,
            limit=designed,
            source="derived",
        )
        for what, searched, work in pairs
        if abs(searched - (designed := work())) > SAME * max(1.0, abs(designed))
    ]
