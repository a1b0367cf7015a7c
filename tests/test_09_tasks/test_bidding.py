# SPDX-License-Identifier: Apache-2.0
"""A design bid: the built farm with its three bids and two sources, and what is asked of it."""

from decimal import Decimal
from pathlib import Path

import pytest

from tests.bids import DAY, built_farm, folder_with
from tilewater.basis.errors import BadInputFile
from tilewater.chain.bid_alternates import add_alternates, add_change
from tilewater.chain.bid_funding import add_funding, sources_of
from tilewater.chain.bid_items import add_schedule
from tilewater.chain.bid_looks import add_crossings, add_trial, unbalanced_of
from tilewater.chain.bid_tab import add_tab, errors_of
from tilewater.documents.pages.bid_page import bid_page
from tilewater.documents.pages.said import Block, Said
from tilewater.documents.words import Words
from tilewater.tasks.bid_inputs import alternates_of, bid_files_of, require_sources
from tilewater.tasks.bid_papers import bid_files, schedule_text, write_bid
from tilewater.tasks.bid_record import bid_record
from tilewater.tasks.bidding import bid_design, bid_job
from tilewater.tasks.checking import check_job
from tilewater.tasks.inspection import Inspection
from tilewater.tasks.later_files import check_every_file


def value(key: str) -> Decimal:
    return built_farm().bid.trace.value(key)


@pytest.mark.works(of=(add_schedule, bid_design))
def test_every_quantity_that_is_paid_is_in_one_item_with_the_digits_of_the_sheets():
    work = built_farm().bid
    words = Words("us")
    counted = [name for item in work.items for name in item.counted]
    assert len(counted) == len(set(counted))
    listed = {
        name
        for name in work.trace.names("quantities")
        if f"quantities.{name}.quantity" in work.trace
    }
    assert listed - {"chips-order", "end-cap"} == set(counted)
    alone = {i.item: i for i in work.items if len(i.counted) == 1 and i.unit in ("CY", "SY", "LF")}
    assert {"excavation", "woodchips", "lining-plastic"} <= set(alone)
    for item in alone.values():
        measured = work.trace.steps[f"quantities.{item.counted[0]}.quantity"]
        assert words.quantity(measured.value, measured.unit) == f"{value(item.quantity):,f}"


@pytest.mark.by_hand(of=(add_schedule,))
def test_pipes_of_one_size_are_one_item():
    # feed 20.35, bed to outlet 20.80, return 22.00 ft
    assert Decimal("63.2") == value("bid.items.solid-pipe-8-in.quantity")  # 63.15, a half goes up
    assert Decimal("821.60") == value("bid.items.solid-pipe-8-in.amount_usd")  # 63.2 x 13.00


@pytest.mark.by_hand(of=(add_schedule, bid_record))
def test_the_estimate_is_the_sum_of_its_rounded_amounts():
    record = built_farm().record
    amounts = [Decimal(str(item["amount_usd"])) for item in record["items"]]
    assert sum(amounts) == Decimal(str(record["estimate"]["subtotal_usd"]))
    for item in record["items"]:
        product = Decimal(str(item["quantity"])) * Decimal(str(item["price_usd"]))
        assert abs(product - Decimal(str(item["amount_usd"]))) <= Decimal("0.005")
        assert item["price_date"] == "2026-02-10"
    assert value("bid.contingency_usd") == Decimal("4215.05")  # a tenth of 42,150.50
    assert value("bid.total_usd") == Decimal("46365.55")


@pytest.mark.works(of=(add_schedule,))
def test_an_item_without_a_price_stays_in_the_list_and_the_total_is_not_known(tmp_path: Path):
    row = "feed-gate,EA,780.00,2026-02-10,invented for this example\n"
    folder = folder_with(tmp_path, prices__csv=(row, ""))
    bidding = bid_job(folder, DAY)
    (gate,) = (item for item in bidding.record["items"] if item["item"] == "feed-gate")
    assert gate["price_usd"] is None
    assert gate["amount_usd"] is None
    assert bidding.record["estimate"]["subtotal_usd"] is None
    assert 42150.50 - 780.00 == bidding.record["estimate"]["priced_usd"]
    (told,) = (each for each in bidding.findings if each.code == "bid-no-price")
    assert "feed-gate" in told.message
    assert "until each has its price in the price book, prices.csv." in told.message
    assert list(bid_page(bidding.bid, Words("si")))  # the page stands without the price too
    assert not bidding.fails


