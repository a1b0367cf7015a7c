# SPDX-License-Identifier: Apache-2.0
"""What becomes of a candidate: what binds, its cost, and the days of the record.

Requirements are judged as soon as what they need is known, the cheap ones first; a candidate that
falls short goes no further. What keeps them all is routed over every day at the middle of every
range and at the low and the high rate, several candidates at a time in threads. What waits for the
days falls short where even the high rate does, and is in doubt where low and high disagree. The
answers come in the order of the questions, whatever the threads do.
"""

from collections.abc import Callable, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, field

from tilewater.basis.errors import TilewaterError
from tilewater.basis.requirement import Requirement, slack_of, status_of
from tilewater.basis.trace import Trace, Value
from tilewater.basis.unknown import Unknown
from tilewater.chain.search_axes import Candidate, Routing, SearchPlan
from tilewater.chain.search_replay import Group, Replay, Values
from tilewater.chain.search_walk import Tried
from tilewater.practices.bed._split import Array

BLOCK = 32
"""Candidates set to be routed between two words of progress."""
CHEAP = 2000
"""Candidates that may fall short before a word of progress."""
COST, ANNUAL = "cost.total_usd", "cost.annual_usd"

GoesOn = Callable[["Progress"], bool]


@dataclass(frozen=True)
class Progress:
    """How far a search is. `budget` is the most that are routed, `at` what it does now."""

    tried: int
    routed: int
    budget: int
    at: str


@dataclass(frozen=True)
class Judged:
    """What a set of requirements says: the least reserve, what falls short, what is in doubt."""

    binds: str = ""
    slack: float = float("inf")
    short: tuple[str, ...] = ()
    doubtful: tuple[str, ...] = ()

    def with_other(self, other: "Judged") -> "Judged":
        """Both sets together; what falls short comes before what does not."""
        first = min((self, other), key=lambda each: (not each.short, each.slack))
        doubtful = self.doubtful + other.doubtful
        return Judged(first.binds, first.slack, self.short + other.short, doubtful)


@dataclass(frozen=True)
class _Waiting:
    """A candidate between its two judgements."""

    candidate: Candidate
    values: Values
    judged: Judged
    sums: Future[Array] | Array | Unknown | None


@dataclass(frozen=True)
class _Stage:
    """A group of the replay, what is judged after it, and on which axes that rests."""

    group: Group
    requirements: tuple[Requirement, ...]
    rests: tuple[int, ...]
    known: dict[Candidate, Judged] = field(default_factory=dict)


