# SPDX-License-Identifier: Apache-2.0
"""Chips, supply, gates, hold points and the record before building, through the look on site."""

import json
from datetime import date
from pathlib import Path

import pytest

from tests.desks import copy_of
from tests.pdf import Paper
from tilewater.basis.errors import BadInputFile
from tilewater.documents.words import Words
from tilewater.tasks.checking import check_job
from tilewater.tasks.chips import SHEET, chips_part
from tilewater.tasks.gates import gates, gates_part
from tilewater.tasks.holds import BEFORE, BOOK, before_part, field_book, holds_part
from tilewater.tasks.inspecting import PARTS, inspect_job, write_inspected
from tilewater.tasks.inspection import Inspection, Part
from tilewater.tasks.later_files import check_every_file
from tilewater.tasks.legal_holidays import legal_holidays
from tilewater.tasks.supply import read_supply, supply_part
from tools.package import ROOT

BUILT, FARM = ROOT / "examples" / "corbel-built", ROOT / "examples" / "corbel-farm"
AFTER = date(2027, 10, 8)


@pytest.fixture(scope="module")
def look() -> Inspection:
    return Inspection(check_job(BUILT), AFTER)


def part_of(part: Part | None) -> Part:
    assert part is not None
    return part


def changed(tmp_path: Path, old: str, new: str) -> Path:
    folder = copy_of("corbel-built", tmp_path, "job")
    file = folder / "job.toml"
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")
    return folder


@pytest.mark.works(of=(chips_part,))
def test_chips_of_the_built_farm_are_judged_and_a_rejected_load_was_sent_back(look: Inspection):
    part = part_of(chips_part(look))
    loads = part.record["loads"]
    assert {name: load["verdict"] for name, load in loads.items()} == {
        "truck-4471": "accept",
        "truck-4478": "accept",
        "truck-4483": "reject",
    }
    assert not part.short
    json.dumps(part.record, allow_nan=False)
    assert len(part.page(Words("us"))) == 5


@pytest.mark.works(of=(chips_part,))
def test_a_rejected_load_that_was_not_sent_back_falls_short(tmp_path: Path):
    folder = copy_of("corbel-built", tmp_path, "job")
    tickets = folder / "chip-tickets.csv"
    text = tickets.read_text(encoding="utf-8")
    tickets.write_text(
        text.replace('"soil and fines at the tailgate, back to the yard"', ""), encoding="utf-8"
    )
    assert part_of(chips_part(Inspection(check_job(folder), AFTER))).short


@pytest.mark.works(of=(supply_part,))
def test_supply_counts_the_tickets_up_to_the_day(look: Inspection):
    part = part_of(supply_part(look))
    assert part.record["delivered_m3"] == pytest.approx(483.5 * 0.9144**3, rel=1e-3)
    assert not part.short
    early = part_of(supply_part(Inspection(check_job(BUILT), date(2027, 9, 27))))
    assert len(early.record["tickets"]) == 6
    assert early.short
    assert [note.code for note in early.notes] == ["supply-short"]
    json.dumps(part.record, allow_nan=False)


@pytest.mark.works(of=(read_supply, check_every_file))
def test_check_reads_the_tickets_and_tells_their_faults(tmp_path: Path):
    assert "chip-tickets.csv: 25 tickets of chips" in check_every_file(BUILT).files
    folder = copy_of("corbel-built", tmp_path, "job")
    (folder / "chip-tickets.csv").write_text("ticket,time\n1,now\n", encoding="utf-8")
    with pytest.raises(BadInputFile, match=r"neither a column 'volume' nor a column 'mass'"):
        check_every_file(folder)


@pytest.mark.works(of=(gates, gates_part))
def test_gates_of_the_built_farm_on_the_day_of_the_dig():
    look = Inspection(check_job(BUILT), date(2027, 9, 20))
    dig, start = gates(look)
    assert dig.is_open
    assert [row.what for row in start.missing] == ["design issued for construction"]
    part = part_of(gates_part(look))
    assert part.short
    assert part.record["locate"]["earliest"] == "2027-09-07 15:00"
    assert "locate-rule-not-yours" in {note.code for note in part.notes}
    json.dumps(part.record, allow_nan=False)
    text = json.dumps(part.record)
    assert "\\ue000" not in text  # quantities are told in words


@pytest.mark.works(of=(gates_part, holds_part, before_part))
def test_a_job_that_is_not_built_yet_shows_its_gates_and_hold_points():
    job = check_job(FARM)
    assert before_part(Inspection(job, AFTER)) is None
    for make, key, only in (
        (gates_part, "gates", ""),
        (holds_part, "holds", ""),
        (before_part, "before", "before"),
    ):
        part = part_of(make(Inspection(job, AFTER, only=only)))
        assert part.key == key
        assert part.page(Words("si"))
    look = Inspection(job, AFTER)
    assert look.is_to_be_built
    assert part_of(gates_part(look)).short  # exit 1 while a gate is shut
    dig, start = gates(look)
    assert not dig.is_open
    assert not start.is_open


