# SPDX-License-Identifier: Apache-2.0
"""The questions of the desk: true sentences, and everything that is known under one of them."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from tests.desks import EXAMPLES, copy_of, desk_of, edit
from tilewater.desk.pages.ask import numbers, questions, since
from tilewater.desk.question_blocks import (
    GROUPS,
    blocks_of,
    findings_of,
    numbers_of,
    question_of_finding,
    waits_for_days,
)
from tilewater.desk.questions import QUESTIONS, asked_of
from tilewater.documents.pages.said import Block, Group, Part
from tilewater.documents.pages.summary import summary
from tilewater.documents.words import Words
from tilewater.job.template import start_job
from tilewater.tasks.held import Answer, HeldJob

FARMS = ("corbel-farm", "merridew-farm", "verling-farm")
US = Words()


@pytest.fixture(scope="module", params=FARMS)
def first(request: pytest.FixtureRequest) -> Answer:
    return HeldJob(EXAMPLES / request.param).first()


@pytest.fixture(scope="module")
def corbel() -> Answer:
    return HeldJob(EXAMPLES / "corbel-farm").first()


def sentences(answer: Answer, words: Words = US) -> dict[str, str]:
    return {one.slug: one.sentence for one in asked_of(answer, words)}


def titles(parts: Iterator[Part]) -> Iterator[str]:
    for part in parts:
        if isinstance(part, Block):
            yield part.title
        elif isinstance(part, Group):
            yield from titles(iter(part.parts))


@pytest.mark.works(of=(asked_of,))
def test_each_question_says_where_it_stands(corbel: Answer):
    said = sentences(corbel)
    assert said["tile"] == (
        "Main 10 in concrete at 0.18 %, in three segments; one end nobody has seen"
    )
    assert said["water"] == (
        "0.930 cfs at the peak, the main holds it back; 9.4 in of water in a year"
    )
    assert said["height"].startswith("Crest 1184.20 ft, 0.11 ft below what low-1 allows")
    assert said["field"] == "Tightest: low-1 midway, 0.09 ft to spare"
    assert said["unknown"].startswith("Four things open, first: easements")


@pytest.mark.works(of=(asked_of,))
def test_sentences_come_in_the_units_of_the_reader(corbel: Answer):
    said = sentences(corbel, Words("si"))
    assert said["tile"].startswith("Main 254 mm concrete")
    assert said["height"].startswith("Crest 360.944 m")
    assert "ft" not in said["height"] + said["field"]


@pytest.mark.works(of=(asked_of, waits_for_days))
def test_what_rests_on_days_says_that_they_are_being_counted(first: Answer):
    said = sentences(first)
    assert "days are being counted" in said["removal"].lower()
    assert said["cost"].endswith("the days are being counted")
    assert waits_for_days("removal", first)
    assert not waits_for_days("tile", first)
    assert not waits_for_days("removal", replace(first, is_refined=True))


@pytest.mark.works(of=(asked_of,))
def test_a_job_of_which_nothing_is_known_claims_nothing(tmp_path: Path):
    start_job(tmp_path / "new")
    said = sentences(HeldJob(tmp_path / "new").first())
    assert said["tile"].startswith("The size of the main is not known")
    assert said["water"] == "The peak is not known; what a year brings is not known"
    assert said["height"] == "The crest of the boards is not known"
    assert said["field"] == "No low spot is listed yet"
    assert "fits is not known yet" in said["practice"]
    assert said["cost"].startswith("What it costs is not known: it waits for")


@pytest.mark.works(of=(asked_of,))
def test_a_job_at_fault_says_so_and_nothing_else(tmp_path: Path):
    folder = copy_of("corbel-farm", tmp_path)
    edit(folder, 'diameter = "10 in"', 'diameter = "10"')
    said = sentences(HeldJob(folder).first())
    assert set(said.values()) == {"the file has a fault first; mend it", "One fault in the files"}


@pytest.mark.works(of=(blocks_of,))
def test_every_block_of_a_design_stands_under_a_question(first: Answer):
    assert first.design is not None
    on_paper = set(titles(summary("", first.design, (), US)))
    counted = replace(first, is_refined=True)
    asked = {title for q in QUESTIONS for title in titles(blocks_of(q.slug, counted, US))}
    assert on_paper
    assert on_paper <= asked


@pytest.mark.slow
@pytest.mark.works(of=(blocks_of,))
def test_every_block_of_the_days_stands_under_a_question():
    refined = HeldJob(EXAMPLES / "corbel-farm").refined()
    assert refined.design is not None
    on_paper = set(titles(summary("", refined.design, (), US)))
    asked = {title for q in QUESTIONS for title in titles(blocks_of(q.slug, refined, US))}
    assert "What decides" in on_paper
    assert on_paper <= asked
    assert "Tried besides" in asked


@pytest.mark.works(of=(numbers_of,))
def test_every_number_stands_behind_one_question(first: Answer):
    assert first.design is not None
    trace = first.design.trace
    placed = [
        step.key
        for q in QUESTIONS
        for steps in numbers_of(q.slug, trace).values()
        for step in steps
    ]
    assert sorted(placed) == sorted(k for k in trace.steps if not k.startswith("inputs."))
    known = {group for groups in GROUPS.values() for group in groups}
    assert {key.partition(".")[0] for key in placed} <= known


@pytest.mark.works(of=(findings_of, question_of_finding))
def test_every_finding_is_told_under_one_question(first: Answer):
    assert first.design is not None
    told = [one for q in QUESTIONS for one in findings_of(q.slug, first)]
    known = {*first.notes, *first.design.trace.findings}
    assert set(told) == known
    assert len(told) == len(known)
    assert len(findings_of("unknown", first)) < len(known) / 4


@pytest.mark.works(of=(asked_of,))
def test_a_question_opens_as_a_page_and_as_a_part(tmp_path: Path):
    copy_of("corbel-farm", tmp_path)
    desk = desk_of(tmp_path)
    for question in QUESTIONS:
        whole = desk.get(f"/job/corbel-farm/ask/{question.slug}").text
        part = desk.get(
            f"/job/corbel-farm/ask/{question.slug}", headers={"hx-request": "true"}
        ).text
        assert "<html" in whole
        assert "<html" not in part
        assert f">{question.words}</h2>" in part
        assert part.strip() in whole
    back = {"hx-request": "true", "hx-history-restore-request": "true"}
    assert "<html" in desk.get("/job/corbel-farm/ask/tile", headers=back).text
    assert desk.get("/job/corbel-farm/ask/nothing").status_code == 404


@pytest.mark.works(of=(asked_of,))
def test_a_question_has_its_twin(tmp_path: Path):
    copy_of("corbel-farm", tmp_path)
    record = desk_of(tmp_path).get("/job/corbel-farm/ask/height.json").json()
    assert record["sentence"].startswith("Crest 1184.20 ft")
    assert record["numbers"]["boards.inlet-design.crest_m"] == "1184.20 ft"
    box = next(box for box in record["boxes"] if box["path"] == "boards.inlet")
    assert (box["text"], box["unit"]) == ("36", "in")


@pytest.mark.works(of=(numbers,))
def test_numbers_behind_a_question_lead_on_and_say_what_follows(tmp_path: Path):
    copy_of("corbel-farm", tmp_path)
    html = desk_of(tmp_path).get("/job/corbel-farm/ask/height/numbers").text
    assert "/number/boards.inlet-design.crest_m" in html
    assert "refined=true" in html
    cost = desk_of(tmp_path).get("/job/corbel-farm/ask/cost/numbers").text
    assert "/number/cost.total_usd" not in cost


@pytest.mark.works(of=(since,))
def test_a_job_that_was_never_issued_says_so_at_once(tmp_path: Path):
    copy_of("corbel-farm", tmp_path)
    html = desk_of(tmp_path).get("/job/corbel-farm/since").text
    assert "No copy was issued yet that could be compared with." in html


@pytest.mark.works(of=(questions,))
def test_sentences_come_by_themselves_after_a_change(tmp_path: Path):
    folder = copy_of("corbel-farm", tmp_path)
    desk = desk_of(tmp_path)
    edit(folder, 'diameter = "10 in"', 'diameter = "12 in"')
    html = desk.get("/job/corbel-farm/questions").text
    assert "Main 12 in concrete" in html
    assert 'hx-trigger="job-changed from:body"' in html
    record = desk.get("/job/corbel-farm/questions.json").json()
    assert [one["slug"] for one in record] == [q.slug for q in QUESTIONS]


@pytest.mark.works(of=(asked_of,))
def test_a_practice_that_was_tried_besides_is_said_to_be_so():
    first = HeldJob(EXAMPLES / "merridew-farm").first()
    assert sentences(first)["practice"].endswith("bed, raised not compared yet")
    tried = {"alternatives": [{"what": "A woodchip bed", "why_not": "does not fit: Uplift"}]}
    said = sentences(replace(first, is_refined=True, record=tried))["practice"]
    assert said.endswith("; bed does not fit; raised not compared")
