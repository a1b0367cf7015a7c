# SPDX-License-Identifier: Apache-2.0
"""A routed day at the door: what it shows, which keys have days, which days there are."""

import datetime
import io

import numpy as np
import pytest

from tests.pages import Console
from tests.test_06_chain.test_days import designed, trace
from tilewater.basis.errors import OutOfDomain, UnknownName
from tilewater.chain.design import design_bed
from tilewater.documents.pages.day_page import day_page, day_record, rests_on_route, run_behind
from tilewater.documents.pages.route_page import place_of, route_page, setting_name
from tilewater.documents.words import Words

DAY = "2011-05-03"
PLACE = (np.datetime64(DAY) - np.datetime64("2010-01-01")).astype(int)


def page(key: str, day: str = DAY) -> str:
    out = io.StringIO()
    for part in day_page(trace(), key, day, Words()):
        Console(file=out, width=80).print(part)
    return "\n".join(line.rstrip() for line in out.getvalue().strip().splitlines())


@pytest.mark.works(of=(day_page, route_page))
def test_a_number_that_rests_on_days_shows_the_day_with_every_step():
    text = page("removal.removed_kg.p50")
    assert text.startswith("Nitrate nitrogen taken out, p50  removal.removed_kg.p50")
    assert "It rests on 1,464 days." in text
    for head in (
        f"What the day brings  {DAY}",
        "The chips on that day",
        "How the water divides",
        "What the bed takes out",
        "The day in sum",
    ):
        assert f"\n{head}" in text
    assert "K = K_0 f^n\n    0.095 x 0.999758445^487" in text
    assert "Bypass crest" in text
    assert "spring" in text
    assert "compiled run has the same numbers for the day" in " ".join(text.split())
    assert max(map(len, text.splitlines())) <= 80
    assert "How its drain flow came" not in text  # it was measured


@pytest.mark.law(of=(day_record,))
@pytest.mark.parametrize("day", [DAY, "2010-01-01", "2013-08-20", "2014-01-03"])
def test_the_record_of_a_day_is_the_day_of_the_compiled_run(day: str):
    found = day_record(trace(), "removal.site_percent.p10", day)
    place = int((np.datetime64(day) - np.datetime64("2010-01-01")).astype(int))
    values = {one["name"]: one["value"] for one in found["values"]}
    run = trace().value("days.run")
    assert values["divided.bed_flow"] == run.bed_flow[place]
    assert values["divided.bypass_flow"] == run.bypass_flow[place]
    assert values["outcome.removed"] == run.removed_kg[place]
    assert values["outcome.runs_back"] == run.runs_back[place]
    assert values.get("nitrate.retention", 0.0) == run.retention_days[place]
    assert values["brought.inflow"] == trace().value("water.flow_m3_s")[place]
    assert found["same_as_run"]
    assert (found["key"], found["day"], found["value"]) == ("removal.site_percent.p10", day, None)


@pytest.mark.works(of=(day_record, rests_on_route))
def test_a_series_of_the_days_gives_its_value_on_the_day():
    found = day_record(trace(), "days.stage_m", DAY)
    assert found["value"] == trace().value("days.stage_m")[PLACE]
    assert (found["unit"], found["setting"]) == ("m", "spring")
    assert found["crests_m"]["inlet"] == trace().value("boards.inlet-spring.crest_m")
    assert page("days.temperature_c").startswith(
        "Temperature of the drain water, day by day, by the seasons  days.temperature_c\n"
        "  on the day 8 degC"
    )


@pytest.mark.works(of=(rests_on_route, run_behind))
def test_what_rests_on_no_day_says_so():
    for key in (
        "removal.removed_kg.p50",
        "probability.share_of_annual_flow",
        "cost.usd_per_kg.p50",
    ):
        assert rests_on_route(trace(), key)
    assert not rests_on_route(trace(), "capacity.criterion.flow_m3_s")
    with pytest.raises(UnknownName, match="does not rest on days that were worked one by one"):
        page("capacity.criterion.flow_m3_s")
    without = design_bed(designed().job, by_days=False).trace
    assert not rests_on_route(without, "removal.removed_kg.p50")


@pytest.mark.works(of=(place_of,))
@pytest.mark.parametrize(
    ("day", "said"),
    [
        ("2009-12-31", r"They run from 2010-01-01 to 2014-01-03\. Choose a day within\."),
        ("2014-01-04", r"They run from 2010-01-01 to 2014-01-03\. Choose a day within\."),
        ("2011-02-29", r"is no day\. A day is year, month, day\. Write it like 2011-05-03\."),
        ("3 May 2011", r"is no day\."),
    ],
)
def test_a_day_that_was_not_routed_is_answered_with_those_that_were(day: str, said: str):
    with pytest.raises(OutOfDomain, match=said):
        page("removal.removed_kg.p50", day)


@pytest.mark.works(of=(place_of,))
def test_a_gap_of_the_record_names_the_days_at_its_ends():
    dates = np.array(["2011-05-01", "2011-05-02", "2011-05-06"], "datetime64[D]")
    assert place_of(dates, datetime.date(2011, 5, 6)) == 2
    with pytest.raises(OutOfDomain) as told:
        place_of(dates, datetime.date(2011, 5, 4))
    assert str(told.value) == (
        "--day 2011-05-04 is not among the days that were routed. They run from 2011-05-01 to "
        "2011-05-06, and the record has none from 2011-05-03 to 2011-05-05. Choose 2011-05-02 or "
        "2011-05-06."
    )


@pytest.mark.works(of=(setting_name,))
def test_settings_are_named_by_their_season():
    assert [setting_name(trace(), number) for number in range(3)] == ["design", "winter", "spring"]
