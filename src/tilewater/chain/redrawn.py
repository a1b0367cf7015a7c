# SPDX-License-Identifier: Apache-2.0
"""Draws in which one parameter at a time is drawn anew, and what they tell of total shares."""

from collections.abc import Mapping

import numpy as np

from tilewater.basis.domain import refuse
from tilewater.basis.trace import Trace
from tilewater.chain.variance_shares import Array, Share, total_share
from tilewater.nitrate.parameter_ranges import Draws, ParameterRange, draws_of_ranges

PAIRS = 128
"""Draws of which each parameter is drawn anew; errors of total shares are then about a tenth."""
OTHER_SEED = 1000
"""What is added to the seed for the values drawn anew."""


def add_pairs(trace: Trace, count: int = PAIRS) -> None:
    """Record the first draws with one parameter drawn anew at a time, under `days.pairs`.

    Parameters
    ----------
    trace : Trace
        Steps with the draws. [-]
    count : int
        Draws taken again for each parameter. [-]
    """
    trace.constant("days.pair_count", count, "Draws taken again", source="derived")
    trace.compute(
        "days.pairs",
        redraw_one_by_one,
        unit="",
        title="Values with one parameter drawn anew",
        ranges=dict(trace.steps["days.drawn"].inputs)["ranges"],
        drawn="days.drawn",
        pairs="days.pair_count",
        seed="days.seed",
    )


def redraw_one_by_one(
    ranges: Mapping[str, ParameterRange], drawn: Mapping[str, Array], pairs: float, seed: float
) -> Draws:
    """The first draws once for every parameter, that parameter drawn anew.

    Parameters
    ----------
    ranges : mapping of str to ParameterRange
        By name. [-]
    drawn : mapping of str to array of shape (draws,)
        The draws. [-]
    pairs : float
        How many of them are taken. [-]
    seed : float
        Seed of the draws; the values drawn anew have another. [-]

    Returns
    -------
    dict of str to array of shape (parameters * pairs,)
        Values by name, the first `pairs` of the first parameter, and so on, in their units. [-]

    Notes
    -----
    A with column i of B, for every i    (saltelli2010)

    References
    ----------
    saltelli2010, one parameter drawn anew at a time
    """
    count, names = int(pairs), tuple(drawn)
    other = draws_of_ranges(ranges, count, seed + OTHER_SEED)
    return {
        name: np.concatenate([(other if name == turn else drawn)[name][:count] for turn in names])
        for name in names
    }


def total_shares(
    drawn: Mapping[str, Array], output: Array, redrawn_output: Array
) -> dict[str, Share]:
    """Total share of the variance of every parameter.

    Parameters
    ----------
    drawn : mapping of str to array of shape (draws,)
        The draws, whose names stand in the order of the redrawn ones. [-]
    output : array of shape (draws,)
        What they gave, in its own unit. [-]
    redrawn_output : array of shape (parameters * pairs,)
        What those gave in which one parameter was drawn anew. [-]

    Returns
    -------
    dict of str to Share
        By name. [-]

    Raises
    ------
    OutOfDomain
        If the redrawn ones are no whole number for each parameter.

    Notes
    -----
    T_i = sum of (y - y with x_i anew)^2 / (2 n V), V of the pairs    (jansen1999)

    References
    ----------
    jansen1999, differences of pairs
    """
    count, left = divmod(redrawn_output.size, len(drawn))
    if left or count < 2:
        size = float(redrawn_output.size)
        raise refuse("redrawn_output", size, "draws", "As many for each parameter", "Draw again")
    blocks = redrawn_output.reshape(len(drawn), count)
    return {
        name: total_share(output[:count], block) for name, block in zip(drawn, blocks, strict=True)
    }
