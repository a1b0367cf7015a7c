# SPDX-License-Identifier: Apache-2.0
"""Boards of a job that is not known day by day, their papers, the log beside the card."""

import csv
import io
import shutil
from datetime import date, datetime
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

import pytest

from tests.pages import Console
from tests.pdf import Paper
from tilewater.basis.errors import BadInputFile
from tilewater.basis.memory import Stopped
from tilewater.chain.operate import add_operation
from tilewater.chain.operate_compare import add_compared
from tilewater.chain.operate_plan import add_periods
from tilewater.chain.operate_record import operation_record
from tilewater.chain.operate_told import operation_findings
from tilewater.documents.pages.operate_page import operate_page, stack_said
from tilewater.documents.running.card import press_card
from tilewater.documents.running.form import press_form
from tilewater.documents.running.plan import press_plan
from tilewater.documents.words import Words
from tilewater.job.board_log import height_of_tape
from tilewater.practices.boards import crest_elevation, rim_down
from tilewater.tasks.board_log import (
    board_changes,
    board_log_file,
    boards_of_job,
    record_change,
)
from tilewater.tasks.built_levels import as_it_stands
from tilewater.tasks.checking import check_job
from tilewater.tasks.later_files import check_every_file
from tilewater.tasks.operating import Operated, operate_job, standing_on
from tilewater.tasks.operating_papers import (
    papers_of_operation,
    running_material,
    table_text,
    write_operated,
)
from tools.package import ROOT

FOOT, INCH = 0.3048, 0.0254
BUILT = ROOT / "examples" / "corbel-built"
DAY = date(2029, 5, 25)


def without_weather(folder: Path, example: str = "corbel-farm") -> Path:
    """A copy of an example whose drain flow is not known day by day."""
    job = folder / example
    shutil.copytree(ROOT / "examples" / example, job, ignore=shutil.ignore_patterns("results"))
    text = (job / "job.toml").read_text(encoding="utf-8")
    kept = [line for line in text.splitlines() if not line.startswith('file = "weather.csv"')]
    (job / "job.toml").write_text("\n".join(kept) + "\n", encoding="utf-8")
    return job


@cache
def stated() -> Operated:
    return operate_job(without_weather(Path(mkdtemp())), on=DAY)


@cache
def logged() -> Operated:
    """The built farm without its weather: the log beside the boards of the seasons."""
    return operate_job(without_weather(Path(mkdtemp()), "corbel-built"), on=DAY)


def page_of(operated: Operated) -> str:
    out = io.StringIO()
    console = Console(file=out, width=80)
    trace, title = operated.design.trace, operated.job.title
    parts = (operated.operation, operated.periods, operated.compared, Words())
    for part in operate_page(title, trace, *parts):
        console.print(part)
    return out.getvalue()


@pytest.mark.works(of=(add_operation, add_periods, operation_findings))
def test_without_days_the_card_shows_the_boards_of_the_seasons_and_says_so():
    operated = stated()
    assert "seasons" == operated.operation.chosen
    assert not operated.operation.is_searched
    assert ["06-15", "09-15", "12-01"] == [p.turn.day for p in operated.periods if p.turn]
    codes = [finding.code for finding in operated.findings]
    assert ["boards-by-seasons", "boards-not-searched"] == codes


@pytest.mark.by_hand(of=(crest_elevation, rim_down, add_periods))
def test_the_card_measures_down_from_the_rim():
    # sill 1181.20 ft and rim 1187.00 ft, 5.80 ft or 69.6 in apart: 36 in of boards leave 33.6 in,
    # crest 1181.20 + 3.00; outlet sill 1180.70, 75.6 in under its rim: 24 in leave 51.6 in
    winter = stated().periods[2]
    inlet, outlet = winter.stack("inlet"), winter.stack("outlet")
    assert inlet.rim_down == pytest.approx(33.6 * INCH)
    assert inlet.crest == pytest.approx(1184.20 * FOOT)
    assert outlet.rim_down == pytest.approx(51.6 * INCH)
    assert crest_elevation(1181.20 * FOOT, 15 * INCH) == pytest.approx(1182.45 * FOOT)


@pytest.mark.by_hand(of=(add_periods,))
def test_boards_are_counted_into_every_period():
    # autumn to winter: inlet 14 in (8, 6) to 36 in (8, 8, 8, 8, 4): 6 out, then 8, 8, 8, 4 in;
    # outlet 10 in (6, 4) to 24 in (8, 8, 8): 2 out, 3 in. Five boards in step: 4 times 12 h
    value = stated().design.trace.value
    assert 1 + 4 == value("operate.period.3.moved_inlet")
    assert 2 + 3 == value("operate.period.3.moved_outlet")
    assert 4 * 12 * 3600.0 == value("operate.period.3.change_s")
    # standing water at 1184.20 ft under 1187.00 ft of ground
    assert value("operate.period.3.clear_soil_m") == pytest.approx(2.80 * FOOT)


