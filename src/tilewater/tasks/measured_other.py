# SPDX-License-Identifier: Apache-2.0
"""Rain since the reading before, gaps of a series, and loggers whose clocks do not agree."""

from collections.abc import Iterator, Mapping

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.findings import Finding
from tilewater.job.logger_clock import STEPS, usual_step
from tilewater.job.logger_file import Readings
from tilewater.monitoring.series import Series

Floats = NDArray[np.float64]

HOUR = 3600.0
GAPS_SHOWN = 3
SAME_STEPS = 0.98
"""Share of rows that do not fall, from which a rain gauge counts on."""
SHIFTS = np.arange(-12, 13) * 900.0
"""Shifts that are tried between two loggers. [s]"""
ALIKE = 0.5
"""Correlation of two loggers' changes, from which a shift means something."""
BETTER = 0.15
"""By how much a shift must raise it."""
BY_STEPS = 0.5
"""Share of equal steps below which a record is one by events."""
SENSE = {
    "temperature": (-40.0, 60.0, "degC"),
    "rain": (0.0, 0.5, "m"),
    "conductivity": (0.0, 2.0, "S/m"),
    "flow": (-5.0, 20.0, "m3/s"),
    "air pressure": (60e3, 110e3, "Pa"),
}
"""What readings can be on a farm, in coherent SI; running totals of rain are differenced first."""
LEAST = 500
"""Readings that two loggers have in common."""
SHIFTED = 2700.0
"""Shift from which one looks at the clocks; a bed delays its water by less. [s]"""


def rain_of(read: Readings, counts: str | None) -> tuple[Floats, list[Finding]]:
    """Rain since the reading before, of a gauge that counts by rows or counts on.

    Parameters
    ----------
    read : Readings
        Of the gauge, in m.
    counts : str or None
        What the job says a row holds.

    Returns
    -------
    tuple
        Rain of each row in m, and notes.
    """
    rises = np.diff(read.value) >= 0.0
    total = counts == "running total"
    told = ""
    if counts is None and read.value.size > 2:
        moves = np.diff(read.value) != 0.0
        total = bool(rises.mean() >= SAME_STEPS and moves.any() and read.value[-1] > 0.0)
        told = f" It is told from the file; write counts under logger.{read.name} if that is wrong."
    if not total:
        words = f"Rows of {read.name} hold the rain since the row before.{told}"
        return read.value, [Finding("rain-counts", "note", read.name, words)]
    steps = np.diff(read.value, prepend=read.value[:1])
    set_back = steps < 0.0
    rain = np.where(set_back, read.value, steps)
    words = (
        f"{read.name} counts its rain on; rows are differences. It was set back "
        f"{int(set_back.sum())} times.{told}"
    )
    return rain, [Finding("rain-counts", "note", read.name, words)]


def outside_sense(read: Readings, measures: str) -> tuple[NDArray[np.bool_], list[Finding]]:
    """Readings that no water, weather or soil of a farm has, mostly of another unit."""
    low, high, unit = SENSE[measures]
    outside = (read.value < low) | (read.value > high)
    count = int(outside.sum())
    if not count:
        return outside, []
    worst = float(read.value[np.argmax(np.where(outside, np.abs(read.value), -1.0))])
    words = (
        f"{count} readings of {read.name} are outside what {measures} can be, {low:g} to {high:g} "
        f"{unit}; the largest is {worst:.4g} {unit}. They are marked as doubted. Look whether "
        f"{read.unit.words} is the unit of the column."
    )
    return outside, [Finding("logger-outside-sense", "caution", read.name, words, worst, unit=unit)]


def gaps_of_series(series: Series) -> tuple[tuple[float, float], ...]:
    """Last reading before and first behind each gap; readings that are no number count as none.

    A record by events, such as tips of a gauge, has no usual step and no gaps to tell.
    """
    times = series.time_s[~np.isnan(series.value)]
    steps = np.diff(times)
    if steps.size and np.mean(np.abs(steps - usual_step(times)) < 1.0) < BY_STEPS:
        return ()
    wide = np.flatnonzero(np.diff(times) > STEPS * usual_step(times))
    return tuple((float(times[i]), float(times[i + 1])) for i in wide)


def gap_notes(series: Series, gaps: tuple[tuple[float, float], ...]) -> Iterator[Finding]:
    """The gaps of a series, the longest by name."""
    if not gaps:
        return
    step = usual_step(series.time_s)
    missing = sum(end - start - step for start, end in gaps)
    longest = sorted(gaps, key=lambda gap: gap[0] - gap[1])[:GAPS_SHOWN]
    shown = "; ".join(f"{_stamp(start)} to {_stamp(end)} UTC" for start, end in longest)
    span = float(series.time_s[-1] - series.time_s[0])
    yield Finding(
        "logger-gaps",
        "caution",
        series.name,
        f"{series.name} has {len(gaps)} {'gap' if len(gaps) == 1 else 'gaps'}, "
        f"{missing / HOUR:.1f} h in all ({missing / span:.1%} of its time), the longest {shown}. "
        "They are left open.",
        value=missing,
        unit="s",
    )


def shift_notes(series: Mapping[str, Series]) -> Iterator[Finding]:
    """Two loggers of water whose changes agree much better when one is moved in time."""
    names = list(series)
    for i, first in enumerate(names):
        for second in names[i + 1 :]:
            shift = _best_shift(series[first], series[second])
            if shift is not None and abs(shift) >= SHIFTED:
                late, early = (second, first) if shift > 0 else (first, second)
                yield Finding(
                    "logger-clocks-apart",
                    "caution",
                    late,
                    f"The water at {late} moves {abs(shift) / 60:.0f} min after that at {early}. A "
                    "bed or a pipe delays it by less; their clocks may not agree. Look at their "
                    "time zones, or write clock_ahead.",
                    value=abs(shift),
                    operator="<",
                    limit=SHIFTED,
                    unit="s",
                    source="practice",
                )


def _best_shift(first: Series, second: Series) -> float | None:
    """Shift at which the changes of two series agree best; None where none stands out."""
    start = max(first.time_s[0], second.time_s[0])
    end = min(first.time_s[-1], second.time_s[-1])
    grid = np.arange(start + SHIFTS[-1], end + SHIFTS[0], 900.0)
    if grid.size < LEAST:
        return None
    changes = np.diff(_on(first, grid))
    fits = [_correlation(changes, np.diff(_on(second, grid + shift))) for shift in SHIFTS]
    best = int(np.argmax(fits))
    plain = fits[len(fits) // 2]
    return float(SHIFTS[best]) if fits[best] >= ALIKE and fits[best] > plain + BETTER else None


def _on(series: Series, times: Floats) -> Floats:
    read = ~np.isnan(series.value)
    return np.interp(times, series.time_s[read], series.value[read])


def _correlation(first: Floats, second: Floats) -> float:
    a, b = first - first.mean(), second - second.mean()
    size = float(np.sqrt(np.sum(a * a) * np.sum(b * b)))
    return float(np.sum(a * b)) / size if size > 0 else 0.0


def _stamp(seconds: float) -> str:
    return str(np.datetime64(round(seconds), "s")).replace("T", " ")[:16]