@pytest.mark.works(of=(bid_page,))
@pytest.mark.parametrize(("system", "is_told"), [("us", False), ("si", True)])
def test_a_reader_of_metres_is_told_that_bids_stay_in_units_of_the_trade(system, is_told):
    bidding = built_farm()
    blocks = [each for each in bid_page(bidding.bid, Words(system)) if isinstance(each, Block)]
    told = [each.plain for each in blocks[0].body if isinstance(each, Said)]
    assert any("units of the trade" in each for each in told) == is_told


@pytest.mark.by_hand(of=(add_tab, errors_of))
def test_the_wrong_extension_is_corrected_and_moves_its_total():
    # 435 x 41.50 = 18,052.50; written 17,052.50, total 45,190.23
    work = built_farm().bid
    assert Decimal("18052.50") == value("bids.tansy.items.woodchips.amount_usd")
    assert Decimal("-1000.00") == value("bids.tansy.items.woodchips.error_usd")
    assert Decimal("46190.23") == value("bids.tansy.total_usd")
    assert work.tab is not None
    wrong = [(bid.name, item and item.item) for bid, item, _ in errors_of(work.trace, work.tab)]
    assert [("tansy", "woodchips"), ("tansy", None)] == wrong
    assert ("bramley", "alder", "tansy") == work.tab.ranked(work.trace)


@pytest.mark.by_hand(of=(unbalanced_of, add_crossings, add_trial))
def test_front_loading_and_what_a_quantity_would_turn_are_pointed_out():
    work = built_farm().bid
    (only,) = work.unbalanced
    assert ("alder", "mobilization", True) == (only.bid.name, only.item.item, only.is_front_loaded)
    assert Decimal("4.000") == value("bids.alder.items.mobilization.ratio_to_estimate")
    # (42,152.38 - 41,983.40) / (38.50 - 33.00) = 168.98 / 5.50 = 30.724 CY
    assert work.crossings[0].item.item == "woodchips"
    assert Decimal("30.724") == value("bid.crossing.alder.woodchips.change")
    assert {"CY", "SY", "LF", "AC"} >= {crossing.item.unit for crossing in work.crossings}
    # 43.5 CY more: 41,983.40 + 43.5 x 38.50 and 42,152.38 + 43.5 x 33.00
    assert Decimal("43658.15") == value("bid.trial.woodchips.bramley_usd")
    assert Decimal("43587.88") == value("bid.trial.woodchips.alder_usd")
    assert "alder" == work.trial[0]


@pytest.mark.by_hand(of=(add_alternates, add_change, alternates_of))
def test_an_alternate_changes_base_and_bids_and_may_turn_their_order():
    # 538 SY at 2.40 in place of 538 SY at 3.10
    assert Decimal("-376.60") == value("bid.alternates.geotextile.change_usd")
    assert Decimal("41641.28") == value("bids.alder.alternates.geotextile.total_usd")
    assert "alternate-turns-order" in {finding.code for finding in built_farm().findings}


@pytest.mark.works(of=(bid_job,))
def test_an_alternate_that_is_taken_is_compared_and_paid_for(tmp_path: Path):
    folder = folder_with(tmp_path, job__toml=("good_for = 45\n", 'take = ["geotextile"]\n'))
    bidding = bid_job(folder, DAY)
    assert "alder" == bidding.bid.low
    assert 41641.28 == bidding.record["funding"]["cost_usd"]
    assert 41641.28 == bidding.record["bids"]["bidders"]["alder"]["compared_usd"]


@pytest.mark.works(of=(bid_job,))
def test_a_bid_that_the_owner_sets_aside_stays_in_the_table_and_out_of_the_order(tmp_path: Path):
    new = 'received = "2027-02-16"\nset_aside = "no signature"'
    folder = folder_with(tmp_path, job__toml=('received = "2027-02-16"', new))
    bidding = bid_job(folder, DAY)
    assert "alder" == bidding.bid.low
    assert {"bramley": "no signature"} == bidding.record["bids"]["set_aside"]
    assert 41983.40 == bidding.record["bids"]["bidders"]["bramley"]["total_usd"]


