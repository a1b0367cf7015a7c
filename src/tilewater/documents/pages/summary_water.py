# SPDX-License-Identifier: Apache-2.0
"""The page of the water: one sentence, then days, months and years, what holds and what drains."""

from collections.abc import Iterator
from datetime import date
from math import isfinite
from typing import Any

from tilewater.basis.trace import Trace
from tilewater.documents.pages import summary_bed
from tilewater.documents.pages.numbers import number
from tilewater.documents.pages.said import Cell, Part, Said, block, dim, pairs, rows, status
from tilewater.documents.words import NOT_KNOWN, Words, step_value

MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
CLASSES = {
    "none": "no flow",
    "to-5": "up to 5 % of the peak",
    "to-15": "5 to 15 %",
    "to-30": "15 to 30 %",
    "to-60": "30 to 60 %",
    "to-100": "60 to 100 %",
    "above": "above the peak",
}
BALANCE = (
    ("precipitation", "rain and snow, as gauged"),
    ("snow_added", "snow that the gauge missed"),
    ("evapotranspiration", "to the air"),
    ("drain_flow", "through the laterals"),
    ("inlet_flow", "through surface inlets"),
    ("runoff", "over the ground"),
    ("deep_seepage", "to the deep ground below"),
    ("storage_change", "left in the field"),
)
PER_LINE = 6
"""Years on a line."""
LEFT_OUT = (
    "Not in the model: cracks and worm holes, water that runs from one part of the field to "
    "another, the peak within a day, the head over the boards while water flows over them. Boards "
    "hold water at their crest on every day of a season; days when the bed takes all stand lower."
)


def water_page(title: str, trace: Trace, words: Words) -> Iterator[Part]:
    """Blocks of the page in their order; a block that has nothing to say is left out."""
    yield Said(title, "strong")
    yield Said()
    yield Said(sentence(trace, words), "strong")
    blocks = (
        _days(trace, words),
        _months(trace, words),
        _years(trace, words),
        summary_bed.water(trace, words),
        _ten_years(trace, words),
        _holds(trace, words),
        _balance(trace, words),
        _boards(trace, words),
        wet_days(trace, words),
        _rests(trace),
    )
    yield from (each for each in blocks if each is not None)
    if trace.known("water.simulated.day"):
        day = date.fromordinal(int(trace.value("water.simulated.day")[-1]))
        yield Said()
        yield dim("Where a number comes from, and how a day was worked:")
        yield dim(f"  tilewater water JOB --explain water.flow_m3_s --day {day}")


def sentence(trace: Trace, words: Words) -> str:
    """How much drains in a mean year, when, and what holds it back."""
    if not trace.known("water.mean_annual_depth_m"):
        why = getattr(step_value(trace, "water.basis"), "why", "")
        return f"The daily drain flow is not known: {why or 'see what is missing'}."
    depth = words.say(trace.value("water.mean_annual_depth_m"), "depth")
    days = _whole(trace.value("water.flow_days_per_year"))
    parts = [f"The drains bring {depth} of water in a mean year, on {days} days"]
    if trace.known("water.wettest_share"):
        first = int(trace.value("water.wettest_from")) - 1
        share = words.say(trace.value("water.wettest_share"), "ratio", style="two figures")
        parts.append(f"{share} of it in {MONTHS[first]} to {MONTHS[(first + 2) % 12]}")
    text = ", ".join(parts)
    if trace.known("water.days_limited"):
        limited = _whole(trace.value("water.days_limited"))
        text += f"; on {limited} of them the main holds the drains back"
    return f"{text} ({trace.value('water.basis')})."


def _whole(value: float) -> str:
    """A number of days as one says it."""
    return f"{value:.0f}"


