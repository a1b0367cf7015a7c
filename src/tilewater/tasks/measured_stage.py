# SPDX-License-Identifier: Apache-2.0
"""From the readings of a level logger to the water at its place: air, zero, checks, marks.

What is added to a reading is kept beside it as a correction, and every reading that was changed or
is doubted carries a mark. No reading is taken out.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.findings import Finding
from tilewater.basis.told import feet, in_units
from tilewater.job.fields import Wrong
from tilewater.job.logger_clock import usual_step
from tilewater.job.logger_file import Readings
from tilewater.monitoring.sensors import (
    DRY,
    between_times,
    drift_of_checks,
    may_be_ice,
    spikes,
    stands_still,
    water_over_sensor,
)
from tilewater.monitoring.series import EDITED, FROZEN, OUT_OF_WATER, SUSPECT, Series
from tilewater.tasks.measured_checks import (
    OTHER_ZERO,
    Correction,
    HandCheck,
    check_not_near,
    checks_told,
    moved_otherwise,
    zero_by_hand,
)

Floats = NDArray[np.float64]

ABSOLUTE_FROM = 60e3
"""No gauge pressure in a structure is as high, and no air as thin. [Pa]"""
AIR_BRIDGED = 3 * 3600.0
"""Readings of the air farther apart are not bridged. [s]"""
CHECK_NEAR = 2 * 3600.0
"""Readings of the logger around one by hand are no farther apart. [s]"""
BELOW = 0.05
"""So far below its own sensor no water stands. [m]"""
DEEP = 15.0
"""More water stands over no sensor of a structure. [m]"""
AT_END = 0.005
FLAT = 4
"""Readings in a row at the very highest value that may be cut off."""
CUT = 5.0
"""Last digits of the sensor that the water moves beside a peak that is cut off."""


@dataclass(frozen=True)
class StageAsk:
    """What the job says of the water at a logger; None where nothing. [m]"""

    measures: str
    zero: float | None = None
    highest: float | None = None
    pressure: str | None = None
    correct: str | None = None
    checks: tuple[HandCheck, ...] = ()


@dataclass(frozen=True)
class Stage:
    """The water at a logger."""

    series: Series
    is_elevation: bool
    corrections: tuple[Correction, ...]
    notes: tuple[Finding, ...]


def stage_of(readings: Readings, ask: StageAsk, air: Readings | None) -> Stage:
    """Water at a logger from its readings.

    Parameters
    ----------
    readings : Readings
        Of the logger.
    ask : StageAsk
        What the job says of it.
    air : Readings or None
        Those of the air pressure.

    Returns
    -------
    Stage
        Elevations where the zero is known, else water over the sensor, and what was done.

    Raises
    ------
    Wrong
        If the pressure of the air is missing, or a check counts from another zero.
    """
    notes: list[Finding] = []
    depth = readings.value
    if readings.unit.is_pressure:
        depth, said = _depth_of_pressure(readings, ask, air)
        notes += said
    flag = _marks(readings, depth, ask, notes)
    zero = 0.0 if ask.zero is None else ask.zero
    value, corrections, said = _checked(readings, depth + zero, ask)
    notes += said
    if ask.correct != "nothing" and corrections:
        flag |= np.uint8(EDITED)
    is_elevation = ask.measures == "level" or ask.zero is not None
    if not is_elevation and corrections and abs(np.median(value - depth)) > OTHER_ZERO:
        is_elevation = True
        notes.append(zero_by_hand(readings.name, float(np.median(value - depth))))
    series = Series(readings.name, readings.time_s, value, flag)
    return Stage(series, is_elevation, corrections, tuple(notes))


def _depth_of_pressure(
    readings: Readings, ask: StageAsk, air: Readings | None
) -> tuple[Floats, list[Finding]]:
    name, words = readings.name, []
    is_absolute = readings.unit.is_absolute
    if ask.pressure is not None:
        is_absolute = ask.pressure == "absolute"
    if is_absolute is None:
        is_absolute = float(np.median(readings.value)) > ABSOLUTE_FROM
        words.append(f"It is taken as {'absolute' if is_absolute else 'gauge'} by its size.")
    pressed: Floats | float = 0.0
    if is_absolute:
        if air is None:
            raise Wrong(
                "it reads absolute pressure, and no logger of the air pressure is named. Add one "
                'with measures = "air pressure", or write pressure = "gauge" if the sensor takes '
                "the air off itself."
            )
        pressed = between_times(
            readings.time_s,
            air.time_s,
            air.value,
            longest_span=max(AIR_BRIDGED, usual_step(air.time_s)),
        )
        words.append(f"The air pressure of {air.name} is taken off.")
        missing = float(np.mean(np.isnan(pressed)))
        if missing > 0:
            words.append(f"{missing:.1%} of its readings have no air pressure and are no depth.")
    depth = water_over_sensor(readings.value, pressed, readings.temperature)
    words.append(_densitychecks_told(readings, pressed, depth))
    message = f"{name} reads pressure in {readings.unit.words}. {' '.join(words)}"
    is_whole = not np.isnan(depth).any()
    return depth, [Finding("logger-pressure", "note" if is_whole else "caution", name, message)]


def _densitychecks_told(readings: Readings, pressed: Floats | float, depth: Floats) -> str:
    if readings.temperature is None:
        return (
            "Water is taken as 1000 kg/m3, since no temperature stands beside it: depths are low "
            "by no more than 0.3 % up to 77 degF (25 degC)."
        )
    plain = water_over_sensor(readings.value, pressed)
    change = float(np.nanmax(np.abs(depth - plain))) if not np.isnan(depth).all() else 0.0
    return f"Its density follows the temperature, which changes depths by {feet(change, '.3f')}."


def _marks(
    readings: Readings, depth: Floats, ask: StageAsk, notes: list[Finding]
) -> NDArray[np.uint8]:
    """Marks of the readings, each sort told once."""
    time_s, name = readings.time_s, readings.name
    flag = np.zeros(depth.size, np.uint8)
    still = stands_still(time_s, depth)
    ice = may_be_ice(time_s, still, readings.temperature)
    over = depth if ask.measures == "stage" else np.full(depth.size, np.inf)
    with np.errstate(invalid="ignore"):
        dry = over <= DRY
        below = over < -BELOW
    high = _at_end(depth, ask.highest)
    spiked = spikes(depth)
    for bits, which in (
        (FROZEN, ice),
        (OUT_OF_WATER, (dry | high) & ~ice),
        (SUSPECT, spiked | readings.doubtful | (still & ~ice & ~dry)),
    ):
        flag[which] |= np.uint8(bits)
    notes += _mark_notes(name, time_s, {"ice": ice, "dry": dry & ~ice, "high": high})
    notes += _mark_notes(name, time_s, {"spike": spiked, "still": still & ~ice & ~dry & ~high})
    if below.any():
        notes.append(_below(name, float(np.nanmin(over)), int(below.sum())))
    if ask.measures == "stage" and not np.isnan(depth).all() and np.nanmedian(depth) > DEEP:
        notes.append(_deep(readings, float(np.nanmedian(depth))))
    return flag


def _at_end(depth: Floats, highest: float | None) -> NDArray[np.bool_]:
    """Readings at the end of the sensor, stated or as a flat top shows it."""
    if np.isnan(depth).all():
        return np.zeros(depth.size, bool)
    with np.errstate(invalid="ignore"):
        if highest is not None:
            return np.asarray(depth >= highest - AT_END)
        most = np.nanmax(depth)
        at = depth == most
    edges = np.flatnonzero(np.diff(np.concatenate(([False], at, [False]))))
    flat = np.zeros(depth.size, bool)
    for start, end in zip(edges[::2], edges[1::2], strict=True):
        flat[start:end] = end - start >= FLAT and _is_cut(depth, start, end)
    return flat


def _is_cut(depth: Floats, start: int, end: int) -> bool:
    """Whether the water rises to a flat top, or falls from it, as no rounded peak does."""
    steps = np.abs(np.diff(depth))
    moved = steps[steps > 0]
    beside = [depth[i] for i in (start - 1, end) if 0 <= i < depth.size]
    rises = [float(depth[start] - each) for each in beside]
    return bool(moved.size and rises and max(rises) > CUT * float(np.min(moved)))


_SAID = {
    "ice": (
        "logger-ice",
        "may have stood in ice in {count} readings, first {first}. They are marked as frozen.",
    ),
    "dry": (
        "logger-dry",
        "was out of the water in {count} readings, first {first}: no more than 0.4 in (10 mm) "
        "stood over it. They are marked.",
    ),
    "high": (
        "logger-flat-top",
        "stands at its highest value in {count} readings, first {first}: the end of the sensor or "
        "of what the place can hold. The water may have stood higher. They are marked.",
    ),
    "spike": (
        "logger-spike",
        "has {count} single readings far off both neighbours, first {first}. They are marked as "
        "doubted.",
    ),
    "still": (
        "logger-still",
        "stands exactly still for two days or more in {count} readings, first {first}. They are "
        "marked as doubted: look whether the sensor hung in the water.",
    ),
}


def _mark_notes(
    name: str, time_s: Floats, marks: dict[str, NDArray[np.bool_]]
) -> Iterator[Finding]:
    for sort, which in marks.items():
        count = int(which.sum())
        if count:
            code, words = _SAID[sort]
            first = str(np.datetime64(round(time_s[which.argmax()]), "s")).replace("T", " ")
            told = words.format(count=count, first=f"{first[:16]} UTC")
            yield Finding(code, "caution", name, f"{name} {told}", value=float(count))


def _below(name: str, lowest: float, count: int) -> Finding:
    return Finding(
        "logger-below-sensor",
        "caution",
        name,
        f"{count} readings of {name} are below its own sensor, by {feet(-lowest)} at most. The "
        "pressure of the air or the offset is wrong. Read the water by hand and add a zero check.",
        value=lowest,
        operator=">=",
        limit=-BELOW,
        unit="m",
    )


def _deep(readings: Readings, depth: float) -> Finding:
    return Finding(
        "logger-deep",
        "caution",
        readings.name,
        f"{feet(depth, '.0f')} of water stand over {readings.name} in the middle of its readings. "
        f"No structure is so deep. Look whether {readings.unit.words} is its unit, and whether the "
        "readings are elevations, which are measured as level.",
        value=depth,
        operator="<=",
        limit=DEEP,
        unit="m",
    )


def _checked(
    readings: Readings, value: Floats, ask: StageAsk
) -> tuple[Floats, tuple[Correction, ...], list[Finding]]:
    """Readings with what the checks by hand add to them."""
    found: list[Correction] = []
    notes: list[Finding] = []
    for check in sorted(ask.checks, key=lambda each: each.time_s):
        at = np.array([check.time_s])
        near = max(CHECK_NEAR, usual_step(readings.time_s))
        shown = float(between_times(at, readings.time_s, value, longest_span=near)[0])
        if np.isnan(shown):
            notes.append(check_not_near(readings.name, check))
            continue
        added = check.read - shown
        if abs(added) > OTHER_ZERO and (ask.zero is not None or ask.measures == "level"):
            off = in_units(feet(abs(added)), "us")
            raise Wrong(
                f"zero_check.{check.name} is {off} off its reading. Both are to count from one "
                "datum. Correct the check, or zero."
            )
        found.append(Correction(readings.name, check.name, check.time_s, check.read, shown, added))
    if not found:
        return value, (), notes
    notes += moved_otherwise(readings, found)
    if ask.correct == "nothing":
        return value, tuple(found), [*notes, *checks_told(found, "nothing")]
    mean = float(np.mean([each.added for each in found]))
    if ask.correct == "offset":
        return value + mean, tuple(found), [*notes, *checks_told(found, "offset")]
    times = np.array([each.time_s for each in found])
    if np.any(np.diff(times) <= 0):
        raise Wrong("two of its zero checks have one time. Give each its own.")
    added_to = drift_of_checks(readings.time_s, times, np.array([each.added for each in found]))
    return value + added_to, tuple(found), [*notes, *checks_told(found, "offset and drift")]
