# SPDX-License-Identifier: Apache-2.0
"""Every number opens: to its equation, its inputs with their boxes, its source and its checks."""

import re
from pathlib import Path
from urllib.parse import unquote

import pytest
from fastapi.testclient import TestClient

from tests.desks import EXAMPLES, copy_of, desk_of, version_of
from tilewater.basis.requirement import Requirement
from tilewater.basis.trace import Given, Trace
from tilewater.chain.explain import HONESTY, requirements_on
from tilewater.desk.boxes import Filled
from tilewater.desk.forms import question_of
from tilewater.desk.number_shown import free_name, number_shown
from tilewater.desk.opening import data_of
from tilewater.desk.opening_number import open_number, rests_on_days
from tilewater.desk.parts import as_html
from tilewater.desk.questions import QUESTIONS
from tilewater.documents.pages.explain_page import explain_page
from tilewater.documents.pages.said import Block, Group, Part, Rows, Said
from tilewater.documents.words import Words
from tilewater.job.schema import JOB_FILE
from tilewater.tasks.held import Answer, HeldJob

JOB = "/job/corbel-farm"
PART = {"hx-request": "true"}
US = Words()


@pytest.fixture(scope="module")
def held() -> HeldJob:
    return HeldJob(EXAMPLES / "corbel-farm")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return copy_of("corbel-farm", tmp_path)


@pytest.fixture
def desk(folder: Path) -> TestClient:
    return desk_of(folder.parent)


def trace_of(answer: Answer) -> Trace:
    assert answer.design is not None
    return answer.design.trace


def keys_in(part: Part) -> set[str]:
    """Keys of the numbers that a part leads to."""
    match part:
        case Said():
            return {run.key for run in part.runs if run.key}
        case Rows():
            return {key for line in part.lines for cell in line for key in keys_in(cell)}
        case Group():
            return {key for each in part.parts for key in keys_in(each)}
        case Block():
            return {key for each in part.body for key in keys_in(each)}
        case _:
            return set()


def open_page(desk: TestClient, key: str) -> str:
    answer = desk.get(f"{JOB}/number/{key}", headers=PART)
    assert answer.status_code == 200, answer.text
    return str(answer.text)


@pytest.mark.works(of=(number_shown, explain_page))
@pytest.mark.parametrize("farm", ["corbel-farm", "merridew-farm"])
def test_every_number_leads_to_its_inputs_without_an_orphan(farm: str):
    held = HeldJob(EXAMPLES / farm)
    trace = trace_of(held.first())
    filled = Filled(data_of(held))
    computed = [step for step in trace if step.function]
    assert len(computed) > 500
    for step in computed[::31]:
        shown = number_shown(trace, step.key, US, filled)
        leads = {key for part in shown.parts for key in keys_in(part)}
        assert {key for _, key in step.inputs} <= leads
        assert leads <= set(trace.steps)
        assert shown.slug in {q.slug for q in QUESTIONS}


@pytest.mark.works(of=(number_shown,))
def test_every_input_of_the_job_file_leads_to_its_box(held: HeldJob):
    trace = trace_of(held.first())
    filled = Filled(data_of(held))
    typed = [s.key for s in trace if s.origin and s.origin.file == JOB_FILE and s.origin.text]
    assert len(typed) > 150
    for key in typed[::9]:
        (own,) = number_shown(trace, key, US, filled).typed
        assert question_of(own.path) == own.slug
        assert "inputs." + own.path == key or key.startswith(f"inputs.{own.path}_")


@pytest.mark.works(of=(open_number,))
def test_a_number_tells_all_that_a_reviewer_asks(desk: TestClient):
    html = open_page(desk, "boards.inlet-design.crest_m")
    for words in (
        "1184.20 ft",
        "360.944 m",
        'href="/job/corbel-farm/number/boards.inlet-design.height_m"',
        "job.toml line ",
        "/ask/height?box=boards.inlet#box-boards.inlet",
        "Judged by",
        "How it is checked",
        "Overrule it",
    ):
        assert words in html
    capacity = open_page(desk, "capacity.criterion.flow_m3_s")
    assert "z_diversion - z_tailwater = losses" in capacity
    assert HONESTY["derived"] in capacity


@pytest.mark.works(of=(open_number,))
def test_links_of_a_number_lead_to_pages(desk: TestClient):
    html = open_page(desk, "capacity.criterion.share_of_peak")
    links = set(re.findall(r'href="(/job/corbel-farm/[^"#]+)', html))
    assert len(links) > 5
    for link in links:
        assert desk.get(unquote(link)).status_code == 200, link


@pytest.mark.works(of=(open_number,))
def test_a_group_lists_its_numbers_and_each_leads_on(desk: TestClient):
    html = open_page(desk, "field.low-1")
    assert 'href="/job/corbel-farm/number/field.low-1.midway_m"' in html
    assert "Overrule it" not in html


@pytest.mark.works(of=(open_number,))
def test_a_key_that_is_not_there_is_told_with_near_ones(desk: TestClient):
    answer = desk.get(f"{JOB}/number/boards.inlet-desing.crest_m")
    assert answer.status_code == 422
    assert "Did you mean boards.inlet-design.crest_m?" in answer.text


