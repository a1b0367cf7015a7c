# SPDX-License-Identifier: Apache-2.0
"""One day of a series worked again, with every value on the way: of the field, or of the bed."""

import datetime
from collections.abc import Iterator
from typing import Any

from tilewater.basis.errors import OutOfDomain, UnknownName
from tilewater.basis.trace import Trace
from tilewater.basis.unknown import is_unknown
from tilewater.chain.explain import keys_of
from tilewater.documents.pages.route_page import (
    ROUTED,
    are_routed,
    is_daily,
    route_page,
    route_record,
)
from tilewater.documents.pages.said import Cell, Part, Said, block, dim, rows
from tilewater.documents.words import IN_SI, Words
from tilewater.hydrology.field import FieldRun
from tilewater.hydrology.field_replay import DayReplay, replay_day

RUN = "water.run"
PARTS = {
    "before": "What the field held in the morning",
    "weather": "What the day brings",
    "cold": "Snow and frost",
    "taken": "What plants and the deep ground take",
    "wetted": "Where rain and melt go",
    "passed": "What arrives at the table from the roots",
    "outlet": "What the drains may carry",
    "drained": "What drains in the 24 hours that follow",
    "after": "What the field holds at the end",
}
"""Parts of a day in the order of the computation."""


def day_of(text: str) -> datetime.date:
    """A day as typed.

    Raises
    ------
    OutOfDomain
        If it is no day.
    """
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        raise OutOfDomain(
            f"--day '{text}' is no day. A day is year, month, day. Write it like 2011-05-03."
        ) from None


def behind_of(trace: Trace, key: str) -> Iterator[str]:
    """The key itself, or those of its group, and every key that they come from, nearest first."""
    pending = list(keys_of(trace, key))
    seen = set(pending)
    while pending:
        here = pending.pop(0)
        yield here
        for _, source in trace.steps[here].inputs:
            if source not in seen:
                seen.add(source)
                pending.append(source)


def run_behind(trace: Trace, key: str) -> str:
    """Key of the run of the field that a key of the result comes from.

    Raises
    ------
    UnknownName
        If no number has that key, or it comes from no run of the field.
    """
    for here in behind_of(trace, key):
        if isinstance(trace.value(here), FieldRun):
            return here
    if RUN in trace and is_unknown(trace.value(RUN)):
        raise UnknownName(f"'{key}' has no days: {trace.value(RUN).why}.")
    raise UnknownName(
        f"'{key}' does not rest on days that were worked one by one. Days can be asked of "
        "water.flow_m3_s where it is simulated, of water.spot.NAME.boards_in, and of what a design "
        "finds by its days, such as removal.removed_kg.p50."
    )


def day_page(trace: Trace, key: str, day: str, words: Words) -> Iterator[Part]:
    """The value of a key on a day where it is a series, and the day worked again."""
    if rests_on_route(trace, key):
        yield from route_page(trace, key, day_of(day), words)
        return
    behind = run_behind(trace, key)
    replay = replay_day(trace.value(behind), day_of(day))
    said = series_value(trace, key, replay.date)
    if said is not None:
        step, value = said
        yield block(
            step.title, f"{step.key} on {replay.date}", Said(_say(step, value, words), "strong")
        )
    branches = ", ".join(replay.branches) or "none of note"
    yield block(f"The field on {replay.date}", behind, Said(f"branches of the day: {branches}"))
    for part, title in PARTS.items():
        lines: list[list[Cell]] = [
            [dim(name.partition(".")[2]), f"{value:.6g}", dim(unit)]
            for name, value, unit in replay.values
            if name.startswith(f"{part}.")
        ]
        yield block(title, "", rows(("", "", ""), lines, right=(1,)))
    yield Said()
    yield dim(
        "SI, depths in m of water over the field, a day as unit of time; worked by the readable "
        "twin of the daily model."
    )


def _say(step: Any, value: float, words: Words) -> str:
    text = words.of_key(step.key, value, step.unit)
    other = Words("si" if words.system == "us" else "us", words.foot)
    return f"{text}  {other.of_key(step.key, value, step.unit)}".replace(IN_SI, "")


def rests_on_route(trace: Trace, key: str) -> bool:
    """Whether a key comes from days that were routed through the bed, or is what they brought."""
    if not are_routed(trace):
        return False
    behind = tuple(behind_of(trace, key))
    first = behind[0]
    brought = first.startswith("days.") and is_daily(trace, trace.value(first))
    return brought or any(here in ROUTED for here in behind)


def series_value(trace: Trace, key: str, date: datetime.date) -> tuple[Any, float] | None:
    """The step of a key and its value on a day; None where it is no daily series."""
    (first, *_) = keys_of(trace, key)
    step = trace.steps[first]
    group = "water.simulated" if first.startswith("water.simulated.") else "water"
    if not trace.known(f"{group}.day") or getattr(step.value, "ndim", 0) != 1:
        return None
    days = trace.value(f"{group}.day")
    if step.value.size != days.size or step.value.dtype.kind != "f":
        return None
    place = int(days.searchsorted(date.toordinal()))
    if place >= days.size or days[place] != date.toordinal():
        return None
    return step, float(step.value[place])


def day_record(trace: Trace, key: str, day: str) -> dict[str, Any]:
    """The same for other programs."""
    if rests_on_route(trace, key):
        return route_record(trace, key, day_of(day))
    behind = run_behind(trace, key)
    replay: DayReplay = replay_day(trace.value(behind), day_of(day))
    said = series_value(trace, key, replay.date)
    return {
        "key": key,
        "run": behind,
        "day": replay.date.isoformat(),
        "value": None if said is None else said[1],
        "unit": "" if said is None else said[0].unit,
        "branches": list(replay.branches),
        "values": [
            {"name": name, "value": value, "unit": unit} for name, value, unit in replay.values
        ],
    }
