# SPDX-License-Identifier: Apache-2.0
"""What the papers of a design cost, against the design itself with thirty years of days."""

from collections.abc import Iterator
from functools import partial
from pathlib import Path

from benchmarks.ratio import Ratio, best_times
from tilewater.documents.paper.blocks import Document, Heading
from tilewater.documents.paper.press import press
from tilewater.documents.report import ReportMaterial, owner_pdf, report_pdf
from tilewater.tasks.designing import design_job
from tilewater.tasks.reporting import report_material

FARM = Path(__file__).resolve().parent.parent / "examples" / "corbel-farm"
ROUNDS = 2
MEMORY = 12
"""Papers after which the typesetter has forgotten what it set before."""


def forget() -> None:
    """Set other papers, so that the next one is set as if it were the first."""
    for place in range(MEMORY):
        press(Document("Nothing", "", "", "", "a4", (Heading(f"Nothing {place}"),)))


def from_nothing(material: ReportMaterial) -> None:
    """Make the report with nothing remembered; the forgetting itself takes no time to speak of."""
    forget()
    report_pdf(material)


def measure() -> Iterator[Ratio]:
    """Yield the cost of the report and of the owner's pages."""
    material = report_material(design_job(FARM))
    designed, reported, told = best_times(
        partial(design_job, FARM),
        partial(from_nothing, material),
        partial(owner_pdf, material),
        rounds=ROUNDS,
    )
    yield Ratio("the engineer's report, set anew", "the design with its days", reported / designed)
    yield Ratio("the owner's pages", "the design with its days", told / designed)
