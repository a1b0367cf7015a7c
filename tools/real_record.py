# SPDX-License-Identifier: Apache-2.0
"""Writes the page on a real record: the field of the bundled example under thirty years of weather.

    python -m tools.real_record FOLDER

FOLDER holds the wheel of the package aquacrop that `python3 dev.py test --slow` downloads. One text
file in it is read; the package is neither installed nor run, and its data is not part of this
repository.
"""

import dataclasses
import datetime
import math
import os
import sys
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from tilewater.chain.water_side import compute_water
from tilewater.hydrology.daily_weather import DailyWeather
from tilewater.hydrology.evapotranspiration import reference_evapotranspiration
from tilewater.hydrology.field import FieldRun, simulate_field
from tilewater.tasks.checking import check_job
from tools.package import ROOT

Series = NDArray[np.float64]

PAGE = ROOT / "docs" / "real-record.md"
WHEEL = "aquacrop-3.1.0-py3-none-any.whl"
MEMBER = "aquacrop/data/brussels_climate.txt"
COLUMNS = ["Day", "Month", "Year", "Tmin(C)", "Tmax(C)", "Prcp(mm)", "Et0(mm)"]
LATITUDE_DEG = 50.8
ELEVATION = 100.0
"""Those of the example of Uccle in FAO-56, for the file names neither. [m]"""
YEAR = 365.25
NO_FLOW = 0.01
"""Less than a weir can show counts as no flow. [mm/day]"""
CLOSED_MM = 1e-9
"""What thirty years may leave over by rounding. [mm]"""
SEASONS = ((1, 3), (4, 6), (7, 9), (10, 12))

HEAD = """\
# A real record

The field of the bundled example under the weather of thirty real years. Written by
`python -m tools.real_record`; a test compares this page with the data. **Nothing was tuned to this
record.** Soil, drains, snow, frost and crops are those of the bundled example, which takes what it
does not know from the defaults of the program; the outlet is free.

The weather is `brussels_climate.txt` in the package aquacrop {version}: {first} to {last}, {days:,}
days without a gap, with the extremes of temperature, rain and a reference evapotranspiration. The
file is not part of this repository, and the package is neither installed nor run. It does not say
where it was measured or how its reference evapotranspiration was found. Latitude and elevation are
those of the example of Uccle, near Brussels, in FAO-56.

## A mean year

| | mm |
| --- | --- |
"""

FLOW = """
## Drain flow

| | |
| --- | --- |
"""

BESIDE = """
## Beside what was published

The ranges are of fields in the Midwest, with cold winters, wet springs and corn and soybean. This
weather is mild and its rain even over the year, so a row outside its range says that the two
differ, not which of them errs.

| | here | range | from | |
| --- | --- | --- | --- | --- |
"""

YEARS = """
## Years

| year | rain, mm | taken by plants and air | runoff | drain flow | of rain | days with flow |
| --- | --- | --- | --- | --- | --- | --- |
"""

MEANING = """
## What it means

{words}
"""


@dataclass(frozen=True, eq=False)
class Record:
    """A record of weather and what it prints as reference evapotranspiration, in m a day."""

    weather: DailyWeather
    reference: Series


def read_record(folder: Path) -> Record:
    """The record in the wheel of a folder.

    Raises
    ------
    ValueError
        If a day is missing or a column is not the expected one.
    """
    with zipfile.ZipFile(folder / WHEEL) as wheel:
        head, *lines = wheel.read(MEMBER).decode("utf-8").splitlines()
    if head.split("\t") != COLUMNS:
        raise ValueError(f"{MEMBER} has the columns {head.split()}. Expected are {COLUMNS}.")
    rows = np.array([[float(cell) for cell in line.split("\t")] for line in lines])
    day, month, year = (rows[:, place].astype(int) for place in range(3))
    first = datetime.date(year[0], month[0], day[0])
    dates = np.datetime64(first, "D") + np.arange(len(rows))
    typed = [f"{y:04d}-{m:02d}-{d:02d}" for y, m, d in zip(year, month, day, strict=True)]
    if dates.astype(str).tolist() != typed:
        raise ValueError(f"{MEMBER} misses days or has them twice. It cannot be used.")
    weather = DailyWeather(
        first_day=first,
        latitude=math.radians(LATITUDE_DEG),
        elevation=ELEVATION,
        precipitation=rows[:, 5] / 1000.0,
        temperature_max=rows[:, 4],
        temperature_min=rows[:, 3],
    )
    return Record(weather, rows[:, 6] / 1000.0)


