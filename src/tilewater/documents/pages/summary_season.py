# SPDX-License-Identifier: Apache-2.0
"""Blocks of a design about the seasons: emptying, the first weeks of a new bed, the winter."""

from math import isfinite

from tilewater.basis.trace import Trace
from tilewater.documents.pages.numbers import keyed, number
from tilewater.documents.pages.said import Cell, Part, block, dim, pairs, rows, status
from tilewater.documents.words import NOT_KNOWN, Words, folded, step_value
from tilewater.practices.bed.emptying_steps import YEAR, seasons_not_to_empty
from tilewater.practices.bed.settings import DESIGN

SHARES = ("50", "90", "95")
COVERS = (("feed", "feed"), ("header_inlet", "inlet header"), ("header_outlet", "outlet header"))


def emptying(trace: Trace, words: Words) -> Part:
    """Hours to let the bed run empty, and what comes out of it in each season."""
    lines = [
        [label, *(_hours(trace, f"drain_down.{label}_{share}_s", words) for share in SHARES)]
        for label in ("warm", "cold")
        if f"drain_down.{label}_50_s" in trace
    ]
    heads = ("water", *(f"{share} % out" for share in SHARES))
    body: list[Part] = [rows(heads, lines, right=(1, 2, 3))]
    by_season: list[list[Cell]] = [
        [
            season,
            _both_stacks(trace, season, words),
            _share(trace, season, "ordinary", words),
            _share(trace, season, "high", words),
            words.say(step_value(trace, f"emptying.seasons.{season}.high.pool_m"), "length"),
            _stands_empty(trace, season),
        ]
        for season in trace.names("emptying.seasons")
    ]
    if by_season:
        heads = ("season", "boards", "out", "ditch high", "left wet then", "may stand empty")
        body += [rows(heads, by_season, right=(2, 3, 4))]
    body.append(dim(_first_hours(trace, words)))
    return block(
        "Emptying", "from full, feed shut, outlet boards out; hours of what can leave", *body
    )


def _hours(trace: Trace, key: str, words: Words) -> Cell:
    text = words.say(step_value(trace, key), "time")
    return keyed(trace, "never" if text == "no limit" else text, key)


def _share(trace: Trace, season: str, kind: str, words: Words) -> Cell:
    return number(trace, words, f"emptying.seasons.{season}.{kind}.share", "ratio")


def _stands_empty(trace: Trace, season: str) -> Cell:
    key = f"emptying.seasons.{season}.stands_empty.status"
    return status(str(trace.value(key))) if key in trace else dim("no rule")


def _both_stacks(trace: Trace, season: str, words: Words) -> str:
    """Heights of the inlet and the outlet boards that stand in a season."""
    setting = season if f"boards.inlet-{season}.height_m" in trace else DESIGN
    inlet, outlet = (
        words.say(step_value(trace, f"boards.{structure}-{setting}.height_m"), "size", unit=unit)
        for structure, unit in (("inlet", False), ("outlet", True))
    )
    return folded("{} / {}", inlet, outlet)


def _first_hours(trace: Trace, words: Words) -> str:
    first, full = (
        words.say(step_value(trace, f"emptying.{key}_m3_s"), "flow")
        for key in ("first_hour", "return_full")
    )
    carries = f"the return carries {full} full"
    if step_value(trace, "emptying.return_full_m3_s") == 0.0:
        carries = "the return does not fall, and carries only what stands above it presses through"
    return (
        f"All boards out at once, new chips give {first} in the first hour; {carries}. "
        f"{_pull(trace, words)}What stays is wet chips. The hours are for a surface that keeps its "
        "shape over what stays; a level full bed is done sooner."
    )


def _pull(trace: Trace, words: Words) -> str:
    """How long the outlet boards take in spring; nothing where there are not two to pull."""
    pull = step_value(trace, "emptying.pull_s")
    if pull == 0.0:
        return ""
    text = words.say(pull, "time")
    last = "" if text == NOT_KNOWN else f", {text} from the first to the last"
    return f"In spring pull one board in 12 h{last}. "


def start_up(trace: Trace, words: Words) -> Part | None:
    """Boards of the first weeks, and how often the flow of each season renews the water."""
    if "start_up.settings" not in trace:
        return None
    seasons = [
        [
            season,
            words.say(step_value(trace, f"start_up.seasons.{season}.flow_m3_s"), "flow"),
            _number(step_value(trace, f"start_up.seasons.{season}.pore_volumes_per_day"), words),
            _days(trace, f"start_up.seasons.{season}.days_first", words),
            _days(trace, f"start_up.seasons.{season}.days_last", words),
        ]
        for season in trace.names("start_up.seasons")
    ]
    heads = ("season", "flow", "pore volumes a day", "3 in", "10 in")
    body: list[Part] = []
    if trace.known("start_up.settings"):
        lines = [
            [_from_day(step.from_day, step.to_day), _stack(step.outlet_boards, words), step.why]
            for step in trace.value("start_up.settings")
        ]
        body.append(rows(("days", "outlet boards", "why"), lines, wide=(2,)))
    body.append(rows(heads, seasons, right=(1, 2, 3, 4)))
    least = words.say(step_value(trace, "start_up.least_m3_s"), "flow")
    body.append(
        dim(
            f"3 to 10 pore volumes at high flow: common practice. Below {least} a full bed holds "
            "its water for 1.7 days, which was enough for sulfide: no season to start in."
        )
    )
    season = words.of_key("", step_value(trace, "start_up.season"), "")
    begun = {
        NOT_KNOWN: "the season to begin in is not known",
        YEAR: "no season is listed",
    }.get(season, f"begun in {season}")
    return block("Start-up", f"new chips, {begun}; inlet boards as designed", *body)


