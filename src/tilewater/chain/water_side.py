# SPDX-License-Identifier: Apache-2.0
"""The water side of a job: every step up to what the field bears, before the practice is sized."""

from dataclasses import dataclass

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.chain.bed import BED
from tilewater.chain.ditch import add_ditch
from tilewater.chain.field import add_field
from tilewater.chain.flow import add_drain_flow, add_year
from tilewater.chain.inputs import JobInputs
from tilewater.chain.nitrate_days import add_nitrate
from tilewater.chain.practice import Practice
from tilewater.chain.water import add_water
from tilewater.chain.water_peaks import add_ten_year_peak
from tilewater.chain.water_wet import add_wet_days
from tilewater.practices.rules import give_practice_rules


@dataclass(frozen=True)
class WaterSide:
    """The water of a job.

    Attributes
    ----------
    job : JobInputs
        What it was computed from.
    trace : Trace
        Every step.
    findings : tuple of Finding
    """

    job: JobInputs
    trace: Trace
    findings: tuple[Finding, ...]


def add_water_side(trace: Trace, practice: Practice = BED) -> None:
    """Record drain flow, boards, the daily series, the ditch, and how wet the field gets."""
    add_drain_flow(trace)
    practice.add_boards(trace)
    add_water(trace)
    add_nitrate(trace)
    add_year(trace)
    add_ten_year_peak(trace)
    add_ditch(trace)
    practice.add_crests(trace)
    add_field(trace)
    add_wet_days(trace)


def compute_water(job: JobInputs, practice: Practice = BED) -> WaterSide:
    """Compute the water side of a job alone, with the boards of a practice."""
    trace = Trace.start(practice.givens_of(job), job.overrules, job.assumptions)
    give_practice_rules(trace)
    add_water_side(trace, practice)
    return WaterSide(job, trace, tuple(dict.fromkeys(trace.findings)))
