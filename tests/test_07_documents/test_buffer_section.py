# SPDX-License-Identifier: Apache-2.0
"""The section across a buffer on paper: what stands where, and that nothing lies on another."""

import pytest

from tests.buffers import designed
from tests.jobs import FOOT
from tilewater.basis.unknown import Unknown
from tilewater.documents.buffer_section import buffer_section_drawing, trench_drawing
from tilewater.documents.buffer_shapes import Ground
from tilewater.documents.drawing.dxf import to_dxf
from tilewater.documents.drawing.measured import collisions, outside_frame
from tilewater.documents.drawing.model import Circle, Drawing, Text
from tilewater.documents.drawing.svg import to_svg
from tilewater.practices.buffer.scene import buffer_section

OPEN = Unknown("not measured", "measure it")
JOBS = {
    "as stated": {},
    "two seasons": {
        "inputs.season.spring.from": "03-01",
        "inputs.season.spring.to": "06-30",
        "ditch.spring.stage_m": 740.0 * FOOT,
        "inputs.season.summer.from": "07-01",
        "inputs.season.summer.to": "02-28",
        "inputs.season.summer.inlet_boards_m": 4.0 * FOOT,
        "ditch.summer.stage_m": 737.8 * FOOT,
    },
    "steep bank": {"inputs.buffer.bank_slope": 0.5},
}


def drawn(name: str = "as stated", units: str = "us") -> Drawing:
    return buffer_section_drawing(buffer_section(designed(JOBS[name])), units)  # type: ignore[arg-type]


@pytest.mark.works(of=(buffer_section_drawing, trench_drawing))
@pytest.mark.parametrize("name", JOBS)
@pytest.mark.parametrize("units", ["us", "si"])
def test_no_words_lie_on_others_or_leave_the_paper(name: str, units: str):
    section = buffer_section(designed(JOBS[name]))
    trench = trench_drawing(section, units)  # type: ignore[arg-type]
    assert trench is not None
    for drawing in (drawn(name, units), trench):
        assert collisions(drawing) == ()
        assert outside_frame(drawing) == ()


@pytest.mark.by_hand(of=(Ground, buffer_section_drawing))
def test_the_bank_meets_the_water_at_the_width_of_the_strip():
    """Bank 1.5:1, water 738.0 at 55 ft: its top 6.9 ft higher lies 10.35 ft before it."""
    ground = Ground.of(buffer_section(designed()))
    assert ground is not None
    assert ground.bank_at(738.0 * FOOT) == pytest.approx(55 * FOOT)
    assert ground.bank_at(744.9 * FOOT) == pytest.approx((55 - 10.35) * FOOT)
    pipe = next(e for e in drawn().entities if isinstance(e, Circle))
    assert pipe.centre[0] == 0.0
    assert pipe.centre[1] - pipe.radius == pytest.approx(742.0 * FOOT)


@pytest.mark.works(of=(buffer_section_drawing,))
def test_every_elevation_on_the_section_leads_to_its_key():
    texts = [e for e in drawn("two seasons").entities if isinstance(e, Text)]
    keys = {part.key for text in texts for part in text.parts if part.key}
    assert "inputs.buffer.barrier_m" in keys
    assert "ditch.spring.stage_m" in keys
    assert "boards.inlet-summer.crest_m" in keys
    said = " ".join(text.plain for text in texts)
    assert "restrictive layer  735.00" in said


@pytest.mark.works(of=(buffer_section_drawing, trench_drawing))
def test_what_is_not_known_is_not_drawn_but_told():
    bare = buffer_section(designed({"inputs.buffer.barrier_m": OPEN}))
    drawing = buffer_section_drawing(bare)
    assert "not known" in " ".join(e.plain for e in drawing.entities if isinstance(e, Text))
    assert "barrier" in drawing.about
    assert trench_drawing(buffer_section(designed({"inputs.buffer.trench_width_m": OPEN}))) is None


@pytest.mark.works(of=(buffer_section_drawing,))
def test_it_can_be_written_in_both_forms():
    assert to_svg(drawn()).startswith("<svg")
    assert len(to_dxf(drawn())) > 10_000
