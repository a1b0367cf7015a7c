# SPDX-License-Identifier: Apache-2.0
"""What a measurement is worth before it is made: how often it would change the choice.

The draws stand for what is known. For each result that a measurement might give, the draws are
weighed by how well they agree with it, the choice is made again, and what the first choice would
have lost is counted. Options are costs by draw, the same draws for every option. An option may be
held to rules, by how far each draw keeps them: it is out where the middle of one falls short, as
the chain judges by the middle. One practice is weighed against leaving it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import NormalDist
from types import MappingProxyType
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.domain import refuse
from tilewater.basis.errors import OutOfDomain
from tilewater.chain.variance_shares import Array, Share, groups_of, jackknife_errors

RESULTS = 64
"""Results that a measurement might give, spread as the draws and its error spread them."""
GROUPS = 8
"""Groups of draws left out for an error; more would make the error surer and the design slower."""
CLEAR = 0.9
"""Share of the weight on one side at which a question counts as settled."""
NORMAL = NormalDist()


@dataclass(frozen=True)
class Settled:
    """One uncertain number and how well a measurement would know it.

    Attributes
    ----------
    values : array
        By draw; as logarithms where the error is a ratio. [-]
    error : float
        Standard deviation of the measurement, in the same terms. [-]
    """

    values: Array
    error: float


@dataclass(frozen=True)
class Worth:
    """What a measurement could change.

    Attributes
    ----------
    choice : str
        What is chosen without it.
    chance : Share
        Chance of another choice once it is made. [-]
    was_settled : bool
        Whether the choice is clear already: each rule kept or broken, and the cheapest the same, in
        9 of 10 draws.
    settles : Share
        Chance that it is clear once the measurement is made. [-]
    saving : float
        Mean of what the first choice would have cost more, in the terms of the options. [-]
    saving_error : float
        Standard error of that; both are infinite where leaving it has no price. [-]
    """

    choice: str
    chance: Share
    was_settled: bool
    settles: Share
    saving: float
    saving_error: float


def worth_of_measuring(
    options: Mapping[str, Array],
    settled: Sequence[Settled],
    margins: Mapping[str, Sequence[Array]] = MappingProxyType({}),
) -> Worth:
    """What a measurement could change in a choice, before it is made.

    Parameters
    ----------
    options : mapping of str to array of shape (draws,)
        Cost by draw of each option, infinite for nothing; the first wins a tie. [USD]
    settled : sequence of Settled
        What the measurement would know, by the same draws. [-]
    margins : mapping of str to sequence of arrays of shape (draws,)
        By how much each draw of an option keeps each of its rules, negative where it does not. [-]

    Returns
    -------
    Worth
        Chance of another choice, and what is saved by it on the mean. [-]

    Raises
    ------
    OutOfDomain
        If there are fewer than two options, or they differ in their draws.

    Notes
    -----
    z_j = x_j + e v_j;  w_ij ~ exp(-(x_i - z_j)^2 / 2 e^2)    (derived)
    choice: least weighted median of those whose rules keep theirs    (derived)
    chance = share of the results z_j with another choice    (derived)
    saving = mean over z_j of (cost of the first choice - least cost)    (raiffa1961)

    References
    ----------
    raiffa1961, value of a sample before it is drawn
    derived, the draws weighed by the likelihood of a result
    """
    names = tuple(options)
    table = _Table(
        np.array(list(options.values()), dtype=np.float64),
        tuple(np.array(list(margins.get(name, ())), dtype=np.float64) for name in names),
    )
    if len(names) < 2:
        raise OutOfDomain(
            f"{len(names)} option stands to choose. A choice has two. Add that of leaving it."
        )
    every = np.arange(table.costs.shape[1])
    sizes = [each.values.size for each in settled] + [m.shape[1] for m in table.margins if m.size]
    if any(size != every.size for size in sizes) or np.any(np.isnan(table.costs)):
        raise refuse("options", float(every.size), "draws", "A number in each", "Check them")
    even = np.ones((1, every.size)) / every.size
    chosen = int(_best(table, even)[0][0])
    chance, settles, saving = _outcome(table, settled, every, chosen)
    without = np.array(
        [
            _outcome(table, settled, np.delete(every, group), chosen)
            for group in groups_of(every.size, GROUPS)
        ]
    )
    is_priced = bool(np.all(np.isfinite(without[:, 2])) and np.isfinite(saving))
    errors = jackknife_errors(without if is_priced else without[:, :2])
    return Worth(
        choice=names[chosen],
        chance=Share(chance, float(errors[0])),
        was_settled=bool(_is_clear(table, even)[0]),
        settles=Share(settles, float(errors[1])),
        saving=saving,
        saving_error=float(errors[2]) if is_priced else float("inf"),
    )


def worth_of_knowing_all(options: Mapping[str, Array]) -> float:
    """What is saved on the mean where every uncertain number is known beforehand.

    Parameters
    ----------
    options : mapping of str to array of shape (draws,)
        Cost by draw of each option. [USD]

    Returns
    -------
    float
        No measurement is worth more, where costs are compared by their means. [USD]

    Notes
    -----
    saving = least mean - mean of the least    (raiffa1961)

    References
    ----------
    raiffa1961, value of perfect information
    """
    costs = np.array(list(options.values()), dtype=np.float64)
    return float(costs.mean(axis=1).min() - costs.min(axis=0).mean())


def share_settled(values: Array, error: float) -> float:
    """Share of a parameter's own variance that a measurement takes away.

    Parameters
    ----------
    values : array
        By draw. [-]
    error : float
        Standard deviation of the measurement, in the same terms. [-]

    Returns
    -------
    float
        Share; 1 for a measurement without error. [-]

    Notes
    -----
    r = s^2 / (s^2 + e^2)    (derived)

    References
    ----------
    derived, two normal laws multiplied
    """
    own = float(np.var(values))
    return own / (own + error * error) if own > 0.0 else 0.0


class _Table(NamedTuple):
    """Costs by option and draw; margins of each option by rule and draw."""

    costs: Array
    margins: tuple[Array, ...]

    def of(self, kept: NDArray[np.int64]) -> "_Table":
        fewer = (m[:, kept] if m.size else m for m in self.margins)
        return _Table(self.costs[:, kept], tuple(fewer))


def _outcome(
    table: _Table, settled: Sequence[Settled], kept: NDArray[np.int64], chosen: int
) -> tuple[float, float, float]:
    """Chance of another choice, share of settled results, mean saving; of the draws kept."""
    less = table.of(kept)
    weights = _weights([Settled(each.values[kept], each.error) for each in settled])
    best, costs = _best(less, weights)
    changed, clear = float(np.mean(best != chosen)), float(np.mean(_is_clear(less, weights)))
    first, least = costs[chosen], costs.min(axis=0)
    if np.any(np.isinf(first) != np.isinf(least)):
        return changed, clear, float("inf")
    gain = np.where(np.isinf(first), 0.0, first - np.where(np.isinf(least), 0.0, least))
    return changed, clear, float(np.mean(gain))


def _weights(settled: Sequence[Settled]) -> Array:
    """Weights of the draws by result, each row adding up to 1."""
    logs: Array = np.zeros((RESULTS, settled[0].values.size))
    for turn, each in enumerate(settled):
        ranked = np.sort(each.values)
        truths = ranked[((np.arange(RESULTS) + 0.5) / RESULTS * ranked.size).astype(np.int64)]
        results = truths + each.error * _scores(turn)
        logs -= 0.5 * ((each.values[None, :] - results[:, None]) / each.error) ** 2
    weights = np.exp(logs - logs.max(axis=1, keepdims=True))
    return np.asarray(weights / weights.sum(axis=1, keepdims=True))


def _scores(turn: int) -> Array:
    """Normal scores of the errors, spread evenly and in no step with the results."""
    golden = (np.arange(RESULTS) * 0.6180339887498949 + 0.5 + 0.7548776662466927 * turn) % 1.0
    places = (np.argsort(np.argsort(golden)) + 0.5) / RESULTS
    return np.array([NORMAL.inv_cdf(float(p)) for p in places])


def _best(table: _Table, weights: Array) -> tuple[NDArray[np.int64], Array]:
    """Option of the least cost by result, and the costs by option and result."""
    costs = np.array([_medians(cost, weights) for cost in table.costs])
    for option, rules in enumerate(table.margins):
        for rule in rules:
            costs[option][_medians(rule, weights) < 0.0] = np.inf
    return np.argmin(costs, axis=0), costs


def _medians(cost: Array, weights: Array) -> Array:
    order = np.argsort(cost, kind="stable")
    summed = np.cumsum(weights[:, order], axis=1)
    place = np.sum(summed < 0.5 * summed[:, -1:] * (1.0 - 1e-12), axis=1)
    return np.asarray(cost[order][place])


def _is_clear(table: _Table, weights: Array) -> NDArray[np.bool_]:
    """Whether every rule is kept or broken, and one option the best, in 9 of 10 draws by weight."""
    weights = weights / weights.sum(axis=1, keepdims=True)
    results = weights.shape[0]
    is_open, is_out = np.zeros(results, dtype=bool), []
    for rules in table.margins:
        kept = [(weights * (rule >= 0.0)).sum(axis=1) for rule in rules]
        out = np.any([share <= 1.0 - CLEAR for share in kept], axis=0) if kept else is_open & False
        unsure = np.any([share < CLEAR for share in kept], axis=0) if kept else is_open & False
        is_open |= unsure & ~out
        is_out.append(out)
    best = np.zeros(results)
    for option, cost in enumerate(table.costs):
        stands = [j for j in range(len(table.costs)) if j != option]
        better = np.ones((results, cost.size), dtype=bool)
        for other in stands:
            wins = cost < table.costs[other] if other < option else cost <= table.costs[other]
            better &= wins[None, :] | is_out[other][:, None]
        share = np.where(is_out[option], 0.0, (weights * better).sum(axis=1))
        best = np.maximum(best, share)
    return np.asarray(~is_open & (best >= CLEAR))
