# SPDX-License-Identifier: Apache-2.0
"""Blocks of a design about the main as surveyed: segments, submains, the pump."""

from tilewater.basis.trace import Trace
from tilewater.basis.unknown import is_unknown
from tilewater.chain.result_main import main_record
from tilewater.documents.pages.numbers import keyed, number
from tilewater.documents.pages.said import Cell, Part, Said, block, dim, pairs, rows
from tilewater.documents.words import NOT_KNOWN, Words, step_value


def main(trace: Trace, words: Words) -> Part | None:
    """Segments of the main, what limits them, where water first reaches the ground."""
    names = [one["name"] for one in main_record(trace)["segments"]]
    if not names:
        return None
    limiting = step_value(trace, "main.limiting_segment")
    heads = ("segment", "stations", "size", "grade", "full", "velocity", "found")
    lines = [_line(trace, words, name, name == limiting) for name in names]
    limited = NOT_KNOWN
    if not is_unknown(limiting) and limiting not in (None, NOT_KNOWN):
        limited = f"{limiting}, the first above the diversion to run full by its grade"
    more: list[tuple[str, Cell]] = [
        ("limits it", keyed(trace, limited, "main.limiting_segment")),
        ("reaches the ground", _ground(trace, words)),
    ]
    note = "no pool between segments, no loss where the size changes unless stated"
    return block(
        "Main",
        "as surveyed",
        rows(heads, lines, right=(3, 4, 5), wide=(6,)),
        pairs(more),
        dim(note),
    )


def _line(trace: Trace, words: Words, name: str, limits: bool) -> list[Cell]:
    here, given = f"main.segments.{name}", f"inputs.segment.{name}"

    def say(key: str, kind: str) -> Said:
        return number(trace, words, f"{here}.{key}", kind)

    how = [
        step_value(trace, f"{given}.{w}") for w in ("found", "found_up") if f"{given}.{w}" in trace
    ]
    found = ", ".join(dict.fromkeys(NOT_KNOWN if is_unknown(w) else str(w) for w in how))
    return [
        Said(name, "strong" if limits else ""),
        say("station_down_m", "station").append(" to ").append(say("station_up_m", "station")),
        say("diameter_m", "size"),
        say("slope", "slope"),
        say("flow_full_m3_s", "flow"),
        say("velocity_full_m_s", "velocity"),
        found or "stated",
    ]


def _ground(trace: Trace, words: Words) -> str:
    """Flow and place, boards in and boards out."""
    parts = []
    for boards, end in (("in", ""), ("out", "_boards_out")):
        flow, where = f"main.water_reaches_ground{end}_m3_s", f"main.where{end}"
        if trace.known(flow, where):
            said = words.say(trace.value(flow), "flow")
            parts.append(f"from {said} at {trace.value(where)} with the boards {boards}")
    return "; ".join(parts) or NOT_KNOWN


def areas(trace: Trace, words: Words) -> str | None:
    """How much of the drained area reaches the diversion; None where all of it does."""
    if not trace.names("inputs.submain"):
        return None
    above = words.say(step_value(trace, "drain_flow.area_above_m2"), "area", unit=False)
    whole = words.say(step_value(trace, "inputs.drainage.area_m2"), "area")
    return f"{above} of {whole} reach the diversion"


def pump(trace: Trace, words: Words) -> Part | None:
    """The cycle of the pump at the mean flow, and what a run of it does to the bed."""
    if "pump.sump_volume_m3" not in trace:
        return None

    def say(key: str, kind: str) -> str:
        return words.say(step_value(trace, f"pump.{key}"), kind)

    def minutes(key: str) -> str:
        return words.say(step_value(trace, f"pump.{key}"), "min", style="two figures")

    lines: list[tuple[str, Cell]] = [
        ("sump", f"{say('sump_volume_m3', 'water_volume')} between the floats"),
        ("runs, rests", f"{minutes('run_time_s')}, {minutes('rest_time_s')}"),
        (
            "starts an hour",
            f"{say('starts_per_hour', 'number')}, at the worst flow "
            f"{say('starts_most_per_hour', 'number')}",
        ),
        (
            "a run sends",
            f"{say('pulse_volume_m3', 'water_volume')}, the bed has room for "
            f"{say('room_m3', 'water_volume')}, {say('past_bed_m3', 'water_volume')} go past it",
        ),
    ]
    return block("Pump", "at the mean flow of days with flow", pairs(lines))
