# SPDX-License-Identifier: Apache-2.0
"""The bid of the desk: as the command has it, with its files, and numbers that open."""

from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from tests.desks import copy_of, desk_of
from tilewater.desk.pages import bid

FARM = "corbel-built"


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("desk")
    copy_of(FARM, made)
    return made


@pytest.fixture(scope="module")
def desk(root: Path) -> TestClient:
    return desk_of(root)


@pytest.mark.works(of=(bid.bid, bid.bid_twin))
def test_the_page_shows_the_bid_and_its_twin_the_record(desk: TestClient):
    page = desk.get(f"/job/{FARM}/bid")
    assert page.status_code == 200
    for words in ("What it costs", "$42,150.50", "Bramley Excavating", "For bidders, prices blank"):
        assert words in page.text
    record = desk.get(f"/job/{FARM}/bid.json").json()
    assert record["bids"]["ranked"] == ["bramley", "alder", "tansy"]
    assert record["estimate"]["total_usd"] == 46365.55


@pytest.mark.works(of=(bid.bid_number,))
def test_a_number_of_the_bid_opens_to_where_it_comes_from(desk: TestClient):
    key = "bid.items.woodchips.amount_usd"
    assert f"/job/{FARM}/bid/number/{key}" in desk.get(f"/job/{FARM}/bid").text
    shown = desk.get(f"/job/{FARM}/bid/number/{key}").text
    assert "quantity x unit price" in shown
    assert f"/job/{FARM}/bid/number/bid.items.woodchips.quantity" in shown
    assert desk.get(f"/job/{FARM}/bid/number/bid.nothing").status_code == 404


@pytest.mark.works(of=(bid.bid_file,))
def test_files_are_made_when_they_are_asked_for(desk: TestClient):
    book = desk.get(f"/job/{FARM}/bid/file/bid.xlsx")
    assert book.content.startswith(b"PK")
    assert book.headers["content-type"] == bid.SHEET
    assert book.headers["content-disposition"].startswith("attachment")
    memo = desk.get(f"/job/{FARM}/bid/file/award-memo.pdf")
    assert memo.content.startswith(b"%PDF")
    assert memo.headers["content-disposition"].startswith("inline")
    assert desk.get(f"/job/{FARM}/bid/file/other.pdf").status_code == 404


@pytest.mark.works(of=(bid.bid, bid.bid_file))
def test_a_changed_bid_is_seen_and_a_fault_in_it_told(desk: TestClient, root: Path):
    file = root / FARM / "bids" / "bramley.csv"
    before = file.read_text(encoding="utf-8")
    file.write_text(before.replace(",38.50,", ",thirty,"), encoding="utf-8")
    page = desk.get(f"/job/{FARM}/bid")
    assert page.status_code == 422
    assert "is no amount of money" in page.text
    assert desk.get(f"/job/{FARM}/bid.json").status_code == 409
    file.write_text(before.replace(",38.50,", ",40.00,"), encoding="utf-8")
    assert desk.get(f"/job/{FARM}/bid.json").json()["bids"]["lowest"] == "alder"
    file.write_text(before, encoding="utf-8")
