# SPDX-License-Identifier: Apache-2.0
"""What a practice removed, as measured: the answer with its range, and what it rests on."""

from collections.abc import Iterator
from datetime import UTC, date, datetime

import numpy as np

from tilewater.basis.trace import Trace
from tilewater.chain.monitor_steps import ALONE, HERE
from tilewater.documents.pages.numbers import keyed, number
from tilewater.documents.pages.said import Cell, Part, Said, block, dim, pairs, rows
from tilewater.documents.words import Words
from tilewater.monitoring.concentration import METHODS
from tilewater.monitoring.conductivity_index import SHORTEST
from tilewater.monitoring.intervals import Interval
from tilewater.monitoring.water_record import WaterRecord

WAYS = {
    "total_in_kg": "came to the site",
    "bypass_kg": "went past",
    "bed_in_kg": "went in",
    "bed_out_kg": "came out",
    "removed_kg": "removed",
}
LIMITS = {"zero": "0 below detection", "half": "half of the limit", "limit": "the limit"}
WORTH_SAYING = 0.01
BEYOND = "some flow was at the end of what its logger reads; see what is said of it"
NO_LOAD = " of the time, in no load"


def monitor_page(title: str, trace: Trace, words: Words) -> Iterator[Part]:
    """Blocks of the page in their order."""
    yield Said(title, "strong").append("  what was measured", "quiet")
    yield headline(trace, words)
    yield _loads(trace, words)
    yield _closure(trace, words)
    yield _sure(trace, words)
    yield _methods(trace, words)
    yield _intervals(trace, words)
    yield _rate(trace, words)
    yield from _year(trace, words)
    yield from _against(trace, words)
    yield from _trend(trace, words)
    yield from _update(trace, words)


def is_representative(trace: Trace) -> bool:
    """Whether percents may be told; so where nothing says otherwise."""
    key = f"{HERE}.year.is_representative"
    return not trace.known(key) or bool(trace.value(key))


def period(trace: Trace) -> str:
    """First and last day of the report, by the clock of the site."""
    first, last = (trace.value(f"{HERE}.{key}") for key in ("first_day", "last_day"))
    return f"{first} to {last}"


def _day(time_s: float) -> date:
    return datetime.fromtimestamp(time_s, UTC).date()


def span(trace: Trace, words: Words, name: str, kind: str = "mass") -> Said:
    """A number with its range: middle, and from P10 to P90."""
    middle, low, high = (f"{HERE}.{name}.{tail}" for tail in ("p50", "p10", "p90"))
    if kind == "percent":
        a, m, b = (words.percent(trace.value(key)) for key in (low, middle, high))
        a, b = a.rpartition(" ")[0], b
    else:
        m = words.say(trace.value(middle), kind)
        a, b = (words.say(trace.value(low), kind, unit=False), words.say(trace.value(high), kind))
    said = keyed(trace, m, middle, "strong")
    return said.append("  (", "quiet").append(keyed(trace, f"{a} to {b}", low)).append(")", "quiet")


def headline(trace: Trace, words: Words) -> Part:
    """The answer: what was removed, of what, and how much of the water was treated."""
    lines: list[tuple[str, Cell]] = [
        ("removed", span(trace, words, "removed_kg").append(f"  {period(trace)}", "quiet"))
    ]
    if is_representative(trace):
        lines += [
            ("of the site's nitrate", span(trace, words, "site_percent", "percent")),
            ("of what went in", span(trace, words, "bed_percent", "percent")),
        ]
    else:
        lines.append(("percent", Said("none: the time is not representative", "binds")))
    lines.append(("water treated", span(trace, words, "treated_share", "ratio")))
    water: WaterRecord = trace.value(f"{HERE}.water")
    if water.treated.at_least.any() or water.bypass.at_least.any():
        lines.append(("upper ends", Said(BEYOND, "strong")))
    left_out = f"{HERE}.left_out_share"
    if trace.value(left_out) >= WORTH_SAYING:
        lines.append(("not measured", number(trace, words, left_out, "ratio").append(NO_LOAD)))
    note = "middle; in brackets the range that holds it eight times in ten"
    return block("What did it remove?", note, pairs(lines))


def _loads(trace: Trace, words: Words) -> Part:
    lines: list[list[Cell]] = []
    for name, what in WAYS.items():
        tone = "strong" if name == "removed_kg" else ""
        ends = [number(trace, words, f"{HERE}.{name}.{t}", "mass") for t in ("p10", "p50", "p90")]
        lines.append([Said(what, tone), *ends])  # type: ignore[arg-type]
    heads = ("nitrate nitrogen", "P10", "middle", "P90")
    return block("Loads", "", rows(heads, lines, right=(1, 2, 3), wide=(0,)))


