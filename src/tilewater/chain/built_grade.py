# SPDX-License-Identifier: Apache-2.0
"""Steps along a laid pipe: each shot against the design, local grade, water that will stand.

A pipe that is designed level is held level over its length instead of to a grade.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from tilewater.basis.trace import Trace
from tilewater.basis.unknown import is_unknown
from tilewater.chain.built_elements import OF_PIPE, TOLERANCE, Run, runs
from tilewater.chain.built_judged import factor_for
from tilewater.chain.built_parts import pair_of
from tilewater.chain.built_shots import Matched, is_as_found, keyed, of_part
from tilewater.ground.as_built import (
    deviation,
    invert_of_pipe_bottom,
    invert_of_pipe_top,
)
from tilewater.ground.baseline import line_length
from tilewater.ground.grade_check import (
    comparisons_of,
    design_invert,
    flattest_reach,
    grade_of_ends,
    grade_of_reach,
    grade_status,
    laid_pipe,
    local_grade_length,
)
from tilewater.ground.matching import distance_along
from tilewater.ground.standing_water import (
    back_fall_status,
    depth_by_noise,
    level_range,
    no_more_status,
    standing_depth,
    standing_place,
)
from tilewater.ground.tolerances import (
    largest_noise,
    tolerance_status,
)
from tilewater.practices.rules import same

GRADE = "grade"
LEVEL = 1e-6
"""A grade no steeper than this is level. [-]"""
OWN = frozenset({"invert", "flowline"})


@dataclass(frozen=True)
class LaidRun:
    """A pipe with its shots, those whose invert is known in the order from its lower end."""

    run: Run
    shots: tuple[Matched, ...]

    @property
    def key(self) -> str:
        """Where its numbers stand in the trace."""
        return f"{GRADE}.{self.run.slug}"


def add_grade(trace: Trace, found: Sequence[Matched]) -> tuple[LaidRun, ...]:
    """Record every pipe and level line as laid.

    Parameters
    ----------
    trace : Trace
        Of the design, shots added. [-]
    found : sequence of Matched
        The shots. [-]

    Returns
    -------
    tuple of LaidRun
        Those of the design; one without shots has none. [-]
    """
    return tuple(_add_run(trace, run, of_part(found, run.name, OF_PIPE)) for run in runs(trace))


def shot_key(laid: LaidRun, m: Matched) -> str:
    """Where the numbers of a shot of a pipe stand."""
    return f"{laid.key}.shots.{m.shot.key}"


def _add_run(trace: Trace, run: Run, shots: Sequence[Matched]) -> LaidRun:
    laid = LaidRun(run, tuple(shots))
    for m in shots:
        _add_invert(trace, laid, m)
    known = [m for m in shots if trace.known(f"{shot_key(laid, m)}.invert_m")]
    if run.line and not is_as_found(trace):
        trace.constant(f"{laid.key}.line", run.line, f"Line of {run.name}", source="derived")
        placed = [m for m in known if trace.known(f"{m.key}.station_m")]
        _add_along(trace, laid, placed)
        placed.sort(key=lambda m: float(trace.value(f"{shot_key(laid, m)}.along_m")))
        if placed and run.lower and run.upper and trace.known(run.lower, run.upper):
            _add_design(trace, laid, placed)
        if placed:
            _add_profile(trace, laid, placed)
        rest = [m for m in shots if m not in placed]
        return LaidRun(run, (*placed, *rest))
    return laid


def _add_invert(trace: Trace, laid: LaidRun, m: Matched) -> None:
    """Invert of a shot; one on the outside needs the wall, and on top the diameter."""
    key, run = f"{shot_key(laid, m)}.invert_m", laid.run
    title = f"Invert at shot {m.shot.point}, {run.name}"
    if m.match.code in OWN:
        trace.compute(key, same, unit="m", title=title, value=f"{m.key}.level_m")
    elif run.wall and m.match.code == "pipe_bottom":
        trace.compute(
            key,
            invert_of_pipe_bottom,
            unit="m",
            title=title,
            level=f"{m.key}.level_m",
            wall=run.wall,
        )
    elif run.wall and run.diameter:
        trace.compute(
            key,
            invert_of_pipe_top,
            unit="m",
            title=title,
            level=f"{m.key}.level_m",
            diameter=run.diameter,
            wall=run.wall,
        )


def _add_along(trace: Trace, laid: LaidRun, shots: Sequence[Matched]) -> None:
    for m in shots:
        trace.compute(
            f"{shot_key(laid, m)}.along_m",
            distance_along,
            unit="m",
            title=f"Distance from the lower end: shot {m.shot.point}, {laid.run.name}",
            line=f"{laid.key}.line",
            station=f"{m.key}.station_m",
            offset=f"{m.key}.offset_m",
        )


def _add_design(trace: Trace, laid: LaidRun, shots: Sequence[Matched]) -> None:
    """Each shot against the designed invert there."""
    run, here = laid.run, laid.key
    trace.compute(
        f"{here}.length_m",
        line_length,
        unit="m",
        title=f"Length of {run.name}",
        line=f"{here}.line",
    )
    ends = {"lower": run.lower, "upper": run.upper, "run": f"{here}.length_m"}
    trace.compute(
        f"{here}.design.slope",
        grade_of_ends,
        unit="-",
        title=f"Designed grade of {run.name}",
        **ends,
    )
    for m in shots:
        own, words = shot_key(laid, m), f"shot {m.shot.point}, {run.name}"
        trace.compute(
            f"{own}.design_invert_m",
            design_invert,
            unit="m",
            title=f"Designed invert at {words}",
            along=f"{own}.along_m",
            **ends,
        )
        trace.compute(
            f"{own}.off_m",
            deviation,
            unit="m",
            title=f"Built less designed: {words}",
            built=f"{own}.invert_m",
            design=f"{own}.design_invert_m",
        )


def _add_profile(trace: Trace, laid: LaidRun, shots: Sequence[Matched]) -> None:
    """The pipe from end to end, and each shot judged."""
    here, run = laid.key, laid.run
    for m in shots:
        trace.compute(
            f"{shot_key(laid, m)}.placed",
            pair_of,
            unit="m",
            title=f"Distance and invert of shot {m.shot.point}",
            along=f"{shot_key(laid, m)}.along_m",
            level=f"{shot_key(laid, m)}.invert_m",
        )
    own = {name: f"{shot_key(laid, m)}.placed" for m in shots for name in keyed((m,), "")}
    trace.compute(f"{here}.laid", laid_pipe, unit="m", title=f"{run.name} as laid", **own)
    count = trace.compute(
        f"{here}.comparisons",
        comparisons_of,
        unit="-",
        title=f"Comparisons made of {run.name}",
        pipe=f"{here}.laid",
    )
    trace.compute(
        f"{here}.noise_m",
        largest_noise,
        unit="m",
        title=f"Noise of the least certain shot of {run.name}",
        **keyed(shots, "noise_m"),
    )
    factor = factor_for(trace, float(count))
    for m in shots:
        if f"{shot_key(laid, m)}.off_m" in trace:
            trace.compute(
                f"{shot_key(laid, m)}.status",
                tolerance_status,
                unit="",
                title=f"Within its tolerance: shot {m.shot.point}, {run.name}",
                off=f"{shot_key(laid, m)}.off_m",
                below=f"{TOLERANCE}.pipe_invert_m",
                above=f"{TOLERANCE}.pipe_invert_m",
                noise=f"{m.key}.noise_m",
                factor=factor,
            )
    if len(shots) > 1:
        _add_between(trace, laid, factor)


def _add_between(trace: Trace, laid: LaidRun, factor: str) -> None:
    """What shows only between shots: standing water, and local grade or level."""
    here, run = laid.key, laid.run
    trace.compute(
        f"{here}.by_noise_m",
        depth_by_noise,
        unit="m",
        title=f"Difference of two shots that noise may make: {run.name}",
        noise=f"{here}.noise_m",
        factor=factor,
    )
    slope = f"{here}.design.slope"
    if trace.known(slope) and trace.value(slope) <= LEVEL:
        _add_level(trace, laid)
        return
    trace.compute(
        f"{here}.standing_m",
        standing_depth,
        unit="m",
        title=f"Deepest water that will stand in {run.name}",
        pipe=f"{here}.laid",
    )
    trace.compute(
        f"{here}.standing_at_m",
        standing_place,
        unit="m",
        title=f"Where it will stand, from the lower end of {run.name}",
        pipe=f"{here}.laid",
    )
    trace.compute(
        f"{here}.standing.status",
        back_fall_status,
        unit="",
        title=f"No back-fall beyond the noise: {run.name}",
        difference=f"{here}.standing_m",
        by_noise=f"{here}.by_noise_m",
    )
    least = f"{TOLERANCE}.grade_least"
    if trace.known(slope) and trace.value(slope) > trace.value(least):
        _add_local_grade(trace, laid, factor)


def _add_level(trace: Trace, laid: LaidRun) -> None:
    here, run = laid.key, laid.run
    trace.compute(
        f"{here}.range_m",
        level_range,
        unit="m",
        title=f"Highest over lowest invert of {run.name}",
        pipe=f"{here}.laid",
    )
    trace.compute(
        f"{here}.range.status",
        no_more_status,
        unit="",
        title=f"Laid level: {run.name}",
        difference=f"{here}.range_m",
        limit=f"{TOLERANCE}.line_level_m",
        by_noise=f"{here}.by_noise_m",
    )


def _add_local_grade(trace: Trace, laid: LaidRun, factor: str) -> None:
    here, run = laid.key, laid.run
    least = f"{TOLERANCE}.grade_least"
    trace.compute(
        f"{here}.over_m",
        local_grade_length,
        unit="m",
        title=f"Length over which a local grade of {run.name} is told from noise",
        noise=f"{here}.noise_m",
        factor=factor,
        designed_grade=f"{here}.design.slope",
        grade_least=least,
        at_least=f"{TOLERANCE}.grade_over_m",
        run=f"{here}.length_m",
    )
    trace.compute(
        f"{here}.flattest",
        flattest_reach,
        unit="",
        title=f"Flattest reach of {run.name}",
        pipe=f"{here}.laid",
        over=f"{here}.over_m",
    )
    trace.compute(
        f"{here}.local_slope",
        grade_of_reach,
        unit="-",
        title=f"Grade of the flattest reach of {run.name}",
        reach=f"{here}.flattest",
    )
    trace.compute(
        f"{here}.local.status",
        grade_status,
        unit="",
        title=f"Local grade no less than the least: {run.name}",
        value=f"{here}.local_slope",
        limit=least,
    )


def status_of_run(trace: Trace, laid: LaidRun) -> str:
    """Status of a pipe: short where anything of it is, else not known where anything is not."""
    if not laid.shots:
        return "not known"
    ends = ("standing.status", "range.status", "local.status")
    keys = [f"{laid.key}.{end}" for end in ends if f"{laid.key}.{end}" in trace]
    found = [trace.value(key) for key in keys]
    for m in laid.shots:
        key = f"{shot_key(laid, m)}.status"
        found.append(trace.value(key) if key in trace else "not known")
    words = ["not known" if is_unknown(each) else str(each) for each in found]
    return next((w for w in ("short", "not known") if w in words), "holds")
