# SPDX-License-Identifier: Apache-2.0
"""The papers of an outlet raised in season: its section, its pages, the owner's words."""

import shutil
from io import BytesIO
from types import SimpleNamespace

import pytest
from pypdf import PdfReader

from tests.jobs import FARM, farm_text_without
from tests.test_06_chain.test_raised_outlet import BOARDS, designed
from tilewater.basis.units import System
from tilewater.chain.calculation import calculation
from tilewater.chain.scene import long_section_scene
from tilewater.chain.scene_raised import raised_scene
from tilewater.chain.scene_records import Level, MainPart, SegmentPart, Setting
from tilewater.documents.drawing.measured import collisions, outside_frame
from tilewater.documents.drawing.model import Text
from tilewater.documents.long_section import main_reach_drawing
from tilewater.documents.paper.blocks import Heading, Items, Number, Paragraph, Table
from tilewater.documents.profile.reach import lower_pools
from tilewater.documents.raised_section import structure_drawing
from tilewater.documents.report import owner_raised
from tilewater.documents.report.governing import governing_numbers
from tilewater.documents.report.material import ReportMaterial
from tilewater.documents.report.raised_pages import raised_pages
from tilewater.documents.report.reading import Reading
from tilewater.tasks.designing import Outcome, design_job
from tilewater.tasks.papers import papers_of

OF_A_BED = ("woodchip", "chips", "feed", "Rotten eggs")


@pytest.fixture(scope="module")
def outcome(tmp_path_factory: pytest.TempPathFactory) -> Outcome:
    folder = tmp_path_factory.mktemp("raised") / "corbel-farm"
    shutil.copytree(FARM, folder, ignore=shutil.ignore_patterns("results", "issued"))
    text = farm_text_without("weather") + '\n[practice]\nkind = "raised"\n'
    (folder / "job.toml").write_text(text, encoding="utf-8")
    return design_job(folder)


def reading() -> Reading:
    design = designed()
    material = ReportMaterial("Corbel Farm", design, {}, design.findings, (), "0")
    return Reading(material, calculation(design.trace))


def words_of(drawing: object) -> str:
    entities = drawing.entities  # type: ignore[attr-defined]
    return " | ".join(each.plain for each in entities if isinstance(each, Text))


@pytest.mark.works(of=(papers_of,))
def test_a_raised_outlet_has_a_report_and_drawings_of_its_own(outcome: Outcome) -> None:
    names = ("structure", "main", "plan", "main-plan")
    drawn = [f"{name}.{ending}" for name in names for ending in ("svg", "dxf")]
    made = papers_of(outcome, "us")
    assert {*drawn, "report.pdf", "owner.pdf"} == set(made)
    report = PdfReader(BytesIO(made["report.pdf"]()))
    assert "Structure with its boards" in "".join(p.extract_text() for p in report.pages[:12])
    owner = "".join(p.extract_text() for p in PdfReader(BytesIO(made["owner.pdf"]())).pages)
    assert "An outlet raised in season" in owner
    assert [] == [word for word in OF_A_BED if word in owner]


@pytest.mark.works(of=(structure_drawing, raised_scene))
@pytest.mark.parametrize("units", ["us", "si"])
def test_the_section_shows_the_boards_of_every_season(units: System) -> None:
    drawing = structure_drawing(raised_scene(designed().trace), units)
    assert () == outside_frame(drawing)
    assert () == collisions(drawing)
    told = words_of(drawing)
    assert all(season in told for season in BOARDS)
    assert "spring, no boards" in told
    assert ("boards 40 in" in told) == (units == "us")
    assert 1.0 == pytest.approx(drawing.frame.exaggeration)


@pytest.mark.works(of=(main_reach_drawing,))
def test_pools_of_lower_boards_stand_behind_the_structure_too() -> None:
    scene = long_section_scene(designed().trace)
    told = [words_of(main_reach_drawing(scene, by_season=drawn)) for drawn in (True, False)]
    assert ["summer" in words for words in told] == [True, False]


@pytest.mark.by_hand(of=(lower_pools,))
def test_a_pool_ends_where_its_level_meets_the_invert() -> None:
    def level(z: float) -> Level:
        return Level(z, "key")

    segments = (
        SegmentPart(0.0, 20.0, level(100.0), level(100.1), 0.25),
        SegmentPart(20.0, 120.0, level(100.1), level(101.1), 0.25),
    )
    ends = level(100.0), level(100.1), 0.25, None, None
    main = MainPart(0.0, 20.0, segments, *ends, level(101.0), 110.0, None, None, ())
    boards = tuple(
        Setting(name, level(z), ()) for name, z in (("a", 101.0), ("b", 100.6), ("c", 100.05))
    )
    inlet = SimpleNamespace(settings=boards)
    (lower,) = lower_pools(SimpleNamespace(inlet=inlet), main)  # type: ignore[arg-type]
    assert "b" == lower[0].name
    assert 20.0 + (100.6 - 100.1) / (101.1 - 100.1) * 100.0 == pytest.approx(lower[1])


@pytest.mark.works(of=(raised_pages,))
def test_pages_say_kept_back_with_its_range_and_where_the_water_goes() -> None:
    blocks = raised_pages(reading())
    headings = [block.text for block in blocks if isinstance(block, Heading)]
    assert ["Kept back", "Where the water goes"] == headings[-2:]
    kept, where = [block for block in blocks if isinstance(block, Table)][-2:]
    assert all(isinstance(cell, Number) for cell in kept.rows[0][1:])
    assert "through the drains" == where.rows[0][0]
    (honest,) = (b for b in blocks if isinstance(b, Paragraph) and "treated" in str(b.words))
    assert "keep back nothing" in str(honest.words)


@pytest.mark.works(of=(governing_numbers,))
def test_a_signer_reads_ten_numbers_of_a_raised_outlet() -> None:
    rows = governing_numbers(reading()).rows
    labels = [str(row[1]) for row in rows]
    assert 10 == len(rows)
    assert "Drain flow kept back" == labels[1]
    assert [] == [row for row in rows if "not known" in str(row[2])]
    assert not any("bed" in str(row[3]) for row in rows[1:])


@pytest.mark.works(of=(owner_raised.does, owner_raised.will_not))
def test_the_owner_hears_that_nothing_is_treated() -> None:
    text = owner_raised.does(reading())
    assert "Nothing is treated" in text
    assert "come out again past the boards" in text
    assert "It does not treat any water" in str(Items(tuple(owner_raised.will_not(reading()))))
