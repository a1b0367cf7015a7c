# SPDX-License-Identifier: Apache-2.0
"""Renewal in the desk: the page of a day, its twin, where a number comes from, the memo."""

import pytest
from fastapi.testclient import TestClient

from tests.desks import copy_of, desk_of
from tilewater.desk.pages import renew

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
