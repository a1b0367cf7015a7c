# SPDX-License-Identifier: Apache-2.0
"""What the engineer must know beside the result: cautions first, then notes."""

from collections.abc import Iterable

from tilewater.basis.findings import Finding
from tilewater.basis.units import System
from tilewater.documents.pages.said import Part, Said, block, rows

ORDER = ("fails", "caution", "note")


def findings_page(findings: Iterable[Finding], system: System = "us") -> Part | None:
    """Findings by severity, in the units of the reader; None where there is none."""
    told = (finding.in_units(system) for finding in findings)
    ordered = sorted(told, key=lambda finding: ORDER.index(finding.severity))
    if not ordered:
        return None
    lines = (
        [
            Said(finding.severity, "strong" if finding.severity == "fails" else "quiet"),
            Said.assemble((f"{finding.subject}: ", "quiet"), finding.message),
        ]
        for finding in ordered
    )
    return block("To know", "", rows(("", ""), lines, wide=(1,)))
