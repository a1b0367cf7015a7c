# SPDX-License-Identifier: Apache-2.0
"""The text of the page on measured saturated buffers; what it says is computed in
`measured_buffers`.
"""

from collections.abc import Iterator
from pathlib import Path
from statistics import mean

from tools.measured_buffers import (
    THICKNESS,
    WATER_C,
    WIDTH,
    SiteYear,
    averages,
    days_2022,
    default,
    held_out,
    loads_by_days,
    loads_by_intervals,
    other_sites,
    predicted_removal,
    recomputed,
    site_years,
)

HEAD = """\
# Measured saturated buffers

What Iowa saturated buffers were seen to do, how much of that two simple models find again, and how
far a load hangs on the way it is counted. Written by `python -m tools.measured_buffers`; a test
compares this page with the data.

## The data

{count} site-years of four buffers, and daily flow with nitrate samples of one more in 2022.
Repository gjohnson-isu/abe516-project, commit dce5d5a4, CC0 1.0; rows from Jaynes and Isenhart 2018
and Johnson. The data are not part of this repository. One row (IA-1 2021, 0.16 mm of flow) has no
nitrate; it counts for water only.

| site | years | area, ha | line, m | removed per metre and flow day, g |
| --- | --- | --- | --- | --- |
"""

ARITHMETIC = """
## The arithmetic of every row

Each printed ratio beside the same from the printed loads and depths; the largest difference, as a
share of the recomputed value.

| ratio | largest difference | in |
| --- | --- | --- |
"""

AVERAGES = """
## Which average

A mean of site-years gives a small load the weight of a large one; the pooled value is the sum of
the kilograms over the sum. The last column is what happened to the nitrogen. Of these four sites,
all site-years with nitrate:

| share | mean of site-years | median | pooled |
| --- | --- | --- | --- |
"""

LOADS = """
Literature that quotes 42, 46 or 84 percent quotes means of site-years of its own set of sites.

## One year, two ways to a load

The buffer of 2022: nitrate of {samples} dates, flow of {days} days. By intervals, each sample
stands for all water since the one before it, as the owners of the data count; by days, nitrate runs
on a straight line from sample to sample.

| kg of N | by intervals | by days | difference |
| --- | --- | --- | --- |
"""

CLOSURE = """
Flow does not close: past the buffer {past:.1f} and into it {into:.1f} make {both:.1f} gpm-days,
{error:.1%} more than the {came:.1f} that came. Treated flow there is inflow less bypass, never
below zero, so that errors of the two weirs on single days do not cancel.

"""

CAPACITY = """## One capacity per metre of line

The share diverted in a year as 1 - exp(-c L / m), with m the mean flow of a flow day and c one
capacity per metre for a site; fitted to its even years, tried on its odd ones. Beside it, what is
missed if every odd year is given the mean share of the even ones.

| site | c, m2/day | years fitted | years tried | miss of the share | miss of the mean |
| --- | --- | --- | --- | --- | --- |
"""

ELSEWHERE = """
And with the capacity of the three other sites, in percent points of the share diverted: {rows}.

So yearly data carry one figure per site and little more: a capacity fitted to some years finds the
others again to {own:.0f} percent points on the mean of the sites, not better than their mean share
does ({simple:.0f}), and a capacity from other sites misses by {other:.0f}. Conductivity, heads and
stage differ from site to site; they have to be measured.

"""

REMOVAL = """## Removal of diverted nitrate, nothing fitted

By the defaults of the program: first order {first} per day and zero order {zero} g per m3 of soil
and day at 15 C, Q10 {q10}, porosity {porosity}, oxygen {oxygen} mg/L taken up at {uptake} mg/L a
day; water of {water:.0f} C. No table states the width of the strips or how deep they are wet:
{width:.1f} m and {thickness} m are put in for all of them. The time is 1.11 pore volumes over the
diverted flow of a flow day.

| site | year | diverted, m2/day | measured | first order | zero order |
| --- | --- | --- | --- | --- | --- |
"""

MEANING = """
The mean of site-years is {measured:.0%} as measured, {first:.0%} by the first-order law and
{zero:.0%} by the zero-order law; pooled over the kilograms {pooled_measured:.0%},
{pooled_first:.0%} and {pooled_zero:.0%}. First order errs by {miss:.0f} percent points on the mean
and is low at high flow, where the measured removal hardly falls: the strips are wider or wet deeper
than what was put in, or dilution and plants take a part. The zero-order default, from rates of
riparian soil by weight, is too low by a factor of about {factor:.0f}. Neither is evidence for a
site: the range of the rates is part of every result.
"""


