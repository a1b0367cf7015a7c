# SPDX-License-Identifier: Apache-2.0
"""The page of the water, and a day of it worked again."""

import datetime
import io
import re
from functools import cache

import pytest

from tests.jobs import CFS
from tests.pages import Console
from tilewater.basis.errors import OutOfDomain, UnknownName
from tilewater.documents.pages.day_page import day_page, day_record, run_behind, series_value
from tilewater.documents.pages.said import Part
from tilewater.documents.pages.summary_water import sentence, water_page, wet_days
from tilewater.documents.words import Words, kind_of
from tilewater.hydrology.field_replay import replay_day
from tilewater.tasks.watering import Watered, water_job
from tools.package import ROOT

DAY = "2011-05-03"


@cache
def farm() -> Watered:
    return water_job(ROOT / "examples" / "corbel-farm")


def shown(*parts: Part, width: int = 80) -> str:
    console = Console(width=width, record=True, file=io.StringIO())
    for part in parts:
        console.print(part)
    return console.export_text()


def page(units: str = "us", width: int = 80) -> str:
    return shown(
        *water_page(farm().job.title, farm().side.trace, Words("si" if units == "si" else "us")),
        width=width,
    )


@pytest.mark.works(of=(sentence,))
def test_one_sentence_says_how_much_when_and_what_holds_it_back():
    text = sentence(farm().side.trace, Words())
    assert re.fullmatch(
        r"The drains bring [\d.]+ in of water in a mean year, on \d+ days, \d+ % of it in "
        r"April to June; on \d+ of them the main holds the drains back \(simulated\)\.",
        text,
    )


@pytest.mark.works(of=(water_page,))
def test_the_page_begins_with_the_sentence_and_has_its_blocks():
    lines = page().splitlines()
    assert lines[0] == "Corbel Farm, outlet at the north ditch"
    assert lines[2].startswith("The drains bring ")
    heads = (
        "Days by flow",
        "Months",
        "Years",
        "Water",
        "Day of ten years",
        "The soil holds",
        "Where the water goes",
        "Boards",
        "Days too wet midway",
        "Taken as usual",
    )
    places = [next(i for i, line in enumerate(lines) if line.startswith(head)) for head in heads]
    assert places == sorted(places)


@pytest.mark.works(of=(water_page,))
@pytest.mark.parametrize("units", ["us", "si"])
def test_the_page_keeps_its_width_and_says_each_unit_once(units: str):
    text = page(units)
    assert max(map(len, text.splitlines())) <= 80
    assert " in in" not in text
    assert "mm mm" not in text


@pytest.mark.works(of=(water_page,))
def test_what_nobody_gave_stands_with_what_it_rests_on():
    (line,) = (line for line in page().splitlines() if "drainable porosity" in line)
    assert " ".join(line.split()) == "drainable porosity 0.05 from memory, usual 0.03 to 0.12"


@pytest.mark.works(of=(wet_days,))
def test_the_limit_on_wet_days_says_that_it_does_not_bind():
    part = wet_days(farm().side.trace, Words())
    assert part is not None
    text = " ".join(shown(part).split())
    assert "at most 2 (common practice, does not bind unless the job states it)" in text


@pytest.mark.works(of=(day_page, series_value))
def test_a_day_shows_its_flow_and_every_value_on_the_way():
    trace = farm().side.trace
    text = shown(*day_page(trace, "water.flow_m3_s", DAY, Words()))
    number = trace.value("water.weather").number_of(datetime.date.fromisoformat(DAY))
    flow = trace.value("water.flow_m3_s")[number] / CFS
    assert f"{flow:.3f} cfs" in text
    replay = replay_day(trace.value("water.run"), datetime.date.fromisoformat(DAY))
    for name, _, _ in replay.values:
        assert f" {name.partition('.')[2]} " in text
    assert replay.value("drained.flow") == trace.value("water.run").drain_depth[number]


@pytest.mark.works(of=(day_record,))
def test_a_day_answers_other_programs():
    trace = farm().side.trace
    found = day_record(trace, "water.flow_m3_s", DAY)
    number = trace.value("water.weather").number_of(datetime.date.fromisoformat(DAY))
    assert found["value"] == trace.value("water.flow_m3_s")[number]
    assert (found["unit"], found["run"], found["day"]) == ("m3/s", "water.run", DAY)
    assert {"name", "value", "unit"} == set(found["values"][0])


@pytest.mark.works(of=(run_behind,))
def test_a_key_of_a_spot_leads_to_the_run_of_the_spot():
    trace = farm().side.trace
    key = "water.spot.low-1.boards_in.usual_run_days"
    assert run_behind(trace, key) == "water.spot.low-1.boards_in.run"
    with pytest.raises(UnknownName, match="does not rest on days that were worked"):
        run_behind(trace, "main.diameter_m")


@pytest.mark.works(of=(day_page,))
def test_a_day_that_is_none_or_outside_is_said():
    trace = farm().side.trace
    with pytest.raises(OutOfDomain, match="Write it like 2011-05-03"):
        list(day_page(trace, "water.flow_m3_s", "May 3", Words()))
    with pytest.raises(OutOfDomain, match="It runs from 1996-01-01 to 2025-12-31"):
        list(day_page(trace, "water.flow_m3_s", "2031-05-03", Words()))


@pytest.mark.works(of=(kind_of,))
def test_depths_of_water_are_in_inches_and_rates_in_inches_a_day():
    assert kind_of("water.balance.runoff_m", "m") == "depth"
    assert kind_of("water.drainable_water_m", "m") == "depth"
    assert kind_of("water.main_limit_m_s", "m/s") == "depth_rate"
    assert kind_of("water.default.deep_seepage_m_s", "m/s") == "depth_rate"
    words = Words()
    assert words.of_key("water.median_year", 2000.0, "years") == "2000"
    assert words.of_key("water.run", farm().side.trace.value("water.run"), "") == (
        "series of 10,958 values each"
    )