@pytest.mark.works(of=(open_number,))
def test_a_number_has_its_twin(desk: TestClient):
    (record,) = desk.get(f"{JOB}/number/boards.inlet-design.crest_m.json").json()
    assert record["value"] == "360.944 m"
    assert record["inputs"]


@pytest.mark.works(of=(number_shown,))
def test_a_number_is_overruled_and_taken_back(desk: TestClient, folder: Path):
    before = (folder / "job.toml").read_bytes()
    key = "pool_reach_m"
    name = free_name(key, {})
    fields = {
        "version": version_of(desk, "corbel-farm"),
        "number": key,
        "+overrule": name,
        "+overrule.key": key,
        "+overrule.value": "1,200",
        "+overrule.by": "R. Lindqvist",
        "+overrule.date": "2026-11-20",
        "+overrule.reason": "levelled",
    }
    refused = desk.post(f"{JOB}/keep", data=fields, headers=PART)
    assert refused.status_code == 422
    assert 'value="1,200"' in refused.text
    assert "has no unit" in refused.text
    fields["+overrule.value"] = "1,200 ft"
    assert desk.post(f"{JOB}/keep", data=fields, headers=PART).status_code == 200
    html = open_page(desk, key)
    assert "1,200.00 ft" in html
    assert "R. Lindqvist, 2026-11-20: levelled" in html
    assert f'value="overrule.{name}">Take it back' in html
    desk.post(f"{JOB}/undo", data={"version": version_of(desk, "corbel-farm")})
    assert (folder / "job.toml").read_bytes() == before


@pytest.mark.works(of=(number_shown,))
def test_what_follows_from_others_cannot_be_overruled(held: HeldJob):
    trace = trace_of(held.first())
    filled = Filled(data_of(held))
    status = number_shown(trace, "field.low-1.midway.status", US, filled)
    assert status.judgement is None
    assert number_shown(trace, "inputs.main.slope", US, filled).judgement is None
    unknown = number_shown(trace, "inputs.people.easements", US, filled).judgement
    assert unknown is not None
    assert unknown.table == "assume"


@pytest.mark.works(of=(free_name,))
def test_the_name_of_an_overrule_is_free():
    assert free_name("bed.length_m", {}) == "bed-length-m"
    assert free_name("bed.length_m", {"bed-length-m": {}}) == "bed-length-m-2"
    assert free_name("inputs.spot.low-1.ground_m", {}) == "spot-low-1-ground-m"


@pytest.mark.works(of=(requirements_on,))
def test_a_requirement_rests_on_all_that_its_value_comes_from():
    trace = Trace.start([Given("a_m", 1.0, "m", "A"), Given("b_m", 2.0, "m", "B")])
    trace.compute("c_m", abs_of, unit="m", title="C", a="a_m")
    limit = trace.constant("rule_m", 1.0, "Limit", unit="m", source="practice")
    rule = Requirement("r", "Rule", "c_m", ">=", limit, scale=1.0, unit="m", source="practice")
    trace.require(rule)
    assert requirements_on(trace, "a_m") == (rule,)
    assert requirements_on(trace, "c_m") == (rule,)
    assert requirements_on(trace, limit) == (rule,)
    assert requirements_on(trace, "b_m") == ()


def abs_of(a: float) -> float:
    """The size of a number."""
    return abs(a)


@pytest.mark.works(of=(as_html,))
def test_words_of_a_number_lead_to_it_and_hostile_words_stay_words():
    said = Said("<b>5</b>", "strong", "bed.length_m")
    html = str(as_html(said, lambda key: f"/number/{key}"))
    assert html == (
        '<span class="strong"><a class="key" href="/number/bed.length_m">'
        "&lt;b&gt;5&lt;/b&gt;</a></span>"
    )
    assert str(as_html(said)) == '<span class="strong">&lt;b&gt;5&lt;/b&gt;</span>'


@pytest.mark.works(of=(rests_on_days,))
def test_keys_that_the_days_change_are_known():
    assert rests_on_days("removal.removed_kg.p50")
    assert rests_on_days("removal")
    assert rests_on_days("cost.usd_per_kg.p10")
    assert rests_on_days("capacity.criterion.share_of_annual_flow")
    assert not rests_on_days("boards.inlet-design.crest_m")
    assert not rests_on_days("capacity.criterion.flow_m3_s")


@pytest.mark.slow
@pytest.mark.law(of=(rests_on_days,))
@pytest.mark.parametrize("farm", ["corbel-farm", "merridew-farm", "verling-farm"])
def test_no_number_of_the_first_answer_is_shown_that_the_days_change(farm: str):
    held = HeldJob(EXAMPLES / farm)
    first, refined = trace_of(held.first()), trace_of(held.refined())
    both = [key for key in first.steps if key in refined]
    changed = [k for k in both if repr(first.value(k)) != repr(refined.value(k))]
    assert changed
    assert [key for key in changed if not rests_on_days(key)] == []


@pytest.mark.slow
@pytest.mark.works(of=(open_number,))
def test_a_day_of_a_number_is_worked_again(desk: TestClient):
    html = desk.get(f"{JOB}/number/removal.removed_kg.p50?day=2011-05-03", headers=PART).text
    assert "2011-05-03" in html
    assert "What the bed takes out" in html
    assert "is no day" in desk.get(f"{JOB}/number/removal.removed_kg.p50?day=soon").text