@pytest.mark.works(of=(bid_job,))
def test_a_bid_that_is_not_whole_is_not_ranked(tmp_path: Path):
    folder = folder_with(tmp_path, bids_bramley__csv=(",CY,435,38.50,16747.50", ",CY,435,,"))
    bidding = bid_job(folder, DAY)
    assert ["bramley"] == bidding.record["bids"]["not_whole"]
    assert "alder" == bidding.bid.low
    assert "bid-item-missing" in {finding.code for finding in bidding.findings}


@pytest.mark.by_hand(of=(add_funding, sources_of))
def test_both_orders_of_the_sources_add_up_to_the_low_bid():
    # county 435 CY x 34.00 = 14,790.00; state 75 % of the rest, at most 24,000 and at most 90 % of
    # the lesser of 41,983.40 and 42,150.50 together with the county
    first = "funding.as-planned.county-then-state"
    assert Decimal("20395.05") == value(f"{first}.state.paid_usd")  # 0.75 x 27,193.40
    assert Decimal("6798.35") == value(f"{first}.owner_usd")
    other = "funding.as-planned.state-then-county"
    assert Decimal("24000.00") == value(f"{other}.state.paid_usd")
    assert Decimal("13785.06") == value(f"{other}.county.paid_usd")  # 37,785.06 - 24,000
    assert Decimal("4198.34") == value(f"{other}.owner_usd")
    work = built_farm().bid
    for case in ("as-planned", "over-10", "over-25"):
        for order in work.orders:
            paid = [value(order.paid(case, name)) for name in order.sources]
            assert value(f"funding.{case}.cost_usd") == value(order.owner(case)) + sum(paid)


@pytest.mark.by_hand(of=(add_funding, sources_of))
def test_a_source_counts_its_own_items_and_may_pay_the_contractor(tmp_path: Path):
    old = 'percent = "75 %"\n'
    new = f'{old}eligible = ["woodchips", "cover-fabric"]\nnot_eligible = ["cover-fabric"]\n'
    folder = folder_with(tmp_path, job__toml=(old, f'{new}pays_to = "contractor"\n'))
    trace = bid_job(folder, DAY).bid.trace
    first = "funding.as-planned.county-then-state"
    # chips of the low bid 435 x 38.50 = 16,747.50; the county pays 14,790.00 of them before
    assert Decimal("16747.50") == trace.value("funding.eligible.state_usd")
    assert Decimal("1468.13") == trace.value(f"{first}.state.asked_usd")  # 0.75 x 1,957.50, up
    # its ceiling, 90 % of 16,747.50, holds over both: 15,072.75 - 14,790.00
    assert Decimal("15072.75") == trace.value("funding.as-planned.ceiling_usd")
    assert Decimal("282.75") == trace.value(f"{first}.state.paid_usd")
    assert Decimal("41700.65") == trace.value("funding.cash.bill_usd")  # 41,983.40 - 282.75


@pytest.mark.by_hand(of=(add_funding, sources_of))
def test_a_ceiling_may_be_of_the_whole_cost(tmp_path: Path):
    old = 'percent = "75 %"\n'
    new = f'{old}eligible = ["woodchips"]\nceiling_of = "whole cost"\n'
    trace = bid_job(folder_with(tmp_path, job__toml=(old, new)), DAY).bid.trace
    assert Decimal("37785.06") == trace.value("funding.as-planned.ceiling_usd")  # 0.9 x 41,983.40
    paid = "funding.as-planned.county-then-state.state.paid_usd"
    assert Decimal("1468.13") == trace.value(paid)


@pytest.mark.works(of=(bid_design,))
def test_a_design_that_does_not_fit_is_bid_for_comparison_only(tmp_path: Path):
    folder = folder_with(tmp_path, job__toml=('width_bottom = "30 ft"', 'width_bottom = "6 ft"'))
    bidding = bid_job(folder, DAY)
    assert bidding.fails
    assert "bid-design-short" in {finding.code for finding in bidding.findings}


@pytest.mark.works(of=(bid_design,))
def test_work_before_a_contract_of_funding_falls_short(tmp_path: Path):
    folder = folder_with(
        tmp_path, job__toml=('work_from = "2027-09-20"', 'work_from = "2027-03-01"')
    )
    bidding = bid_job(folder, DAY)
    assert bidding.fails
    (told,) = (each for each in bidding.findings if each.severity == "fails")
    assert "not before 2027-03-05" in told.message


