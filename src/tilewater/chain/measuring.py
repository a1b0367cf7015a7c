# SPDX-License-Identifier: Apache-2.0
"""What a measurement is worth before it is made: how often it would change the choice.

The draws stand for what is known. For each result that a measurement might give, the draws are
weighed by how well they agree with it, the choice is made again, and what the first choice would
have lost is counted. Options are costs by draw, the same draws for every option; an option costs
infinity in a draw in which it does not fit. One practice is weighed against leaving it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.domain import refuse
from tilewater.basis.errors import OutOfDomain
from tilewater.chain.variance_shares import Array, jackknifed

RESULTS = 64
"""Results that a measurement might give, spread as the draws and its error spread them."""
GROUPS = 16
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
    chance : float
        Of another choice once it is made. [-]
    chance_error : float
        Standard error of that. [-]
    settles : float
        Chance that what is chosen then is better in 9 of 10 draws, less that without it. [-]
    saving : float
        Mean of what the first choice would have cost more, in the terms of the options. [-]
    saving_error : float
        Standard error of that; both are infinite where leaving it has no price. [-]
    """

    choice: str
    chance: float
    chance_error: float
    settles: float
    saving: float
    saving_error: float


def worth_of_measuring(options: Mapping[str, Array], settled: Sequence[Settled]) -> Worth:
    """What a measurement could change in a choice, before it is made.

    Parameters
    ----------
    options : mapping of str to array of shape (draws,)
        Cost by draw of each option, infinite where it does not fit; the first wins a tie. [USD]
    settled : sequence of Settled
        What the measurement would know, by the same draws. [-]

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
    chance = share of the results z_j with another option of least weighted median    (derived)
    saving = mean over z_j of (median of the first choice - least median)    (raiffa1961)

    References
    ----------
    raiffa1961, value of a sample before it is drawn
    derived, the draws weighed by the likelihood of a result
    """
    names, costs = tuple(options), np.array(list(options.values()), dtype=np.float64)
    if len(names) < 2:
        raise OutOfDomain(
            f"{len(names)} option stands to choose. A choice has two. Add that of leaving it."
        )
    if any(each.values.size != costs.shape[1] for each in settled) or np.any(np.isnan(costs)):
        raise refuse("options", float(costs.shape[1]), "draws", "A number in each", "Check them")
    every = np.arange(costs.shape[1])
    chosen = _best(costs, np.ones((1, every.size)))[0][0]
    chance, settles, saving = _outcome(costs, settled, every, int(chosen))

    def again(kept: NDArray[np.int64], which: int) -> float:
        return _outcome(costs, settled, kept, int(chosen))[which]

    return Worth(
        choice=names[int(chosen)],
        chance=chance,
        chance_error=jackknifed(lambda kept: again(kept, 0), every.size, GROUPS),
        settles=settles,
        saving=saving,
        saving_error=(
            saving
            if np.isinf(saving)
            else jackknifed(lambda kept: again(kept, 2), every.size, GROUPS)
        ),
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


def _outcome(
    costs: Array, settled: Sequence[Settled], kept: NDArray[np.int64], chosen: int
) -> tuple[float, float, float]:
    """Chance of another choice, gain in settled results, mean saving; of the draws kept."""
    less = costs[:, kept]
    weights = _weights([Settled(each.values[kept], each.error) for each in settled])
    best, medians = _best(less, weights)
    changed = float(np.mean(best != chosen))
    before = float(_is_clear(less, np.ones((1, kept.size)))[0])
    clear = float(np.mean(_is_clear(less, weights)))
    first = medians[chosen]
    least = medians.min(axis=0)
    if np.any(np.isinf(first) != np.isinf(least)):
        return changed, clear - before, float("inf")
    gain = np.where(np.isinf(first), 0.0, first - np.where(np.isinf(least), 0.0, least))
    return changed, clear - before, float(np.mean(gain))


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


def _best(costs: Array, weights: Array) -> tuple[NDArray[np.int64], Array]:
    """Option of the least weighted median by result, and the medians by option and result."""
    medians = np.array([_medians(cost, weights) for cost in costs])
    return np.argmin(medians, axis=0), medians


def _medians(cost: Array, weights: Array) -> Array:
    order = np.argsort(cost, kind="stable")
    summed = np.cumsum(weights[:, order], axis=1)
    place = np.sum(summed < 0.5 * summed[:, -1:] * (1.0 - 1e-12), axis=1)
    return np.asarray(cost[order][place])


def _is_clear(costs: Array, weights: Array) -> NDArray[np.bool_]:
    """Whether one option is the best in 9 of 10 draws by weight."""
    first = np.argmin(costs, axis=0)
    shares = np.array([(weights * (first == i)).sum(axis=1) for i in range(costs.shape[0])])
    return np.asarray(shares.max(axis=0) >= CLEAR * weights.sum(axis=1))