class Asking:
    """Asks candidates of one design.

    Parameters
    ----------
    trace : Trace
        The design.
    plan : SearchPlan
        What may change.
    budget : int
        Most candidates that are routed.
    threads : int
        Threads that route; the answers do not depend on it.
    goes_on : callable
        Told of the progress; False stops the search.
    """

    def __init__(
        self, trace: Trace, plan: SearchPlan, *, budget: int, threads: int, goes_on: GoesOn
    ) -> None:
        self.plan, self.budget, self.threads, self.goes_on = plan, budget, threads, goes_on
        judged = [r for r in trace.requirements if r.binding]
        ends = [key for r in judged for key in _ends(r)]
        self.replay = Replay(
            trace,
            plan.axes,
            sooner=waves_of(trace, plan, judged),
            later=(COST, ANNUAL, plan.removed, plan.middle, *plan.needs, *ends),
            sums=plan.sums,
            rewired=plan.rewired,
            quick=plan.quick,
        )
        changes, waits = self.replay.changes, self.replay.waits
        changed = [r for r in judged if changes(r.value) or changes(r.limit)]
        self.untouched = tuple(r for r in judged if r not in changed)
        self.after_days = tuple(r for r in changed if waits(r.value) or waits(r.limit))
        sooner = [r for r in changed if r not in self.after_days]
        self._stages = self._staged(sooner)
        self.tried = self.routed = 0
        self.is_stopped = False

    def own(self) -> Tried:
        """The design itself, asked like any other, and routed whether it falls short or not."""
        values = self.replay.as_designed()
        before = Judged()
        for stage in self._stages:
            before = before.with_other(judge(self.replay, stage.requirements, values))
        return self._finished(_Waiting((), values, before, self._ready(values)()))

    def ask(self, candidates: Sequence[Candidate]) -> list[Tried]:
        """What became of the candidates, in order; fewer where the search was stopped."""
        if self.threads <= 1:
            return self._ask(candidates, None)
        with ThreadPoolExecutor(self.threads) as pool:
            return self._ask(candidates, pool)

    def _ask(self, candidates: Sequence[Candidate], pool: ThreadPoolExecutor | None) -> list[Tried]:
        """Begin a block while the one before it is still routed."""
        answers: list[Tried] = []
        before: list[_Waiting] = []
        place = 0
        while place < len(candidates) and not self.is_stopped:
            waiting = self._begin(candidates, place, pool)
            place += len(waiting)
            answers += map(self._finished, before)
            before = waiting
            at = f"routing {self.plan.noun}s"
            going = self.goes_on(Progress(self.tried, self.routed, self.budget, at))
            self.is_stopped = self.is_stopped or not going
            if not waiting:
                break  # as many as may be are routed
        answers += map(self._finished, before)
        return answers

    def _begin(
        self, candidates: Sequence[Candidate], first: int, pool: ThreadPoolExecutor | None
    ) -> list[_Waiting]:
        """Judge what does not wait for the days, and set a block of the rest to be routed."""
        waiting: list[_Waiting] = []
        routed = 0
        for candidate in candidates[first : first + CHEAP]:
            if self.routed >= self.budget or routed >= BLOCK:
                break
            values, judged = self._before(candidate)
            sums: Future[Array] | Array | Unknown | None = None
            if not judged.short:
                routed += 1
                self.routed += 1
                sums = self._route(values, pool)
            self.tried += 1
            waiting.append(_Waiting(candidate, values, judged, sums))
        return waiting

    def _before(self, candidate: Candidate) -> tuple[Values, Judged]:
        """Values and judgement of a candidate, no further than to where it falls short."""
        values, judged = Values(), Judged()
        for stage in self._stages:
            self.replay.work(stage.group, candidate, values)
            if stage.requirements:
                judged = judged.with_other(self._judged(stage, candidate, values))
                if judged.short:
                    return values, judged
        for group in self.replay.later:
            self.replay.work(group, candidate, values)
        return values, judged

    def _judged(self, stage: "_Stage", candidate: Candidate, values: Values) -> Judged:
        if len(stage.rests) == len(candidate):
            return judge(self.replay, stage.requirements, values)
        place = tuple(candidate[axis] for axis in stage.rests)
        if place not in stage.known:
            stage.known[place] = judge(self.replay, stage.requirements, values)
        return stage.known[place]

    def _staged(self, requirements: Sequence[Requirement]) -> list["_Stage"]:
        """Groups of the replay, each with the requirements that can be judged after it."""
        open_yet, known, stages = list(requirements), set[str](), []
        for group in self.replay.sooner:
            known |= group.makes
            ready = [r for r in open_yet if all(self._is_at_hand(k, known) for k in _ends(r))]
            open_yet = [r for r in open_yet if r not in ready]
            rests = set[int]().union(*(self.replay.rests_on(k) for r in ready for k in _ends(r)))
            stages.append(_Stage(group, tuple(ready), tuple(sorted(rests))))
        return stages

    def _is_at_hand(self, key: str, known: set[str]) -> bool:
        return key in known or not self.replay.changes(key)

    def _route(
        self, values: Values, pool: ThreadPoolExecutor | None
    ) -> Future[Array] | Array | Unknown:
        """Sums by year, at once or when a thread of the pool has come to it."""
        try:
            ready = self._ready(values)
        except TilewaterError as error:
            return Unknown(str(error), causes=(self.plan.sums,))
        return ready() if pool is None else pool.submit(ready)

    def _ready(self, values: Values) -> Routing:
        """Routing at the middle of every range, and at its ends where a rule waits for them."""
        about = self.plan.about_middle(self.replay.value(values, self.plan.middle))
        return self.plan.ready(values, about if self.after_days else about[:1])

    def _finished(self, each: _Waiting) -> Tried:
        """Judge what waited for the days."""
        cost, annual = (_number(each.values, key, self.replay) for key in (COST, ANNUAL))
        if each.sums is None:
            judged = each.judged
            return Tried(
                each.candidate, cost, annual, None, judged.binds, judged.slack, judged.short
            )
        sums = each.sums.result() if isinstance(each.sums, Future) else each.sums
        values = self.replay.after(each.values, sums)
        judged = each.judged.with_other(judge(self.replay, self.after_days, values))
        removed = self.replay.value(values, self.plan.removed)
        return Tried(
            each.candidate,
            cost,
            annual,
            None if isinstance(removed, Unknown) else float(removed[0]),
            judged.binds,
            judged.slack,
            judged.short,
            judged.doubtful,
        )


def waves_of(
    trace: Trace, plan: SearchPlan, requirements: Sequence[Requirement]
) -> list[tuple[str, ...]]:
    """Keys of requirements in the waves in which a candidate is asked.

    First all that do not rest on every axis, which many candidates share; then one after the other
    those that do, in the order of the design.
    """
    probe = Replay(trace, plan.axes, sooner=(), later=(), sums=plan.sums, rewired=plan.rewired)
    every = frozenset(range(len(plan.axes)))
    shared: list[str] = []
    alone: list[tuple[str, ...]] = []
    for each in requirements:
        if frozenset().union(*map(probe.rests_on, _ends(each))) == every:
            alone.append(_ends(each))
        else:
            shared += _ends(each)
    return [tuple(shared), *alone]


def judge(replay: Replay, requirements: Sequence[Requirement], values: Values) -> Judged:
    """Judge requirements by the values of a candidate; what is not known does not fall short."""
    binds, least = "", float("inf")
    short: list[str] = []
    doubtful: list[str] = []
    for each in requirements:
        value, limit = replay.value(values, each.value), replay.value(values, each.limit)
        status = status_of(value, limit, each.operator)
        if status == "not known":
            doubtful.append(each.key)
            continue
        slack = float(slack_of(value, limit, each.operator, each.scale))
        if status == "short":
            if not short or slack < least:
                binds, least = each.key, slack
            short.append(each.key)
        elif not short and not each.exact and slack < least:
            binds, least = each.key, slack
    return Judged(binds, least, tuple(short), tuple(doubtful))


def _ends(requirement: Requirement) -> tuple[str, str]:
    return requirement.value, requirement.limit


def _number(values: Values, key: str, replay: Replay) -> float | None:
    """A number of a candidate; None where it was not asked or is not known."""
    if replay.changes(key) and key not in values:
        return None
    value: Value = replay.value(values, key)
    return None if isinstance(value, Unknown) else float(value)


def why_no_cost(trace: Trace) -> Unknown | None:
    """Why the cost is not known; None where it is."""
    for key in (COST, ANNUAL):
        value = trace.value(key)
        if isinstance(value, Unknown):
            return value
    return None
