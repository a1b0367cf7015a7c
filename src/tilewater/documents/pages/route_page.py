# SPDX-License-Identifier: Apache-2.0
"""One day through a practice worked again: what it brings, each equation, how it ends."""

import datetime
from collections.abc import Iterator
from typing import Any

import numpy as np

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.trace import Trace
from tilewater.chain.explain import keys_of
from tilewater.documents.pages.said import Cell, Part, Said, block, dim, rows
from tilewater.documents.words import Words
from tilewater.practices.bed.route_replay import RouteReplay, RouteStep, replay_route
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.buffer.route_replay import replay_buffer

BOARDS = "days.boards"
"""Where there is a buffer, the boards of every setting."""
OF_BUFFER = {"nitrate": "What the soil takes out"}
"""What parts of a day through a buffer are called otherwise."""
ROUTED = frozenset({"days.series", "days.run"})
"""Keys that only routed days come from."""
PARTS = {
    "brought": "What the day brings",
    "chips": "The chips on that day",
    "divided": "How the water divides",
    "nitrate": "What the bed takes out",
    "outcome": "The day in sum",
}
"""Parts of a day in the order of the computation."""
KINDS = {
    "m3/s": "flow",
    "degC": "temperature",
    "mg/L": "concentration",
    "m/s": "media_conductivity",
    "m3": "water_volume",
    "g/m3/day": "rate",
    "m": "elevation",
}
"""Kinds of the values by their unit; all lengths of a routed day are elevations."""
CRESTS = {"inlet": "Bypass crest", "outlet": "Outlet crest", "head": "Head crest"}
YES_OR_NO = ("limited", "runs_back")


def are_routed(trace: Trace) -> bool:
    """Whether days have been routed through the bed."""
    return "days.run" in trace and trace.known("days.run", "days.date")


def replayed(trace: Trace, date: datetime.date) -> RouteReplay:
    """A day at the middle of every range, worked again.

    Raises
    ------
    OutOfDomain
        If the record does not have the day.
    """
    day = place_of(trace.value("days.date"), date)
    series, middle = trace.value("days.series"), trace.value("days.middle")
    if BOARDS in trace:
        return replay_buffer(series, middle, trace.value(BOARDS), trace.value("days.run"), day)
    return replay_route(series, middle, trace.value("days.table"), day)


def place_of(dates: np.ndarray, date: datetime.date) -> int:
    """Number of a date among the routed days.

    Raises
    ------
    OutOfDomain
        If it is not among them; the message says which are.
    """
    wanted = np.datetime64(date)
    place = int(np.searchsorted(dates, wanted))
    if place < dates.size and dates[place] == wanted:
        return place
    said = f"--day {date} is not among the days that were routed. They run from {dates[0]} to "
    if 0 < place < dates.size:
        raise OutOfDomain(
            f"{said}{dates[-1]}, and the record has none from {dates[place - 1] + 1} to "
            f"{dates[place] - 1}. Choose {dates[place - 1]} or {dates[place]}."
        )
    raise OutOfDomain(f"{said}{dates[-1]}. Choose a day within.")


def route_page(trace: Trace, key: str, date: datetime.date, words: Words) -> Iterator[Part]:
    """What a key is, and one of the days behind it with every step."""
    replay = replayed(trace, date)
    step = trace.steps[keys_of(trace, key)[0]]
    count = trace.value("days.date").size
    told = Said(_value(trace, key, replay.day, words), "strong")
    drawn = "soil" if BOARDS in trace else "chips"
    about = f"It rests on {count:,} days. One of them, {drawn} and kinetics at their middle:"
    yield block(step.title, step.key, told, dim(about))
    for part, title in PARTS.items():
        steps = [one for one in replay.steps if one.part == part]
        lines = [_line(trace, one, words) for one in steps]
        if part == "brought":
            lines += _boards(trace, replay, words)
        note = str(date) if part == "brought" else ""
        if lines:
            title = OF_BUFFER.get(part, title) if BOARDS in trace else title
            yield block(title, note, rows(("", ""), lines, right=(1,), wide=(0,)))
    if not any(one.part == "nitrate" for one in replay.steps):
        through = "into the buffer" if BOARDS in trace else "through the bed"
        title = (PARTS | OF_BUFFER)["nitrate"] if BOARDS in trace else PARTS["nitrate"]
        yield block(title, "", dim(f"Nothing: no water goes {through}."))
    yield Said()
    same = replay.is_day_of(trace.value("days.run"))
    yield dim(
        "Numbers of the equations in SI. Worked by the readable twin of the daily model; the "
        f"compiled run has {'the same' if same else 'OTHER'} numbers for the day."
    )
    if trace.value("water.basis") == "simulated":
        yield dim(f"How its drain flow came:\n  {_how_it_drained(date)}")


