# SPDX-License-Identifier: Apache-2.0
"""Writes the page that asks how well the program predicts: every published case with enough inputs.

    python -m tools.how_well FOLDER

FOLDER holds `drain-flow/` and `saturated-buffers/`, which are not part of this repository. The page
is the same for the same data and program, so a test can tell a stale one.
"""

import os
import sys
import textwrap
from collections.abc import Iterator
from pathlib import Path
from statistics import mean, median

from tilewater.hydrology.field_bounds import bounds_of
from tilewater.hydrology.field_calibration import Goodness
from tools.how_well_cases import (
    Case,
    bed_cases,
    board_cases,
    buffer_cases,
    chip_cases,
    counted,
)
from tools.how_well_flow import (
    FieldShare,
    FittedPlot,
    field_shares,
    fitted_plots,
    shares_of,
    trials_of,
)
from tools.measured_fields import CAPACITY
from tools.package import ROOT

PAGE = ROOT / "docs" / "how-well.md"

HEAD = """\
# How well does it predict?

Published cases with enough inputs to be predicted, the predicted range beside what was measured.
Written by `python -m tools.how_well`; a test compares this page with the data. **No default was
tuned to these cases by this comparison.** Where a default was chosen earlier with a case in view,
the case bears a cross, and only the others test it. Only the part on drain flow fits anything, and
says so.

A predicted range, low to high, runs from the 10 to the 90 percent quantile of 1024 draws of the
default ranges, so that eight cases in ten should lie inside. Cases are counted; a percentage is not
given for fewer than 30 of them, and cases of one site, or of one paper, are not independent.

## In short

| what | cases inside their range | middle over measured, median | more |
| --- | --- | --- | --- |
"""

BEDS = """
## Beds: removal of nitrate

Rate, temperature factor, flush, decline and porosity are drawn; temperature and age are those of
the case, many of them assumed, as [pilot-beds.md](pilot-beds.md) tells. Percent removed where
retention and inflow are known, else the rate per volume of media.

"""

BUFFERS = """
## Buffers: removal of the nitrate that was diverted

First-order law with porosity, rate, temperature factor and uptake of oxygen drawn; width of the
strip, wet depth and temperature are put in for all sites, since no table states them. How much
water a buffer takes cannot be tried: no source shows conductivity and heads of a site.
[measured-buffers.md](measured-buffers.md) tells what a fitted capacity is worth.

"""

HYDRAULICS = """
## Chips and boards

Conductivity of chips, at 20 degC and the age of the chips; and flow over two V-notch boards of one
structure, calibrated in place, beside the formula for a thin plate with the uncertainty that the
program gives it, 20 percent to each side. That both notches are of 45 degrees is inferred. The
formula holds for heads of about 2 in and more. No source shows flow and heads of a whole bed, so
nothing tries a bed with its water surface in the field; formulas and tables that functions are held
to stand in [checks.md](checks.md).

"""

FLOW = """
## Drain flow: the defaults, and a soil fitted to half of the years

{words}

{heads}
"""
FLOW_WORDS = """
Plots with free drainage of the two fields with complete rain, by the defaults and with a soil that
was fitted to the **other** years, as `tilewater water JOB --fit` does it: {free}, each within its
usual range. The last is an input of a job and not fitted there; at these plots nobody measured it.
Rain was measured, air temperature was not: it is made, see
[simulated-fields.md](simulated-fields.md), where also raised and shallow plots stand. Water and
quarters of the year: simulated less measured, over all measured water. NSE and KGE are of daily
flow; J is what the fit makes small, 1 - KGE and the miss of the days without flow.
"""
FLOW_HEADS = (
    "plot",
    "tried on",
    "soil",
    "water",
    "NSE",
    "KGE",
    "days without flow (measured)",
    "J",
    "Jan-Mar",
    "Apr-Jun",
    "Jul-Sep",
    "Oct-Dec",
)

VALUES = """
The same fitted to all years; a star marks a value on its bound.

| plot | KGE before | KGE after | {names} |
| --- | --- | --- | {rules} |
"""

CAUGHT = """
## Share of the water within {capacity} mm a day

On the years that the soil was not fitted to, and the capacity for 60 percent of the water.

| plot | tried on | measured | defaults | fitted | for 60 %, mm/day, measured | defaults | fitted |
| --- | --- | --- | --- | --- | --- | --- | --- |
"""

SCREEN = """
Every field with free drainage and enough days, by the screening figure that takes daily flows as
exponential with the measured mean of the days with flow. It is the figure of a job without weather
and without a record; [measured-flow.md](measured-flow.md) has the other capacities.

| plot | measured | screening figure |
| --- | --- | --- |
"""

MEANING = """
## What it says

{words}

Not compared, for want of inputs: annual removal of the full-size beds of Iowa, Illinois, Minnesota
and Maryland (flow, retention or temperature not shown); how much water the buffers of Iowa,
Illinois and Michigan took (no conductivity or heads); drain flow of the fields whose rain has gaps;
bank, cost and life.
"""


