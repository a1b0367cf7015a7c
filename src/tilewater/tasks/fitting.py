# SPDX-License-Identifier: Apache-2.0
"""Fit the soil of a job to its measured drain flow; write it into the job only when told to."""

from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.chain.field_fit import field_key, fit_field
from tilewater.chain.plain import Record
from tilewater.chain.practices import first_practice
from tilewater.chain.water_side import compute_water
from tilewater.hydrology.field_bounds import bounds_of
from tilewater.hydrology.field_calibration import FieldFit, Fit, Goodness
from tilewater.hydrology.field_defaults import field_default_words
from tilewater.job.reading import Job, read_job
from tilewater.job.schema import JOB_FILE
from tilewater.job.writing import save_job
from tilewater.tasks.checking import Checked, check_job


@dataclass(frozen=True)
class FittedValue:
    """A fitted value: what it is, as it was, as fitted, and its bounds, all as typed."""

    key: str
    title: str
    before: str
    after: str
    bounds: str
    on_bound: bool

    @property
    def edit(self) -> str | float:
        """The fitted value for the job file: a bare number where it has no unit."""
        try:
            return float(self.after)
        except ValueError:
            return self.after


@dataclass(frozen=True)
class Fitted:
    """A job with its soil fitted; nothing is written.

    Attributes
    ----------
    job : Checked
    read : Job
        The job file as it was read, for writing into it.
    field : FieldFit
    values : tuple of FittedValue
    """

    job: Checked
    read: Job
    field: FieldFit
    values: tuple[FittedValue, ...]

    @property
    def record(self) -> Record:
        """The fit as other programs read it, in SI; errors are shares."""
        return {
            "tilewater": version("tilewater"),
            "job": self.job.inputs.name,
            "holds_on_other_years": self.field.holds,
            "values": {value.key: value.after for value in self.values},
            "on_bound": [value.key for value in self.values if value.on_bound],
            "fit": _fit_record(self.field.fit),
            "trials": [
                {
                    "fit": _fit_record(trial.fit),
                    "tried_on": list(trial.years),
                    "before": _goodness(trial.before),
                    "after": _goodness(trial.after),
                }
                for trial in self.field.trials
            ],
        }


def fit_job(folder: Path | str) -> Fitted:
    """Fit the soil of a job folder to its record of drain flow. Nothing is written.

    Parameters
    ----------
    folder : Path or str
        The job folder, or its `job.toml`.

    Returns
    -------
    Fitted
        Values before and after, and how near each comes.

    Raises
    ------
    BadInputFile
        With every fault of its files, or with what is missing for a fit.
    OutOfDomain
        If too few years were measured.
    """
    read = read_job(folder)
    job = check_job(folder)
    field = fit_field(compute_water(job.inputs, first_practice(job.inputs)).trace)
    return Fitted(job, read, field, tuple(_value(field.fit, slug) for slug in field.fit.values))


def keep_fit(fitted: Fitted) -> tuple[str, ...]:
    """Write the fitted values into the job file; comments and all else stay as they are.

    Returns
    -------
    tuple of str
        A line for each value that was written.

    Raises
    ------
    BadInputFile
        If half the years do not foretell the other half better than the defaults do, or the file
        cannot be changed. Nothing is written.
    """
    if not fitted.field.holds:
        raise BadInputFile(
            Fault(
                JOB_FILE,
                None,
                "field",
                "nothing was written: fitted to half of the years, the model is not nearer to the "
                "other half than the defaults are. Leave the defaults, or measure longer.",
            )
        )
    save_job(fitted.read, {value.key: value.edit for value in fitted.values})
    path = fitted.read.folder / JOB_FILE
    return tuple(f"Written: {path}, {value.key} = {value.after}" for value in fitted.values)


def _value(fit: Fit, slug: str) -> FittedValue:
    bounds, words = bounds_of(slug), field_default_words(slug)
    return FittedValue(
        field_key(slug),
        words.title,
        words.typed,
        bounds.typed(fit.values[slug]),
        f"{bounds.low:g} to {bounds.typed(bounds.high)}",
        slug in fit.on_bound,
    )


def _fit_record(fit: Fit) -> Record:
    return {
        "years": list(fit.years),
        "values": {
            field_key(slug): bounds_of(slug).in_si(value) for slug, value in fit.values.items()
        },
        "before": _goodness(fit.before),
        "after": _goodness(fit.after),
    }


def _goodness(found: Goodness) -> Record:
    return {
        "objective": found.objective,
        "bias": found.bias,
        "nash_sutcliffe": found.nash_sutcliffe,
        "kling_gupta": found.kling_gupta,
        "days_without_flow_share": found.without_flow,
        "days_without_flow_share_measured": found.without_flow_measured,
        "season_errors": list(found.seasons),
    }
