# SPDX-License-Identifier: Apache-2.0
"""Papers of a bid: what goes out holds no price, what is for the owner holds every caution."""

import re

import pytest

from tests.bids import built_farm
from tests.pdf import Paper
from tilewater.documents.money.measured import measured_of
from tilewater.documents.money.papers import (
    OnPaper,
    estimate_pdf,
    memo_pdf,
    schedule_pdf,
    tabulation_pdf,
)
from tilewater.documents.pages.bid_page import bid_page
from tilewater.documents.pages.said import Block, Group, Part, Rows, Said
from tilewater.documents.words import Words


def on_paper(system="us") -> OnPaper:
    return OnPaper(built_farm().bid, Words(system), "0")


def read(pdf: bytes) -> str:
    return re.sub(r"\s+", " ", " ".join(Paper(pdf).pages))


@pytest.mark.works(of=(schedule_pdf,))
def test_the_schedule_shows_items_dates_alternates_and_payment_and_no_price():
    text = read(schedule_pdf(on_paper()))
    for words in (
        "Woodchips, neat in place",
        "435 CY",
        "2027-02-18",
        "Alternate geotextile",
        "Prismoid of the media, neat: floor 96.50 ft by 30.00 ft, 3.50 ft deep, sides 1:1",
        "neat in place, between the floor and the top as shot",
        "the unit price governs",
        "No digging before the locate ticket",
    ):
        assert words in text
    assert "$" not in text
    assert "15,660" not in text
    assert "Bramley" not in text


@pytest.mark.works(of=(estimate_pdf,))
def test_the_estimate_shows_price_date_and_source_both_orders_and_the_overruns():
    text = read(estimate_pdf(on_paper()))
    for words in (
        "not for bidders",
        "$46,365.55",
        "2026-02-10",
        "Prices of 2026-02-10: invented for this example (25 items)",
        "Payment schedule for water practices, 2027, 2026-10-01",
        "$6,798.35",
        "$4,198.34",
        "$17,168.87",
        "no cost until it is spent",
    ):
        assert words in text


@pytest.mark.works(of=(tabulation_pdf, memo_pdf))
def test_tabulation_and_memo_say_that_the_order_is_arithmetic_and_the_owner_judges():
    for text in (read(tabulation_pdf(on_paper())), read(memo_pdf(on_paper()))):
        assert "Lowest by arithmetic: Bramley Excavating, $41,983.40" in text
        assert "judgement of the owner" in text
        assert "435 CY at $41.50 is $18,052.50, written $17,052.50" in text
        assert "front-loaded" in text
    assert "awards nothing before it is signed" in read(memo_pdf(on_paper()))


@pytest.mark.works(of=(measured_of,))
def test_every_item_says_how_it_is_measured_and_paid_in_the_units_of_the_reader():
    work = built_farm().bid
    for item in work.items:
        told = measured_of(work.trace, item, Words("us"))
        assert told.paid.endswith(".")
        assert "{" not in told.measured + told.paid
    (chips,) = (item for item in work.items if item.item == "woodchips")
    told = measured_of(work.trace, chips, Words("si"))
    assert "29.413 m by 9.144 m" in told.measured
    assert "cubic yard" in told.paid  # the contract keeps the bid unit


def words_in(part: Part) -> str:
    match part:
        case Said():
            return part.plain
        case Rows():
            return "\n".join(words_in(cell) for line in part.lines for cell in line)
        case Group():
            return "\n".join(words_in(each) for each in part.parts)
        case Block():
            return "\n".join((part.title, part.note, *(words_in(each) for each in part.body)))
        case _:
            return part


@pytest.mark.works(of=(bid_page,))
def test_the_page_shows_all_of_it_and_every_amount_leads_to_its_step():
    work = built_farm().bid
    parts = list(bid_page(work, Words("us")))
    text = "\n".join(words_in(part) for part in parts)
    for words in ("Bids: 3", "Corrected", "Unbalanced", "Who pays", "Owner's cash", "$108 per m3"):
        assert words in text
    keys = [
        run.key
        for part in parts
        if isinstance(part, Block)
        for body in part.body
        if isinstance(body, Rows)
        for line in body.lines
        for cell in line
        if isinstance(cell, Said)
        for run in cell.runs
        if run.words.startswith(("$", "-$"))
    ]
    assert len(keys) > 80
    assert all(key in work.trace for key in keys)
