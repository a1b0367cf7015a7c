# SPDX-License-Identifier: Apache-2.0
"""Time zones and moments as a person writes them: `-6 h`, `America/Chicago`, `2028-03-04 10:15`.

A zone is a fixed distance from universal time or a name of the public time zone database, whose
rules of daylight saving it then has. Letters such as CST are no zone: two countries use them for
two times. What a logger's clock did with daylight saving is for `logger_clock`.
"""

import re
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, timezone, tzinfo
from functools import cache
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from tilewater.job.fields import Ask, Setting, Wrong, as_typed

HOUR = 3600
WEEK = 7 * 24 * HOUR
FARTHEST = 14 * HOUR
"""No place keeps a time farther from universal time."""
LONGEST = 60
"""Letters of a zone that are looked at."""

_FIXED = re.compile(
    r"(?:utc|gmt)?\s*(?P<sign>[-+−])\s*(?P<hours>\d{1,2})(?::?(?P<minutes>\d\d))?\s*"
    r"(?:h|hr|hour|hours)?",
    re.IGNORECASE,
)
_IN_HEADING = re.compile(r"\b(?:utc|gmt)\s*(?:[-+−]\s*\d{1,2}(?::?\d\d)?)?(?![\w:])", re.IGNORECASE)
_MOMENT = re.compile(r"\d{4}-\d\d-\d\d[ T]\d\d:\d\d(:\d\d)?")
EXAMPLES = 'Write it like "-6 h", which stays the same all year, or like "America/Chicago".'


@dataclass(frozen=True)
class Zone:
    """A time zone.

    Attributes
    ----------
    words : str
        As it was written.
    rules : tzinfo
    is_fixed : bool
        Whether it stays at one distance from universal time.
    """

    words: str
    rules: tzinfo
    is_fixed: bool

    def offset_s(self, utc_s: float) -> float:
        """How far its clocks are ahead of universal time, in seconds."""
        return _seconds(datetime.fromtimestamp(utc_s, UTC).astimezone(self.rules).utcoffset())

    def standard_offset_s(self, utc_s: float) -> float:
        """The same without daylight saving."""
        there = datetime.fromtimestamp(utc_s, UTC).astimezone(self.rules)
        return _seconds(there.utcoffset()) - (0.0 if self.is_fixed else _seconds(there.dst()))

    def utc_of(self, local: datetime) -> float:
        """Seconds since 1970 in universal time of a time by its clocks; the first of two."""
        return local.replace(tzinfo=self.rules).timestamp()

    def utc_of_seconds(self, local_s: float) -> float:
        """The same of a time by its clocks in seconds from 1970-01-01."""
        return self.utc_of(datetime(1970, 1, 1) + timedelta(seconds=local_s))

    def local_of(self, utc_s: float) -> datetime:
        """Time by its clocks."""
        return datetime.fromtimestamp(utc_s, UTC).astimezone(self.rules).replace(tzinfo=None)


@dataclass(frozen=True)
class Turn:
    """A moment at which the clocks of a zone are moved.

    Attributes
    ----------
    utc_s : float
        When, since 1970 in universal time. [s]
    before_s, after_s : float
        How far they are ahead of universal time before it and from then on. [s]
    """

    utc_s: float
    before_s: float
    after_s: float

    @property
    def is_forward(self) -> bool:
        """Whether an hour is left out."""
        return self.after_s > self.before_s

    @property
    def doubtful(self) -> tuple[float, float]:
        """First and end of the times by the clock that are left out, or come twice."""
        ends = (self.utc_s + self.before_s, self.utc_s + self.after_s)
        return min(ends), max(ends)


