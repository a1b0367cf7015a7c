# SPDX-License-Identifier: Apache-2.0
"""From what a sensor shows to the water that stood over it, and which readings are no water.

Pressure to depth, the drift that readings by hand show, and marks for ice, dry sensors, readings
that stand still at the end of their range, and spikes. Nothing is taken out: what is doubted is
marked. Files and clocks are read elsewhere.
"""

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import OutOfDomain
from tilewater.hydraulics.water import density_kell

Floats = NDArray[np.float64]
Truths = NDArray[np.bool_]

STANDARD_GRAVITY = 9.80665
PLAIN_DENSITY = 1000.0
"""Density where no temperature was measured. [kg/m3]"""
DRY = 0.01
"""Water over a sensor that is within its own error. [m]"""
SPIKE = 0.1
"""A single reading so far off both neighbours is no water level. [m]"""
STILL_FOR = 48 * 3600.0
"""Water stands exactly still for so long only in ice, or where it does not reach the sensor. [s]"""
STILL_COUNT = 12
"""Readings of a span that stands still."""
FREEZES = 0.0
WINTER = (11, 12, 1, 2, 3, 4)
"""Months in which water that stands still may be ice."""


def water_over_sensor(
    pressure: Floats, air_pressure: Floats | float, temperature: Floats | None = None
) -> Floats:
    """Depth of water over a pressure sensor.

    Parameters
    ----------
    pressure : array
        What the sensor reads. [Pa]
    air_pressure : array or float
        That of the air at the same times; zero where the sensor takes it off itself. [Pa]
    temperature : array or None
        Temperature of the water; None where it was not measured. [degC]

    Returns
    -------
    array
        Depth. [m]

    Notes
    -----
    h = (p - p_air) / (rho g)    (derived)

    Density by temperature; 1000 kg/m3 where none is known, which is 0.02 percent off at 10 degC and
    0.3 percent at 25 degC. Standard gravity: at sea level the true one is within 0.3 percent.

    References
    ----------
    kell1975, equation of the density at one atmosphere
    derived, pressure under water at rest
    """
    if temperature is None:
        return np.asarray((pressure - air_pressure) / (PLAIN_DENSITY * STANDARD_GRAVITY))
    mild = np.clip(np.nan_to_num(temperature, nan=4.0), 0.0, 40.0)  # ice and dry sensors aside
    return np.asarray((pressure - air_pressure) / (density_kell(mild) * STANDARD_GRAVITY))


def between_times(
    time: Floats, known_time: Floats, known: Floats, *, longest_span: float
) -> Floats:
    """Values of another logger at the times of this one.

    Parameters
    ----------
    time : array
        Times asked for. [s]
    known_time, known : array
        Times, ascending, and values of the other. [-]
    longest_span : float
        Span between two of its readings that is still bridged. [s]

    Returns
    -------
    array
        Straight between its readings; not a number outside them and in wider spans. [-]

    Raises
    ------
    OutOfDomain
        If the other has no reading.

    Notes
    -----
    y = y1 + (y2 - y1) (t - t1) / (t2 - t1)    (derived)

    References
    ----------
    derived, a straight line between two readings
    """
    read = ~np.isnan(known)
    known_time, known = known_time[read], known[read]
    if known_time.size == 0:
        raise OutOfDomain("The other logger has 0 readings. One at least is needed. Check it.")
    found = np.interp(time, known_time, known, left=np.nan, right=np.nan)
    after = np.clip(np.searchsorted(known_time, time, "left"), 1, max(known_time.size - 1, 1))
    if known_time.size > 1:
        span = known_time[after] - known_time[after - 1]
        is_at = known_time[np.clip(np.searchsorted(known_time, time), 0, known_time.size - 1)]
        found[(span > longest_span) & (is_at != time)] = np.nan
    return found