def page(folder: Path) -> str:
    """Return the page for the data in a folder."""
    beds, buffers, chips = bed_cases(), buffer_cases(folder), chip_cases()
    boards, found = tuple(board_cases()), fitted_plots(folder)
    screens = tuple(s for s in field_shares(folder) if s.capacity_mm == CAPACITY)
    lines = [HEAD.rstrip(), *_short(beds, buffers, chips, boards)]
    for head, cases in ((BEDS, beds), (BUFFERS, buffers), (HYDRAULICS, (*chips, *boards))):
        lines += [head.rstrip(), "", *_cases(cases)]
    lines += [_flow_head(found), *_trials(found)]
    lines += [_values_head(found), *map(_values, found)]
    lines += [CAUGHT.format(capacity=CAPACITY).rstrip(), *_caught(found)]
    lines += [SCREEN.rstrip(), *map(_screen, screens)]
    words = "\n".join(_meaning(beds, buffers, boards, found, screens))
    lines += [MEANING.format(words=words).rstrip()]
    return "\n".join(lines) + "\n"


def _short(
    beds: tuple[Case, ...],
    buffers: tuple[Case, ...],
    chips: tuple[Case, ...],
    boards: tuple[Case, ...],
) -> Iterator[str]:
    fresh = tuple(case for case in beds if not case.in_view)
    for words, cases, more in (
        ("removal of beds", beds, "[pilot-beds.md](pilot-beds.md)"),
        ("those not in view of the defaults", fresh, ""),
        ("removal in buffers", buffers, "[measured-buffers.md](measured-buffers.md)"),
        ("conductivity of chips, all in view", chips, ""),
        ("flow over V-notch boards", boards, ""),
    ):
        ratio = median(case.ratio for case in cases)
        yield f"| {words} | {counted(cases)} | {ratio:.2f} | {more} |"


def _cases(cases: tuple[Case, ...]) -> Iterator[str]:
    yield "| case | unit | low | middle | high | measured | the range is |"
    yield "| --- | --- | --- | --- | --- | --- | --- |"
    for case in cases:
        cross = " +" if case.in_view else ""
        low, middle, high, measured = (
            _figures(value) for value in (case.low, case.middle, case.high, case.measured)
        )
        yield (
            f"| {case.name}{cross} | {case.unit} | {low} | {middle} | {high} | {measured} "
            f"| {'' if case.is_inside else case.side} |"
        )


def _figures(value: float) -> str:
    """Two figures, never as a power of ten."""
    return f"{float(f'{value:.2g}'):g}"


def _flow_head(found: tuple[FittedPlot, ...]) -> str:
    free = ", ".join(slug.replace("-", " ") for slug in found[0].field.fit.values)
    words = textwrap.fill(FLOW_WORDS.format(free=free).strip(), 100, break_on_hyphens=False)
    heads = f"| {' | '.join(FLOW_HEADS)} |\n{'| --- ' * len(FLOW_HEADS)}|"
    return FLOW.format(words=words, heads=heads).rstrip()


def _trials(found: tuple[FittedPlot, ...]) -> Iterator[str]:
    for plot in found:
        for trial in plot.field.trials:
            yield _goodness(plot.title, trial.years, "defaults", trial.before)
            yield _goodness(plot.title, trial.years, "fitted", trial.after)


def _goodness(title: str, years: tuple[int, ...], soil: str, found: Goodness) -> str:
    seasons = " | ".join(f"{100 * error:+.0f} %" for error in found.seasons)
    return (
        f"| {title} | {_years(years)} | {soil} | {100 * found.bias:+.0f} % "
        f"| {found.nash_sutcliffe:.2f} | {found.kling_gupta:.2f} | {found.without_flow:.2f} "
        f"({found.without_flow_measured:.2f}) | {found.objective:.2f} | {seasons} |"
    )


def _years(years: tuple[int, ...]) -> str:
    """Years of a trial; a year between them without a record is not said."""
    return f"{years[0]} to {years[-1]}"


def _values_head(found: tuple[FittedPlot, ...]) -> str:
    names = []
    for slug in found[0].field.fit.values:
        unit = bounds_of(slug).unit
        names.append(slug.replace("-", " ") + ("" if unit == "-" else f", {unit}"))
    return VALUES.format(names=" | ".join(names), rules=" | ".join("---" for _ in names)).rstrip()


def _values(plot: FittedPlot) -> str:
    fit = plot.field.fit
    cells = " | ".join(
        f"{value:g}{'*' if slug in fit.on_bound else ''}" for slug, value in fit.values.items()
    )
    return (
        f"| {plot.title} | {fit.before.kling_gupta:.2f} | {fit.after.kling_gupta:.2f} | {cells} |"
    )


def _caught(found: tuple[FittedPlot, ...]) -> Iterator[str]:
    for plot in found:
        for number, trial in enumerate(plot.field.trials):
            shares = shares_of(plot, number)
            caught = " | ".join(f"{share:.2f}" for share in shares.caught)
            sixty = " | ".join(f"{capacity:.1f}" for capacity in shares.sixty)
            yield f"| {plot.title} | {_years(trial.years)} | {caught} | {sixty} |"


def _screen(share: FieldShare) -> str:
    return f"| {share.title} | {share.measured:.2f} | {share.screening:.2f} |"


