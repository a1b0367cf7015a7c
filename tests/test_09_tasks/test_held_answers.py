# SPDX-License-Identifier: Apache-2.0
"""Answers of a held job: the first is that of the chain without days, the refined that of all."""

from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from functools import cache
from itertools import count
from pathlib import Path
from threading import Event
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.held import EDITS, EXAMPLES, copied, differing, some_edits
from tilewater.basis import memory
from tilewater.chain.choosing import Chosen
from tilewater.chain.design import Design, design_practice
from tilewater.chain.plain import Record
from tilewater.chain.result import result_record
from tilewater.chain.water_parts import field_run, spot_run
from tilewater.hydrology.field import FieldRun
from tilewater.job.edits import Edit, edited
from tilewater.practices.buffer.line import flow_at_heads
from tilewater.tasks import held_answers
from tilewater.tasks.checking import check_job
from tilewater.tasks.designing import design_job
from tilewater.tasks.held import Answer, HeldJob
from tilewater.tasks.held_answers import LEFT_TO_REFINED, QUICK, key_of, without

FARMS = ("corbel-farm", "merridew-farm", "sorrel-farm")


@cache
def held(farm: str = "corbel-farm") -> HeldJob:
    return HeldJob(EXAMPLES / farm)


def without_days(folder: Path, farm: str, answer: Answer) -> Design:
    """The practice of an answer, designed without days from a job file with the edits in it."""
    job = folder / farm
    if not job.exists():
        copied(folder, farm)
    text = (EXAMPLES / farm / "job.toml").read_text(encoding="utf-8")
    (job / "job.toml").write_text(edited(text, answer.edits), encoding="utf-8")
    assert answer.design is not None
    return design_practice(check_job(job).inputs, answer.design.practice, by_days=False)


def told(design: Design, answer: Answer) -> tuple[Record, Record]:
    """Record of a design and that of an answer, both as far as the answer goes."""
    assert answer.record is not None
    record = result_record(design, (), answer.record["tilewater"])
    return without(record, LEFT_TO_REFINED), answer.record


@pytest.mark.law(of=(HeldJob.first,))
@pytest.mark.parametrize("farm", FARMS)
def test_the_first_answer_is_the_chain_without_days_read_from_disk(tmp_path: Path, farm: str):
    compared = 0
    for seed in range(8):
        answer = held(farm).first(some_edits(seed))
        if answer.design is None:
            continue
        design = without_days(tmp_path, farm, answer)
        assert differing(answer.design.trace, design.trace) == []
        assert answer.design.findings == design.findings
        assert answer.design.verdict == design.verdict
        expected, found = told(design, answer)
        assert repr(found) == repr(expected)
        compared += 1
    assert compared >= 5


