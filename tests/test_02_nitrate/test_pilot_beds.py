# SPDX-License-Identifier: Apache-2.0
"""Pilot beds as the stated defaults predict them, and what the page says of it."""

import math
import re

import pytest

from tilewater.basis.tables import read_table, slug_faults
from tilewater.nitrate.kinetics import outlet_nitrate_zero_order, rate_at_temperature
from tilewater.nitrate.media_rate import rate_at_age
from tilewater.nitrate.removal import default_rates
from tools.package import sources
from tools.pilot_beds import PAGE, page, predictions

AT_LEAST_HALF = 0.5
"""Share of beds within a factor of two below which the defaults would be of no use."""
TABLE = read_table("tilewater.nitrate", "pilot_beds")


@pytest.mark.works(of=())
def test_page_on_pilot_beds_is_fresh() -> None:
    assert PAGE.read_text(encoding="utf-8") == page(), "stale; run: python -m tools.pilot_beds"


@pytest.mark.works(of=())
def test_every_bed_names_a_source_that_was_read() -> None:
    assert slug_faults(TABLE) == ()
    assert len(TABLE.rows) == 22
    assert {sources()[key]["seen"] for key in TABLE.texts("source_key")} == {"read"}
    assert {*TABLE.texts("temperature_seen"), *TABLE.texts("years_seen")} == {"assumed", "given"}
    assert set(TABLE.texts("anchor")) == {"yes", "no"}


@pytest.mark.by_hand(of=(default_rates, rate_at_temperature, rate_at_age))
def test_share_within_a_factor_of_two_is_what_the_page_says() -> None:
    near = independent = 0
    for row in TABLE.rows:
        years, warm = row.number("years"), 2.15 ** ((row.number("temperature") - 15) / 10)
        rate = 6 * warm * (1 + 1.2 * math.exp(-years / 0.5)) * 0.985**years
        if row.is_given("retention"):
            removed = rate / 0.61 * row.number("retention") / 24
            ours = 100 * min(1, removed / row.number("inflow"))
            measured = row.number("removed")
        else:
            ours = rate
            measured = (
                row.number("rate")
                if row.is_given("rate")
                else math.sqrt(row.number("rate_low") * row.number("rate_high"))
            )
        is_near = 0.5 <= ours / measured <= 2
        near += is_near
        independent += is_near and row.text("anchor") == "no"
    text = PAGE.read_text(encoding="utf-8")
    said = dict(
        re.findall(r"^\| (all|the others) \|.*\| (\d+) of \d+ \| \d+ of \d+ \|$", text, re.M)
    )

    assert said == {"all": str(near), "the others": str(independent)}
    others = TABLE.texts("anchor").count("no")
    assert near / len(TABLE.rows) >= AT_LEAST_HALF
    assert independent / others >= AT_LEAST_HALF


@pytest.mark.by_hand(of=(outlet_nitrate_zero_order, default_rates))
def test_beds_with_retention_and_inflow_are_predicted_within_a_factor_of_two() -> None:
    known = [each for each in predictions() if each.row.is_given("retention")]

    assert len(known) == 7
    assert all(each.is_near for each in known)
    assert all(each.is_in_range for each in known)


@pytest.mark.works(of=())
def test_beds_that_are_missed_are_named_on_the_page() -> None:
    meaning = PAGE.read_text(encoding="utf-8").partition("## What it means")[2]
    missed = [each.row.text("place") for each in predictions() if not each.is_near]

    assert len(missed) == 8
    assert all(place in meaning for place in missed)
