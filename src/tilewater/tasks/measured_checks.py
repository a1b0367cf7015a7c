# SPDX-License-Identifier: Apache-2.0
"""What is said of readings by hand beside a level logger, and of what they add to it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from tilewater.basis.findings import Finding
from tilewater.basis.told import feet
from tilewater.job.logger_file import Readings

OTHER_ZERO = 5.0
"""A reading by hand that is so far off counts from another zero. [m]"""
MOVED = 2.0
"""Water that moved so many times as far by hand as in the file, or as little, is doubted."""
LARGE = 0.05
"""A correction that bears on the flow over a weir. [m]"""


@dataclass(frozen=True)
class HandCheck:
    """The water read by hand beside a logger. [s, m]"""

    name: str
    time_s: float
    read: float


@dataclass(frozen=True)
class Correction:
    """What was added to a logger at a reading by hand.

    Attributes
    ----------
    logger, check : str
    time_s : float
        Since 1970-01-01. [s]
    read, shown, added : float
        By hand, by the logger before, and their difference as it was added. [m]
    """

    logger: str
    check: str
    time_s: float
    read: float
    shown: float
    added: float


def checks_told(found: Sequence[Correction], how: str) -> Iterator[Finding]:
    """What the checks add to the file, check by check."""
    name = found[0].logger
    added = [each.added for each in found]
    spread = max(added) - min(added)
    shown = max(map(abs, added)) if abs(added[0]) < OTHER_ZERO else spread
    each_one = ", ".join(f"{each.check} {feet(each.added, '+.3f')}" for each in found)
    what = "1 check" if len(found) == 1 else f"{len(found)} checks"
    done = {
        "nothing": "Nothing was added, as the job says.",
        "offset": f"The mean, {feet(float(np.mean(added)), '+.3f')}, was added to all of it.",
        "offset and drift": "The difference was added, straight from check to check: "
        f"{feet(added[0], '+.3f')} at {found[0].check}, "
        f"{feet(added[-1], '+.3f')} at {found[-1].check}.",
    }[how]
    yield Finding(
        "logger-checked",
        "caution" if shown > LARGE else "note",
        name,
        f"{name} was read by hand in {what}, which add to the file: {each_one}. {done} Readings so "
        "changed are marked as edited.",
        value=spread,
        unit="m",
    )


def moved_otherwise(readings: Readings, found: Sequence[Correction]) -> Iterator[Finding]:
    """Whether the water moved many times as far by hand as in the file, or as little."""
    by_hand, by_file = (
        max(values) - min(values)
        for values in ([each.read for each in found], [each.shown for each in found])
    )
    if max(by_hand, by_file) <= LARGE or by_hand <= MOVED * by_file <= MOVED**2 * by_hand:
        return
    times = f"{by_hand / by_file:.1f} times as far as" if by_file > 0.0 else "and nothing moved in"
    yield Finding(
        "logger-moved-otherwise",
        "caution",
        readings.name,
        f"The hand readings of {readings.name} moved {times} the file: {feet(by_hand)} by hand, "
        f"{feet(by_file)} in {readings.file}, which is read in {readings.unit.words}. Is its unit "
        f"right? Look at the heading of the column, or write unit in [logger.{readings.name}]. Use "
        "no flow of this logger before that.",
        value=by_hand / by_file if by_file > 0.0 else None,
        operator="<=",
        limit=MOVED,
        unit="-",
    )


def check_not_near(name: str, check: HandCheck) -> Finding:
    """That a check is not used, since no reading lies around it."""
    return Finding(
        "logger-check-unused",
        "caution",
        name,
        f"zero_check.{check.name} is not used: {name} has no readings around it. Check its time "
        "and that the clocks agree.",
    )


def zero_by_hand(name: str, zero: float) -> Finding:
    """That the zero of a sensor is as the checks have it."""
    return Finding(
        "logger-zero-by-hand",
        "note",
        name,
        f"The sensor of {name} is at {feet(zero)} as the checks by hand have it; its readings are "
        "elevations by them. Level to the sensor to make sure.",
        value=zero,
        unit="m",
    )
