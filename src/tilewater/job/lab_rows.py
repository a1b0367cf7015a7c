# SPDX-License-Identifier: Apache-2.0
"""Results of a laboratory as the program holds them: nitrate as nitrogen, by place and time."""

from collections.abc import Iterator
from dataclasses import dataclass

from tilewater.basis.findings import Finding


@dataclass(frozen=True)
class LabRow:
    """One result, as nitrogen.

    Attributes
    ----------
    line : int
    sample, place_words, place : str
        Place as the laboratory and as the job calls it; "" for none of the job.
    time_s, start_s : float
        Taken, or end and start of a composite; since 1970-01-01 in universal time. [s]
    nitrate_mg_per_l : float or None
        None below detection. [mg/L]
    detection_mg_per_l : float or None
        Limit of the laboratory. [mg/L]
    species : str
        What the file counts.
    mark : str
        Mark of the laboratory beside it.
    is_duplicate : bool
    held_s : float or None
        From taking to analysing. [s]
    has_hour : bool
    """

    line: int
    sample: str
    place_words: str
    place: str
    time_s: float
    start_s: float
    nitrate_mg_per_l: float | None
    detection_mg_per_l: float | None
    species: str
    mark: str
    is_duplicate: bool
    held_s: float | None
    has_hour: bool

    @property
    def is_composite(self) -> bool:
        """Whether it was gathered over a time."""
        return self.start_s < self.time_s

    @property
    def shown(self) -> str:
        """The result in words: `12.4` or `<0.2`."""
        if self.nitrate_mg_per_l is None:
            return f"<{self.detection_mg_per_l:.3g}"
        return f"{self.nitrate_mg_per_l:.3g}"


@dataclass(frozen=True)
class LabResults:
    """What a laboratory found, by place of the job, and what the engineer must know of it."""

    file: str
    rows: tuple[LabRow, ...]
    notes: tuple[Finding, ...]


def results_at(results: LabResults, place: str) -> Iterator[LabRow]:
    """Results of one place by time."""
    yield from sorted((r for r in results.rows if r.place == place), key=lambda row: row.time_s)