@pytest.mark.works(of=(gates, holds_part))
def test_looking_changes_nothing_of_the_design(look: Inspection):
    before = {each.key for each in look.design.open_items}
    part_of(gates_part(look))
    part_of(holds_part(look))
    fresh = Inspection(check_job(BUILT), AFTER).design
    assert {each.key for each in fresh.open_items} == before
    farm = Inspection(check_job(FARM), AFTER).design
    assert fresh.verdict == farm.verdict
    assert before == {each.key for each in farm.open_items}


@pytest.mark.works(of=(holds_part,))
def test_hold_points_of_the_built_farm_are_signed_in_turn(look: Inspection):
    part = part_of(holds_part(look))
    assert {point["state"] for point in part.record["points"].values()} == {"signed"}
    assert part.record["next"] is None
    assert not part.short


@pytest.mark.works(of=(holds_part,))
def test_a_hold_point_taken_out_makes_the_later_ones_out_of_turn(tmp_path: Path):
    folder = changed(tmp_path, "[hold.floor]", "[hold.not-the-floor]")
    part = part_of(holds_part(Inspection(check_job(folder), AFTER)))
    points = part.record["points"]
    assert points["floor"]["state"] == "open"
    assert points["liner"]["state"] == "out of turn"
    assert points["liner"]["why"] == "signed while open: floor accepted"
    assert part.record["next"] == "floor"
    assert part.short


@pytest.mark.by_hand(of=(legal_holidays,))
def test_holidays_of_country_and_state_and_those_of_the_county():
    found = legal_holidays("Iowa", "2026-09-03", ("2026-09-04",))
    assert "2026-09-07" in found  # Labor Day: the first Monday of September
    assert date(2026, 9, 7).weekday() == 0
    assert date(2026, 9, 7).day <= 7
    assert "2026-09-04" in found
    assert "2027-01-01" in found
    assert "2026-09-07" in legal_holidays("", "2026-09-03")
    assert legal_holidays("IA", "2026-09-03") == legal_holidays("Iowa", "2026-09-03")


@pytest.mark.works(of=(field_book,))
def test_the_field_book_holds_gates_hold_points_and_forms(look: Inspection):
    text = "\n".join(Paper(field_book(look)).pages)
    for words in (
        "Field book",
        "Gate for dig: open",
        "Gate for start of construction: shut",
        "Cautions",
        "29 CFR 1926.652(a)",
        "Local codes and the competent person on site govern",
        "Hold points",
        "Uplift: ground water below the floor",
        "Grade check",
        "height of instrument",
        "1180.70",
        "Truck tickets",
        "Sieve test",
        "6.35 mm",
    ):
        assert words in text, words


@pytest.mark.works(of=(chips_part, before_part))
def test_the_sheets_to_sign_are_one_page_each(look: Inspection):
    sheets = []
    for part, name in ((chips_part(look), SHEET), (before_part(look), BEFORE)):
        content = part_of(part).files[name]()
        assert isinstance(content, bytes)
        sheets.append(Paper(content))
    assert [sheet.length for sheet in sheets] == [1, 1]
    sieve, owner = (sheet.page(1) for sheet in sheets)
    assert "truck 4483: reject" in sieve
    assert "special provision 7.2 (read)" in sieve
    assert "low spot at 2+90" in owner


@pytest.mark.works(of=(inspect_job,))
def test_a_look_at_one_part_names_its_papers_and_explains_its_numbers():
    assert list(PARTS)[:5] == ["before", "gates", "holds", "chips", "supply"]
    inspected = inspect_job(BUILT, AFTER, only="chips", system="si")
    assert [part.key for part in inspected.parts] == ["chips"]
    assert list(inspected.parts[0].files) == [SHEET]
    assert inspected.explained("parts.chips.loads.truck-4471.fines_share")
    assert list(inspect_job(BUILT, AFTER, only="holds").parts[0].files) == [BOOK]


@pytest.mark.works(of=(write_inspected,))
def test_a_look_at_one_part_leaves_the_record_of_all_as_it_is(tmp_path: Path):
    (tmp_path / "inspect.json").write_text("of every part", encoding="utf-8")
    written = write_inspected(inspect_job(FARM, AFTER, only="gates"), tmp_path)
    assert list(written.files) == ["inspect-gates.json"]
    assert (tmp_path / "inspect.json").read_text(encoding="utf-8") == "of every part"
