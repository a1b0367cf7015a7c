# SPDX-License-Identifier: Apache-2.0
"""The long section is written beside the result, whole."""

from pathlib import Path

import pytest

from tilewater.chain.scene import long_section_scene
from tilewater.documents.long_section import draw_long_section
from tilewater.tasks.designing import design_job
from tilewater.tasks.drawing import write_long_section
from tools.package import ROOT


@pytest.mark.works(of=(write_long_section,))
def test_long_section_is_written_in_the_units_of_the_reader(tmp_path: Path) -> None:
    outcome = design_job(ROOT / "examples" / "corbel-farm")
    drawn = write_long_section(outcome, tmp_path, "si")
    assert [drawn] == list(tmp_path.iterdir())
    scene = long_section_scene(outcome.design.trace)
    assert draw_long_section(scene, units="si") == drawn.read_text(encoding="utf-8")