def _number(value: object, words: Words) -> str:
    return words.say(value, "number", style="two figures")


def _days(trace: Trace, key: str, words: Words) -> str:
    value = step_value(trace, key)
    if isinstance(value, float) and not isfinite(value):
        return "never"
    return words.say(value, "days", style="two figures")


def _from_day(first: float, last: float) -> str:
    return f"{first:.0f} to {last:.0f}" if isfinite(last) else f"from {first:.0f}"


def _stack(boards: tuple[float, ...], words: Words) -> str:
    if not boards:
        return "none"
    unit = words.say(0.0, "size").rpartition(" ")[2]
    return " + ".join(words.say(one, "size", unit=False) for one in boards) + f" {unit}"


def winter(trace: Trace, words: Words) -> Part | None:
    """What stands frozen, what the snowmelt finds, and soil over what may freeze."""
    if "frost.setting" not in trace:
        return None
    first, last, setting = (
        words.of_key("", step_value(trace, key), "")
        for key in ("inputs.frost.frozen_from", "inputs.frost.frozen_to", "frost.setting")
    )
    stands = "the design setting" if setting == DESIGN else setting
    here = "capacity.snowmelt"
    flow = words.say(step_value(trace, f"{here}.flow_m3_s"), "flow")
    share = words.say(step_value(trace, f"{here}.share_of_peak"), "ratio")
    head = words.say(step_value(trace, f"{here}.bypass_head_m"), "length")
    cold = words.say(step_value(trace, f"{here}.temperature_c"), "temperature")
    depth = words.say(step_value(trace, "inputs.frost.depth_m"), "length")
    estimate = words.say(step_value(trace, "frost.estimate_m"), "length")
    lines: list[tuple[str, Cell]] = [
        ("boards", f"those of {stands} from the first frost to the melt; move none in it"),
        (
            "snowmelt",
            folded(
                f"{{}}, {{}} of the peak through the bed, {{}} over the bypass boards; main full, "
                f"ditch high, water {cold}",
                flow,
                share,
                head,
            ),
        ),
        (
            "frost depth",
            depth if NOT_KNOWN in (depth, estimate) else f"{depth}; by the index about {estimate}",
        ),
    ]
    covers: list[list[Cell]] = [
        [
            label,
            words.say(step_value(trace, f"frost.{name}_cover_m"), "length"),
            status(str(trace.value(f"frost.{name}.status"))),
        ]
        for name, label in COVERS
    ]
    return block(
        "Winter",
        f"boards may be frozen in from {first} to {last}",
        pairs(lines),
        rows(("under the frost", "soil over it", ""), covers, right=(1,)),
    )


def lid_card(trace: Trace, words: Words) -> Part:
    """What whoever moves the boards must know, for the inside of the lid."""
    lines: list[tuple[str, Cell]] = [("empty", _when_to_empty(trace, words))]
    gate = {"gate": "shut the feed gate first", "boards": "put the feed boards in first"}
    word = str(trace.value("inputs.bed.feed_gate"))
    shut = gate.get(word, "only while the drains stand still: nothing known shuts the feed")
    lines.append(("to empty", f"{shut}, then pull the outlet boards, in spring one in 12 h"))
    if trace.known("inputs.frost.frozen_from", "inputs.frost.frozen_to"):
        first, last = (trace.value(f"inputs.frost.frozen_{end}") for end in ("from", "to"))
        lines.append(("frost", f"move no board from {first} to {last}"))
    lines.append(("smell", "rotten eggs or black water: pull an outlet board; never climb in"))
    return block("For the lid card", "", pairs(lines))


def _when_to_empty(trace: Trace, words: Words) -> str:
    limit = "uplift.finished.groundwater_limit_m"
    if trace.known("inputs.bed.lining") and trace.value("inputs.bed.lining") == "geotextile":
        return "at any ground water; it comes in through the fabric"
    level = words.say(step_value(trace, limit), "elevation")
    text = f"never while the ground water stands above {level}"
    if forbidden := seasons_not_to_empty(trace):
        text += f"; do not empty in {' or '.join(forbidden)}"
    unknown = [
        season
        for season in trace.names("emptying.seasons")
        if step_value(trace, f"emptying.seasons.{season}.stands_empty.status") == NOT_KNOWN
    ]
    return text + (f"; not known for {', '.join(unknown)}" if unknown else "")
