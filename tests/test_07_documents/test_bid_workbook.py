# SPDX-License-Identifier: Apache-2.0
"""The workbook of a bid: its values as written, and as a spreadsheet program works its formulas.

The spreadsheet program gets the file without our values, so that it must work each formula itself.
"""

import shutil
import subprocess
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from tests.bids import BUILT, built_farm, folder_with
from tilewater.chain.bid import BidWork
from tilewater.documents.money.book import Book, safe_text
from tilewater.documents.money.geometry import FORMULAS, Geometry
from tilewater.documents.money.live import (
    Live,
    as_bid,
    half_up,
    live,
    rounded,
    sum_if_whole,
    where_all_numbers,
)
from tilewater.documents.money.workbook import schedule_workbook, workbook
from tilewater.documents.words import Words
from tilewater.tasks.bidding import bid_job
from tools.package import ROOT

CLOSE = 1e-9
"""Both work in binary floating point; sums of a long column may differ in the last bits."""
MERRIDEW = ROOT / "examples" / "merridew-farm"


def cells_of(content: bytes, *, values: bool) -> dict[tuple[str, str], Any]:
    book = load_workbook(BytesIO(content), data_only=values)
    return {
        (sheet.title, cell.coordinate): cell.value
        for sheet in book.worksheets
        for row in sheet.iter_rows()
        for cell in row
        if cell.value is not None
    }


def formulas_of(content: bytes) -> dict[tuple[str, str], str]:
    every = cells_of(content, values=False)
    return {at: f for at, f in every.items() if isinstance(f, str) and f.startswith("=")}


@pytest.fixture(scope="module")
def soffice(tmp_path_factory: pytest.TempPathFactory) -> Callable[[bytes], bytes]:
    """Work every formula of a workbook anew in a spreadsheet program."""
    program = shutil.which("soffice")
    if program is None:
        pytest.skip(
            "no soffice on this machine; install libreoffice-calc to work the formulas anew"
        )
    folder = tmp_path_factory.mktemp("calc")

    def worked(content: bytes) -> bytes:
        bare = folder / "bare.xlsx"
        load_workbook(BytesIO(content)).save(bare)  # formulas alone, no values of ours
        subprocess.run(
            [
                program,
                "--headless",
                "--norestore",
                f"-env:UserInstallation={(folder / 'profile').as_uri()}",
                "--convert-to",
                "xlsx:Calc MS Excel 2007 XML",
                "--outdir",
                str(folder / "out"),
                str(bare),
            ],
            check=True,
            capture_output=True,
            timeout=120,
        )
        return (folder / "out" / "bare.xlsx").read_bytes()

    return worked


def assert_same(ours: bytes, theirs: bytes) -> int:
    """Every formula comes to the same in both; how many there are."""
    mine, other = cells_of(ours, values=True), cells_of(theirs, values=True)
    formulas = formulas_of(ours)
    for at, formula in formulas.items():
        a, b = mine.get(at, ""), other.get(at, "")
        if isinstance(a, int | float) and isinstance(b, int | float):
            assert a == pytest.approx(b, rel=CLOSE, abs=CLOSE), (at, formula)
        else:
            assert a == b, (at, formula)
    return len(formulas)


def of_example(folder: Path) -> BidWork:
    return bid_job(folder, date(2027, 3, 1)).bid


@pytest.mark.oracle("LibreOffice Calc 7.4", of=(workbook, Live, rounded, as_bid, sum_if_whole))
@pytest.mark.parametrize("system", ["us", "si"])
def test_a_spreadsheet_program_works_every_formula_of_a_bed_to_our_values(
    soffice: Callable[[bytes], bytes], system: Any
):
    ours = workbook(built_farm().bid, Words(system), "0")
    assert assert_same(ours, soffice(ours)) > 400


@pytest.mark.oracle("LibreOffice Calc 7.4", of=(workbook, Geometry.formula))
def test_a_spreadsheet_program_works_every_formula_of_a_buffer_to_our_values(
    soffice: Callable[[bytes], bytes],
):
    ours = workbook(of_example(MERRIDEW), Words("us"), "0")
    assert assert_same(ours, soffice(ours)) > 80


@pytest.mark.oracle("LibreOffice Calc 7.4", of=(workbook, where_all_numbers))
def test_a_spreadsheet_program_knows_no_more_than_we_do_of_a_bid_that_is_not_whole(
    soffice: Callable[[bytes], bytes], tmp_path: Path
):
    row = "woodchips,CY,36.00,2026-02-10,invented for this example\n"
    folder = folder_with(
        tmp_path,
        prices__csv=(row, ""),
        job__toml=('contingency = "10 %"', 'contingency = "unknown"'),
        bids_bramley__csv=(",CY,435,38.50,16747.50", ",CY,435,,"),
        bids_alder__csv=("$33.00", ""),
        bids_tansy__csv=("41.50,17052.50", ","),
    )
    ours = workbook(of_example(folder), Words("us"), "0")
    assert assert_same(ours, soffice(ours)) > 300
    values = cells_of(ours, values=True)
    assert "not known" in {v for at, v in values.items() if at[0] == "Funding"}