def _days(trace: Trace, words: Words) -> Part | None:
    if not trace.names("water.classes"):
        return None

    def line(name: str, label: str) -> list[str]:
        here = f"water.classes.{name}"
        share = words.say(step_value(trace, f"{here}.share_of_water"), "ratio")
        days = words.say(step_value(trace, f"{here}.days"), "days", unit=False)
        return [label, days, "" if name == "none" else share]

    peak = words.say(step_value(trace, "drain_flow.peak_for_share_m3_s"), "flow")
    rare = words.say(step_value(trace, "water.one_day_in_hundred_m3_s"), "flow")
    return block(
        "Days by flow",
        f"of a mean year; the peak that shares are counted against is {peak}",
        rows(
            ("flow", "days", "of the water"),
            (line(name, label) for name, label in CLASSES.items()),
            right=(1, 2),
        ),
        dim(f"One day of a hundred passes {rare}."),
    )


def _months(trace: Trace, words: Words) -> Part | None:
    if not trace.known("water.month_depth_m"):
        return None
    depths = trace.value("water.month_depth_m")
    shares = trace.value("water.month_share") if trace.known("water.month_share") else [None] * 12
    lines = [
        [
            month,
            words.say(depth, "depth", unit=False) if isfinite(depth) else NOT_KNOWN,
            words.say(share, "ratio"),
        ]
        for month, depth, share in zip(MONTHS, depths, shares, strict=True)
    ]
    unit = words.say(0.0, "depth").rpartition(" ")[2]
    return block(
        "Months",
        "drainage of a mean year",
        rows(("", unit, "share"), lines, right=(1, 2)),
    )


def _years(trace: Trace, words: Words) -> Part | None:
    if not trace.known("water.years", "water.year_depth_m", "water.median_year"):
        return None
    depths = dict(zip(trace.value("water.years"), trace.value("water.year_depth_m"), strict=True))
    said = [f"{year} {words.say(depth, 'depth', unit=False):>5}" for year, depth in depths.items()]
    listed = ["   ".join(said[i : i + PER_LINE]) for i in range(0, len(said), PER_LINE)]
    order = sorted(depths, key=lambda year: float(depths[year]))
    median = int(trace.value("water.median_year"))
    three = (("driest", order[0]), ("middle", median), ("wettest", order[-1]))
    lines = [(label, f"{year}, {words.say(depths[year], 'depth')}") for label, year in three]
    unit = words.say(0.0, "depth").rpartition(" ")[2]
    title = f"drainage of {len(depths)} calendar years, {unit}"
    return block("Years", title, pairs(lines), Said("\n".join(listed)))


def _ten_years(trace: Trace, words: Words) -> Part | None:
    here = "water.ten_year"
    if f"{here}.peak" not in trace:
        return None

    def band(group: str) -> str:
        flow, low, high = (
            step_value(trace, f"{group}.{name}_m3_s") for name in ("flow", "low", "high")
        )
        ends = [
            "no limit"
            if isinstance(v, float) and not isfinite(v)
            else words.say(v, "flow", unit=False)
            for v in (low, high)
        ]
        return f"{words.say(flow, 'flow')}, {ends[0]} to {ends[1]}"

    lines = [
        (str(trace.value(f"{here}.by_method.{name}.method")), band(f"{here}.by_method.{name}"))
        for name in trace.names(f"{here}.by_method")
    ] or [("flow", NOT_KNOWN)]
    share = words.say(step_value(trace, f"{here}.share_of_main"), "ratio")
    lines.append(("of the main full", share))
    for key, label in (
        ("drain_flow.peak_for_bypass_m3_s", "physical peak"),
        ("drain_flow.candidates_m3_s.drainage_coefficient", "conventional peak"),
    ):
        lines.append((label, words.say(step_value(trace, key), "flow")))
    years = words.say(step_value(trace, f"{here}.years"), "years")
    basis = step_value(trace, f"{here}.basis")
    return block(
        "Day of ten years",
        f"24-hour mean with its 90 % band, {basis}, {years}",
        pairs(lines),
    )


