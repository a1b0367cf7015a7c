# SPDX-License-Identifier: Apache-2.0
"""What loggers and the laboratory hand over: one quantity over time, and the samples of one place.

Arrays only, in coherent SI; nitrate in mg/L as N. Files, time zones and zero checks are settled
before a series is made. What was done to a reading stays with it as a flag; a reading that is
missing is NaN and never a number. Read `stage_flow` next.
"""

from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import OutOfDomain

Floats = NDArray[np.float64]
Flags = NDArray[np.uint8]
Truths = NDArray[np.bool_]

EDITED = 1
"""Offset or drift was taken out."""
FROZEN = 2
"""The sensor stood in ice."""
OUT_OF_WATER = 4
"""The sensor was dry, or the reading flat at its end."""
GAP_FILLED = 8
"""Not read: put in between readings."""
SUSPECT = 16
"""Kept, but doubted."""

DAY = 86400.0
"""Seconds of a day. [s]"""


@dataclass(frozen=True)
class Series:
    """One quantity over time.

    Attributes
    ----------
    name : str
        Of the logger. [-]
    time_s : array
        Since 1970-01-01 in universal time, ascending. [s]
    value : array
        In coherent SI; temperature in degC; NaN where it is missing. [-]
    flag : array
        Bits: 1 edited, 2 frozen, 4 out of water or flat, 8 gap filled, 16 suspect. [-]
    """

    name: str
    time_s: Floats
    value: Floats
    flag: Flags = field(default_factory=lambda: np.zeros(0, np.uint8))

    def __post_init__(self) -> None:
        if self.flag.size == 0 and self.time_s.size:
            object.__setattr__(self, "flag", np.zeros(self.time_s.size, np.uint8))
        if not self.time_s.size == self.value.size == self.flag.size:
            message = (
                f"{self.name} has {self.time_s.size} times, {self.value.size} values and "
                f"{self.flag.size} flags. Each reading has one of each. Give arrays of one length."
            )
            raise OutOfDomain(message)
        if np.any(np.diff(self.time_s) <= 0.0) or not np.all(np.isfinite(self.time_s)):
            message = (
                f"{self.name} goes back in time or stands still. Times ascend. Sort the readings, "
                "and keep one of each time."
            )
            raise OutOfDomain(message)

    def flagged(self, bits: int) -> Truths:
        """Where any of some bits is set."""
        return np.asarray((self.flag & np.uint8(bits)) != 0)

    def between(self, start_s: float, end_s: float) -> "Series":
        """The readings from a time to another, both counted."""
        kept = slice(
            int(np.searchsorted(self.time_s, start_s, "left")),
            int(np.searchsorted(self.time_s, end_s, "right")),
        )
        return replace(self, time_s=self.time_s[kept], value=self.value[kept], flag=self.flag[kept])


@dataclass(frozen=True)
class Samples:
    """What the laboratory found at one place.

    Attributes
    ----------
    place : str
        inlet, outlet, bypass, ditch or field. [-]
    time_s : array
        Taken, or the end of a composite; since 1970-01-01 in universal time. [s]
    nitrate_mg_per_l : array
        As N; NaN below detection. [mg/L]
    detection_mg_per_l : array
        Limit of the laboratory; NaN where it is not stated. [mg/L]
    censored : array
        Whether it lies below detection. [-]
    kind : tuple of str
        grab or composite, of each. [-]
    start_s : array
        Start of a composite, else the time. [s]
    duplicate_of : array
        Place in this list of the sample that it doubles; -1 for none. [-]
    """

    place: str
    time_s: Floats
    nitrate_mg_per_l: Floats
    detection_mg_per_l: Floats
    censored: Truths
    kind: tuple[str, ...]
    start_s: Floats
    duplicate_of: NDArray[np.int64]

    def __post_init__(self) -> None:
        sizes = {
            len(each)
            for each in (
                self.time_s,
                self.nitrate_mg_per_l,
                self.detection_mg_per_l,
                self.censored,
                self.kind,
                self.start_s,
                self.duplicate_of,
            )
        }
        if len(sizes) != 1:
            message = (
                f"The samples of {self.place} have columns of {min(sizes)} to {max(sizes)} rows. "
                "Each sample has one of each. Give arrays of one length."
            )
            raise OutOfDomain(message)

    @property
    def size(self) -> int:
        """Number of samples, duplicates counted."""
        return len(self.time_s)


def grab_samples(
    place: str,
    time_s: Floats,
    nitrate_mg_per_l: Floats,
    *,
    detection_mg_per_l: float = np.nan,
) -> Samples:
    """Grab samples of a place, each by itself; below the detection limit they count as censored.

    Parameters
    ----------
    place : str
        inlet, outlet, bypass, ditch or field. [-]
    time_s : array
        When each was taken, since 1970-01-01 in universal time. [s]
    nitrate_mg_per_l : array
        As N; NaN below detection. [mg/L]
    detection_mg_per_l : float
        Limit of the laboratory; NaN where it is not stated. [mg/L]

    Returns
    -------
    Samples
        In the order of their times. [-]
    """
    order = np.argsort(time_s, kind="stable")
    times = np.asarray(time_s, np.float64)[order]
    values = np.asarray(nitrate_mg_per_l, np.float64)[order]
    limits = np.full(times.size, detection_mg_per_l)
    censored = np.isnan(values) | (values < limits)
    return Samples(
        place,
        times,
        np.where(censored, np.nan, values),
        limits,
        censored,
        ("grab",) * times.size,
        times,
        np.full(times.size, -1, np.int64),
    )
