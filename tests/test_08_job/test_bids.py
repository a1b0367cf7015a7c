# SPDX-License-Identifier: Apache-2.0
"""Bids as they come back: tolerant of their form, strict with their numbers."""

from decimal import Decimal
from pathlib import Path

import pytest
from openpyxl import Workbook

from tilewater.basis.errors import BadInputFile
from tilewater.job.bid_files import bid_rows
from tilewater.job.bids import Asked, Schedule, blank_schedule, lines_of_bid, read_bid

SCHEDULE = Schedule(
    {
        "mobilization": Asked("Mobilization", "LS", Decimal(1)),
        "woodchips": Asked("Woodchips, neat in place", "CY", Decimal(435)),
        "seeding": Asked("Ground to seed and mulch", "AC", Decimal("0.222")),
    },
    {"geotextile": {"lining-geotextile": Asked("Lining geotextile", "SY", Decimal(538))}},
)
WHOLE = "item,unit price,amount\nmobilization,1500,1500\nwoodchips,36,15660\nseeding,1450,321.90\n"


def bid_of(tmp_path: Path, text: str):
    file = tmp_path / "bid.csv"
    file.write_text(text, encoding="utf-8")
    return read_bid(file, SCHEDULE, name="alder", title="Alder Creek Dirtworks")


@pytest.mark.works(of=(read_bid,))
def test_titles_dollar_signs_and_other_orders_of_columns_are_taken_as_they_are(tmp_path: Path):
    bid, notes = bid_of(
        tmp_path,
        "Alder Creek Dirtworks,,,\n"
        "Unit Price,Bid item,Qty,Extension\n"
        '"$1,500.00",MOBILIZATION,1,"$1,500.00"\n'
        '36.,"Woodchips, neat in place",435,15660\n'
        "1450,seeding,0.222,321.90\n"
        '"",Total,,"$17,481.90"\n',
    )
    assert ["bid-item-missing"] == [note.code for note in notes]
    assert "total with that alternate is not known" in notes[0].message
    assert Decimal("1500.00") == bid.lines["mobilization"].price
    assert Decimal(36) == bid.lines["woodchips"].price
    assert Decimal("17481.90") == bid.total


@pytest.mark.works(of=(read_bid,))
@pytest.mark.parametrize(
    ("old", "new", "code", "words"),
    [
        ("woodchips,36,15660\n", "", "bid-item-missing", "no unit price for woodchips"),
        ("woodchips,36,15660", "woodchips,no bid,", "bid-item-missing", "woodchips"),
        ("seeding,", "fence,12,120\nseeding,", "bid-item-extra", "'fence' on line 4"),
    ],
)
def test_what_departs_from_the_schedule_is_told(tmp_path: Path, old, new, code, words):
    _, notes = bid_of(tmp_path, WHOLE.replace(old, new))
    (note,) = (note for note in notes if note.code == code and "geotextile" not in note.message)
    assert words in note.message


@pytest.mark.works(of=(read_bid,))
def test_a_changed_quantity_is_told_and_another_unit_is_no_price(tmp_path: Path):
    bid, notes = bid_of(
        tmp_path,
        "item,quantity,unit,unit price\nmobilization,1,LS,1500\nwoodchips,400,CY,36\n"
        "seeding,0.222,SY,0.30\n",
    )
    told = {note.code: note.message for note in notes}
    assert "woodchips 400 for 435 CY" in told["bid-quantity-changed"]
    assert "per SY" in told["bid-unit-changed"]
    assert Decimal(36) == bid.lines["woodchips"].price
    assert bid.lines["seeding"].price is None


@pytest.mark.works(of=(read_bid,))
@pytest.mark.parametrize(
    ("text", "words"),
    [
        (WHOLE.replace("36,", "thirty-six,"), "unit price 'thirty-six' is no amount of money"),
        (WHOLE.replace("36,", "-36,"), "'-36' is no amount of money"),
        (WHOLE.replace("36,", "'=1+1',"), "is no amount of money"),
        (WHOLE + "woodchips,35,15225\n", "woodchips is priced on line 3 already"),
        ("what,price per\nmobilization,1\n", "no row names the columns"),
        (WHOLE.replace("item,", "part,item,").replace("\nm", "\nbasis,m"), "is no part of the bid"),
    ],
)
def test_what_cannot_be_read_is_a_fault_with_its_line(tmp_path: Path, text: str, words: str):
    with pytest.raises(BadInputFile) as error:
        bid_of(tmp_path, text)
    assert words in str(error.value)
    assert "bid.csv" in str(error.value)


@pytest.mark.works(of=(read_bid,))
def test_a_lump_sum_may_stand_as_an_amount_alone(tmp_path: Path):
    bid, _ = bid_of(tmp_path, WHOLE.replace("mobilization,1500,1500", "mobilization,,1500"))
    assert Decimal(1500) == bid.lines["mobilization"].price
    bid, notes = bid_of(tmp_path, WHOLE.replace("woodchips,36,15660", "woodchips,,15660"))
    assert bid.lines["woodchips"].price is None
    assert "bid-item-missing" in {note.code for note in notes}


@pytest.mark.works(of=(bid_rows, lines_of_bid, read_bid))
def test_a_workbook_is_read_like_the_same_rows_of_text(tmp_path: Path):
    book = Workbook()
    sheet = book.active
    sheet.title = "Bid schedule"
    for row in (
        ["Bid of Alder Creek"],
        ["part", "item", "unit price, USD", "amount, USD"],
        ["base", "mobilization", 1500.0, None],
        ["base", "woodchips", 36.25, 15768.75],
        ["base", "seeding", "1,450.00", None],
        ["geotextile", "lining-geotextile", 2.4, None],
    ):
        sheet.append(row)
    file = tmp_path / "bid.xlsx"
    book.save(file)
    assert 4 == lines_of_bid(file)
    bid, notes = read_bid(file, SCHEDULE, name="alder", title="Alder")
    assert () == notes
    assert Decimal("36.25") == bid.lines["woodchips"].price
    assert Decimal("2.4") == bid.alternates["geotextile"]["lining-geotextile"].price
    file.write_bytes(b"PK no book")
    with pytest.raises(BadInputFile, match="no workbook"):
        bid_rows(file)


@pytest.mark.works(of=(blank_schedule,))
def test_the_schedule_that_goes_out_is_read_when_it_comes_back_filled_in(tmp_path: Path):
    rows = list(blank_schedule(SCHEDULE))
    assert all(row[5:] == ("", "") for row in rows[1:])
    filled = [rows[0], *((*row[:5], "10", "") if row[4] else row for row in rows[1:])]
    text = "\n".join(",".join(f'"{cell}"' for cell in row) for row in filled)
    bid, notes = bid_of(tmp_path, text)
    assert () == notes
    assert {Decimal(10)} == {line.price for line in bid.lines.values()}
    assert Decimal(10) == bid.alternates["geotextile"]["lining-geotextile"].price