@cache
def runs_on(folder: Path) -> tuple[Record, FieldRun, FieldRun]:
    """The record, the field of the example under it, and the same without delay."""
    record = read_record(folder)
    trace = compute_water(check_job(ROOT / "examples" / "corbel-farm").inputs).trace
    soil = trace.value("water.soil")
    given = {
        "drains": trace.value("water.drains"),
        "cold": trace.value("water.cold"),
        "rotation": trace.value("water.rotation"),
    }
    at_once = dataclasses.replace(soil, loss_at_one_metre=0.0)
    return (
        record,
        simulate_field(record.weather, soil=soil, **given),
        simulate_field(record.weather, soil=at_once, **given),
    )


def flow_days(run: FieldRun) -> float:
    """Days with flow in a mean year."""
    return YEAR * float((1000.0 * run.drain_depth >= NO_FLOW).mean())


def season_shares(series: Series, weather: DailyWeather) -> tuple[float, ...]:
    """Share of a series in each season."""
    month = months_of(weather)
    total = float(series.sum())
    return tuple(
        float(series[(month >= first) & (month <= last)].sum()) / total for first, last in SEASONS
    )


def months_of(weather: DailyWeather) -> NDArray[np.int64]:
    """Month of each day."""
    months: NDArray[np.int64] = weather.dates.astype("datetime64[M]").astype(np.int64) % 12 + 1
    return months


def page(folder: Path) -> str:
    """Return the page for the wheel in a folder."""
    record, run, at_once = runs_on(folder)
    weather = record.weather
    head = HEAD.format(
        version=WHEEL.split("-")[1],
        first=weather.day(0),
        last=weather.day(weather.days - 1),
        days=weather.days,
    )
    lines = [head.rstrip(), *_year_rows(record, run), FLOW.rstrip(), *_flow_rows(run)]
    lines += [BESIDE.rstrip(), *_beside_rows(record, run), YEARS.rstrip(), *_rows_by_year(run)]
    lines += [_meaning(record, run, at_once).rstrip()]
    return "\n".join(lines) + "\n"


def _year_rows(record: Record, run: FieldRun) -> Iterator[str]:
    scale = 1000.0 * YEAR / run.weather.days
    balance = run.balance
    ours = float(reference_evapotranspiration(record.weather).depth.sum())
    for title, depth in (
        ("rain and snow", balance.precipitation),
        ("snow that the gauge missed, added by the model", balance.snow_added),
        ("reference evapotranspiration, printed in the file", float(record.reference.sum())),
        ("reference evapotranspiration, Hargreaves-Samani", ours),
        ("evapotranspiration of the field", balance.evapotranspiration),
        ("runoff", balance.runoff),
        ("drain flow", balance.drain_flow),
        ("surface inlets", balance.inlet_flow),
        ("to the deep ground", balance.deep_seepage),
    ):
        yield f"| {title} | {scale * depth:.0f} |"
    yield f"| change of what the field holds | {scale * balance.storage_change:.1f} |"
    if not 1000.0 * abs(balance.error) < CLOSED_MM:
        raise ValueError(f"{1000.0 * balance.error:g} mm are left over. The balance must close.")
    yield f"| left over, in all {run.weather.days:,} days | less than {CLOSED_MM:g} |"


def _flow_rows(run: FieldRun) -> Iterator[str]:
    mm = 1000.0 * run.drain_depth
    yield f"| days with flow in a mean year | {flow_days(run):.0f} |"
    yield f"| share of days without flow | {(mm < NO_FLOW).mean():.2f} |"
    yield f"| 99th percentile of the days, mm | {np.quantile(mm, 0.99):.1f} |"
    yield f"| largest day, mm | {mm.max():.1f} |"
    shares = season_shares(mm, run.weather)
    for words, share in zip(("Jan-Mar", "Apr-Jun", "Jul-Sep", "Oct-Dec"), shares, strict=True):
        yield f"| share of {words} | {share:.2f} |"