def drift_of_checks(time: Floats, check_time: Floats, added: Floats) -> Floats:
    """What readings by hand say has to be added to those of a logger.

    Parameters
    ----------
    time : array
        Times of the logger. [s]
    check_time : array
        Times of the readings by hand, ascending. [s]
    added : array
        What each adds: the reading by hand less that of the logger. [m]

    Returns
    -------
    array
        What is added at each time. [m]

    Raises
    ------
    OutOfDomain
        If there is no reading by hand, or they do not ascend.

    Notes
    -----
    Straight from one reading by hand to the next, and that of the nearest before the first and
    behind the last (practice). A sensor that was moved jumps; then part the file there.

    References
    ----------
    practice, linear drift between readings by hand
    """
    if check_time.size == 0 or np.any(np.diff(check_time) <= 0):
        raise OutOfDomain(
            f"There are {check_time.size} readings by hand, or they do not ascend in time. One at "
            "least is needed, each at its own time. Correct their times."
        )
    return np.interp(time, check_time, added)


def stands_still(time: Floats, depth: Floats) -> Truths:
    """Readings of spans in which the water stands exactly still for two days or more.

    Parameters
    ----------
    time : array
        Times. [s]
    depth : array
        Readings. [m]

    Returns
    -------
    array
        Whether a reading is of such a span. [-]

    Notes
    -----
    Two days and a dozen readings without the last digit of the sensor moving (practice).

    References
    ----------
    practice, water that stands still
    """
    still = np.zeros(depth.size, bool)
    if depth.size == 0:
        return still
    starts = np.flatnonzero(np.concatenate(([True], np.diff(depth) != 0.0)))
    ends = np.concatenate((starts[1:], [depth.size])) - 1
    lasting = (time[ends] - time[starts] >= STILL_FOR) & (ends - starts + 1 >= STILL_COUNT)
    for start, end in zip(starts[lasting], ends[lasting], strict=True):
        still[start : end + 1] = True
    return still


def spikes(depth: Floats, *, size: float = SPIKE) -> Truths:
    """Single readings far off both of their neighbours.

    Parameters
    ----------
    depth : array
        Readings, in their order. [m]
    size : float
        How far off a spike is. [m]

    Returns
    -------
    array
        Whether a reading is a spike. [-]

    Notes
    -----
    Off by more than the size from both, to one side, and twice as far as the two are apart
    (practice).

    References
    ----------
    practice, spikes of a level sensor
    """
    found = np.zeros(depth.size, bool)
    if depth.size < 3:
        return found
    before, here, after = depth[:-2], depth[1:-1], depth[2:]
    up, down = here - before, here - after
    off = np.minimum(np.abs(up), np.abs(down))
    with np.errstate(invalid="ignore"):
        found[1:-1] = (up * down > 0) & (off > size) & (off > 2 * np.abs(after - before))
    return found


def months_of(time: Floats) -> NDArray[np.int64]:
    """Months of times, 1 to 12.

    Parameters
    ----------
    time : array
        Since 1970-01-01. [s]

    Returns
    -------
    array
        Months. [-]
    """
    months = np.asarray(time).astype("datetime64[s]").astype("datetime64[M]").astype(np.int64)
    return np.asarray(months % 12 + 1)


def may_be_ice(time: Floats, still: Truths, temperature: Floats | None) -> Truths:
    """Readings at which the sensor may have stood in ice.

    Parameters
    ----------
    time : array
        Times. [s]
    still : array
        Readings of spans that stand still. [-]
    temperature : array or None
        Temperature at the sensor; None where it was not measured. [degC]

    Returns
    -------
    array
        Whether a reading may be of ice. [-]

    Notes
    -----
    At the freezing point or below it; where no temperature was measured, a span from November to
    April that stands still (practice).

    References
    ----------
    practice, sensors in ice
    """
    winter = still & np.isin(months_of(time), WINTER)
    if temperature is None:
        return winter
    with np.errstate(invalid="ignore"):
        return (temperature <= FREEZES) | (winter & np.isnan(temperature))
