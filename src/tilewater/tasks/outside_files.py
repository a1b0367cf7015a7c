# SPDX-License-Identifier: Apache-2.0
"""What the data files that a job names add to its inputs.

Every file is read even where another one has faults, so that one reading reports them all. A file
adds inputs of its own or stands in for a value that is not known; it never replaces what a person
typed into the job file.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path
from statistics import median
from typing import Any

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.basis.findings import Finding
from tilewater.basis.told import feet
from tilewater.basis.trace import Given, Origin
from tilewater.basis.units import Foot, to_si
from tilewater.job.borings import read_borings
from tilewater.job.ditch_record import Place, read_stage_record
from tilewater.job.file_names import lies_in, may_read
from tilewater.job.flow_record import read_flow_record
from tilewater.job.points import read_points
from tilewater.job.prices import Price, read_prices
from tilewater.job.reading import Job, read_text
from tilewater.job.samples import read_samples
from tilewater.job.schema import JOB_FILE
from tilewater.job.toml_text import tables_of
from tilewater.job.weather import WeatherChoice
from tilewater.tasks.outside_inputs import OutsideFiles, TypedInputs
from tilewater.tasks.plan_inputs import borings_given, named_shots_given, shots_given
from tilewater.tasks.sample_inputs import (
    NITRATE,
    mean_of_samples,
    place_of,
    samples_given,
    unclear_place,
)
from tilewater.tasks.weather_inputs import WEATHER, weather_inputs

RECORD = "inputs.record.daily_depth_m_s"
RECORD_DAYS = "inputs.record.day"
STAGE = "inputs.ditch_series"
"""Group of the keys of a measured series of ditch levels."""
MANY_MISSING = 0.05
"""Share of missing days from which shares of the year's water are doubtful."""

FAR = to_si(300.0, "ft")
"""Heights of one site do not differ by more; those of swapped columns mostly do."""

_ELEVATIONS = (
    "inputs.site.ground_at_bed_m",
    "inputs.main.invert_outlet_m",
    "inputs.main.invert_diversion_m",
    "inputs.ditch.bottom_m",
    "inputs.ditch.bank_top_m",
)


def read_outside_files(job: Job) -> OutsideFiles:
    """Read every data file that a job names, and keep the faults of all of them.

    Parameters
    ----------
    job : Job
        The job as read.

    Returns
    -------
    OutsideFiles
        Inputs, findings, faults and the names of the files.
    """
    inputs = TypedInputs({given.key: given for given in job.givens})
    found = OutsideFiles()
    for key, reader in READERS:
        name = inputs.value(key)
        if name is not None:
            read_one(found, reader, job.folder / str(name), inputs)
            found.findings.extend(far_file(job.folder, str(name)))
    return found


def far_file(folder: Path, name: str) -> Iterator[Finding]:
    """What the engineer must know of a data file that lies outside the job folder."""
    if not lies_in(folder / name, folder):
        yield Finding(
            "file-outside",
            "note",
            name,
            f"{name} lies outside the job folder. It is read as it is there; a copy of the folder "
            "lacks it. Copy it into the job folder to keep both together.",
        )


def faults_beside(folder: Path, within: Path | None = None) -> tuple[Fault, ...]:
    """Faults of the data files beside a job file that cannot be used itself.

    Parameters
    ----------
    folder : Path
        The job folder, or its `job.toml`.
    within : Path or None
        Folder that no data file is read outside of; None where the job may name any.

    Returns
    -------
    tuple of Fault
        Of those files that can be read without the values of the job file.
    """
    folder = folder.parent if folder.name == JOB_FILE else folder
    try:
        data = tables_of(read_text(folder / JOB_FILE))
    except ValueError:
        return ()
    found = OutsideFiles()
    for key, reader in _ALONE:
        _, table, name = key.split(".")
        inside = data.get(table)
        file = inside.get(name) if isinstance(inside, dict) else None
        if isinstance(file, str) and may_read(folder, file, within):
            read_one(found, reader, folder / file, TypedInputs({}))
    return tuple(found.faults)


def read_one(found: OutsideFiles, reader: "Reader", path: Path, inputs: TypedInputs) -> None:
    """Read one data file and add what it says, or its faults."""
    try:
        reader(found, path, inputs)
    except BadInputFile as error:
        found.faults.extend(error.faults)


def _foot(inputs: TypedInputs) -> Foot:
    survey = inputs.value("inputs.site.foot") == "us survey foot"
    return "us survey foot" if survey else "international foot"