def zone_of(text: str) -> Zone:
    """The zone that a text stands for.

    Raises
    ------
    Wrong
        If it is none.
    """
    words = text.strip()
    if words.casefold() in ("utc", "gmt", "z"):
        return Zone(words, UTC, True)
    if len(words) <= LONGEST and (match := _FIXED.fullmatch(words)) is not None:
        seconds = int(match["hours"]) * HOUR + int(match["minutes"] or 0) * 60
        if seconds > FARTHEST:
            raise Wrong(f"'{words}' is farther from universal time than any clock. {EXAMPLES}")
        ahead = seconds if match["sign"] == "+" else -seconds
        return Zone(words, timezone(timedelta(seconds=ahead)), True)
    rules = _named(words) if len(words) <= LONGEST and "/" in words else None
    if rules is None:
        raise Wrong(f"'{words[:LONGEST]}' is no time zone that is known. {EXAMPLES}")
    return Zone(words, rules, False)


def zone_in_heading(head: str) -> Zone | None:
    """The fixed zone that a heading of times names, such as `Time, UTC-06:00`; None for none."""
    match = _IN_HEADING.search(head)
    if match is None:
        return None
    try:
        return zone_of(match[0].replace(" ", ""))
    except Wrong:
        return None


def turns(zone: Zone, first_s: float, last_s: float) -> tuple[Turn, ...]:
    """Moments between two times at which the clocks of a zone are moved.

    Parameters
    ----------
    zone : Zone
        The zone.
    first_s, last_s : float
        Since 1970 in universal time. [s]

    Returns
    -------
    tuple of Turn
        In their order; none of a fixed zone.
    """
    if zone.is_fixed:
        return ()
    marks = np.arange(np.floor(first_s), np.ceil(last_s) + WEEK, WEEK)
    ahead = [zone.offset_s(mark) for mark in marks]
    found = []
    for i in range(1, len(marks)):
        if ahead[i] != ahead[i - 1]:
            found.append(_turn_between(zone, float(marks[i - 1]), float(marks[i])))
    return tuple(turn for turn in found if first_s <= turn.utc_s <= last_s)


def utc_text(seconds: NDArray[np.float64]) -> NDArray[np.str_]:
    """Times in universal time as `2028-03-04T16:15:00Z`."""
    whole = np.round(seconds).astype("int64").astype("datetime64[s]")
    return np.char.add(np.datetime_as_string(whole, unit="s"), "Z")


def _turn_between(zone: Zone, low: float, high: float) -> Turn:
    before = zone.offset_s(low)
    while high - low > 1.0:
        middle = np.floor((low + high) / 2)
        if zone.offset_s(float(middle)) == before:
            low = float(middle)
        else:
            high = float(middle)
    return Turn(high, before, zone.offset_s(high))


@cache
def _named(key: str) -> ZoneInfo | None:
    try:
        return ZoneInfo(key)
    except (KeyError, ValueError, OSError):  # no such name, one with dots, a folder of names
        return None


def _seconds(distance: timedelta | None) -> float:
    return 0.0 if distance is None else distance.total_seconds()


@dataclass(frozen=True)
class TimeZone(Ask):
    """A time zone, held as it was written."""

    @property
    def allowed(self) -> str:
        return 'a distance from universal time such as "-6 h", or a name like "America/Chicago"'

    def read(self, raw: Any, setting: Setting) -> str:
        if not isinstance(raw, str):
            raise Wrong(f"{as_typed(raw)} is no time zone that is known. {EXAMPLES}")
        return zone_of(raw).words


@dataclass(frozen=True)
class Moment(Ask):
    """Day and time of day by the clock on site, held as `2028-03-04 10:15`."""

    @property
    def allowed(self) -> str:
        return "year-month-day and hours:minutes"

    def read(self, raw: Any, setting: Setting) -> str:
        text = str(raw).strip()
        try:
            if not _MOMENT.fullmatch(text):
                raise ValueError
            return datetime.fromisoformat(text).isoformat(" ")
        except ValueError:
            raise Wrong(
                f"'{raw}' is not a day with a time. Write year-month-day hours:minutes, "
                f"like {self.sample}."
            ) from None
