# SPDX-License-Identifier: Apache-2.0
"""What a report is made from: the design with all that was said about it, and its drawings."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.basis.units import Foot, System
from tilewater.chain.alternatives import Alternative
from tilewater.chain.design import Design
from tilewater.chain.since_issued import SinceIssued
from tilewater.documents.words import Words

REVIEW_COPY = "Review copy, not issued"


@dataclass(frozen=True)
class Drawn:
    """A drawing as it stands in a report.

    Attributes
    ----------
    title, caption : str
    svg : str
        Text of the drawing.
    width_mm, height_mm : float
        Its true size on paper.
    alt : str
        What it shows, for who cannot see it; "" for the caption.
    """

    title: str
    caption: str
    svg: str
    width_mm: float
    height_mm: float
    alt: str = ""


@dataclass(frozen=True)
class ReportMaterial:
    """Everything that a report says.

    Attributes
    ----------
    title : str
        Title of the job.
    design : Design
        The judged design with its trace.
    record : mapping
        The result as other programs read it.
    findings : tuple of Finding
        Of the files read, then of the design.
    alternatives : tuple of Alternative
    version : str
        Version of the program.
    units : "us" or "si"
    foot : str
        What `ft` means in an elevation.
    since : SinceIssued or None
        What changed since the last issued copy; None for a first copy.
    drawings : tuple of Drawn
    status : str
        What kind of copy this is; stands at the foot of every page.
    files : tuple of str
        Files that were read, each with what it holds: `name: what`.
    """

    title: str
    design: Design
    record: Mapping[str, Any]
    findings: tuple[Finding, ...]
    alternatives: tuple[Alternative, ...]
    version: str
    units: System = "us"
    foot: Foot = "international foot"
    since: SinceIssued | None = None
    drawings: tuple[Drawn, ...] = ()
    status: str = REVIEW_COPY
    files: tuple[str, ...] = ()

    @property
    def trace(self) -> Trace:
        """Steps of the design."""
        return self.design.trace

    @property
    def words(self) -> Words:
        """Numbers in the units of the reader."""
        return Words(self.units, self.foot)