def _headings(inputs: TypedInputs, start: str) -> dict[str, str]:
    """Columns of a file by the names that a table `columns` of the job file gives them."""
    return {key.removeprefix(start): str(given.value) for key, given in inputs.known(start).items()}


def _shots(found: OutsideFiles, path: Path, inputs: TypedInputs) -> None:
    columns = _headings(inputs, "inputs.survey.columns.")
    dropped = inputs.value("inputs.survey.drop_fix")
    stated = inputs.value("inputs.site.foot") is not None
    points = read_points(
        path,
        columns,
        foot=_foot(inputs) if stated else None,
        vertical_datum=inputs.value("inputs.site.vertical_datum"),
        drop_fix=("float",) if dropped is None else dropped,
    )
    found.findings.extend(points.findings)
    found.findings.extend(_far_heights(path.name, [shot.height for shot in points.shots], inputs))
    found.givens.extend(shots_given(points))
    named = inputs.known("inputs.line.") | inputs.known("inputs.benchmark.")
    for each in named_shots_given(points, named):
        if isinstance(each, Fault):
            found.faults.append(each)
        else:
            found.givens.append(each)
    found.read.append(f"{path.name}: {len(points.shots)} shots")


def _far_heights(name: str, heights: Sequence[float], inputs: TypedInputs) -> Iterator[Finding]:
    """Heights of a survey that are of another place than the elevations of the job file."""
    typed = [value for key in _ELEVATIONS if (value := inputs.value(key)) is not None]
    if not typed or not heights:
        return
    middle = median(heights)
    apart = min(abs(middle - elevation) for elevation in typed)
    if apart > FAR:
        yield Finding(
            "survey-heights-far",
            "caution",
            name,
            f"The heights, {feet(middle)} in the middle, are "
            f"{feet(apart, '.0f')} or more from every elevation in {JOB_FILE}; "
            f"{feet(FAR, '.0f')} is the most on one site. Columns may be swapped, or the "
            "datum another. Correct [survey.columns].",
            value=apart,
            operator="<=",
            limit=FAR,
            unit="m",
        )


def _borings(found: OutsideFiles, path: Path, inputs: TypedInputs) -> None:
    borings = read_borings(path, foot=_foot(inputs))
    found.findings.extend(borings.findings)
    found.givens.extend(borings_given(borings, path.name))
    found.read.append(f"{path.name}: {len(borings.borings)} bore holes")


def _flow_record(found: OutsideFiles, path: Path, inputs: TypedInputs) -> None:
    only = _rows_chosen(inputs.value("inputs.drainage.record_only") or ())
    record = read_flow_record(path, only=only, area=inputs.value("inputs.drainage.area_m2"))
    days = len(record.day)
    missing = 1 - float(record.is_measured.mean())
    found.findings.extend(record.findings)
    if missing > 0:
        found.findings.append(
            Finding(
                "flow-record-missing-days",
                "caution" if missing > MANY_MISSING else "note",
                path.name,
                f"{missing:.1%} of {days} days have no value. Shares of the year's water are those "
                "of the recorded days; days that are missing in wet weather make them too high.",
                value=missing,
                unit="-",
            )
        )
    found.findings.extend(_stated_besides(path.name, inputs))
    origin = Origin(file=path.name, text=f"{days} days", note="recorded days only")
    found.givens.append(
        Given(RECORD, record.measured_m_per_s, "m/s", "Measured daily drain flow", origin)
    )
    found.givens.append(
        Given(
            RECORD_DAYS, record.day[record.is_measured], "", "Days of the drain flow record", origin
        )
    )
    found.read.append(f"{path.name}: {days} days of drain flow")


def _ditch_stage(found: OutsideFiles, path: Path, inputs: TypedInputs) -> None:
    record = read_stage_record(
        path,
        gauge_zero=inputs.value("inputs.ditch.gauge_zero_m"),
        place=Place(inputs.value("inputs.ditch.bottom_m"), inputs.value("inputs.ditch.bank_top_m")),
        foot=_foot(inputs),
    )
    found.findings.extend(record.findings)
    days = int(record.is_measured.sum())
    origin = Origin(file=path.name, text=f"{record.readings} readings on {days} days")
    for key, value, unit, title in (
        (f"{STAGE}.day", record.day, "", "Days of the series of ditch levels"),
        (f"{STAGE}.stage_m", record.stage, "m", "Mean level of the ditch on each day"),
        (f"{STAGE}.highest_m", record.highest, "m", "Highest level of the ditch on each day"),
    ):
        found.givens.append(Given(key, value[record.is_measured], unit, title, origin))
    found.read.append(f"{path.name}: {days} days of ditch levels")