def _closure(trace: Trace, words: Words) -> Part:
    volume = {
        "treated_m3": "through the practice",
        "bypass_m3": "past it",
        "total_m3": "by the main",
    }
    lines: list[tuple[str, Cell]] = [
        (what, number(trace, words, f"{HERE}.{name}", "water_volume"))
        for name, what in volume.items()
        if f"{HERE}.{name}" in trace
    ]
    if f"{HERE}.closure.volume" in trace:
        for name, what in (("volume", "water closes within"), ("load", "load closes within")):
            lines.append((what, number(trace, words, f"{HERE}.closure.{name}", "ratio")))
        note = "both ways against the main, which was logged by itself"
    else:
        cut = number(trace, words, f"{HERE}.closure.cut_m3", "water_volume")
        lines.append(("cut off below zero", cut))
        note = "the main was not logged by itself, so both ways close by definition"
    return block("Does the water add up?", note, pairs(lines))


def _sure(trace: Trace, words: Words) -> Part:
    lines: list[list[Cell]] = []
    whole = float(trace.value(f"{HERE}.removed_kg.p50")) or 1.0
    for name, what in ALONE.items():
        key = f"{HERE}.error.{name}_kg"
        share = words.say(abs(float(trace.value(key)) / whole), "ratio")
        lines.append([what, number(trace, words, key, "mass"), dim(share)])
    lines.sort(key=lambda line: -float(trace.value(str(line[1].runs[0].key))))  # type: ignore[union-attr]
    note = "one standard error of what was removed, by each source alone; flow counts once"
    heads = ("", "error", "of it")
    return block("How sure is it?", note, rows(heads, lines, right=(1, 2), wide=(0,)))


def _methods(trace: Trace, words: Words) -> Part:
    lines: list[list[Cell]] = []
    names = ("total_in_kg", "bed_in_kg", "removed_kg")
    for method, what in METHODS.items():
        here = f"{HERE}.loads" if method == "linear" else f"{HERE}.methods.{method}"
        lines.append([what, *(number(trace, words, f"{here}.{n}", "mass") for n in names)])
    for name, what in LIMITS.items():
        if name != "half":
            here = f"{HERE}.detection.{name}"
            cells = (number(trace, words, f"{here}.{n}", "mass") for n in names)
            lines.append([f"straight line, {what}", *cells])
    note = "the middle above also heeds how the drop follows the flow; these do not"
    heads = ("between samples", "came", "went in", "removed")
    return block("By other ways of counting", note, rows(heads, lines, right=(1, 2, 3), wide=(0,)))


def _intervals(trace: Trace, words: Words) -> Part:
    lines: list[list[Cell]] = []
    for row in trace.value(f"{HERE}.intervals"):
        lines.append(_interval(row, words))
    keys = [f"{HERE}.loads.{name}" for name in ("total_in_kg", "bypass_kg", "removed_kg")]
    total = [number(trace, words, key, "mass", unit=False, tone="strong") for key in keys]
    percent = keyed(
        trace,
        words.percent(trace.value(f"{HERE}.bed_percent.value")),
        f"{HERE}.bed_percent.value",
        "strong",
    )
    lines.append([Said("all", "strong"), *total, percent])
    average = words.percent(trace.value(f"{HERE}.average_of_percents"))
    unit = words.say(1.0, "mass").rpartition(" ")[2]
    note = (
        f"by straight lines, {unit}. The plain average of the rows, {average}, is no removal: "
        "it weighs dry weeks like storms"
    )
    heads = ("from", "came", "past", "removed", "of what went in")
    return block("By interval", note, rows(heads, lines, right=(1, 2, 3, 4), wide=(0,)))


def _interval(row: Interval, words: Words) -> list[Cell]:
    percent = words.percent(row.bed_percent) if np.isfinite(row.bed_percent) else "no flow"
    loads = (row.bed_in_kg + row.bypass_kg, row.bypass_kg, row.removed_kg)
    said = [words.say(load, "mass", unit=False) for load in loads]
    return [f"{_day(row.start_s):%Y-%m-%d}", *said, percent]


