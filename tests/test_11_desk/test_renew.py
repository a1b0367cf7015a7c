# SPDX-License-Identifier: Apache-2.0
"""Renewal in the desk: the page of a day, its twin, where a number comes from, the memo."""

from datetime import date
from typing import Self

import pytest
from fastapi.testclient import TestClient

from tests.desks import copy_of, desk_of
from tilewater.desk.pages import renew
from tilewater.tasks.look_days import look_day

BUILT = "corbel-built"
DAY = "2031-02-01"


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> TestClient:
    root = tmp_path_factory.mktemp("desk")
    copy_of(BUILT, root)
    return desk_of(root)


@pytest.mark.works(of=(renew.renew, renew.renew_twin, renew.number, renew.renewal_file))
def test_a_day_is_asked_and_every_number_opens(desk: TestClient) -> None:
    seen = desk.get(f"/job/{BUILT}/renew?on={DAY}")
    assert seen.status_code == 200
    assert "The bed takes its share of the peak for about" in seen.text
    assert "Signs that chips are due" in seen.text
    told = desk.get(f"/job/{BUILT}/renew.json?on={DAY}").json()
    assert told["day"] == DAY
    assert told["left_years"]["p10"] < told["left_years"]["p50"] < told["left_years"]["p90"]
    assert f"/job/{BUILT}/renew/number/renew.life.p50_years?on={DAY}" in seen.text
    opened = desk.get(f"/job/{BUILT}/renew/number/renew.life.p50_years?on={DAY}")
    assert opened.status_code == 200
    assert "Expected hydraulic life" in opened.text
    assert desk.get(f"/job/{BUILT}/renew/number/renew.nothing?on={DAY}").status_code == 404
    memo = desk.get(f"/job/{BUILT}/renew/file/renew.pdf?on={DAY}")
    assert memo.content.startswith(b"%PDF")
    assert desk.get(f"/job/{BUILT}/renew/file/other.pdf?on={DAY}").status_code == 404


@pytest.mark.works(of=(renew.renew,))
def test_what_is_no_day_is_said(desk: TestClient) -> None:
    wrong = desk.get(f"/job/{BUILT}/renew?on=tomorrow")
    assert wrong.status_code == 422
    assert "is no day. Write year-month-day" in wrong.text


@pytest.mark.works(of=(renew.renew, look_day))
def test_without_a_day_the_latest_reading_that_lies_ahead_is_taken(
    desk: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(renew, "date", Before)
    seen = desk.get(f"/job/{BUILT}/renew")
    assert seen.status_code == 200
    assert 'value="2030-05-03"' in seen.text
    assert "The job&#39;s latest reading, of 2030-05-03, lies after today, 2026-11-20:" in seen.text
    assert "2030-05-03 is the day of the look." in seen.text
    assert desk.get(f"/job/{BUILT}/renew.json").json()["day"] == "2030-05-03"
    monkeypatch.setattr(renew, "date", After)
    assert desk.get(f"/job/{BUILT}/renew.json").json()["day"] == "2033-01-02"


@pytest.mark.works(of=(renew.renew,))
def test_a_day_before_the_chips_is_refused_in_words(desk: TestClient) -> None:
    early = desk.get(f"/job/{BUILT}/renew?on=2027-09-30")
    assert early.status_code == 422
    assert "the chips were placed on 2027-10-01" in early.text
    assert "<svg" not in early.text


class Before(date):
    @classmethod
    def today(cls) -> Self:
        return cls(2026, 11, 20)


class After(date):
    @classmethod
    def today(cls) -> Self:
        return cls(2033, 1, 2)
