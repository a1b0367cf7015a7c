# SPDX-License-Identifier: Apache-2.0
"""What was measured at a practice, as the report and the package of data take it."""

from collections.abc import Mapping
from dataclasses import dataclass

from tilewater.basis.findings import Finding
from tilewater.job.lab_rows import LabResults
from tilewater.job.times import Zone
from tilewater.monitoring.series import Samples, Series
from tilewater.tasks.measured_checks import Correction


@dataclass(frozen=True)
class Measured:
    """What one logger measured.

    Attributes
    ----------
    name, place, measures, file : str
    series : Series
        Water over the sensor or its elevation in m, temperature in degC, rain since the reading
        before in m, conductivity in S/m, flow in m3/s, air pressure in Pa.
    is_elevation : bool
    zone : Zone
        Of its clock.
    corrections : tuple of Correction
    gaps : tuple of (float, float)
        Last reading before and first behind each gap. [s]
    """

    name: str
    place: str
    measures: str
    file: str
    series: Series
    is_elevation: bool
    zone: Zone
    corrections: tuple[Correction, ...]
    gaps: tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Measurements:
    """Everything that was measured at a practice.

    Attributes
    ----------
    loggers : mapping of str to Measured
        By their names.
    samples : mapping of str to Samples
        By place, `blank` among them.
    lab : LabResults or None
        The rows as the laboratory gave them.
    zone : Zone or None
        Time zone of the site.
    notes : tuple of Finding
    read : tuple of str
        Files that were read, with what they hold.
    """

    loggers: Mapping[str, Measured]
    samples: Mapping[str, Samples]
    lab: LabResults | None
    zone: Zone | None
    notes: tuple[Finding, ...]
    read: tuple[str, ...]

    def of(self, measures: str, place: str | None = None) -> tuple[Measured, ...]:
        """Loggers of a quantity, at one place or anywhere."""
        return tuple(
            each
            for each in self.loggers.values()
            if each.measures == measures and place in (None, each.place)
        )