@pytest.mark.works(of=(operation_record,))
def test_the_record_has_the_boards_in_inches_and_what_each_day_rests_on():
    record = stated().record
    first = record["periods"][0]
    assert ("06-15", "09-14", ["summer"]) == (first["from"], first["until"], first["rests_on"])
    outlet = next(each for each in first["boards"] if each["set"] == "outlet")
    assert [6.0, 4.0] == pytest.approx(outlet["stack_in"])
    assert record["limits"]["groundwater_for_empty_bed_m"] == pytest.approx(
        1184.39 * FOOT, abs=0.01
    )


@pytest.mark.works(of=(table_text,))
def test_the_table_has_a_row_for_each_set_in_each_period():
    table = list(csv.reader(io.StringIO(table_text(stated()))))
    assert 1 + 3 * 2 == len(table)
    assert ["12-01", "06-14", "inlet", "8+8+8+8+4", "36", "33.6", "1184.20"] == table[5][:7]


@pytest.mark.works(of=(press_card,))
@pytest.mark.parametrize("operated", [stated, logged])
def test_the_lid_card_is_one_grey_page_of_fourteen_point(operated):
    card = Paper(press_card(running_material(operated())))
    assert 1 == card.length
    assert min(piece.size for piece in card.placed) >= 14
    spaces = card.reader.pages[0]["/Resources"]["/ColorSpace"]
    assert all(1 == space.get_object()[1].get_object()["/N"] for space in spaces.values())
    for words in (
        "From Dec 1 to Jun 14",
        {stated: "33.6 in", logged: "32.9 in"}[operated],
        "Never climb in.",
        "keep off",
        "Move no board from Dec 10 to Mar 15",
        "above 1184.39 ft",
        "About the boards: R. Lindqvist",
    ):
        assert words in card.text


@pytest.mark.works(of=(press_plan,))
def test_the_plan_says_what_can_hurt_what_is_looked_at_and_when_it_grows_old():
    text = Paper(press_plan(running_material(stated()))).text
    for words in (
        "Nobody enters a structure",
        "Never alone",
        "No traffic over the bed",
        "no more than one board in 12 hours",
        "Common practice, no source",
        "Lids and locks",
        "The design counts on new chips after 10 years.",
        "48.0 h",
    ):
        assert words in text


@pytest.mark.works(of=(press_form,))
def test_the_form_has_the_columns_of_the_log_on_one_page():
    form = Paper(press_form(running_material(stated())))
    assert 1 == form.length
    for words in ("date and time", "set", "stack, in", "rim down, in", "who", "note"):
        assert words in form.text


@pytest.mark.works(of=(press_card, press_plan, press_form))
def test_papers_are_the_same_bytes_each_time():
    for name, make in papers_of_operation(stated()).items():
        assert make() == make(), name


@pytest.mark.works(of=(operate_page, stack_said))
def test_the_page_shows_stacks_from_the_sill_up():
    text = page_of(stated())
    assert "4 x 8 + 4 in" in text
    assert "33.6 in" in text
    assert "none" == stack_said((), Words())
    assert "2 x 203 + 102 mm" == stack_said((8 * INCH, 8 * INCH, 4 * INCH), Words("si"))


@pytest.mark.works(of=(add_compared, standing_on))
def test_what_stands_by_the_log_is_set_beside_the_card():
    operated = logged()
    compared = operated.compared
    assert compared is not None
    # on May 25 of 2029 the log has 28 in and 24 in, the spring boards are 36 and 24
    assert {"inlet": 28.0, "outlet": 24.0} == {
        name: pytest.approx(height / INCH) for name, height in compared.standing.heights
    }
    assert ("inlet",) == compared.differing
    value = operated.design.trace.value
    # sill as built 1181.26, crest 1181.26 + 28 in = 1183.593 ft under 1187.00
    assert value("operate.now.standing.clear_soil_m") == pytest.approx(
        (1187.00 - 1181.26 - 28 / 12) * FOOT
    )
    assert "not as the card has them" in page_of(operated)


@pytest.mark.works(of=(board_changes,))
def test_the_log_of_the_built_farm_is_read_in_order():
    changes = logged().changes
    assert 26 == len(changes)
    assert sorted(change.time_s for change in changes) == [change.time_s for change in changes]
    assert {"inlet", "outlet"} == {change.set for change in changes}


