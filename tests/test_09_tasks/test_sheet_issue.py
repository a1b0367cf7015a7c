# SPDX-License-Identifier: Apache-2.0
"""Sets that are issued: revisions in order, what changed in clouds, DXF that others can read."""

import io
from dataclasses import replace
from datetime import date
from functools import cache
from itertools import pairwise
from math import dist
from pathlib import Path
from struct import unpack_from

import ezdxf
import pyogrio
import pypdf
import pytest

from tests.desks import copy_of
from tests.sheet_pdf import MM, has_line, read_page
from tests.test_09_tasks.test_sheeting import outcome, review
from tilewater.basis.errors import BadInputFile
from tilewater.chain.changes import Change, Comparison
from tilewater.chain.since_issued import SinceIssued, TypedChange
from tilewater.cli.sheets_verb import hold_issue
from tilewater.documents.drawing.dxf import to_dxf
from tilewater.documents.drawing.model import Drawing, Polyline
from tilewater.documents.sheets.material import SheetMaterial
from tilewater.documents.sheets.record import BIND, EDGE, GAP, Box, Picture, SheetSet
from tilewater.documents.sheets.revised import Marks, marked
from tilewater.job.issued import issued_copies
from tilewater.tasks.designing import Outcome
from tilewater.tasks.sheeting import (
    dxf_of,
    issue_sheets,
    press_set,
    revisions_of,
    sheet_words,
    sheets_of,
)
from tilewater.tasks.staking import stake_job
from tools.package import ROOT

FOOT = 0.3048


def picture_on(made: SheetSet, name: str) -> tuple[int, Box, Picture]:
    for number, sheet in enumerate(made.sheets):
        for box in sheet.boxes:
            for block in box.blocks:
                if isinstance(block, Picture) and block.name == name:
                    return number, box, block
    raise AssertionError(f"no sheet shows {name}")


@cache
def dxf(name: str) -> bytes:
    return to_dxf(dxf_of(review("corbel-farm"))[f"sheets-dxf/{name}.dxf"])


@pytest.mark.works(of=(SheetMaterial, press_set))
@pytest.mark.parametrize(
    ("name", "paper", "feet"),
    [
        ("plan", "11x17", 30),
        ("works", "11x17", 20),
        ("plan", "22x34", 20),
        ("plan", "a3", 30),
        ("works", "letter", 40),
    ],
)
def test_the_cut_in_the_finished_file_lies_where_the_stakes_say(name: str, paper: str, feet: int):
    """1 in = 30 ft: a foot is 25.4 / 30 mm; ends of its sides measured from the vectors."""
    made = review("corbel-farm", paper)
    number, box, picture = picture_on(made, name)
    assert picture.ratio == pytest.approx(feet * 12)
    times = made.paper.times
    page = pypdf.PdfReader(io.BytesIO(press_set(made))).pages[number]
    high = float(page.mediabox.height) * MM
    points = {p.name: p for p in stake_job(ROOT / "examples" / "corbel-farm").stakes.points}
    near, up, far = (
        (points[f"bed-floor-{name}"].east, points[f"bed-floor-{name}"].north)
        for name in ("lower-near", "upper-near", "lower-far")
    )
    margin = outcome("corbel-farm").design.trace.value("quantities.cut_margin_m")
    along, across = toward(near, up), toward(near, far)
    low = moved(moved(near, along, -margin), across, -margin)
    top = moved(moved(up, along, margin), across, -margin)
    assert picture.drawing is not None
    frame = picture.drawing.frame

    def on_paper(at: tuple[float, float]) -> tuple[float, float]:
        foot = times * (EDGE + GAP + box.y_mm + picture.height_mm)
        left = times * (BIND + GAP + box.x_mm) + (at[0] - frame.low[0]) * 1000.0 / picture.ratio
        return left, high - foot + (at[1] - frame.low[1]) * 1000.0 / picture.ratio

    found = bool(has_line(read_page(page), on_paper(low), on_paper(top)))
    assert found
    assert dist(on_paper(low), on_paper(top)) == pytest.approx(107.10 * 25.4 / feet, abs=0.02)