@pytest.mark.works(of=(HeldJob.first,))
def test_the_law_would_notice_a_step_that_was_wrongly_taken_over(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    job = HeldJob(EXAMPLES / "corbel-farm")
    job.first()
    monkeypatch.setattr(memory, "is_same", lambda old, new: True)
    answer = job.first({"boards.inlet": "30 in"})
    assert answer.design is not None
    design = without_days(tmp_path, "corbel-farm", answer)
    assert "boards.inlet-design.crest_m" in differing(answer.design.trace, design.trace)


@pytest.mark.law(of=(HeldJob.first,))
def test_many_threads_get_the_same_answers_as_one():
    asked = [some_edits(seed) for seed in range(10)] * 2
    alone = [HeldJob(EXAMPLES / "corbel-farm").first(edits) for edits in asked[:10]]
    shared = HeldJob(EXAMPLES / "corbel-farm")
    with ThreadPoolExecutor(6) as pool:
        together = list(pool.map(shared.first, asked))
    for one, other in zip(alone * 2, together, strict=True):
        assert repr(one.record) == repr(other.record)
        assert one.faults == other.faults
        if one.design is not None and other.design is not None:
            assert differing(one.design.trace, other.design.trace) == []


@pytest.mark.law(of=(HeldJob.first,))
@settings(max_examples=6)
@given(st.lists(st.integers(0, 40), min_size=2, max_size=4))
def test_an_answer_does_not_hang_on_what_was_asked_before(seeds: list[int]):
    job = HeldJob(EXAMPLES / "corbel-farm")
    for seed in seeds:
        last = job.first(some_edits(seed))
    fresh = HeldJob(EXAMPLES / "corbel-farm").first(some_edits(seeds[-1]))
    assert repr(last.record) == repr(fresh.record)


@pytest.mark.works(of=(HeldJob.first,))
def test_what_only_days_and_draws_can_say_is_absent_from_a_first_answer():
    record = held().first().record
    assert record is not None
    by_days = {"removal", "probability", "decides", "advice", "side_effects", "alternatives"}
    assert by_days.isdisjoint(record)
    assert "carbon_years" not in record["life"]
    assert "usd_per_kg" not in record["cost"]
    assert record["capacity"]["criterion"]["flow_m3_s"] > 0
    assert record["cost"]["total_usd"] > 0
    assert not held().first().is_refined


@pytest.mark.works(of=(HeldJob.refined,))
@pytest.mark.parametrize("edits", [{}, {"boards.inlet": "34 in"}])
def test_the_refined_answer_is_the_whole_design(tmp_path: Path, edits: Mapping[str, Edit]):
    job = copied(tmp_path)
    answer = held().refined(edits)
    text = (job / "job.toml").read_text(encoding="utf-8")
    (job / "job.toml").write_text(edited(text, edits), encoding="utf-8")
    outcome = design_job(job)
    assert answer.is_refined
    assert answer.record is not None
    only_read = () if not edits else ("issued", "changed_since_issued")
    assert repr(answer.record) == repr(without(outcome.record, only_read))
    assert held().refined(edits) is answer, "it is remembered"


@pytest.mark.works(of=(HeldJob.refined,))
def test_a_refined_answer_that_is_stopped_is_a_first_one():
    job, asked = HeldJob(EXAMPLES / "corbel-farm"), count()
    stopped = job.refined({"boards.inlet": "30 in"}, goes_on=lambda: next(asked) < 500)
    assert next(asked) == 501, "nothing was asked after the first no"
    assert not stopped.is_refined
    assert stopped.record is not None
    assert "removal" not in stopped.record
    assert not job.refined({}, goes_on=lambda: False).is_refined


@pytest.mark.works(of=(HeldJob.refined,))
def test_who_asks_the_same_at_once_gets_the_same_answer_computed_once(
    monkeypatch: pytest.MonkeyPatch,
):
    made: list[int] = []
    chosen = held_answers.design_asked

    def counted(*arguments: Any, **named: Any) -> Chosen:
        made.append(1)
        return chosen(*arguments, **named)

    monkeypatch.setattr(held_answers, "design_asked", counted)
    job = HeldJob(EXAMPLES / "corbel-farm")
    edits: dict[str, Edit] = {"boards.inlet": "14 in"}
    with ThreadPoolExecutor(4) as pool:
        first, *others = pool.map(lambda _: job.refined(edits), range(4))
    assert all(other is first for other in others)
    assert made == [1]


@pytest.mark.works(of=(HeldJob.refined,))
def test_who_waits_goes_on_in_the_place_of_one_that_was_stopped():
    job, stop, seen = HeldJob(EXAMPLES / "corbel-farm"), Event(), Event()

    def until_the_other_waits() -> bool:
        seen.set()
        return not stop.wait(0.01)

    with ThreadPoolExecutor(2) as pool:
        stopped = pool.submit(job.refined, {}, goes_on=until_the_other_waits)
        assert seen.wait(10.0)
        other = pool.submit(job.refined, {}, goes_on=lambda: stop.set() or True)
        assert not stopped.result().is_refined
        assert other.result().is_refined


@pytest.mark.works(of=(HeldJob.first,))
def test_the_answer_that_is_asked_again_and_again_is_kept():
    job = HeldJob(EXAMPLES / "corbel-farm")
    first = job.first()
    for inches in range(10, 10 + 4 * held_answers.REMEMBERED, 2):
        job.first({"boards.inlet": f"{inches} in"})
        assert job.first() is first


@pytest.mark.works(of=(HeldJob.first,))
def test_nothing_is_written_by_asking(tmp_path: Path):
    job = copied(tmp_path)
    before = {path: path.stat().st_mtime_ns for path in job.rglob("*")}
    held_here = HeldJob(job)
    held_here.first({"boards.inlet": "30 in"})
    held_here.first({"boards.inlet": "30 lb"})
    assert {path: path.stat().st_mtime_ns for path in job.rglob("*")} == before


@pytest.mark.works(of=(HeldJob.first,))
@pytest.mark.parametrize(
    ("edits", "where", "message"),
    [
        ({"boards.inlet": "30 lb"}, "boards.inlet", "is a weight; asked for is a size"),
        ({"boards.inlet": "3000 in"}, "boards.inlet", "outside what makes sense here (0 in to 20"),
        ({"boards.inlet": "thirty"}, "boards.inlet", "is not a number with a unit"),
        ({"boards.inlet": ["30 in"]}, "boards.inlet", "is not a quantity"),
        ({"boards.inlett": "30 in"}, "boards.inlett", "[boards] has no 'inlett'. Nothing was"),
        ({"nothing.here": "3"}, "nothing.here", "there is no table or key 'nothing.here'"),
        ({"nothing": "3"}, "nothing", "there is no table or key 'nothing'"),
        ({"boards": "3"}, "boards", "boards is a table and takes no value. Name one of its keys"),
        ({"weather.file": "gone.csv"}, "weather.file", "there is no file 'gone.csv'"),
        ({"practice.kind": "pond"}, "practice.kind", "Write bed, buffer, raised or choose"),
        ({"practice.kind": ["bed", "buffer"]}, "practice.kind", "designed one by one"),
        ({"boards.inlet": None}, "boards.inlet", "boards.inlet is missing"),
        ({"boards.inlet": float("nan")}, "boards.inlet", "Change it by hand"),
        ({"a b": "1"}, "a b", "there is no table or key"),
    ],
)
def test_an_edit_at_fault_is_answered_with_what_to_do(
    edits: dict[str, Edit], where: str, message: str
):
    for ask in (held().first, held().refined):
        answer = ask(edits)
        assert answer.design is None
        assert answer.record is None
        (fault,) = answer.faults
        assert fault.file == "job.toml"
        assert fault.where == where
        assert message in fault.message
    assert held().first().design is not None, "nothing is lost"


@pytest.mark.works(of=(HeldJob.first,))
def test_every_fault_of_several_edits_is_told_at_once():
    answer = held().first({"boards.inlet": "30 lb", "bed.length_bottom": "-3 ft"})
    assert {fault.where for fault in answer.faults} == {"boards.inlet", "bed.length_bottom"}


@pytest.mark.works(of=(HeldJob.first,))
def test_the_open_choice_is_answered_by_the_practice_chosen_last_and_says_so():
    job = HeldJob(EXAMPLES / "sorrel-farm")
    first = job.first()
    assert [note.code for note in first.notes if "chosen" in note.code] == [
        "practice-chosen-without-days"
    ]
    refined = job.refined()
    again = job.first({"boards.inlet": "34 in"})
    assert again.design is not None
    assert refined.design is not None
    assert again.design.practice is refined.design.practice
    (note,) = (note for note in again.notes if "chosen" in note.code)
    assert note.code == "practice-chosen-before"
    assert f"The {refined.design.practice.words} is shown" in note.message


@pytest.mark.works(of=(HeldJob.first,))
def test_the_practice_can_be_changed_by_an_edit():
    kinds = {kind: held("sorrel-farm").first({"practice.kind": kind}) for kind in
             ("bed", "buffer", "raised")}  # fmt: skip
    for kind, answer in kinds.items():
        assert answer.record is not None
        assert answer.record["practice"] == kind


@pytest.mark.law(of=(key_of,))
@given(st.permutations(sorted(EDITS)))
def test_the_order_of_edits_counts_for_nothing(keys: list[str]):
    assert key_of(dict.fromkeys(keys, "1 ft")) == key_of(dict.fromkeys(sorted(EDITS), "1 ft"))
    assert len({key_of({"a": value}) for value in (1, True, "1", 1.0)}) == 4


@pytest.mark.works(of=(without,))
def test_a_record_less_some_keys_is_another_record():
    record: Record = {"a": {"b": 1, "c": 2}, "d": 3, "e": None}
    assert without(record, ("a.b", "d", "e.f", "gone")) == {"a": {"c": 2}, "e": None}
    assert record == {"a": {"b": 1, "c": 2}, "d": 3, "e": None}


@pytest.mark.law(of=(flow_at_heads, QUICK[flow_at_heads]))
@given(st.floats(0.0, 9.0), st.floats(0.0, 6.0))
def test_a_quick_twin_gives_the_same_to_the_last_digit(head_line: float, head_stream: float):
    design = held("merridew-farm").first().design
    assert design is not None
    pipe, soil = design.trace.value("buffer.pipe"), design.trace.value("buffer.soil")
    arguments = (head_line, head_stream, pipe, soil)
    assert flow_at_heads(*arguments) == QUICK[flow_at_heads](*arguments)


@pytest.mark.law(of=(field_run, spot_run, QUICK[field_run], QUICK[spot_run]))
def test_a_field_is_the_same_to_the_last_digit_by_its_quick_twin():
    design = held("verling-farm").first().design
    assert design is not None
    parts = ("weather", "soil", "drains", "cold", "rotation", "outlet_height_m")
    given = [design.trace.value(f"water.{part}") for part in parts]
    for readable in (field_run, spot_run):
        plain, quick = readable(*given), QUICK[readable](*given)
        assert plain is not quick
        for name in FieldRun.__dataclass_fields__.keys() - {"inputs"}:
            assert is_all_same(getattr(plain, name), getattr(quick, name)), name


def is_all_same(plain: object, quick: object) -> bool:
    """Whether two parts of a run have the same digits everywhere."""
    if isinstance(plain, np.ndarray):
        return np.array_equal(plain, np.asarray(quick))
    if isinstance(plain, tuple):
        return len(plain) == len(quick) and all(map(is_all_same, plain, quick))  # type: ignore[arg-type]
    return bool(plain == quick)
