# SPDX-License-Identifier: Apache-2.0
"""A fit on one page: how near before and after, on other years, the values, what it is worth."""

from collections.abc import Iterator

from tilewater.documents.pages.said import Part, Said, block, dim, rows
from tilewater.hydrology.field_calibration import Goodness
from tilewater.tasks.fitting import Fitted

HEADS = (
    "soil",
    "water",
    "NSE",
    "KGE",
    "no flow",
    "Jan-Mar",
    "Apr-Jun",
    "Jul-Sep",
    "Oct-Dec",
)
WHAT = (
    "Water and quarters: simulated less measured, in percent of all measured water. No flow: share "
    "of the days, simulated (measured). NSE and KGE: efficiencies of Nash and Sutcliffe and of "
    "Kling and Gupta on daily flow, 1 is perfect. Fitted is KGE with the days without flow; "
    "the field is run with free drains."
)
WORTH = (
    "A fit makes up for what the model lacks, within the usual ranges; it does not measure the "
    "soil. Other values may fit as well. A value on its bound stands for something that is missing."
)


def fit_page(fitted: Fitted, *, kept: bool) -> Iterator[Part]:
    """The page, part by part."""
    yield Said(fitted.job.title, "strong").append("  soil fitted to the record", "quiet")
    yield Said()
    yield Said(_sentence(fitted), "strong")
    fit = fitted.field.fit
    yield block("On the years fitted", _years(fit.years), _table(fit.before, fit.after))
    for trial in fitted.field.trials:
        note = f"{_years(trial.years)}, fitted to {_years(trial.fit.years)}"
        yield block("On other years", note, _table(trial.before, trial.after))
    yield block(
        "Values",
        "under [field]",
        rows(
            ("value", "default", "fitted", "bounds", ""),
            (
                (v.title, v.before, v.after, dim(v.bounds), dim("at bound" * v.on_bound))
                for v in fitted.values
            ),
            right=(1, 2),
            wide=(0,),
        ),
    )
    yield Said()
    yield dim(WHAT)
    yield dim(WORTH)
    if not kept:
        yield dim("Nothing was written. To write the fitted values into job.toml: --fit --keep")


def _sentence(fitted: Fitted) -> str:
    fit, trials = fitted.field.fit, fitted.field.trials
    nearer = sum(trial.after.objective < trial.before.objective for trial in trials)
    often = {2: "both ways", 1: "one way of two", 0: "neither way"}[nearer]
    return (
        f"KGE {fit.before.kling_gupta:.2f} with the defaults, {fit.after.kling_gupta:.2f} "
        f"fitted; fitted to half of the years it comes nearer to the other half {often}."
    )


def _years(years: tuple[int, ...]) -> str:
    return f"{years[0]}" if len(years) == 1 else f"{years[0]} to {years[-1]}"


def _cells(found: Goodness) -> Iterator[str]:
    yield f"{100 * found.bias:+.0f}"
    yield f"{found.nash_sutcliffe:.2f}"
    yield f"{found.kling_gupta:.2f}"
    yield f"{found.without_flow:.2f} ({found.without_flow_measured:.2f})"
    yield from (f"{100 * error:+.0f}" for error in found.seasons)


def _table(before: Goodness, after: Goodness) -> Part:
    lines = [("default", *_cells(before)), ("fitted", *_cells(after))]
    return rows(HEADS, lines, right=range(1, len(HEADS)))
