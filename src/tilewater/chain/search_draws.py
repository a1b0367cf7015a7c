# SPDX-License-Identifier: Apache-2.0
"""Members of a front under the range of chips and kinetics, and which of them to be sure of.

Every member meets the same draws, so that they differ by their sizes and not by luck. The regret of
a member in a draw is what its kilogram costs more there than that of the best member in that draw.
"""

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np

from tilewater.basis.requirement import status_of
from tilewater.basis.trace import Trace, Value
from tilewater.chain.search_ask import Asking
from tilewater.chain.search_axes import SearchPlan
from tilewater.chain.search_replay import Replay, function_of
from tilewater.chain.search_walk import Tried, amount
from tilewater.practices.bed._split import Array

DRAWS = 256
"""Draws that every member meets."""
WEIGHED = 24
"""Members of a front that meet them, spread over its length."""
COUNT = "count"
SURE = 0.9
"""Share of the draws in which a robust member is held to its regret."""


@dataclass(frozen=True)
class Weighed:
    """A member of a front under the draws.

    Attributes
    ----------
    tried : Tried
        The member.
    removed : array of shape (draws,)
        Taken out in a mean year. [kg]
    regret : float
        More that a kilogram costs than with the best of them, in nine of ten draws no more. [USD]
    best_in : float
        Share of the draws in which its kilogram is the cheapest. [-]
    in_doubt : tuple of str
        Requirements on which fewer than nine of ten draws agree.
    short : tuple of str
        Requirements that fall short in nine of ten draws.
    """

    tried: Tried
    removed: Array
    regret: float
    best_in: float
    in_doubt: tuple[str, ...]
    short: tuple[str, ...]

    def removed_at(self, share: float) -> float:
        """Quantile of what is taken out in a mean year. [kg]"""
        return float(np.quantile(self.removed, share))


@dataclass(frozen=True)
class Met:
    """What a member takes out in each draw, and what the draws do not settle."""

    tried: Tried
    removed: Array
    in_doubt: tuple[str, ...]
    short: tuple[str, ...]


def weigh(
    trace: Trace,
    plan: SearchPlan,
    asking: Asking,
    members: Sequence[Tried],
    *,
    threads: int,
    goes_on: Callable[[int], bool],
    draws: int = DRAWS,
) -> tuple[Weighed, ...]:
    """Lead members through the same draws.

    Parameters
    ----------
    trace : Trace
        The design that was searched. [-]
    plan : SearchPlan
        What may change. [-]
    asking : Asking
        Holds the requirements that wait for the days. [-]
    members : sequence of Tried
        Candidates; an empty candidate is the design itself. [-]
    threads : int
        Threads that route; the result does not depend on it. [-]
    goes_on : callable
        Told how many are done; False leaves the rest out. [-]
    draws : int
        Draws. [-]

    Returns
    -------
    tuple of Weighed
        In the order of the members; fewer where it was stopped. [-]

    References
    ----------
    derived, regret against the best of those compared
    """
    ends = [key for r in asking.after_days for key in (r.value, r.limit)]
    replay = Replay(
        trace,
        plan.axes,
        sooner=(),
        later=(plan.removed, plan.draws, *plan.needs, *ends),
        sums=plan.sums,
        rewired=plan.rewired,
        instead={plan.drawn: _drawn(trace, plan.drawn, draws)},
    )

    def meet(member: Tried) -> Met:
        values = replay.before(member.candidate) if member.candidate else replay.as_designed()
        sums = plan.ready(values, replay.value(values, plan.draws))()
        values = replay.after(values, sums)
        status = {
            r.key: status_of(
                replay.value(values, r.value), replay.value(values, r.limit), r.operator
            )
            for r in asking.after_days
        }
        return Met(
            member,
            np.asarray(replay.value(values, plan.removed)),
            tuple(key for key, word in status.items() if word == "not known"),
            tuple(key for key, word in status.items() if word == "short"),
        )

    met: list[Met] = []
    with ThreadPoolExecutor(max(1, threads)) as pool:
        for first in range(0, len(members), 2 * threads):
            met += pool.map(meet, members[first : first + 2 * threads])
            if not goes_on(len(met)):
                break
    return regrets_of(met)


def _drawn(trace: Trace, key: str, count: int) -> Value:
    """What is drawn, in another number."""
    step = trace.steps[key]
    return function_of(step)(**{name: trace.value(k) for name, k in step.inputs} | {COUNT: count})


def regrets_of(met: Sequence[Met]) -> tuple[Weighed, ...]:
    """Regret of each member against the best in every draw."""
    if not met:
        return ()
    with np.errstate(divide="ignore"):
        per_kg = np.array([amount(each.tried.annual) / each.removed for each in met])
    best = per_kg.min(axis=0)
    with np.errstate(invalid="ignore"):
        regret = np.nan_to_num(per_kg - best, nan=np.inf, posinf=np.inf)
    return tuple(
        Weighed(
            each.tried,
            each.removed,
            float(np.quantile(regret[place], SURE)),
            float(np.mean(per_kg[place] <= best)),
            each.in_doubt,
            each.short,
        )
        for place, each in enumerate(met)
    )


def robust_of(weighed: Sequence[Weighed]) -> Weighed | None:
    """The member to be sure of: least in doubt, then least regret, then cheapest.

    Parameters
    ----------
    weighed : sequence of Weighed
        Members of a front. [-]

    Returns
    -------
    Weighed or None
        None where none is left that does not fall short in nine of ten draws. [-]

    References
    ----------
    derived, least regret among what the draws agree on
    """
    sure = [each for each in weighed if not each.short]
    return min(
        sure,
        key=lambda w: (len(w.in_doubt), w.regret, amount(w.tried.cost), w.tried.candidate),
        default=None,
    )
