# SPDX-License-Identifier: Apache-2.0
"""What the clock of a logger did in summer, and its times in universal time.

In a zone whose clocks are moved, a logger either moved with them or stayed on standard time. The
readings themselves tell: one in the hour that is left out in spring stayed, an hour that comes
twice in autumn moved. What they tell is said, the word of the job governs, and where neither tells
it is asked.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.findings import Finding
from tilewater.job.fields import Wrong
from tilewater.job.times import Turn, Zone, turns

Floats = NDArray[np.float64]
Truths = NDArray[np.bool_]

HOUR = 3600.0
DAY = 24 * HOUR
NEAR = 3 * HOUR
"""Readings so far from a moved clock tell what it did."""
SELDOM = 12 * HOUR
"""To readings so far apart an hour means little, and the clock of the site is taken."""
STEPS = 1.5
"""Readings farther apart than so many usual steps are not next to each other."""


@dataclass(frozen=True)
class Timed:
    """Times of the rows in universal time, in the order of the file.

    Attributes
    ----------
    time_s : array
        Since 1970-01-01. [s]
    doubtful : array
        Rows of an hour that came twice, of which one cannot tell which it is.
    notes : tuple of Finding
    """

    time_s: Floats
    doubtful: Truths
    notes: tuple[Finding, ...]


@dataclass(frozen=True)
class _Evidence:
    """What the readings around a moved clock tell."""

    turn: Turn
    switches: bool
    stays: bool


def usual_step(times: Floats) -> float:
    """Usual time from one reading to the next; an hour where there is one reading."""
    steps = np.diff(np.sort(times))
    steps = steps[steps > 0]
    return float(np.median(steps)) if steps.size else HOUR


def universal_times(local_s: Floats, zone: Zone, clock: str | None, name: str) -> Timed:
    """Times of a logger in universal time.

    Parameters
    ----------
    local_s : array
        As its clock showed them, in the order of the file. [s]
    zone : Zone
        The zone of the site, or a fixed one.
    clock : "switches", "stays" or None
        What the job says its clock does in summer.
    name : str
        What messages call it.

    Returns
    -------
    Timed
        Times, and what the engineer must know of them.

    Raises
    ------
    Wrong
        If the readings contradict each other or do not tell, and the job does not say.
    """
    if zone.is_fixed:
        _refuse_moved(local_s, zone)
        steady = local_s - zone.offset_s(0.0)
        return Timed(steady, np.zeros(local_s.size, bool), ())
    found = turns(zone, float(local_s.min()) - DAY, float(local_s.max()) + DAY)
    evidence = [_evidence(local_s, turn) for turn in found]
    chosen, notes = _chosen(local_s, zone, clock, name, evidence)
    if chosen == "stays":
        ahead = zone.standard_offset_s(float(local_s.min()))
        return Timed(local_s - ahead, np.zeros(local_s.size, bool), tuple(notes))
    time_s, doubtful = _moved_along(local_s, zone, found)
    return Timed(time_s, doubtful, (*notes, *_doubts(doubtful, name)))


def _refuse_moved(local_s: Floats, zone: Zone) -> None:
    """Refuse a clock that went back an hour while the job says that it keeps one distance."""
    step = usual_step(local_s)
    back = np.flatnonzero(np.abs(np.diff(local_s) - (step - HOUR)) < 0.5 * step)
    back = back[np.diff(local_s)[back] < 0]
    for i in back:
        around = np.diff(local_s[max(i - 4, 0) : i + 6])
        if around.size >= 8 and np.sum(around < 0) == 1 and step <= HOUR / 2:
            raise Wrong(
                f"its clock went back one hour at {_stamp(local_s[i + 1])}, and {zone.words} never "
                'does. Name the zone of its clock, like "America/Chicago", or correct the rows.'
            )


def _around(local_s: Floats, turn: Turn) -> NDArray[np.int64]:
    low, high = turn.doubtful
    return np.flatnonzero((local_s >= low - NEAR) & (local_s < high + NEAR))


def _evidence(local_s: Floats, turn: Turn) -> _Evidence:
    low, high = turn.doubtful
    rows = _around(local_s, turn)
    near = local_s[rows]
    inside = (near >= low) & (near < high)
    before, after = near[near < low], near[near >= high]
    if not before.size or not after.size:
        return _Evidence(turn, False, False)
    step = usual_step(near)
    if turn.is_forward:
        across = float(after.min() - before.max())
        is_left_out = not inside.any() and step <= HOUR and across <= (high - low) + STEPS * step
        return _Evidence(turn, is_left_out, bool(inside.any()))
    times = near[inside]
    comes_twice = _goes_back_once(times) and _goes_back_once(near)
    steps = np.diff(np.sort(near))
    is_once = step <= HOUR and bool(np.all((steps > 0) & (steps <= STEPS * step)))
    return _Evidence(turn, comes_twice, is_once)


def _goes_back_once(times: Floats) -> bool:
    """Whether times ascend but for one place: rows in disorder tell nothing of a clock."""
    return int(np.sum(np.diff(times) <= 0)) == 1


def _chosen(
    local_s: Floats, zone: Zone, clock: str | None, name: str, evidence: list[_Evidence]
) -> tuple[str, list[Finding]]:
    switches = [each for each in evidence if each.switches]
    stays = [each for each in evidence if each.stays]
    if clock is not None:
        against = stays if clock == "switches" else switches
        return clock, [_against(clock, against[0], name)] if against else []
    if switches and stays:
        raise Wrong(
            f"its clock was moved {_when(switches[0])} and not {_when(stays[0])}. Write "
            'clock = "switches" or clock = "stays", or part the file where it was set anew.'
        )
    if switches or stays:
        word = "switches" if switches else "stays"
        return word, [_told(word, (switches or stays)[0], zone, name)]
    if _never_in_summer(local_s, zone) or usual_step(local_s) >= SELDOM:
        return "switches", []
    raise Wrong(
        f"nothing in the file tells whether its clock keeps summer time in {zone.words}. Write "
        'clock = "switches", or clock = "stays" where it is on standard time all year.'
    )


def _never_in_summer(local_s: Floats, zone: Zone) -> bool:
    ends = (float(local_s.min()), float(local_s.max()))
    at = [end - zone.standard_offset_s(end) for end in ends]
    is_plain = all(zone.offset_s(end) == zone.standard_offset_s(end) for end in at)
    return is_plain and not turns(zone, at[0] - HOUR, at[1] + HOUR)


def _moved_along(local_s: Floats, zone: Zone, found: tuple[Turn, ...]) -> tuple[Floats, Truths]:
    """Times of a clock that is moved; an hour that comes twice is parted where it goes back."""
    start = float(local_s.min()) - DAY
    ahead = np.full(local_s.size, found[0].before_s if found else zone.offset_s(start))
    doubtful = np.zeros(local_s.size, bool)
    for turn in found:
        low, high = turn.doubtful
        ahead[local_s >= high] = turn.after_s
        rows = np.flatnonzero((local_s >= low) & (local_s < high))
        if not rows.size:
            continue
        ahead[rows] = turn.before_s
        if turn.is_forward:
            doubtful[rows] = True  # a time that no clock of the zone showed
            continue
        second = np.concatenate(([False], np.cumsum(np.diff(local_s[rows]) <= 0) > 0))
        if _goes_back_once(local_s[rows]):
            ahead[rows[second]] = turn.after_s
        else:
            doubtful[rows] = True
    return local_s - ahead, doubtful


def _doubts(doubtful: Truths, name: str) -> Iterator[Finding]:
    count = int(doubtful.sum())
    if count:
        yield Finding(
            "logger-hour-doubtful",
            "caution",
            name,
            f"{count} readings of {name} stand in an hour in which the clocks are moved, and the "
            "file does not tell on which side. They are kept and marked as doubted.",
            value=float(count),
        )


def _told(word: str, evidence: _Evidence, zone: Zone, name: str) -> Finding:
    what = (
        f"was moved with the clocks of {zone.words}"
        if word == "switches"
        else f"stayed on the standard time of {zone.words}"
    )
    return Finding(
        "logger-clock-told",
        "note",
        name,
        f"The clock of {name} {what}: its readings {_when(evidence)} say so. "
        f'Write clock = "{"stays" if word == "switches" else "switches"}" if that is wrong.',
    )


def _against(word: str, evidence: _Evidence, name: str) -> Finding:
    did = "was not moved" if word == "switches" else "was moved"
    return Finding(
        "logger-clock-against",
        "caution",
        name,
        f'The job says clock = "{word}" of {name}, but its readings {_when(evidence)} look as if '
        f"it {did}. The word of the job is kept. Look at the rows of that night.",
    )


def _when(evidence: _Evidence) -> str:
    return f"around {_stamp(evidence.turn.doubtful[0])}"


def _stamp(local_s: float) -> str:
    text = str(np.datetime64(round(local_s), "s"))
    return text.replace("T", " ")[:16]
