# SPDX-License-Identifier: Apache-2.0
"""Steps that judge one number of finished work against its design, its tolerance and its noise."""

import re
from collections.abc import Sequence

from tilewater.basis.trace import Trace
from tilewater.chain.built_elements import Level
from tilewater.chain.built_shots import Matched, is_as_found, keyed
from tilewater.ground.as_built import (
    deviation,
    mean_level,
)
from tilewater.ground.tolerances import (
    noise_factor,
    noise_of_mean,
    tolerance_status,
)

PARTS = "built.parts"


def part_key(level: Level) -> str:
    """Where a level stands in the trace."""
    return f"{PARTS}.{slug_of(level.element)}.{slug_of(level.what)}"


def slug_of(words: str) -> str:
    """Words as a part of a key."""
    return "-".join(re.findall(r"[a-z0-9]+", words.casefold()))


def words_of_level(level: Level) -> str:
    """What a level is, in words of the trade."""
    return f"{level.what}, {level.element}"


def add_mean(trace: Trace, level: Level, shots: Sequence[Matched]) -> None:
    """The mean of the shots of a level, and how it stands to its design; nothing without shots."""
    if not shots:
        return
    here = part_key(level)
    trace.compute(
        f"{here}_m",
        mean_level,
        unit="m",
        title=f"As built: {words_of_level(level)}",
        **keyed(shots, "level_m"),
    )
    trace.compute(
        f"{here}.noise_m",
        noise_of_mean,
        unit="m",
        title=f"Noise of the mean: {words_of_level(level)}",
        **keyed(shots, "noise_m"),
    )
    add_judged(trace, level)


def add_judged(trace: Trace, level: Level, comparisons: int = 1) -> None:
    """How a number as built stands to its design, and whether that holds.

    Parameters
    ----------
    trace : Trace
        Of the design. [-]
    level : Level
        What was built. [-]
    comparisons : int
        How many are made of one thing. [-]
    """
    here, words = part_key(level), words_of_level(level)
    if not level.design or is_as_found(trace):
        return
    trace.compute(
        f"{here}.off_m",
        deviation,
        unit="m",
        title=f"Built less designed: {words}",
        built=f"{here}_m",
        design=level.design,
    )
    add_status(trace, level, comparisons)


def add_status(trace: Trace, level: Level, comparisons: int) -> None:
    """Whether a deviation that was recorded is within its tolerance.

    Parameters
    ----------
    trace : Trace
        Of the design. [-]
    level : Level
        What was built. [-]
    comparisons : int
        How many are made of one thing. [-]
    """
    here = part_key(level)
    trace.compute(
        f"{here}.status",
        tolerance_status,
        unit="",
        title=f"Within its tolerance: {words_of_level(level)}",
        off=f"{here}.off_m",
        below=level.below,
        above=level.above,
        noise=f"{here}.noise_m",
        factor=factor_for(trace, float(comparisons)),
    )


def factor_for(trace: Trace, comparisons: float) -> str:
    """Key of how many standard deviations noise may reach in so many comparisons.

    Parameters
    ----------
    trace : Trace
        Of the design. [-]
    comparisons : float
        How many are made of one thing. [-]

    Returns
    -------
    str
        The key. [-]
    """
    key = f"built.factor.of-{comparisons:g}"
    if key not in trace:
        count = trace.constant(
            f"built.comparisons.of-{comparisons:g}",
            comparisons,
            "How many comparisons are made",
            unit="-",
            source="derived",
        )
        trace.compute(
            key,
            noise_factor,
            unit="-",
            title="Standard deviations that noise alone may reach",
            comparisons=count,
        )
    return key
