# SPDX-License-Identifier: Apache-2.0
"""The page of cost against nitrate."""

import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest

from tilewater.documents.search_chart import SearchScene, Spot, draw_search_chart

SVG = "{http://www.w3.org/2000/svg}"
HEAD, SHARE = "Inlet crest above outlet crest", "Share of the peak flow"
FRONT = tuple(
    Spot(38_000.0 + 1_000.0 * n, 55.0 + 1.5 * n, HEAD if n < 6 else SHARE) for n in range(12)
)
SCENE = SearchScene(
    title="Corbel Farm: cost and nitrate",
    note="1,500 beds asked",
    front=FRONT,
    others=tuple(replace(spot, cost=spot.cost + 700.0) for spot in FRONT),
    own=Spot(45_000.0, 58.0, SHARE),
    named=(replace(FRONT[0], words="cheapest"), replace(FRONT[-1], words="most nitrate")),
)


def words_of(svg: str) -> list[str]:
    return ["".join(each.itertext()) for each in ET.fromstring(svg).iter(f"{SVG}text")]


def parts_of(svg: str, name: str) -> list[ET.Element]:
    return [each for each in ET.fromstring(svg).iter() if each.get("data-part") == name]


@pytest.mark.works(of=(draw_search_chart,))
def test_every_bed_of_the_front_has_a_mark_and_what_binds_a_shape() -> None:
    svg = draw_search_chart(SCENE)

    marks = parts_of(svg, "bed")
    assert len(marks) == len(FRONT) + 2 + 2  # named ones again, and two in the legend
    assert len({mark.get("d", "").count("L") for mark in marks}) == 1  # squares and diamonds
    assert {HEAD, SHARE, "cheapest", "most nitrate", "your own bed"} <= set(words_of(svg))
    assert "http" not in svg.replace("http://www.w3.org/2000/svg", "")


@pytest.mark.works(of=(draw_search_chart,))
def test_nitrate_stands_in_the_units_of_the_reader() -> None:
    assert "Nitrate-N taken out in a mean year, lb" in words_of(draw_search_chart(SCENE))
    assert "Nitrate-N taken out in a mean year, kg" in words_of(
        draw_search_chart(SCENE, units="si")
    )


@pytest.mark.law(of=(draw_search_chart,))
def test_more_money_lies_to_the_right_and_more_nitrate_above() -> None:
    (line,) = parts_of(draw_search_chart(SCENE), "front")
    points = [tuple(map(float, p.split())) for p in line.get("d", "")[1:].split("L")]

    assert [x for x, _ in points] == sorted(x for x, _ in points)
    assert [y for _, y in points] == sorted((y for _, y in points), reverse=True)


@pytest.mark.works(of=(draw_search_chart,))
def test_a_page_without_a_bed_says_so() -> None:
    empty = replace(SCENE, front=(), others=(), own=None, named=())

    for own in (None, SCENE.own):
        page = words_of(draw_search_chart(replace(empty, own=own)))
        assert "No bed was found that falls short of nothing." in page


@pytest.mark.works(of=(draw_search_chart,))
def test_one_bed_alone_has_room() -> None:
    alone = replace(SCENE, front=FRONT[:1], others=(), own=None, named=())

    assert len(parts_of(draw_search_chart(alone), "bed")) == 2
