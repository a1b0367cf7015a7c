# SPDX-License-Identifier: Apache-2.0
"""Steps on levels of finished work: the mean of their shots, and how it stands to the design."""

from collections.abc import Sequence

from tilewater.basis.trace import Trace
from tilewater.chain.built_bed import add_bed
from tilewater.chain.built_elements import (
    BENCHMARK,
    CHECKED,
    TOLERANCE,
    Level,
    has_bed,
    structure_levels,
)
from tilewater.chain.built_judged import add_mean, part_key
from tilewater.chain.built_shots import Matched, of_part


def add_levels(trace: Trace, found: Sequence[Matched]) -> tuple[Level, ...]:
    """Record levels of structures and of the bed as built, each against its design.

    Parameters
    ----------
    trace : Trace
        Of the design, shots added. [-]
    found : sequence of Matched
        The shots. [-]

    Returns
    -------
    tuple of Level
        What can be shot, also where nothing was; checks on benchmarks only where one was made. [-]
    """
    levels = [*structure_levels(trace), *_benchmarks(trace)]
    for level in levels:
        add_mean(trace, level, of_part(found, level.element, level.codes))
    if has_bed(trace):
        levels += add_bed(trace, found)
    return tuple(
        level for level in levels if level.what != CHECKED or f"{part_key(level)}_m" in trace
    )


def _benchmarks(trace: Trace) -> tuple[Level, ...]:
    """Checks on benchmarks; a survey that does not check in is worth less."""
    within = f"{TOLERANCE}.structure_m"
    return tuple(
        Level(
            name.replace("-", " "),
            CHECKED,
            frozenset({BENCHMARK}),
            f"inputs.benchmark.{name}.elevation_m",
            within,
            within,
        )
        for name in trace.names("inputs.benchmark")
        if f"inputs.benchmark.{name}.elevation_m" in trace
    )
