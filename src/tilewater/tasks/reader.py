# SPDX-License-Identifier: Apache-2.0
"""How a job speaks to its reader: units, and which foot its elevations count."""

from tilewater.basis.units import System
from tilewater.documents.scales import foot_of
from tilewater.documents.words import Words
from tilewater.tasks.checking import Checked


def units_for(job: Checked, asked: System | None = None) -> System:
    """Units that the reader asks for, else those of the job."""
    return asked or ("si" if job.value("inputs.job.units") == "si" else "us")


def words_for(job: Checked, asked: System | None = None) -> Words:
    """How values become text: units of the reader, else of the job; its foot for elevations."""
    return Words(units_for(job, asked), foot_of(job.value("inputs.site.foot")))