def page(folder: Path) -> str:
    """Return the page for the data in a folder."""
    rows = site_years(folder)
    full = [row for row in rows if row.has_nitrate]
    lines = [HEAD.format(count=len(rows)).rstrip(), *_site_rows(rows)]
    lines += [ARITHMETIC.rstrip(), *_arithmetic_rows(full)]
    lines += [AVERAGES.rstrip(), *_average_rows(rows)]
    lines += _load_part(folder)
    lines += [CAPACITY.rstrip(), *_capacity_rows(rows), _elsewhere(rows).rstrip(), ""]
    lines += [_removal_head().rstrip(), *_removal_rows(full), _meaning(full).rstrip()]
    return "\n".join(lines) + "\n"


def _site_rows(rows: tuple[SiteYear, ...]) -> Iterator[str]:
    for site in dict.fromkeys(row.site for row in rows):
        own = [row for row in rows if row.site == site]
        areas = " then ".join(dict.fromkeys(f"{row.area_ha:g}" for row in own))
        rates = [row.rate_g_m_day for row in own if row.has_nitrate]
        yield (
            f"| {site} | {own[0].year} to {own[-1].year} | {areas} | {own[0].length_m:.0f} "
            f"| {min(rates):.1f} to {max(rates):.1f} |"
        )


def _arithmetic_rows(full: list[SiteYear]) -> Iterator[str]:
    for name in recomputed(full[0]):
        misses = []
        for row in full:
            printed, again = recomputed(row)[name]
            misses.append((abs(printed - again) / again, f"{row.site} {row.year}"))
        largest, where = max(misses)
        yield f"| {name} | {largest:.1%} | {where} |"


def _average_rows(rows: tuple[SiteYear, ...]) -> Iterator[str]:
    for name, of_years, middle, pooled in averages(rows):
        yield f"| {name} | {of_years:.0%} | {middle:.0%} | {pooled:.0%} |"


def _load_part(folder: Path) -> list[str]:
    dates, came, past, into = days_2022(folder)
    one, other = loads_by_intervals(folder), loads_by_days(folder)
    rows = [
        f"| {word} | {a:.2f} | {b:.2f} | {b / a - 1:.1%} |"
        for word, a, b in (
            ("came", one.came, other.came),
            ("diverted", one.diverted, other.diverted),
            ("removed of it", one.removed, other.removed),
        )
    ]
    sums = {"past": past.sum(), "into": into.sum(), "came": came.sum()}
    both = sums["past"] + sums["into"]
    closure = CLOSURE.format(**sums, both=both, error=both / sums["came"] - 1)
    head = LOADS.format(samples=_count_of_samples(folder), days=len(dates))
    return [head.rstrip(), *rows, closure.rstrip(), ""]


def _count_of_samples(folder: Path) -> int:
    from tools.measured_buffers import samples_2022

    return len(samples_2022(folder))


def _capacity_rows(rows: tuple[SiteYear, ...]) -> Iterator[str]:
    for each in held_out(rows):
        yield (
            f"| {each.site} | {each.capacity:.2f} | {len(each.fitted)} | {len(each.tested)} "
            f"| {each.miss:.2f} | {each.miss_of_mean:.2f} |"
        )


def _elsewhere(rows: tuple[SiteYear, ...]) -> str:
    others, own = other_sites(rows), held_out(rows)
    words = ", ".join(f"{site} {100 * miss:.0f}" for site, (_, miss) in others.items())
    return ELSEWHERE.format(
        rows=words,
        own=100 * mean(each.miss for each in own),
        simple=100 * mean(each.miss_of_mean for each in own),
        other=100 * mean(miss for _, miss in others.values()),
    )


def _removal_head() -> str:
    return REMOVAL.format(
        first=default("first_order_rate"),
        zero=default("zero_order_rate_g_per_m3_day"),
        q10=default("q10"),
        porosity=default("porosity_effective"),
        oxygen=default("oxygen_mg_per_l"),
        uptake=default("oxygen_uptake_mg_per_l"),
        water=WATER_C,
        width=WIDTH,
        thickness=THICKNESS,
    )


def _removal_rows(full: list[SiteYear]) -> Iterator[str]:
    for row in full:
        first, zero = predicted_removal(row)
        yield (
            f"| {row.site} | {row.year} | {row.diverted_per_metre:.2f} "
            f"| {row.removed_kg / row.diverted_kg:.2f} | {first:.2f} | {zero:.2f} |"
        )


def _meaning(full: list[SiteYear]) -> str:
    measured = [row.removed_kg / row.diverted_kg for row in full]
    both = [predicted_removal(row) for row in full]
    first, zero = [pair[0] for pair in both], [pair[1] for pair in both]
    weights = [row.diverted_kg for row in full]

    def pooled(shares: list[float]) -> float:
        return sum(w * s for w, s in zip(weights, shares, strict=True)) / sum(weights)

    return MEANING.format(
        measured=mean(measured),
        first=mean(first),
        zero=mean(zero),
        pooled_measured=pooled(measured),
        pooled_first=pooled(first),
        pooled_zero=pooled(zero),
        miss=100 * mean(abs(f - m) for f, m in zip(first, measured, strict=True)),
        factor=pooled(measured) / pooled(zero),
    )