def _rate(trace: Trace, words: Words) -> Part:
    lines: list[tuple[str, Cell]] = []
    for name, what, volume in (
        ("wet", "on the chips under water", "wet_volume_m3"),
        ("chips", "on all of the chips", "chip_volume_m3"),
    ):
        key = f"{HERE}.rate.{name}_g_per_m3_day"
        if key in trace:
            basis = words.say(trace.value(f"{HERE}.{volume}"), "volume")
            lines.append((what, number(trace, words, key, "rate").append(f"  {basis}", "quiet")))
    means = [
        number(trace, words, f"{HERE}.mean_{end}_mg_per_l", "concentration")
        for end in ("in", "out")
    ]
    lines.append(("nitrate in, out", means[0].append("  ").append(means[1])))
    days = number(trace, words, f"{HERE}.limited_days", "days")
    lines.append(("nitrate ran out on", days.append("  outlet below 0.5 mg/L", "quiet")))
    key = f"{HERE}.rate.unlimited_g_per_m3_day"
    if key in trace:
        lines.append(("under water, without them", number(trace, words, key, "rate")))
    key = f"{HERE}.retention_s"
    if trace.known(key):
        lines.append(("water stays", number(trace, words, key, "time")))
    flowing = words.say(trace.value(f"{HERE}.flow_days"), "days")
    return block(
        "Removal rate", f"over {flowing} with flow; a rate says on which volume", pairs(lines)
    )


def _year(trace: Trace, words: Words) -> Iterator[Part]:
    lines: list[tuple[str, Cell]] = []
    for name, what, kind in (("flow_days", "days with flow", "days"), ("rain_m", "rain", "depth")):
        here = f"{HERE}.year.{name}"
        if not trace.known(f"{here}.kind"):
            continue
        said = number(trace, words, f"{here}.measured", kind)
        usual = words.say(trace.value(f"{here}.usual"), kind)
        lines.append(
            (what, said.append(f"  {usual} usual: {trace.value(f'{here}.kind').words}", "quiet"))
        )
    if lines:
        note = "against the same days of the years that the design ran over"
        yield block("Was it a year like others?", note, pairs(lines))


def _against(trace: Trace, words: Words) -> Iterator[Part]:
    lines: list[list[Cell]] = []
    for name, key, what in (
        ("site_percent", "removal.site_percent", "of the site's nitrate"),
        ("bed_percent", "removal.bed_percent", "of what went in"),
        ("treated_share", "removal.treated_volume_share", "water treated"),
    ):
        if f"{HERE}.against.{name}" not in trace:
            continue
        kind = "ratio" if name == "treated_share" else "percent"
        key_measured = f"{HERE}.{name}.p50"
        measured = keyed(trace, _of(trace, words, key_measured, kind), key_measured, "strong")
        low, high = (_of(trace, words, f"{key}.{tail}", kind) for tail in ("p10", "p90"))
        where = str(trace.value(f"{HERE}.against.{name}"))
        designed = keyed(trace, f"{low.rpartition(' ')[0]} to {high}", f"{key}.p10")
        lines.append([what, measured, designed, Said(where, "" if where == "inside" else "binds")])
    if lines:
        heads = ("", "measured", "designed for", "")
        note = "P10 to P90 of a single year"
        yield block("Against the design", note, rows(heads, lines, right=(1, 2), wide=(0,)))


def _of(trace: Trace, words: Words, key: str, kind: str) -> str:
    value = trace.value(key)
    return words.percent(value) if kind == "percent" else words.say(value, kind)


def _trend(trace: Trace, words: Words) -> Iterator[Part]:
    key = f"{HERE}.index.per_year"
    if key not in trace or not trace.known(key):
        return
    low, high = (trace.value(f"{key}_{tail}") for tail in ("p10", "p90"))
    said = keyed(trace, _signed(trace.value(key), words), key, "strong")
    said.append(f"  ({_signed(low, words)} to {_signed(high, words)})", "quiet")
    count = trace.value(f"{HERE}.index.trend").days
    note = f"flow per wet section and gradient on {count} days, brought to 20 C"
    lines: list[tuple[str, Cell]] = [("per year", said)]
    verdict = "no trend that the record can tell" if low < 0.0 < high else "a trend"
    if trace.value(f"{HERE}.index.trend").years < SHORTEST:
        verdict = "too short a record: seasons and boards are in it"
    yield block("How the chips let water through", note, pairs([*lines, ("", verdict)]))


def _signed(share: float, words: Words) -> str:
    text = words.say(abs(share), "ratio")
    return f"{'-' if share < 0.0 else '+'}{text}"


def _update(trace: Trace, words: Words) -> Iterator[Part]:
    key = f"{HERE}.update.posterior"
    if not trace.known(f"{key}.mid"):
        return
    prior = trace.value(f"{HERE}.update.prior")
    before = [words.say(each, "rate", unit=False) for each in (prior.low, prior.mid, prior.high)]
    after = [
        number(trace, words, f"{key}.{place}", "rate", unit=False)
        for place in ("low", "mid", "high")
    ]
    unit = words.say(1.0, "rate").rpartition(" ")[2]
    lines: list[list[Cell]] = [["before", *before], ["with this time", *after]]
    note = f"{unit} at 15 C on the chips under water; shown only, nothing is written"
    heads = ("", "low", "middle", "high")
    yield block("Range of the removal rate", note, rows(heads, lines, right=(1, 2, 3), wide=(0,)))