def toward(a: tuple[float, float], b: tuple[float, float]) -> tuple[float, float]:
    long = dist(a, b)
    return (b[0] - a[0]) / long, (b[1] - a[1]) / long


def moved(at: tuple[float, float], way: tuple[float, float], by: float) -> tuple[float, float]:
    return at[0] + by * way[0], at[1] + by * way[1]


@pytest.mark.oracle("GDAL through pyogrio 0.13", of=(to_dxf, dxf_of))
def test_the_plan_is_read_by_another_program_in_feet_of_the_grid(tmp_path: Path):
    """The floor is 96.5 by 30 ft there too, and its corner has the coordinates of its stake."""
    file = tmp_path / "plan.dxf"
    file.write_bytes(dxf("plan"))
    _, _, shapes, fields = pyogrio.raw.read(file)
    layers = fields[list(pyogrio.read_info(file)["fields"]).index("Layer")]
    lines = [
        points_of(shape)
        for shape, layer in zip(shapes, layers, strict=True)
        if shape is not None and layer == "hidden"
    ]
    sides = {round(dist(a, b), 2) for line in lines for a, b in pairwise(line)}
    assert {96.5, 30.0} <= sides
    points = {p.name: p for p in stake_job(ROOT / "examples" / "corbel-farm").stakes.points}
    corner = points["bed-floor-lower-near"]
    at = corner.east / FOOT, corner.north / FOOT
    assert min(dist(point, at) for line in lines for point in line) < 0.005


def points_of(wkb: bytes) -> list[tuple[float, float]]:
    """Points of a line or of the ring of an area as the standard for simple features writes it."""
    order = "<" if wkb[0] else ">"
    (kind,) = unpack_from(f"{order}I", wkb, 1)
    flat, deep = kind % 1000 & 0xFF, kind & 0x80000000 or kind // 1000 == 1
    if flat not in (2, 3):
        return []
    start = 5 if flat == 2 else 9
    (count,) = unpack_from(f"{order}I", wkb, start)
    step = 24 if deep else 16
    return [unpack_from(f"{order}2d", wkb, start + 4 + step * n) for n in range(count)]


@pytest.mark.oracle("ezdxf 1.4", of=(to_dxf, dxf_of))
def test_every_drawing_of_a_set_is_a_sound_file_on_named_layers():
    names = dxf_of(review("corbel-farm"))
    assert {"sheets-dxf/plan.dxf", "sheets-dxf/detail-header.dxf"} <= set(names)
    for name in ("plan", "works", "cross-section", "detail-boards-inlet"):
        document = ezdxf.read(io.StringIO(dxf(name).decode("utf-8")))
        assert not document.audit().errors
        used = {entity.dxf.layer for entity in document.modelspace()}
        assert used <= {layer.dxf.name for layer in document.layers}
        assert "structure-cut" in used or "chips-edge" in used


@pytest.mark.works(of=(to_dxf,))
def test_a_section_has_its_elevations_in_feet():
    """The floor of the bed at 1180.70 stands at y = 1180.70 in a drawing that is not stretched."""
    document = ezdxf.read(io.StringIO(dxf("cross-section").decode("utf-8")))
    heights = {
        round(point[1], 2)
        for line in document.modelspace().query("LWPOLYLINE")
        for point in line.get_points("xy")
    }
    assert {1180.70, 1184.20} <= heights


@pytest.mark.works(of=(marked,))
def test_only_what_changed_is_clouded_and_numbered():
    drawing = dxf_of(review("corbel-farm"))["sheets-dxf/plan.dxf"]
    assert marked(drawing, Marks()) == drawing
    assert marked(drawing, Marks("2", ("people.owner",))) == drawing
    shown = marked(drawing, Marks("2", ("pipe.return.length",)))
    new = [e for e in shown.entities if e.layer == "revision"]
    assert {getattr(e, "name", "") for e in new} >= {"revision cloud", "revision"}
    assert any(getattr(e, "words", "") == "2" for e in new)
    assert holds(shown, "revision cloud", middle_of(drawing, "return"))
    assert not holds(shown, "revision cloud", middle_of(drawing, "above"))