@pytest.mark.works(of=(require_sources, alternates_of))
@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('pays = "percent"\n', "", "does not say how it pays"),
        ('percent = "75 %"\n', "", "gives no percent"),
        ('item = "woodchips"\n', 'item = "woodchip"\n', "'woodchip' is no item of this bid"),
        ('unit = "CY"\n', 'unit = "TON"\n', "woodchips is bid per CY"),
        ("lining-plastic: lining-geotextile", "lining: x", "'lining' is no item of this bid"),
        ("lining-plastic: lining-geotextile", "lining-plastic", "names one item"),
        ("good_for = 45\n", 'take = ["fabric"]\n', "there is no alternate 'fabric'"),
    ],
)
def test_a_source_or_alternate_that_is_not_whole_is_a_fault(tmp_path: Path, old, new, words):
    folder = folder_with(tmp_path, job__toml=(old, new))
    with pytest.raises(BadInputFile) as error:
        bid_job(folder, DAY)
    assert words in str(error.value)


@pytest.mark.works(of=(bid_files_of,))
def test_check_reads_the_bids_and_says_which_cannot_be_read(tmp_path: Path):
    folder = folder_with(tmp_path, bids_alder__csv=("Item,Qty,Unit,Unit Price", "A,B,C,D"))
    with pytest.raises(BadInputFile, match=r"alder\.csv: no row names the columns"):
        check_every_file(folder)


@pytest.mark.works(of=(write_bid, bid_files))
def test_a_job_without_bids_and_sources_is_bid_too(tmp_path: Path):
    text = (folder_with(tmp_path) / "job.toml").read_text(encoding="utf-8")
    head, _, rest = text.partition("\n[bid]\n")
    kept = rest.partition('contract_signed = "2027-03-05"\n')[2]
    (tmp_path / "job" / "job.toml").write_text(head + "\n" + kept, encoding="utf-8")
    bidding = bid_job(tmp_path / "job", DAY)
    assert bidding.bid.tab is None
    assert bidding.record["funding"] is None
    written = write_bid(bidding, Words("us"), tmp_path / "out")
    assert not written.troubles
    assert "bid-tabulation.pdf" not in written.files
    assert {"bid.json", "bid.xlsx", "bid-schedule.pdf", "bid-estimate.pdf"} <= set(written.files)


@pytest.mark.works(of=(schedule_text,))
def test_the_schedule_for_bidders_holds_no_price():
    text = schedule_text(built_farm())
    lines = text.splitlines()
    assert 1 + 25 + 1 + 1 == len(lines)
    assert all(line.endswith(",,") for line in lines[1:])
    assert "2450" not in text


@pytest.mark.works(of=(schedule_text,))
def test_words_of_an_own_item_are_no_formula_for_who_opens_the_schedule(tmp_path: Path):
    old = "[alternate.geotextile]"
    new = f'[bid_item.stone]\ntitle = "=1+1"\nquantity = 40\nunit = "TON"\n\n{old}'
    bidding = bid_job(folder_with(tmp_path, job__toml=(old, new)), DAY)
    assert "base,stone,'=1+1,TON,40,," in schedule_text(bidding)
    (stone,) = (item for item in bidding.record["items"] if item["item"] == "stone")
    assert (40.0, "TON", None) == (stone["quantity"], stone["unit"], stone["price_usd"])


@pytest.mark.law(of=(bid_design,))
def test_tables_of_the_bid_change_nothing_of_the_design(tmp_path: Path):
    text = (folder_with(tmp_path) / "job.toml").read_text(encoding="utf-8")
    with_them = Inspection(check_job(tmp_path / "job"), DAY)
    head, _, rest = text.partition("\n[bid]\n")
    kept = rest.partition('contract_signed = "2027-03-05"\n')[2]
    (tmp_path / "job" / "job.toml").write_text(head + "\n" + kept, encoding="utf-8")
    without = Inspection(check_job(tmp_path / "job"), DAY)
    assert [each.key for each in with_them.job.unknown] == [
        each.key for each in without.job.unknown
    ]
    assert with_them.design.verdict == without.design.verdict
    for key in ("cost.total_usd", "cost.annual_usd", "quantities.woodchips.quantity"):
        assert with_them.design.trace.value(key) == without.design.trace.value(key)