def _how_it_drained(date: datetime.date) -> str:
    return f"tilewater water JOB --explain water.flow_m3_s --day {date}"


def _value(trace: Trace, key: str, day: int, words: Words) -> str:
    """The value of a key; of the day where it is one of the daily series."""
    step = trace.steps[keys_of(trace, key)[0]]
    if is_daily(trace, step.value):
        return f"on the day {words.of_key(step.key, step.value[day].item(), step.unit)}"
    return words.of_step(step)


def is_daily(trace: Trace, value: Any) -> bool:
    """Whether a value is a series with a number for each routed day."""
    dates = trace.value("days.date")
    return isinstance(value, np.ndarray) and value.shape == dates.shape and value.dtype.kind in "fi"


def _line(trace: Trace, step: RouteStep, words: Words) -> list[Cell]:
    how = Said(step.title)
    for text in filter(None, (step.equation, step.numbers)):
        how.append(f"\n  {text}", "quiet")
    return [how, _said(trace, step, words)]


def _said(trace: Trace, step: RouteStep, words: Words) -> str:
    if step.name == "setting":
        return setting_name(trace, step.value)
    if step.name in YES_OR_NO:
        return "yes" if step.value else "no"
    if step.name == "share":
        return words.say(step.value, "ratio")
    if step.name == "retention":
        return words.time(24.0 * step.value)
    if step.unit == "days":
        return f"{step.value:,.0f} days"
    if step.unit == "kg":
        return words.say(step.value, "mass", style="two figures")
    kind = KINDS.get(step.unit)
    return words.say(step.value, kind) if kind else f"{step.value:.4g} {step.unit}".rstrip(" -")


def setting_name(trace: Trace, number: float) -> str:
    """Name of a setting of the boards by its number in the series."""
    return (DESIGN, *trace.names("inputs.season"))[int(number)]


def _boards(trace: Trace, replay: RouteReplay, words: Words) -> Iterator[list[Cell]]:
    """Crests of the boards on the day."""
    setting = setting_name(trace, replay.value("setting"))
    for structure, title in CRESTS.items():
        key = f"boards.{structure}-{setting}.crest_m"
        if key not in trace:
            continue
        yield [title, words.say(trace.value(key), "elevation")]


def route_record(trace: Trace, key: str, date: datetime.date) -> dict[str, Any]:
    """The same for other programs, in SI."""
    replay = replayed(trace, date)
    step = trace.steps[keys_of(trace, key)[0]]
    daily = is_daily(trace, step.value)
    setting = setting_name(trace, replay.value("setting"))
    return {
        "key": key,
        "run": "days.run",
        "day": date.isoformat(),
        "value": float(step.value[replay.day]) if daily else None,
        "unit": step.unit if daily else "",
        "setting": setting,
        "same_as_run": replay.is_day_of(trace.value("days.run")),
        "crests_m": {
            structure: float(trace.value(f"boards.{structure}-{setting}.crest_m"))
            for structure in CRESTS
            if f"boards.{structure}-{setting}.crest_m" in trace
        },
        "values": [
            {
                "name": f"{one.part}.{one.name}",
                "title": one.title,
                "equation": one.equation,
                "numbers": one.numbers,
                "value": one.value,
                "unit": one.unit,
            }
            for one in replay.steps
        ],
    }