@pytest.mark.works(of=(record_change, board_log_file))
def test_a_recorded_change_is_in_the_log_and_a_second_at_its_time_is_refused(tmp_path):
    job = without_weather(tmp_path)
    when = datetime(2028, 4, 17, 8, 15)
    written = record_change(job, "inlet", when=when, stack="20", who="T. Hale")
    assert (20 * INCH, "T. Hale") == (pytest.approx(written.height_m), written.who)
    with pytest.raises(BadInputFile) as caught:
        record_change(job, "inlet", when=when, rim_down="33.6")
    assert "have a stack at 2028-04-17 08:15 already, line 2 of the log" in str(caught.value)
    by_tape = record_change(job, "outlet", when=when, rim_down="51.6 in")
    assert by_tape.height_m == pytest.approx(24 * INCH)


@pytest.mark.by_hand(of=(as_it_stands, height_of_tape, boards_of_job))
@pytest.mark.parametrize(("stack", "down"), [(36, 32.9), (28, 40.9), (20, 48.9)])
def test_a_tape_is_read_from_the_sill_that_stands(stack, down):
    # sill as built 1181.26 under a rim of 1187.00: 5.74 ft or 68.88 in apart; less the stack
    assert down == round((1187.00 - 1181.26) * 12 - stack, 1)
    boards = boards_of_job(check_job(BUILT))
    assert height_of_tape(down * INCH, boards.sets["inlet"], boards) == pytest.approx(stack * INCH)


@pytest.mark.by_hand(of=(as_it_stands, add_periods))
def test_the_card_of_a_built_farm_measures_from_the_sill_that_stands():
    winter = logged().periods[2].stack("inlet")
    assert winter.crest == pytest.approx((1181.26 + 3.00) * FOOT)
    assert winter.rim_down == pytest.approx((1187.00 - 1184.26) * FOOT)
    messages = [finding.message for finding in logged().findings]
    told = "The sill of the inlet boards is taken as built, 1181.26 ft (design 1181.20 ft)."
    assert told in messages
    assert not [m for m in messages if "rim of the inlet" in m]


@pytest.mark.works(of=(as_it_stands,))
def test_what_is_hidden_by_noise_and_what_was_not_shot_stay_those_of_the_design(tmp_path):
    job = without_weather(tmp_path, "corbel-built")
    shots = job / "survey" / "as-built.csv"
    lines = shots.read_text(encoding="utf-8").splitlines()
    kept = [line for line in lines if "RIM OUTLET" not in line]
    noisy = [s.replace("0.004", "0.400") if "SILL INLET" in s else s for s in kept]
    shots.write_text("\n".join(noisy) + "\n", encoding="utf-8")
    before = check_job(job)
    stands = as_it_stands(before)
    for key in ("inputs.structure.inlet.sill_m", "inputs.structure.outlet.rim_m"):
        assert stands.value(key) == before.value(key)
    assert not [f for f in stands.stands if f.subject.startswith(("sill", "rim"))]
    assert as_it_stands(stands) is stands


@pytest.mark.works(of=(as_it_stands,))
def test_a_job_without_finished_work_stays_as_it_is():
    job = check_job(ROOT / "examples" / "corbel-farm")
    assert as_it_stands(job) is job


@pytest.mark.works(of=(board_log_file, check_every_file))
def test_check_takes_a_tape_of_the_boards_that_stand(tmp_path):
    job = without_weather(tmp_path, "corbel-built")
    with (job / "boards-log.csv").open("a", encoding="utf-8") as log:
        log.write("2031-04-17 09:00,inlet,,32.9,T. Hale,\n")
    assert "boards-log.csv: 27 changes of the boards" in check_every_file(job).files
    with (job / "boards-log.csv").open("a", encoding="utf-8") as log:
        log.write("2031-05-17 09:00,inlet,,33.6,T. Hale,\n")
    with pytest.raises(BadInputFile, match=r"36 in \(rim down 32\.88 in\)"):
        check_every_file(job)


@pytest.mark.works(of=(write_operated,))
def test_record_papers_and_table_are_written(tmp_path):
    written = write_operated(stated(), out=tmp_path)
    assert not written.troubles
    assert {
        "operate.json",
        "lid-card.pdf",
        "operation-plan.pdf",
        "board-record.pdf",
        "boards.csv",
    } == {path.name for path in tmp_path.iterdir()}


@pytest.mark.works(of=(operate_job,))
def test_whoever_is_told_may_stop_it():
    def tell(said: str, share: float) -> None:
        raise Stopped(f"Stopped before {said}.")

    with pytest.raises(Stopped, match=r"Stopped before designing, every day and every draw\."):
        operate_job(BUILT, on=DAY, tell=tell)
