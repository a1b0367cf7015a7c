# SPDX-License-Identifier: Apache-2.0
"""The days of the desk: what is drawn and summed is what the chain routed, and nothing else."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from fastapi.testclient import TestClient

from tests.desks import copy_of, desk_of, edit
from tests.draws import few_draws
from tests.test_11_desk.test_search import of_last_years
from tilewater.chain.days_shown import (
    DaySeriesShown,
    DaysShown,
    days_shown,
    spans_of,
    sums_of_span,
)
from tilewater.desk.days_said import series_record, span_rows
from tilewater.desk.pages import days as days_of_desk
from tilewater.documents.words import Words

FARM = "corbel-farm"
DAY_S = 86_400.0
SPAN = "first=2019-03-20&last=2019-06-14"


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    root = tmp_path_factory.mktemp("desk")
    of_last_years(copy_of(FARM, root))
    with few_draws():
        yield desk_of(root)


@pytest.fixture(scope="module")
def trace(desk: TestClient) -> Any:
    answer = desk.app.state.shelf.held(FARM).refined()  # type: ignore[attr-defined]
    assert answer.design is not None
    return answer.design.trace


@pytest.mark.works(of=(sums_of_span, days_of_desk.span_twin))
def test_sums_of_a_span_are_those_of_the_routed_days(desk: TestClient, trace: Any) -> None:
    served = desk.get(f"/job/{FARM}/days/span.json?{SPAN}").json()
    dates, run = trace.value("days.date"), trace.value("days.run")
    inside = (dates >= np.datetime64("2019-03-20")) & (dates <= np.datetime64("2019-06-14"))
    flow = trace.value("water.flow_m3_s")[inside]
    nitrate = trace.value("days.nitrate_mg_per_l")[inside]
    assert served["days"] == 87  # 12 of March, 30, 31, and 14 of June
    assert served["drain_m3"] == pytest.approx(DAY_S * flow.sum())
    assert served["treated_m3"] == pytest.approx(DAY_S * run.bed_flow[inside].sum())
    assert served["bypass_m3"] == pytest.approx(DAY_S * run.bypass_flow[inside].sum())
    assert served["removed_kg"] == pytest.approx(run.removed_kg[inside].sum())
    assert served["load_kg"] == pytest.approx(DAY_S / 1000 * (flow * nitrate).sum())
    assert served["drain_m3"] > 0.0


@pytest.mark.works(of=(sums_of_span,))
def test_days_too_wet_are_those_that_the_chain_counts(desk: TestClient, trace: Any) -> None:
    served = desk.get(f"/job/{FARM}/days.json").json()["record"]
    below = {title.rpartition(" ")[2]: days for title, _, days in served["least_m"]}
    assert below
    for spot, days in below.items():
        assert days == int(trace.value(f"water.spot.{spot}.boards_in.wet").sum())


@pytest.mark.law(of=(sums_of_span, spans_of))
def test_years_and_months_add_up_to_the_record(trace: Any) -> None:
    shown = days_shown(trace)
    whole = sums_of_span(shown, date(1900, 1, 1), date(2100, 1, 1))
    assert whole is not None
    years = [sums_of_span(shown, *span) for span in spans_of(shown)]
    months = [sums_of_span(shown, *span) for span in spans_of(shown, year=2020)]
    assert len(months) == 12
    assert sum(each.days for each in years if each) == whole.days == shown.days.size
    assert sum(each.removed_kg or 0.0 for each in years if each) == pytest.approx(whole.removed_kg)
    (leap,) = [each for each in years if each and each.first.year == 2020]
    assert leap.days == 366
    assert sum(each.drain_m3 or 0.0 for each in months if each) == pytest.approx(leap.drain_m3)


@pytest.mark.works(of=(series_record, days_of_desk.series))
def test_every_day_is_drawn_in_the_units_of_the_reader(desk: TestClient, trace: Any) -> None:
    served = desk.get(f"/job/{FARM}/days/series.json").json()
    groups = {group["name"]: group for group in served["groups"]}
    assert set(groups) == {"flow", "nitrate", "level", "soil"}
    assert groups["flow"]["unit"] == "cfs"
    assert len(served["day"]) == trace.value("water.day").size
    drain = next(each for each in groups["flow"]["series"] if each["name"] == "drain")
    peak = int(np.argmax(trace.value("water.flow_m3_s")))
    cfs = trace.value("water.flow_m3_s")[peak] / 0.3048**3
    assert drain["values"][peak] == pytest.approx(cfs, rel=1e-4)


@pytest.mark.works(of=(days_of_desk.on_day, days_of_desk.worked, days_of_desk.worked_twin))
def test_a_day_says_its_values_and_can_be_worked(desk: TestClient, trace: Any) -> None:
    place = int(np.argmax(trace.value("days.run").removed_kg))
    day = str(trace.value("days.date")[place])
    said = {
        each["name"]: each["said"]
        for each in desk.get(f"/job/{FARM}/days/on/{day}.json").json()["values"]
    }
    assert said["treated"].endswith("cfs")
    record = desk.get(f"/job/{FARM}/days/{day}.json").json()
    assert record["day"] == day
    assert record["same_as_run"]
    page = desk.get(f"/job/{FARM}/days/{day}").text
    assert "How the water divides" in page
    assert "What the bed takes out" in page


@pytest.mark.works(of=(days_of_desk.worked, days_of_desk.span))
def test_what_is_no_day_is_refused_and_a_day_outside_is_told(desk: TestClient) -> None:
    assert desk.get(f"/job/{FARM}/days/span.json?first=spring&last=2019-06-14").status_code == 422
    assert "run from 2018-01-01" in desk.get(f"/job/{FARM}/days/1950-01-01").text
    assert (
        "no day in this span"
        in desk.get(f"/job/{FARM}/days/span?first=1950-01-01&last=1950-02-01").text
    )


@pytest.mark.works(of=(days_shown, days_of_desk.days))
def test_without_weather_the_page_says_what_is_not_there(tmp_path: Path) -> None:
    folder = copy_of(FARM, tmp_path)
    edit(folder, 'file = "weather.csv"', "# no weather\n#")
    page = desk_of(tmp_path).get(f"/job/{FARM}/days?whole=1").text
    assert "No day is known" in page
    assert "weather" in page
    assert desk_of(tmp_path).get(f"/job/{FARM}/days.json").json()["record"] is None


def made_of(flow: list[float], soil: list[float]) -> DaysShown:
    """Days from 30 December 2019 with a drain flow and clear soil, nothing routed."""
    first = np.datetime64("2019-12-30")
    return DaysShown(
        first + np.arange(len(flow)),
        (
            DaySeriesShown(
                "drain", "Drain flow", "water.flow_m3_s", "flow", "flow", np.array(flow)
            ),
            DaySeriesShown(
                "soil-low", "Clear soil at low", "k", "soil", "length", np.array(soil), 0.3
            ),
        ),
        None,
        (),
    )


@pytest.mark.by_hand(of=(sums_of_span, spans_of, span_rows))
def test_a_span_over_the_new_year_worked_by_hand() -> None:
    shown = made_of([0.001, 0.0, 0.002, 0.003], [0.5, 0.2, 0.1, 0.4])
    sums = sums_of_span(shown, date(2019, 12, 31), date(2020, 1, 1))
    assert sums is not None
    assert sums.days == 2
    assert sums.drain_m3 == pytest.approx(0.002 * 86_400)  # 172.8 m3
    assert sums.flowing == 1
    assert sums.treated_m3 is None
    ((title, least, below),) = sums.least_m
    assert (title, least, below) == ("Clear soil at low", 0.1, 2)
    assert [first.year for first, _ in spans_of(shown)] == [2019, 2020]
    assert spans_of(shown, year=2020) == ((date(2020, 1, 1), date(2020, 1, 31)),)
    assert sums_of_span(shown, date(2021, 1, 1), date(2021, 1, 2)) is None
    said = span_rows(sums, Words("si"))
    assert [line[1] for line in said.lines][:3] == ["2 days", "172.8 m3", "1 day"]  # type: ignore[union-attr]
