# SPDX-License-Identifier: Apache-2.0
"""Unit prices: bid units, dates and sources, items known and not."""

from pathlib import Path
from typing import Any

import pytest

from tilewater.basis.errors import BadInputFile
from tilewater.economics.price_items import allowed_units, near_item
from tilewater.job.prices import Price, read_prices
from tools.package import ROOT

PRICES = ROOT / "examples" / "corbel-farm" / "prices.csv"
HEAD = "item,unit,price [USD],date,source\n"
NEVER_FORGOTTEN = (
    "feed-gate",
    "solid-pipe-10-in",
    "anti-seep-collar",
    "temporary-tile-flow",
    "dewatering",
    "topsoil",
    "erosion-control",
    "anchor-concrete",
    "rigid-outlet",
    "corner-post",
    "lid-lock",
    "seeding",
)


def write(tmp_path: Path, *rows: str, head: str = HEAD) -> Path:
    path = tmp_path / "prices.csv"
    path.write_text(head + "".join(f"{row}\n" for row in rows), encoding="utf-8")
    return path


def faults_of(path: Path) -> str:
    with pytest.raises(BadInputFile) as raised:
        read_prices(path)
    return str(raised.value)


def messages(path: Path, **more: Any) -> list[str]:
    return [finding.message for finding in read_prices(path, **more).findings]


@pytest.mark.by_hand(of=read_prices)
def test_prices_per_bid_unit_become_prices_per_si_unit() -> None:
    prices = read_prices(PRICES).prices
    assert prices["woodchips"].price_si == pytest.approx(36.00 / (3 * 0.3048) ** 3)
    assert prices["lining-plastic"].price_si == pytest.approx(3.10 / (3 * 0.3048) ** 2)
    assert prices["solid-pipe-10-in"].price_si == pytest.approx(17.50 / 0.3048)
    assert prices["seeding"].price_si == pytest.approx(1450.00 / (43560 * 0.3048**2))
    assert prices["mobilization"].price_si == prices["mobilization"].price_usd == 1500.00
    assert prices["potholing"].price_si == 140.00


@pytest.mark.works(of=read_prices)
def test_example_prices_what_is_never_forgotten() -> None:
    assert set(NEVER_FORGOTTEN) - set(read_prices(PRICES).prices) == set()
    assert read_prices(PRICES).findings == ()


@pytest.mark.works(of=(read_prices, Price))
def test_price_keeps_its_line_and_takes_the_spelling_of_the_quantities() -> None:
    price = read_prices(PRICES, items=["solid_pipe_8-in"]).prices["solid_pipe_8-in"]
    given = price.given
    assert given.key == "inputs.price.solid_pipe_8-in.usd"
    assert given.title == "Unit price of solid pipe 8 in"
    assert (given.value, given.unit) == (price.price_si, "USD")
    assert str(given.origin) == "prices.csv line 19"
    assert (given.origin.text, given.origin.note) == (
        "13.00 USD/LF",
        "invented for this example, 2026-02-10",
    )


@pytest.mark.works(of=read_prices)
def test_items_without_quantity_or_price_are_reported(tmp_path: Path) -> None:
    path = write(tmp_path, "excavaton,CY,6.25,2022-02-10,letter", "spoil,CY,3,2026-02-10,letter")
    assert messages(path, items=["excavation", "spoil"], year=2026) == [
        "prices.csv line 2: no quantity is called 'excavaton', so this price is not used. "
        "Correct the name, or leave it for later. Did you mean excavation?",
        "No price is given for excavation. Add a row for each, or the total is not known.",
        "Prices more than 2 years older than 2026: excavaton. Ask for new ones.",
    ]


@pytest.mark.works(of=read_prices)
def test_every_fault_is_named_at_once(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        "spoil,CYD,3,2026-02-10,letter",
        "spoil,CY,three,2026-02-10,letter",
        "spoil,CY,-3,2026-02-10,letter",
        "spoil,CY,3,last year,letter",
        "spoil,CY,3,2026-02-10,",
        "spoil,CY,4,2026-02-10,letter",
    )
    assert faults_of(path) == (
        "prices.csv line 2: unit 'CYD' of spoil is no bid unit. Write CY, CF, SY, SF, AC, LF, FT, "
        "LB, TON, M3, M2, HA, M, KG, LS, EA, HR or DAY. Did you mean CY?\n"
        "prices.csv line 3: price 'three' is not a number. "
        "Write digits, with a point for decimals.\n"
        "prices.csv line 4: price -3 of spoil is negative. Write what one CY costs.\n"
        "prices.csv line 5: date 'last year' is not a date. "
        "Write year-month-day, like 2026-05-14.\n"
        "prices.csv line 6: the row has no source. Write it.\n"
        "prices.csv line 7: spoil is priced on line 6 already. Keep one."
    )


@pytest.mark.works(of=read_prices)
def test_money_must_be_named(tmp_path: Path) -> None:
    path = write(
        tmp_path, "spoil,CY,3,2026-02-10,letter", head=HEAD.replace("price [USD]", "price")
    )
    assert faults_of(path) == (
        "prices.csv line 1: the column 'price' does not say in what money. Write price [USD]."
    )


@pytest.mark.works(of=(read_prices, allowed_units))
def test_price_in_a_unit_of_another_dimension_is_a_fault(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        "woodchips,TON,36,2026-02-10,letter",
        "excavation,LS,9000,2026-02-10,letter",
        "backfill,SY,3,2026-02-10,letter",
        "solid_pipe-12-in,EA,400,2026-02-10,letter",
        "lining-clay,CY,4,2026-02-10,letter",
        "potholing,DAY,900,2026-02-10,letter",
        "lid-lock,LS,90,2026-02-10,letter",
        "dewatering,DAY,300,2026-02-10,letter",
    )
    assert faults_of(path) == (
        "prices.csv line 2: woodchips is priced per TON; it is measured in CY. "
        "Write CY, CF or M3.\n"
        "prices.csv line 3: excavation is priced per LS; it is measured in CY. "
        "Write CY, CF or M3.\n"
        "prices.csv line 4: backfill is priced per SY; it is measured in CY. "
        "Write CY, CF or M3.\n"
        "prices.csv line 5: solid_pipe-12-in is priced per EA; it is measured in LF. "
        "Write LF, FT or M.\n"
        "prices.csv line 6: lining-clay is priced per CY; it is measured in SY. "
        "Write SY, SF, AC, M2 or HA.\n"
        "prices.csv line 7: potholing is priced per DAY; it is measured in HR. Write HR.\n"
        "prices.csv line 8: lid-lock is priced per LS; it is measured in EA. Write EA.\n"
        "prices.csv line 9: dewatering is priced per DAY; it is measured in LS. Write LS or EA."
    )


@pytest.mark.works(of=(read_prices, near_item))
def test_item_that_no_bed_has_is_reported_with_the_nearest(tmp_path: Path) -> None:
    path = write(tmp_path, "woodchip,CY,36,2026-02-10,letter", "fence,LF,9,2026-02-10,letter")
    assert messages(path) == [
        "prices.csv line 2: no quantity is called 'woodchip', so this price is not used. "
        "Correct the name, or leave it for later. Did you mean woodchips?",
        "prices.csv line 3: no quantity is called 'fence', so this price is not used. "
        "Correct the name, or leave it for later.",
    ]
