# SPDX-License-Identifier: Apache-2.0
"""Steps on shots of finished work: their places, their noise, and what each is of.

They follow a design and change nothing of it. A shot that is of nothing stays listed with the
reason why.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tilewater.basis.trace import Given, Origin, Trace, argument_name
from tilewater.chain.built_elements import elements
from tilewater.chain.built_parts import invert_up_grade
from tilewater.chain.plan_parts import BASELINE
from tilewater.ground.baseline import offset_at, station_at
from tilewater.ground.matching import WORDS, BuiltShot, Match, match_shot
from tilewater.practices.rules import same

SHOTS = "built.shots"
FOUND = "inputs.as_built.found"
AS_FOUND = "as found"
NOISE = {"rover": 0.04 * 0.3048, "level": 0.01 * 0.3048, "laser": 0.01 * 0.3048}
"""Usual scatter of a height by instrument, one standard deviation; common practice. [m]"""


@dataclass(frozen=True)
class Matched:
    """A shot and what it is of."""

    shot: BuiltShot
    match: Match

    @property
    def key(self) -> str:
        """Where its numbers stand in the trace."""
        return f"{SHOTS}.{self.shot.key}"


def add_shots(
    trace: Trace, shots: Iterable[BuiltShot], file: str, *, by_station: bool
) -> tuple[Matched, ...]:
    """Record shots with their noise and place, and find what each is of.

    Parameters
    ----------
    trace : Trace
        Of the design. [-]
    shots : iterable of BuiltShot
        Finished work. [m]
    file : str
        Name of their file. [-]
    by_station : bool
        Whether their places are stations and offsets. [-]

    Returns
    -------
    tuple of Matched
        In the order of the file. [-]
    """
    _add_replaced(trace)
    parts = elements(trace)
    words = words_of(trace)
    reach = float(trace.value("inputs.as_built.reach_m"))
    found = []
    for shot in shots:
        place = _add_shot(trace, shot, file, by_station=by_station)
        match = match_shot(shot.note, place, parts, words=words, reach=reach)
        title = f"What shot {shot.point} is of"
        trace.constant(
            f"{SHOTS}.{shot.key}.of", match.element or match.why, title, source="derived"
        )
        found.append(Matched(shot, match))
    return tuple(found)


def words_of(trace: Trace) -> dict[str, tuple[str, ...]]:
    """Words of each code: those of every job, and those of this one."""
    found = {}
    for code, usual in WORDS.items():
        key = f"inputs.as_built.codes.{code}"
        own = tuple(trace.value(key)) if trace.known(key) else ()
        found[code] = (*own, *usual)
    return found


def _add_replaced(trace: Trace) -> None:
    """Designed invert of the upper end of pipe that replaces the main above the structure."""
    for name in trace.names("inputs.pipe"):
        own, key = f"inputs.pipe.{name}", f"built.design.{name}.upper_invert_m"
        needed = ("inputs.main.invert_diversion_m", "inputs.main.slope", f"{own}.length_m")
        if trace.value(f"{own}.use") == "solid replacement" and trace.known(*needed):
            trace.compute(
                key,
                invert_up_grade,
                unit="m",
                title=f"Designed invert of the upper end: pipe {name.replace('-', ' ')}",
                lower=needed[0],
                grade=needed[1],
                run=needed[2],
            )


def _add_shot(
    trace: Trace, shot: BuiltShot, file: str, *, by_station: bool
) -> tuple[float, float] | None:
    """Record a shot; its place by station and offset where the main has a place in the grid."""
    here = f"{SHOTS}.{shot.key}"
    origin = Origin(file=file, line=shot.line, text=shot.note)
    sides = ("station", "offset") if by_station else ("north", "east")
    for side, value in zip((*sides, "level"), (*shot.place, shot.height), strict=True):
        title = f"{side.capitalize()} of shot {shot.point}"
        trace.give(Given(f"{here}.{side}_m", value, "m", title, origin))
    _add_noise(trace, shot, origin)
    if not by_station and trace.known(BASELINE):
        for side, at in (("station", station_at), ("offset", offset_at)):
            trace.compute(
                f"{here}.{side}_m",
                at,
                unit="m",
                title=f"{side.capitalize()} of shot {shot.point}",
                baseline=BASELINE,
                north=f"{here}.north_m",
                east=f"{here}.east_m",
            )
    keys = (f"{here}.station_m", f"{here}.offset_m")
    if not trace.known(*keys):
        return None
    station, offset = (float(trace.value(key)) for key in keys)
    return station, offset


def _add_noise(trace: Trace, shot: BuiltShot, origin: Origin) -> None:
    """One standard deviation of a shot: its own, the job's, or the usual one of the instrument."""
    key, title = f"{SHOTS}.{shot.key}.noise_m", f"Noise of shot {shot.point}"
    if shot.noise is not None:
        trace.give(Given(key, shot.noise, "m", title, origin))
        return
    typed = "inputs.as_built.noise_m"
    if not trace.known(typed):
        instrument = str(trace.value("inputs.as_built.instrument"))
        typed = trace.constant(
            f"built.noise.{instrument}_m",
            NOISE[instrument],
            f"Usual noise of a {instrument}",
            unit="m",
            source="practice",
        )
    trace.compute(key, same, unit="m", title=title, value=typed)


def of_part(found: Sequence[Matched], element: str, codes: Iterable[str]) -> tuple[Matched, ...]:
    """Shots of one part with one of some codes."""
    wanted = frozenset(codes)
    return tuple(m for m in found if m.match.element == element and m.match.code in wanted)


def is_as_found(trace: Trace) -> bool:
    """Whether others built the practice, and no design is at hand."""
    return FOUND in trace and trace.value(FOUND) == AS_FOUND


def keyed(shots: Sequence[Matched], end: str) -> dict[str, str]:
    """One of the numbers of each shot, as arguments of a step."""
    return {argument_name(f"shot-{m.shot.key}"): f"{m.key}.{end}" for m in shots}