def _holds(trace: Trace, words: Words) -> Part | None:
    if not trace.known("water.soil", "water.drains", "water.rotation"):
        return None
    soil = trace.value("water.soil")
    lines: list[tuple[str, Cell]] = [
        ("drains freely", words.say(step_value(trace, "water.drainable_water_m"), "depth"))
    ]
    held = step_value(trace, "water.available_water_m")
    for crop, depth in zip(trace.value("water.rotation"), held, strict=True):
        lines.append((f"for {crop.name}", words.say(depth, "depth")))
    lines += [
        ("hollows", words.say(soil.surface_storage, "depth")),
        ("takes in at most", words.say(soil.infiltration, "depth_rate")),
    ]
    return block("The soil holds", "between full and empty", pairs(lines))


def _balance(trace: Trace, words: Words) -> Part | None:
    if "water.totals" not in trace:
        return None
    lines = []
    for part, label in BALANCE:
        depth: Any = step_value(trace, f"water.balance.{part}_m")
        if part in ("inlet_flow", "snow_added") and depth == 0.0:
            continue
        lines.append([label, words.say(depth, "depth", unit=False)])
    form = step_value(trace, "water.evapotranspiration_form")
    unit = words.say(0.0, "depth").rpartition(" ")[2]
    return block(
        "Where the water goes",
        f"mean year; plants by {form}",
        rows(("", unit), lines, right=(1,)),
    )


def _boards(trace: Trace, words: Words) -> Part | None:
    settings = trace.names("water.setting")
    if not settings:
        return None

    def line(name: str) -> list[str]:
        here = f"water.setting.{name}"
        return [
            name,
            words.say(step_value(trace, f"boards.inlet-{name}.crest_m"), "elevation"),
            words.say(step_value(trace, f"{here}.pool_share"), "ratio"),
            words.say(step_value(trace, f"{here}.outlet_height_m"), "length"),
        ]

    heads = ("setting", "bypass crest", "laterals in the pool", "held over all, mean")
    return block(
        "Boards",
        "what they hold over the laterals",
        rows(heads, map(line, settings), right=(1, 2, 3)),
    )


def wet_days(trace: Trace, words: Words) -> Part | None:
    """Days that are too wet midway at each spot, boards in and boards out."""
    spots = trace.names("water.spot")
    if not spots:
        return None

    def line(spot: str) -> list[Cell]:
        found: list[Cell] = [spot]
        for state in ("boards_in", "boards_out"):
            for name in ("season_days_per_year", "usual_run_days", "longest_run_days"):
                key = f"water.spot.{spot}.{state}.{name}"
                found.append(number(trace, words, key, "days", unit=False, if_not_known="?"))
        found.append(status(str(step_value(trace, f"field.{spot}.wet_days.status"))))
        return found

    limit = words.say(step_value(trace, "inputs.limits.wet_days"), "days", unit=False)
    heads = ("spot", "in", "usual", "longest", "out", "usual", "longest", "")
    binds = any(r.binding for r in trace.requirements if r.key.endswith(".wet_days"))
    holds = "binds" if binds else "common practice, does not bind unless the job states it"
    return block(
        "Days too wet midway",
        "in the crop season, boards in and boards out",
        rows(heads, map(line, spots), right=range(1, 7)),
        dim(
            "In and out: days of a mean season with the boards in and out. Usual: days in a row "
            f"that half the seasons keep to, at most {limit} ({holds}). Longest: of the whole "
            "record. Each spot is run as if the whole field lay like it."
        ),
    )


def _rests(trace: Trace) -> Part | None:
    """What the series rests on: values that nobody gave, and what the model leaves out."""
    if "water.run" not in trace:
        return None
    defaults = [step for step in trace if step.key.startswith("water.default.")]
    lines: list[tuple[str, Cell]] = []
    for step in defaults:
        if step.origin is not None and step.origin.text:
            honesty, _, rest = step.origin.note.partition(": ")
            usual = rest.rpartition("; ")[2]
            value = Said.assemble(step.origin.text, (f"  {honesty}, {usual}", "quiet"))
            lines.append((step.title.lower(), value))
    body: list[Part] = []
    if lines:
        body.append(pairs(lines))
    return block(
        "Taken as usual", "nobody gave these; [field] takes those of the soil", *body, dim(LEFT_OUT)
    )