def _meaning(
    beds: tuple[Case, ...],
    buffers: tuple[Case, ...],
    boards: tuple[Case, ...],
    found: tuple[FittedPlot, ...],
    screens: tuple[FieldShare, ...],
) -> Iterator[str]:
    yield (
        f"* Beds: {counted(beds)} inside where eight in ten were meant, so the range is rather too "
        f"narrow. {_missed(beds)} The warm barrels followed a smaller temperature factor, 1.4 and "
        f"1.7, than the default. Elsewhere nitrate or wet volume may have run short; these sources "
        f"do not show enough to tell. The chips of the first year were new."
    )
    yield (
        f"* Buffers: {counted(buffers)} site-years of four sites inside. {_missed(buffers)} The "
        f"removal hardly falls at high flow, and the first-order law with one width for all does."
    )
    yield (
        f"* Boards: {counted(boards)} inside; the middle of the formula lies between "
        f"{min(b.ratio for b in boards):.2f} and {max(b.ratio for b in boards):.2f} of the "
        f"measured flow. Calibrate the boards in place."
    )
    yield from _flow_words(found)
    yield from _share_words(found)
    above = [100 * (share.screening - share.measured) for share in screens]
    yield (
        f"* The screening figure lies {min(above):.0f} to {max(above):.0f} percent points above "
        f"the measured share at {CAPACITY} mm a day, on {len(screens)} plots. It satisfies nothing."
    )


def _missed(cases: tuple[Case, ...]) -> str:
    high = [case.name for case in cases if case.side == "too high"]
    low = [case.name for case in cases if case.side == "too low"]
    said = []
    for names, words in ((high, "Too high"), (low, "Too low")):
        if names:
            said.append(f"{words}: {'; '.join(dict.fromkeys(names))}.")
    return " ".join(said)


def _flow_words(found: tuple[FittedPlot, ...]) -> Iterator[str]:
    trials = trials_of(found)
    nearer = sum(trial.after.objective < trial.before.objective for trial in trials)
    kge = sum(trial.after.kling_gupta > trial.before.kling_gupta for trial in trials)
    bias = sum(abs(trial.after.bias) < abs(trial.before.bias) for trial in trials)
    before, after = ([getattr(trial, name) for trial in trials] for name in ("before", "after"))
    yield (
        f"* Drain flow, day by day, is predicted poorly: KGE "
        f"{_ends(g.kling_gupta for g in before)} and NSE "
        f"{_ends(g.nash_sutcliffe for g in before)} with the defaults, on {len(trials)} "
        f"halves of {len(found)} plots."
    )
    yield (
        f"* A soil fitted to the other half of the years comes nearer, by J, on {nearer} of "
        f"{len(trials)} halves (mean J {mean(g.objective for g in before):.2f} before, "
        f"{mean(g.objective for g in after):.2f} after); by KGE alone on {kge}, in the water of "
        f"all days on {bias}. NSE is then {_ends(g.nash_sutcliffe for g in after)}. What "
        f"gains most is the number of days without flow: missed by "
        f"{mean(abs(g.without_flow - g.without_flow_measured) for g in before):.2f} before and "
        f"{mean(abs(g.without_flow - g.without_flow_measured) for g in after):.2f} after, on the "
        f"mean."
    )
    bound = [plot.title for plot in found if plot.field.fit.on_bound]
    capacity = sum("water-capacity" in plot.field.fit.on_bound for plot in found)
    yield (
        f"* On {len(bound)} of {len(found)} plots a value ends on its bound, the water that roots "
        f"hold on {capacity}. Such a value stands for something that the model lacks, likely "
        f"cracks and worm holes; it is no measurement of a soil. July to September stays too low "
        f"in {sum(g.seasons[2] < 0.0 for g in after)} of {len(trials)} halves all the same."
    )


def _share_words(found: tuple[FittedPlot, ...]) -> Iterator[str]:
    shares = [shares_of(plot, n) for plot in found for n in range(len(plot.field.trials))]
    miss = [mean(100 * abs(s.caught[which] - s.caught[0]) for s in shares) for which in (1, 2)]
    over = sum(s.caught[2] > s.caught[0] for s in shares)
    under = sum(s.caught[1] < s.caught[0] for s in shares)
    yield (
        f"* The share within {CAPACITY} mm a day is missed by {miss[0]:.0f} percent points on the "
        f"mean with the defaults, too low on {under} of {len(shares)} halves, and by "
        f"{miss[1]:.0f} with the fitted soil, too high on {over}. A treated share that rests on "
        f"the defaults is on the safe side more often than one that rests on a fit."
    )


def _ends(values: Iterator[float]) -> str:
    found = list(values)
    return f"{min(found):.2f} to {max(found):.2f}"


def main(words: list[str]) -> None:
    """Write the page from the data in the folder that is named, or that the environment names."""
    folder = words[0] if words else os.environ.get("TILEWATER_FIELD_DATA", "")
    if not folder:
        raise SystemExit("Name the folder of the field data, or set TILEWATER_FIELD_DATA to it.")
    PAGE.write_text(page(Path(folder)), encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