def _weather(found: OutsideFiles, path: Path, inputs: TypedInputs) -> None:
    def typed(name: str) -> Any:
        return inputs.value(f"{WEATHER}.{name}")

    first, last = typed("from"), typed("to")
    headings = _headings(inputs, f"{WEATHER}.columns.")
    choice = WeatherChoice(
        kind=typed("kind"),
        units=typed("units") or "tenths",
        station=typed("station"),
        columns={name.replace("_", " "): heading for name, heading in headings.items()},
        first=date.min if first is None else date.fromisoformat(first),
        last=date.max if last is None else date.fromisoformat(last),
        latitude_deg=typed("latitude_deg"),
        elevation=typed("elevation_m"),
        wind_height=typed("wind_height_m"),
    )
    added = weather_inputs(
        path,
        choice,
        fill=typed("fill") or "none",
        fill_rest=typed("fill_rest"),
        ground=inputs.given("inputs.site.ground_at_bed_m"),
    )
    found.givens.extend(added.givens)
    found.findings.extend(added.findings)
    found.read.append(added.read)


def _rows_chosen(typed: Sequence[str]) -> dict[str, str]:
    """Column and value of each choice, as `plotid=2`."""
    only = {}
    for words in typed:
        column, equals, value = (part.strip() for part in words.partition("="))
        if not (column and equals and value):
            message = (
                f"drainage.record_only: '{words}' does not say column and value. "
                'Write them with an equals sign, like "plotid=2".'
            )
            raise BadInputFile(Fault(JOB_FILE, None, "drainage.record_only", message))
        only[column] = value
    return only


def _stated_besides(name: str, inputs: TypedInputs) -> Iterator[Finding]:
    """What is typed and not used, since the record says it too."""
    keys = {"mean_annual_depth": "mean_annual_depth_m", "flow_days": "flow_days"}
    stated = [
        word for word, key in keys.items() if inputs.value(f"inputs.drainage.{key}") is not None
    ]
    if stated:
        yield Finding(
            "flow-record-instead",
            "note",
            name,
            f"{' and '.join(stated)} of [drainage] {'is' if len(stated) == 1 else 'are'} not used: "
            "the measured record stands in the place. Take out the record to use what is typed.",
        )


def _samples(found: OutsideFiles, path: Path, inputs: TypedInputs) -> None:
    file = read_samples(path)
    found.findings.extend(file.findings)
    found.read.append(f"{path.name}: {len(file.samples)} nitrate samples")
    place, is_stated = place_of(file), inputs.value(NITRATE) is not None
    if place is not None:
        found.givens.extend(samples_given(file, place))
    if is_stated:
        return
    if place is None:
        found.findings.append(unclear_place(file))
        return
    given, finding = mean_of_samples(file, place)
    found.findings.append(finding)
    found.givens.append(given)


def _prices(found: OutsideFiles, path: Path, inputs: TypedInputs) -> None:
    year = inputs.value("inputs.estimate.price_year")
    file = read_prices(path, year=None if year is None else int(year))
    found.findings.extend(file.findings)
    found.givens.extend(_as_named(price) for price in file.prices.values())
    found.read.append(f"{path.name}: {len(file.prices)} unit prices")


def _as_named(price: Price) -> Given:
    """Price under the name by which the estimate asks for it: hyphens, as in `lid-lock`."""
    name = price.item.replace("_", "-")
    title = f"Unit price of {name.replace('-', ' ')}"
    return replace(price.given, key=f"inputs.price.{name}.usd", title=title)


Reader = Callable[[OutsideFiles, Path, TypedInputs], None]

_ALONE: tuple[tuple[str, Reader], ...] = (
    ("inputs.borings.file", _borings),
    ("inputs.nitrate.samples", _samples),
    ("inputs.estimate.prices", _prices),
)
_WITH_JOB: tuple[tuple[str, Reader], ...] = (
    ("inputs.survey.shots", _shots),
    ("inputs.drainage.record", _flow_record),
    ("inputs.ditch.series", _ditch_stage),
    (f"{WEATHER}.file", _weather),
)
READERS = (*_ALONE, *_WITH_JOB)
"""Reader of each data file by the key that names it."""