@pytest.mark.oracle("LibreOffice Calc 7.4", of=(workbook,))
def test_a_changed_dimension_moves_quantity_amount_bids_and_shares(
    soffice: Callable[[bytes], bytes],
):
    # chips 4.0 ft deep in place of 3.5: 4 / 6 (2,895 + 4 x 3,417 + 3,971) / 27 = 507.0 CY
    ours = workbook(built_farm().bid, Words("us"), "0")
    book = load_workbook(BytesIO(ours))
    sheet = book["Quantities"]
    (cell,) = (row[1] for row in sheet.iter_rows() if row[0].value == "Depth of the media")
    assert 3.5 == pytest.approx(cell.value)
    cell.value = 4.0
    changed = BytesIO()
    book.save(changed)
    theirs = cells_of(soffice(changed.getvalue()), values=True)
    areas = [(96.5 + 2 * h) * (30.0 + 2 * h) for h in (0.0, 2.0, 4.0)]
    chips = round(4.0 * (areas[0] + 4 * areas[1] + areas[2]) / 6.0 / 27.0)
    assert 507 == chips
    before, after = (
        {at: v for at, v in each.items() if at[0] in ("Estimate", "Bids", "Funding")}
        for each in (cells_of(ours, values=True), theirs)
    )
    (row,) = (at[1][1:] for at, v in after.items() if at[0] == "Estimate" and v == "woodchips")
    assert chips == after["Estimate", f"C{row}"]
    assert chips * 36.0 == after["Estimate", f"F{row}"]
    moved = {at for at, v in after.items() if before.get(at) != v}
    assert {"Estimate", "Bids", "Funding"} == {sheet for sheet, _ in moved}
    # the 10 % more chips that would turn the order have come: another bid is lowest now
    lowest = [at for at, v in after.items() if at[0] == "Bids" and v == "lowest"]
    assert lowest != [at for at, v in before.items() if at[0] == "Bids" and v == "lowest"]


@pytest.mark.works(of=(workbook,))
def test_values_stand_in_the_file_for_viewers_that_work_nothing():
    done = built_farm()
    ours = workbook(done.bid, Words("us"), "0")
    values, formulas = cells_of(ours, values=True), formulas_of(ours)
    assert {"About", "Quantities", "Estimate", "Bid schedule", "Bids", "Funding"} == {
        sheet for sheet, _ in values
    }
    shown = {values[at] for at in formulas if at in values}
    record = done.record
    for amount in (
        record["estimate"]["total_usd"],
        record["bids"]["bidders"]["tansy"]["total_usd"],
        record["alternates"]["geotextile"]["total_usd"],
        record["funding"]["orders"]["county-then-state"]["over-25"]["owner_usd"],
    ):
        assert amount in shown
    for item in record["items"]:
        assert item["quantity"] in {v for at, v in values.items() if at[0] == "Quantities"}


@pytest.mark.works(of=(schedule_workbook,))
def test_the_sheet_for_bidders_holds_no_price_and_works_once_it_is_filled_in():
    content = schedule_workbook(built_farm().bid, Words("us"))
    values = cells_of(content, values=True)
    assert {"Bid schedule"} == {sheet for sheet, _ in values}
    numbers = [v for v in values.values() if isinstance(v, int | float)]
    assert 26 == len(numbers)  # quantities: 25 items and one of the alternate
    assert len(formulas_of(content)) == 26 + 2


@pytest.mark.works(of=(workbook,))
def test_an_estimate_with_a_price_missing_says_so_in_place_of_a_total(tmp_path: Path):
    row = "feed-gate,EA,780.00,2026-02-10,invented for this example\n"
    work = of_example(folder_with(tmp_path, prices__csv=(row, "")))
    values = cells_of(workbook(work, Words("us"), "0"), values=True)
    assert "not known" in {v for at, v in values.items() if at[0] == "Estimate"}
    assert "no price" in values.values()


@pytest.mark.works(of=(safe_text, Book))
@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "=HYPERLINK(1)"])
def test_no_text_becomes_a_formula(text: str):
    assert "'" + text == safe_text(text)
    work = replace(built_farm().bid, title=text)
    plain = formulas_of(workbook(built_farm().bid, Words("us"), "0"))
    assert plain == formulas_of(workbook(work, Words("us"), "0"))


@pytest.mark.law(of=(workbook,))
def test_the_same_bid_gives_the_same_cells():
    first, second = (workbook(built_farm().bid, Words("us"), "0") for _ in range(2))
    assert cells_of(first, values=False) == cells_of(second, values=False)


@pytest.mark.by_hand(of=(Live, half_up, as_bid))
def test_formulas_keep_their_brackets_and_round_as_on_paper():
    a, b, c = (Live(name, value) for name, value in (("A1", 8.0), ("A2", 3.0), ("A3", 2.0)))
    assert ("A1-(A2-A3)", 7.0) == ((a - (b - c)).text, (a - (b - c)).value)
    assert ("(A1+A2)*A3", 22.0) == (((a + b) * c).text, ((a + b) * c).value)
    assert ("A1/(A2*A3)", 8.0 / 6.0) == ((a / (b * c)).text, (a / (b * c)).value)
    assert ("A1+A2+A3", 13.0) == ((a + b + c).text, (a + b + c).value)
    assert [0.13, -0.13, 63.2] == [half_up(0.125, 2), half_up(-0.125, 2), half_up(63.15, 1)]
    assert [435.0, 0.222, 0.0] == [as_bid(live(v)).value for v in (434.79, 0.2222, 0.0)]


@pytest.mark.works(of=(Geometry.take,))
def test_every_quantity_that_is_worked_has_its_formula():
    trace = built_farm().bid.trace
    worked = {
        trace.steps[f"quantities.{name}.quantity"].function
        for name in trace.names("quantities")
        if f"quantities.{name}.quantity" in trace
    }
    assert worked - {""} <= set(FORMULAS)
    assert BUILT.is_dir()