def beside(record: Record, run: FieldRun) -> tuple[tuple[str, float, float, float, str], ...]:
    """Figure, its value here, the ends of the published range, and what that rests on."""
    mm = np.sort(run.drain_depth)[::-1]
    month = months_of(run.weather)
    after_july = float(run.drain_depth[month >= 8].sum() / run.drain_depth.sum())
    ours = float(reference_evapotranspiration(record.weather).depth.sum())
    of_rain = run.balance.drain_flow / run.balance.precipitation
    measured = "17 plots measured, our count"
    return (
        ("drain flow over rain", of_rain, 0.30, 0.45, "Iowa, 0.40 read; the range is ours"),
        ("drain flow over rain", of_rain, 0.20, 0.45, "Midwest, from memory"),
        (
            "April to June",
            season_shares(run.drain_depth, run.weather)[1],
            0.22,
            0.64,
            "inland plots measured, our count",
        ),
        ("after July", after_july, 0.0, 0.20, "Iowa, 0.07 read; the range is ours"),
        (
            "days without flow",
            float((1000 * run.drain_depth < NO_FLOW).mean()),
            0.15,
            0.67,
            measured,
        ),
        ("99th percentile, mm", 1000.0 * float(np.quantile(mm, 0.99)), 4.0, 18.0, measured),
        (
            "wettest tenth of the days",
            float(mm[: mm.size // 10].sum() / mm.sum()),
            0.45,
            1.0,
            "from memory",
        ),
        (
            "Hargreaves-Samani over the reference",
            ours / float(record.reference.sum()),
            1.0,
            1.17,
            "humid Mississippi, 1.085 read; the range is ours",
        ),
    )


def _beside_rows(record: Record, run: FieldRun) -> Iterator[str]:
    for title, value, low, high, source in beside(record, run):
        digits = 1 if "mm" in title else 2
        word = "within" if low <= value <= high else "**outside**"
        yield f"| {title} | {value:.{digits}f} | {low:g} to {high:g} | {source} | {word} |"


def _rows_by_year(run: FieldRun) -> Iterator[str]:
    for year in np.unique(run.weather.years):
        of_year = run.weather.years == year
        rain, taken, runoff, drained = (
            1000.0 * float(series[of_year].sum())
            for series in (
                run.weather.precipitation,
                run.evapotranspiration,
                run.runoff,
                run.drain_depth,
            )
        )
        days = int((1000.0 * run.drain_depth[of_year] >= NO_FLOW).sum())
        yield (
            f"| {year} | {rain:.0f} | {taken:.0f} | {runoff:.0f} | {drained:.0f} "
            f"| {drained / rain:.2f} | {days} |"
        )


def _meaning(record: Record, run: FieldRun, at_once: FieldRun) -> str:
    """What the tables say, in words with their numbers."""
    weather, printed = record.weather, record.reference
    ours = reference_evapotranspiration(weather).depth
    month = months_of(weather)
    parts = [
        float(ours[season].sum() / printed[season].sum())
        for first, last in SEASONS
        for season in [(month >= first) & (month <= last)]
    ]
    mean_year = YEAR / weather.days
    bias = 1000.0 * mean_year * float((ours - printed).sum())
    shares = season_shares(run.drain_depth, weather)
    said = (
        f"The water of {weather.days:,} real days balances to less than {CLOSED_MM:g} mm.",
        f"Hargreaves-Samani gives {bias:+.0f} mm a year or {ours.sum() / printed.sum() - 1:+.0%} "
        f"beside the reference that the file prints; the days go together with a correlation of "
        f"{np.corrcoef(ours, printed)[0, 1]:.2f}. From January to March the ratio is "
        f"{parts[0]:.2f}, then {parts[1]:.2f}, {parts[2]:.2f} and {parts[3]:.2f}. In humid "
        f"Mississippi the form was found 8.5 percent high.",
        f"The drains run on {flow_days(run):.0f} days of a mean year. January to March brings "
        f"{shares[0]:.0%} of the water, July to September {shares[2]:.0%}.",
        f"{mean_year * run.days_of('delayed'):.0f} days of a mean year end with water on its way "
        f"from the roots to the table. Without that delay the drains would run on "
        f"{flow_days(at_once):.0f} days: it does not make their season longer.",
        "No record of drain flow goes with this weather, so nothing here is a check of the flow.",
    )
    return MEANING.format(words="\n".join(f"* {each}" for each in said))


def main(words: list[str]) -> None:
    """Write the page from the wheel in the folder that is named, or that the environment names."""
    folder = words[0] if words else os.environ.get("TILEWATER_REAL_RECORD", "")
    if not folder:
        raise SystemExit("Name the folder of the wheel, or set TILEWATER_REAL_RECORD to it.")
    PAGE.write_text(page(Path(folder)), encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
