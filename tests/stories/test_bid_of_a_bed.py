# SPDX-License-Identifier: Apache-2.0
"""From the schedule that goes out to the bids that come back, through the command line."""

import csv
import io
import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from tests.bids import folder_with
from tilewater.cli.bid_verb import bid
from tilewater.cli.main import app

pytestmark = pytest.mark.works(of=(bid,))
ON = ("--on", "2027-03-01")


def run(*words: object):
    return CliRunner().invoke(app, ["bid", *map(str, words)])


def test_a_schedule_that_comes_back_filled_in_is_a_bid_like_the_others(tmp_path: Path):
    folder = folder_with(tmp_path)
    done = run(folder, *ON)
    assert done.exit_code == 0, done.output
    sent = (folder / "results" / "bid-schedule.csv").read_text(encoding="utf-8")
    head, *rows = csv.reader(io.StringIO(sent))
    asked = json.loads((folder / "results" / "bid.json").read_text(encoding="utf-8"))
    prices = {item["item"]: item["price_usd"] for item in asked["items"]}
    filled = [[*row[:5], f"{prices.get(row[1], 2.0):.2f}" if row[4] else "", ""] for row in rows]
    with (folder / "bids" / "corbin.csv").open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([head, *filled])
    job = folder / "job.toml"
    text = job.read_text(encoding="utf-8")
    job.write_text(
        text + '\n[bidder.corbin]\nname = "Corbin Tile"\nfile = "bids/corbin.csv"\n', "utf-8"
    )
    told = run(folder, *ON, "--json", "--no-papers")
    assert told.exit_code == 0
    record = json.loads(told.stdout)
    corbin = record["bids"]["bidders"]["corbin"]
    assert corbin["total_usd"] == record["estimate"]["subtotal_usd"]
    assert corbin["beside_estimate"] == 0.0


def test_the_page_names_the_low_bid_and_explain_opens_its_total(tmp_path: Path):
    folder = folder_with(tmp_path)
    page = run(folder, *ON, "--no-papers")
    assert "Bramley Excavating" in page.stdout
    assert "lowest" in page.stdout
    opened = run(folder, *ON, "--explain", "funding.as-planned.county-then-state.owner_usd")
    assert "owner = cost - sum of the payments" in opened.stdout
    assert "$6,798.35" in opened.stdout


def test_exits_tell_a_done_bid_from_a_short_one_and_from_a_fault(tmp_path: Path):
    folder = folder_with(tmp_path)
    job, text = folder / "job.toml", (folder / "job.toml").read_text(encoding="utf-8")
    job.write_text(text.replace('"2027-09-20"', '"2027-02-20"'), encoding="utf-8")
    assert run(folder, *ON, "--no-papers").exit_code == 1
    job.write_text(text, encoding="utf-8")
    assert run(folder, "--on", "spring").exit_code == 2
