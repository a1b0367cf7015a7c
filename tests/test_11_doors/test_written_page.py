# SPDX-License-Identifier: Apache-2.0
"""What was written stands in one short block, what was not with its reason."""

from pathlib import Path

import pytest

from tilewater.cli.written_page import written_lines
from tilewater.tasks.results import Written


@pytest.mark.works(of=(written_lines,))
def test_files_of_one_name_stand_together() -> None:
    written = Written(Path("out"), files=["design.json", "plan.svg", "report.pdf", "plan.dxf"])
    assert list(written_lines(written)) == [
        "Written to out:",
        "  design.json, plan.svg .dxf, report.pdf",
    ]


@pytest.mark.works(of=(written_lines,))
def test_files_that_failed_for_one_reason_are_told_together() -> None:
    written = Written(
        Path("out"),
        troubles=[("a.pdf", "disk full"), ("b.svg", "disk full"), ("c.dxf", "ezdxf is missing")],
        kept=[("report.pdf", "report.kept-1.pdf")],
        removed=["plan.svg"],
    )
    assert list(written_lines(written)) == [
        "Taken away, since they show an earlier design: plan.svg",
        "Kept: report.pdf was not written by this program, or edited since. "
        "It is now report.kept-1.pdf.",
        "Not written: a.pdf, b.svg: disk full.",
        "Not written: c.dxf: ezdxf is missing.",
    ]


@pytest.mark.works(of=(written_lines,))
def test_folder_that_takes_nothing_says_what_to_do() -> None:
    written = Written(Path("out"), troubles=[("results", "permission denied")])
    assert list(written_lines(written)) == [
        "Not written: results: permission denied. Name a folder with --out."
    ]
