# SPDX-License-Identifier: Apache-2.0
"""The page of the daily drain flow, as SVG and as PDF."""

import re
import zlib
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from tests.jobs import CFS, INCH, corbel_inputs
from tests.svg import Drawing
from tests.test_06_chain.test_water import with_weather
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.trace import Trace
from tilewater.chain.scene_days import DaysScene, days_scene
from tilewater.chain.water_side import compute_water
from tilewater.documents.pdf_page import pdf_page
from tilewater.documents.sheet import Sheet
from tilewater.documents.water_chart import draw_water_chart


@cache
def farm() -> Trace:
    return compute_water(with_weather()).trace


def scene() -> DaysScene:
    found = days_scene(farm())
    assert found is not None
    return found


@cache
def drawn() -> Drawing:
    return Drawing(draw_water_chart(scene()))


def height(bar: list[tuple[float, float]]) -> float:
    return max(up for _, up in bar)


@pytest.mark.works(of=(days_scene,))
def test_the_scene_holds_the_middle_year_and_all_flows_falling():
    found = scene()
    assert found.median_year in found.years
    assert found.year_day[0] == 0
    assert len(found.year_day) in (365, 366)
    assert np.all(np.diff(found.falling) <= 0)
    assert len(found.falling) == found.days


@pytest.mark.works(of=(days_scene,))
def test_marks_that_lie_together_are_one():
    words = [mark.words for mark in scene().marks]
    assert words == ["main full, day of ten years"]


@pytest.mark.works(of=(days_scene,))
def test_without_a_series_there_is_nothing_to_draw():
    assert days_scene(compute_water(corbel_inputs()).trace) is None


@pytest.mark.works(of=(draw_water_chart,))
def test_bars_are_as_high_as_the_depths_of_months_and_years():
    for panel, depths in (("months", scene().month_depth), ("years", scene().year_depth)):
        bars = drawn().panel(panel).shapes("bar")
        assert [height(bar) for bar in bars] == pytest.approx(list(depths / INCH), abs=0.02)


@pytest.mark.works(of=(draw_water_chart,))
def test_the_flow_of_the_year_is_drawn_day_by_day():
    (line,) = drawn().panel("year").shapes("flow")
    flows = [up for _, up in line]
    assert len(line) == 2 * len(scene().year_flow)
    assert flows[::2] == pytest.approx(list(scene().year_flow / CFS), abs=0.005)


@pytest.mark.works(of=(draw_water_chart,))
def test_days_that_were_not_measured_are_left_open():
    kept = np.ones(len(scene().year_day), dtype=bool)
    kept[100:120] = False
    broken = replace(scene(), year_day=scene().year_day[kept], year_flow=scene().year_flow[kept])
    lines = Drawing(draw_water_chart(broken)).panel("year").shapes("flow")
    assert [len(line) for line in lines] == [200, 2 * (len(kept) - 120)]


@pytest.mark.works(of=(draw_water_chart,))
def test_printed_numbers_carry_their_keys():
    keyed = dict(drawn().keyed())
    assert keyed["water.mean_annual_depth_m"].endswith(" in")
    assert keyed["drain_flow.candidates_m3_s.main_full"] == "0.930 cfs"
    metric = dict(Drawing(draw_water_chart(scene(), units="si")).keyed())
    assert metric["drain_flow.candidates_m3_s.main_full"] == "26.3 L/s"


@pytest.mark.works(of=(draw_water_chart,))
def test_the_page_names_no_address_and_touches_no_edge():
    assert "http" not in drawn().text.replace("http://www.w3.org/2000/svg", "")
    assert "url(" not in re.sub(r"<defs>.*?</defs>", "", drawn().text, flags=re.DOTALL)


def content(page: bytes) -> str:
    stream = re.search(rb"stream\n(.*?)\nendstream", page, re.DOTALL)
    assert stream is not None
    return zlib.decompress(stream.group(1)).decode("cp1252")


@pytest.mark.works(of=(pdf_page,))
def test_the_pdf_has_every_word_of_the_sheet_and_its_size():
    page = pdf_page(drawn().text)
    assert page.startswith(b"%PDF-1.4\n")
    assert b"/MediaBox [0 0 792.00 612.00]" in page
    shown = re.findall(r"\((.*?)\) Tj", content(page))
    assert [words.replace("\\", "") for words in shown if words] == [
        *filter(None, _with_halo(drawn()))
    ]


def _with_halo(drawing: Drawing) -> list[str]:
    """Words in order; those with a ground laid under them are set twice."""
    found = []
    for text in drawing.root.iter("{http://www.w3.org/2000/svg}text"):
        words = "".join(text.itertext())
        found += [words] * (2 if text.get("stroke") else 1)
    return found


@pytest.mark.law(of=(pdf_page,))
def test_the_table_of_the_pdf_points_at_its_objects_and_bytes_do_not_change():
    page = pdf_page(drawn().text)
    assert page == pdf_page(drawn().text)
    start = int(re.search(rb"startxref\n(\d+)\n", page).group(1))  # type: ignore[union-attr]
    assert page[start:].startswith(b"xref\n")
    places = [int(place) for place in re.findall(rb"(\d{10}) 00000 n", page)]
    assert len(places) == 7
    for number, place in enumerate(places, start=1):
        assert page[place:].startswith(f"{number} 0 obj\n".encode())


@pytest.mark.works(of=(pdf_page,))
def test_shapes_keep_their_places_and_colours():
    sheet = Sheet(96.0)
    sheet.line(((10.0, 20.0), (30.0, 20.0)), stroke="#ff0000", width=2, dash="3 1")
    sheet.oval((50.0, 50.0), 4.0, 6.0)
    sheet.text((90.0, 90.0), "a (b)", anchor="end", size=10)
    found = content(pdf_page(sheet.svg("t", "d", 96.0)))
    assert "1.000 0.000 0.000 RG 2 w [3 1] 0 d 1 j" in found
    assert "10.00 20.00 m 30.00 20.00 l S Q" in found
    assert "54.00 50.00 m" in found
    # a, blank, (, b, ) are 556 + 278 + 333 + 556 + 333 thousandths of 10 wide
    assert "1 0 0 -1 69.44 90.00 Tm (a \\(b\\)) Tj" in found


@pytest.mark.works(of=(pdf_page,))
def test_what_a_page_cannot_show_is_refused():
    hatched = Sheet(96.0)
    hatched.box((1.0, 1.0), (9.0, 9.0), fill="url(#chips)")
    with pytest.raises(OutOfDomain, match="A page takes plain colours"):
        pdf_page(hatched.svg("t", "d", 96.0))
    curved = Sheet(96.0, parts=['<path d="M1 1Q2 2 3 3" stroke="#000000"/>'])
    with pytest.raises(OutOfDomain, match="Only M, L and Z are drawn"):
        pdf_page(curved.svg("t", "d", 96.0))
    strange = Sheet(96.0, parts=["<circle/>"])
    with pytest.raises(OutOfDomain, match="The sheet holds a 'circle'"):
        pdf_page(strange.svg("t", "d", 96.0))
