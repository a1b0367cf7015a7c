# SPDX-License-Identifier: Apache-2.0
"""Nitrate samples as a laboratory reports them.

A result below the detection limit is kept with its limit and never becomes a zero by itself: means
are given with zero, half and the whole limit in its place, so that the spread shows. Whether the
laboratory means nitrogen or the nitrate ion must stand in the file; only then is the ion converted.
A plain mean is not weighted by flow, and a finding says so.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from statistics import fmean

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.findings import Finding
from tilewater.basis.units import did_you_mean, join_or, to_si
from tilewater.job.rows import Row, Sheet, plain_number, read_sheet

REQUIRED = ("date", "place", "nitrate")
AS_NITROGEN = ("mg/L NO3-N", "mg/L as N", "mg/L N", "mg N/L")
AS_ION = ("mg/L as NO3", "mg/L NO3")
NOT_DETECTED = ("nd", "bdl", "n.d.", "not detected")


@dataclass(frozen=True)
class Sample:
    """One result.

    Attributes
    ----------
    date : date
    sample, place : str
        In the words of the file.
    nitrate_mg_per_l : float
        Concentration; the detection limit where `is_below`. [mg/L]
    is_below : bool
        Whether the laboratory found less than the limit.
    remark : str
    line : int
    """

    date: date
    sample: str
    place: str
    nitrate_mg_per_l: float
    is_below: bool
    remark: str
    line: int


@dataclass(frozen=True)
class NitrateMean:
    """Mean concentration with three values in the place of results below the limit. [mg/L]"""

    with_zero: float
    with_half: float
    with_limit: float
    days: int
    below: int


@dataclass(frozen=True)
class SampleFile:
    """The results of a file and what the engineer must know about them."""

    file: str
    samples: tuple[Sample, ...]
    findings: tuple[Finding, ...]

    @property
    def places(self) -> tuple[str, ...]:
        """Where samples were taken, in the order of the file."""
        return tuple(dict.fromkeys(sample.place for sample in self.samples))

    def mean(self, place: str) -> NitrateMean:
        """Mean of one place over its days; bottles of one day count as one.

        Parameters
        ----------
        place : str
            Place as it stands in the file.

        Returns
        -------
        NitrateMean
            Plain mean, not weighted by flow.

        Raises
        ------
        OutOfDomain
            If there is no sample of that place.
        """
        days: dict[date, list[Sample]] = {}
        for sample in self.samples:
            if sample.place == place:
                days.setdefault(sample.date, []).append(sample)
        if not days:
            raise OutOfDomain(
                f"{self.file} has no sample of '{place}'. Its places are {join_or(self.places)}."
                f"{did_you_mean(place, self.places)}"
            )
        below = sum(sample.is_below for bottles in days.values() for sample in bottles)
        zero, half, limit = (
            fmean(fmean(_stands_for(s, share) for s in bottles) for bottles in days.values())
            for share in (0.0, 0.5, 1.0)
        )
        return NitrateMean(zero, half, limit, len(days), below)


def read_samples(path: Path) -> SampleFile:
    """Nitrate results of a file.

    Parameters
    ----------
    path : Path
        The file. The unit stands behind the name of the column, `nitrate [mg/L as N]`, or in a
        column `unit`.

    Returns
    -------
    SampleFile
        Results in mg/L as N, and findings.

    Raises
    ------
    BadInputFile
        With every fault of the file at once.
    """
    sheet = read_sheet(path, REQUIRED)
    if "unit" not in sheet.units:
        _factor(sheet, sheet.line, sheet.units["nitrate"])
        sheet.close()
    samples = [sample for row in sheet.rows if (sample := _sample(sheet, row)) is not None]
    sheet.close()
    found = SampleFile(path.name, tuple(samples), ())
    return SampleFile(path.name, found.samples, tuple(_findings(found)))


def _stands_for(sample: Sample, share: float) -> float:
    return sample.nitrate_mg_per_l * (share if sample.is_below else 1.0)


def _sample(sheet: Sheet, row: Row) -> Sample | None:
    day = sheet.day(row)
    unit = row["unit"] if "unit" in sheet.units else sheet.units["nitrate"]
    factor = _factor(sheet, row.line, unit)
    text = row["nitrate"]
    is_below = text.startswith("<")
    value = plain_number(text.removeprefix("<"))
    if not row["place"]:
        sheet.fault(row.line, "place", "the sample has no place. Write where it was taken.")
    if text.casefold() in NOT_DETECTED:
        message = f"nitrate '{text}' has no limit. Write < with the detection limit, like <0.2."
        sheet.fault(row.line, "nitrate", message)
        return None
    if value is None or value < 0:
        message = f"nitrate '{text}' is not a result. Write it like 12.6, or <0.2 below the limit."
        sheet.fault(row.line, "nitrate", message)
        return None
    if day is None or factor is None:
        return None
    remark = row["remark"]
    return Sample(day, row["sample"], row["place"], value * factor, is_below, remark, row.line)


def _factor(sheet: Sheet, line: int, unit: str) -> float | None:
    """Factor to mg/L as N; None with a fault where the unit does not say what it means."""
    plain = unit.casefold()
    if plain in {known.casefold() for known in AS_NITROGEN}:
        return 1.0
    if plain in {known.casefold() for known in AS_ION}:
        return to_si(1.0, "mg/L as NO3")
    said = f"unit '{unit}' does not say" if unit else "nothing says"
    sheet.fault(
        line,
        "nitrate",
        f"{said} whether nitrate is given as nitrogen or as the ion, which is 4.43 times as much. "
        "Write mg/L as N or mg/L as NO3 behind the name of the column, or in a column unit.",
    )
    return None


def _findings(found: SampleFile) -> Iterator[Finding]:
    groups: dict[tuple[date, str], list[Sample]] = {}
    for sample in found.samples:
        groups.setdefault((sample.date, sample.place), []).append(sample)
    for (day, place), bottles in groups.items():
        if len(bottles) > 1:
            values = " and ".join(_as_reported(bottle) for bottle in bottles)
            yield Finding(
                "nitrate-bottles-of-one-day",
                "note",
                f"nitrate, {place}",
                f"{place} has {len(bottles)} bottles of {day}: {values} mg/L as N. "
                "They count as one day with their mean.",
            )
    below = [sample for sample in found.samples if sample.is_below]
    if below:
        where = ", ".join(f"{s.place} {s.date} ({_as_reported(s)})" for s in below)
        yield Finding(
            "nitrate-below-limit",
            "note",
            "nitrate",
            f"{len(below)} of {len(found.samples)} results are below the detection limit: {where}. "
            "Means are given with zero, half and the whole limit in their place.",
        )
    yield Finding(
        "nitrate-not-flow-weighted",
        "caution",
        "nitrate",
        f"{found.file} has no flow beside its results, so a mean is not weighted by flow. "
        "Measure flow with each sample; most of the load comes on few days.",
    )


def _as_reported(sample: Sample) -> str:
    return f"{'<' if sample.is_below else ''}{sample.nitrate_mg_per_l:.3g}"