def middle_of(drawing: Drawing, name: str) -> tuple[float, float]:
    line = next(
        e
        for e in drawing.entities
        if isinstance(e, Polyline) and e.name in (name, f"pipe-{name}", f"pipe {name}")
    )
    (x0, y0), (x1, y1) = line.points[0], line.points[-1]
    return (x0 + x1) / 2, (y0 + y1) / 2


def holds(drawing: Drawing, name: str, at: tuple[float, float]) -> bool:
    clouds = [e for e in drawing.entities if isinstance(e, Polyline) and e.name == name]
    assert clouds
    return any(
        min(x for x, _ in c.points) <= at[0] <= max(x for x, _ in c.points)
        and min(y for _, y in c.points) <= at[1] <= max(y for _, y in c.points)
        for c in clouds
    )


@pytest.mark.works(of=(issue_sheets, revisions_of))
def test_issued_sets_stand_in_issued_with_a_row_each(tmp_path: Path, monkeypatch):
    from tilewater.tasks import issuing
    from tilewater.tasks.checking import check_job

    monkeypatch.setattr(issuing, "papers_of", lambda *_: {})
    folder = copy_of("corbel-farm", tmp_path)
    drawn = outcome("corbel-farm")
    for number, note in enumerate(("to the owner", "after the pit"), start=1):
        now = replace(drawn, job=check_job(folder), record={"number": number})
        day = date(2026, 11, 25 + number)
        issued = issue_sheets(now, "us", sheet_words("permit", "", "11x17"), "R. L.", note, day)
        sheets = pypdf.PdfReader(issued.folder / "results" / "sheets.pdf")
        text = " ".join(sheets.pages[0].extract_text().split())
        assert f"{number} {day.isoformat()} {note}, R. L." in text
        assert (issued.folder / "results" / "sheets-dxf" / "plan.dxf").is_file()
    assert "1 2026-11-26 to the owner, R. L." in text
    copies = issued_copies(folder)
    assert [copy.is_sound for copy in copies] == [True, True]
    rows = revisions_of(check_job(folder))
    assert [(row.number, row.words) for row in rows] == [
        ("1", "to the owner"),
        ("2", "after the pit"),
    ]


@pytest.mark.works(of=(sheets_of,))
def test_what_changed_since_the_last_issue_is_listed_and_clouded():
    drawn = outcome("corbel-farm")
    same = Change("verdict", "fits", "fits")
    changed = TypedChange(
        "bed.width_bottom", "Width of the bottom", "28 ft", "30 ft", "job.toml", 1
    )
    since = SinceIssued("copy", "review", "R. L.", "2026-11-20", (changed,), (), _nothing(same))
    made = sheets_of(
        Outcome(drawn.job, drawn.design, {}, (), since), "us", sheet_words("review", "", "11x17")
    )
    plan = dxf_of(made)["sheets-dxf/plan.dxf"]
    assert plan.of_layer("revision")
    notes = next(sheet for sheet in made.sheets if sheet.title == "Notes")
    rows = [row for box in notes.boxes for b in box.blocks for row in getattr(b, "rows", ())]
    assert ("Width of the bottom", "28 ft", "30 ft") in rows


def _nothing(same: Change) -> Comparison:
    return Comparison(verdict=same, governs=same, turned=(), moved=())


@pytest.mark.works(of=(hold_issue,))
def test_an_issue_needs_a_name_and_a_name_an_issue():
    with pytest.raises(BadInputFile, match="who answers"):
        hold_issue(issue=True, by=" ", note="", out=None)
    with pytest.raises(BadInputFile, match="Write --issue too"):
        hold_issue(issue=False, by="R. L.", note="", out=None)
    hold_issue(issue=True, by="R. L.", note="", out=None)
