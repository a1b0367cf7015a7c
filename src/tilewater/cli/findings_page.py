# SPDX-License-Identifier: Apache-2.0
"""What the engineer must know beside the result: cautions first, then notes."""

from collections.abc import Iterable

from rich.console import RenderableType
from rich.text import Text

from tilewater.basis.findings import Finding
from tilewater.cli.page import block, rows

ORDER = ("fails", "caution", "note")


def findings_page(findings: Iterable[Finding]) -> RenderableType | None:
    """Findings by severity; None where there is none."""
    ordered = sorted(findings, key=lambda finding: ORDER.index(finding.severity))
    if not ordered:
        return None
    lines = (
        [
            Text(finding.severity, "bold" if finding.severity == "fails" else "dim"),
            Text.assemble((f"{finding.subject}: ", "dim"), finding.message),
        ]
        for finding in ordered
    )
    return block("To know", "", rows(("", ""), lines, wide=(1,)))
