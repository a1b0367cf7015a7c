# SPDX-License-Identifier: Apache-2.0
"""The days of a record as the page says them: a span, its months or years, one day, the series."""

import datetime
from collections.abc import Iterable, Sequence
from typing import Any

import numpy as np

from tilewater.basis.units import from_si, unit_label
from tilewater.chain.days_shown import GROUPS, Array, DaySeriesShown, DaysShown, SpanSums
from tilewater.documents.pages.said import Cell, Part, Said, dim, pairs, rows
from tilewater.documents.words import NOT_KNOWN, Words

FIGURES = 5
"""Significant figures of a value that is drawn."""


def span_rows(sums: SpanSums, words: Words) -> Part:
    """What a span adds up to, line by line."""
    lines: list[tuple[str, Cell]] = [
        ("days", _days(sums.days)),
        ("drain flow", _water(sums.drain_m3, words)),
        ("days with flow", _days(sums.flowing)),
    ]
    if sums.treated_m3 is not None:
        lines += [
            ("treated", _water(sums.treated_m3, words)),
            ("share treated", words.say(sums.share_treated, "ratio")),
            ("over the bypass", _water(sums.bypass_m3, words)),
            ("days over the bypass", _days(sums.bypassing)),
            ("nitrate-N arriving", words.say(sums.load_kg, "mass", style="two figures")),
            ("taken out", words.say(sums.removed_kg, "mass", style="two figures")),
            ("highest at the diversion", words.say(sums.highest_m, "elevation")),
        ]
    for title, least, below in sums.least_m:
        said = Said(f"{words.say(least, 'length')} at least").append(
            f"\n{_days(below)} below its limit", "quiet"
        )
        lines.append((title.lower(), said))
    return pairs(lines)


def _days(count: int | None) -> str:
    if count is None:
        return NOT_KNOWN
    return f"{count:,} day{'' if count == 1 else 's'}"


def _water(volume: float | None, words: Words) -> str:
    return words.say(volume, "water_volume")


def spans_table(spans: Iterable[tuple[str, SpanSums]], words: Words) -> Part:
    """Years or months below each other, numbers in columns with their units in the head."""
    unit, mass = unit_label("water_volume", words.system), unit_label("mass", words.system)
    heads: tuple[str, ...] = (
        "",
        f"drain flow, {unit}",
        f"treated, {unit}",
        "share",
        f"bypass, {unit}",
    )
    heads += (f"arriving, {mass}", f"taken out, {mass}", "bypass days", "soil too wet, days")
    lines: list[Sequence[Cell]] = []
    for name, sums in spans:
        wet = [below for _, _, below in sums.least_m]
        lines.append(
            (
                dim(name),
                words.say(sums.drain_m3, "water_volume", unit=False),
                _said(sums.treated_m3, "water_volume", words),
                words.say(sums.share_treated, "ratio") if sums.share_treated is not None else "",
                _said(sums.bypass_m3, "water_volume", words),
                _said(sums.load_kg, "mass", words),
                _said(sums.removed_kg, "mass", words),
                "" if sums.bypassing is None else f"{sums.bypassing}",
                f"{max(wet)}" if wet else "",
            )
        )
    return rows(heads, lines, right=range(1, len(heads)))


def _said(value: float | None, kind: str, words: Words) -> str:
    if value is None:
        return ""
    if kind == "mass":
        return words.say(value, kind, style="two figures", unit=False)
    return words.say(value, kind, unit=False)


def day_said(shown: DaysShown, day: datetime.date, words: Words) -> list[dict[str, str]]:
    """The value of each series on a day; none where the record has not that day."""
    place = int(np.searchsorted(shown.days, np.datetime64(day)))
    if place >= shown.days.size or shown.days[place] != np.datetime64(day):
        return []
    return [
        {"name": each.name, "title": each.title, "said": _value(each, place, words)}
        for each in shown.series
    ]


def _value(series: DaySeriesShown, place: int, words: Words) -> str:
    value = float(series.values[place])
    if np.isnan(value):
        return NOT_KNOWN
    if series.kind == "mass":
        return words.say(value, "mass", style="two figures")
    return words.say(value, series.kind)


def series_record(shown: DaysShown, words: Words) -> dict[str, Any]:
    """Every series in the units of the reader, short enough to be sent at once."""
    return {
        "day": [int(day) for day in shown.days.astype("datetime64[D]").astype(np.int64)],
        "groups": [
            {
                "name": name,
                "title": title,
                "unit": _unit(members[0].kind, words),
                "series": [
                    {
                        "name": each.name,
                        "title": each.title,
                        "limit": None
                        if each.limit is None
                        else _short(np.array([each.limit]), each.kind, words)[0],
                        "values": _short(each.values, each.kind, words),
                    }
                    for each in members
                ],
            }
            for name, title in GROUPS.items()
            if (members := [each for each in shown.series if each.group == name])
        ],
    }


def _unit(kind: str, words: Words) -> str:
    unit = unit_label(kind, words.system)
    return f"{unit}/day" if kind == "mass" else unit


def _short(values: Array, kind: str, words: Words) -> list[float | None]:
    unit = unit_label(kind, words.system)
    if kind == "elevation" and unit == "ft" and words.foot == "us survey foot":
        unit = "survey ft"
    shown = from_si(values, unit)
    digits = 3 if kind in ("elevation", "length") else None
    return [
        None
        if value != value
        else round(value, digits)
        if digits
        else float(f"{value:.{FIGURES}g}")
        for value in shown.tolist()
    ]


def missing_said(shown: DaysShown) -> Part | None:
    """What is not there, and what would bring it."""
    lines = [(each.why, dim(each.measure or "")) for each in shown.missing]
    if not lines:
        return None
    return rows(("not there", "what would bring it"), lines, wide=(0, 1))


def span_words(sums: SpanSums) -> Said:
    """The ends of a span."""
    return Said(f"{sums.first.isoformat()} to {sums.last.isoformat()}", "strong")
