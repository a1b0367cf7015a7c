# SPDX-License-Identifier: Apache-2.0
"""A buffer from its job folder to page, papers and single numbers, as its engineer meets it."""

import io
import re
import shutil
from functools import cache
from io import BytesIO
from typing import Any

import pytest
from pypdf import PdfReader

from tests.merridew import FARM, merridew_inputs, with_days
from tests.pages import Console
from tilewater.basis.errors import UnknownName
from tilewater.chain.changes import flatten
from tilewater.chain.design import design_practice
from tilewater.chain.explain import explain, keys_of
from tilewater.chain.practices import PRACTICES
from tilewater.chain.result import result_record
from tilewater.documents.pages.day_page import day_of
from tilewater.documents.pages.route_page import route_page, route_record
from tilewater.documents.pages.summary import summary
from tilewater.documents.report import owner_pdf, report_pdf
from tilewater.documents.report.buffer_pages import buffer_pages
from tilewater.documents.report.owner_buffer import does, will_not
from tilewater.documents.words import Words
from tilewater.tasks.designing import Outcome, design_job
from tilewater.tasks.papers import papers_of
from tilewater.tasks.watering import water_job

NOT_OF_THE_TRACE = ("findings", "unknown", "alternatives", "overrules", "advice", "decides")


@pytest.fixture(scope="module")
def outcome(tmp_path_factory: pytest.TempPathFactory) -> Outcome:
    folder = tmp_path_factory.mktemp("buffer") / "merridew-farm"
    shutil.copytree(FARM, folder, ignore=shutil.ignore_patterns("results", "issued"))
    text = (folder / "job.toml").read_text(encoding="utf-8")
    for table in ("weather", "practice"):  # without thirty years of days it is quick
        text = re.sub(rf"\[{table}\].*?(?=\n\n|\Z)", "", text, count=1, flags=re.DOTALL)
    (folder / "job.toml").write_text(f'{text}\n[practice]\nkind = "buffer"\n', encoding="utf-8")
    return design_job(folder)


@cache
def by_days() -> Any:
    return design_practice(with_days(merridew_inputs()), PRACTICES["buffer"])


def page_of(outcome: Outcome, width: int = 110) -> str:
    console = Console(width=width, record=True, file=io.StringIO())
    for part in summary(outcome.job.title, outcome.design, outcome.alternatives, Words()):
        console.print(part)
    return console.export_text()


@pytest.mark.works(of=(design_job, summary))
def test_the_page_says_what_a_buffer_engineer_asks_first(outcome: Outcome):
    page = page_of(outcome)
    assert "Meets the flow rule by its second arm" in page
    assert "poor value" in page
    for words in ("auger holes", "soil survey", "used", "8.96 ft/day"):
        assert words in page
    for season in ("winter", "spring", "summer", "autumn"):
        assert re.search(rf"{season}\s+7\d\d\.\d\d ft", page)
    assert "factor of safety" in page
    assert "They rank banks; they do not clear one." in page
    assert "Criteria  604, edition 2020" in page
    assert "Perforated line" in page
    assert "woodchip" not in page
    assert "not known" not in page.partition("By season")[0].partition("What it takes")[2]


@pytest.mark.works(of=(papers_of, report_pdf, owner_pdf, buffer_pages, does, will_not))
def test_its_papers_speak_of_a_buffer_and_of_no_bed(outcome: Outcome):
    papers = papers_of(outcome, "us")
    assert "buffer-section.svg" in papers
    assert not {"long-section.svg", "cross-section.svg"} & set(papers)
    for name, make in papers.items():
        if name.endswith(("svg", "dxf")):
            assert len(make()) > 1000, name
    owner = " ".join(p.extract_text() for p in PdfReader(BytesIO(papers["owner.pdf"]())).pages)
    assert "A saturated buffer fits here, as far as we know today." in owner
    assert "buried pipe with holes" in owner
    assert "woodchip" not in owner
    assert "new chips" not in owner
    report = PdfReader(BytesIO(papers["report.pdf"]()))
    first = report.pages[0].extract_text()
    assert "Saturated buffer on a tile main" in first
    assert "practice standard 604" in first
    assert "Factor of safety of the bank" in first
    whole = " ".join(page.extract_text() for page in report.pages[:12])
    assert "What removes most here" in whole or "The bank" in whole


@pytest.mark.works(of=(water_job,))
def test_the_water_side_of_a_buffer_stands_alone(outcome: Outcome):
    watered = water_job(outcome.job.folder)
    assert watered.record["pool_reach_m"] > 0
    assert "boards.outlet-design.crest_m" not in watered.side.trace


@pytest.mark.works(of=(explain, keys_of, result_record))
def test_every_number_of_its_record_is_explained():
    design = by_days()
    record = {
        key: value
        for key, value in result_record(design, (), "0").items()
        if key not in NOT_OF_THE_TRACE
    }
    leaves = {
        key: value
        for key, value in flatten(record).items()
        if isinstance(value, int | float) and not isinstance(value, bool)
    }
    assert len(leaves) > 250
    lost, wrong = [], []
    for key, value in leaves.items():
        if re.match(r"buffer\.curve\.|buffer\.conductivity_by\..*factor", key):
            continue
        try:
            found = keys_of(design.trace, key)
        except UnknownName:
            lost.append(key)
            continue
        if len(found) == 1 and not key.endswith(("_mm", "_in")):
            wrong += [key] if design.trace.value(found[0]) != value else []
    assert lost == []
    assert wrong == []


@pytest.mark.works(of=(route_page, route_record))
def test_a_day_of_it_can_be_worked_again():
    trace, day = by_days().trace, "2011-03-20"
    record = route_record(trace, "removal.removed_kg.p50", day_of(day))
    assert record["same_as_run"] is True
    assert set(record["crests_m"]) == {"inlet", "head"}
    console = Console(width=100, record=True, file=io.StringIO())
    for part in route_page(trace, "removal.removed_kg.p50", day_of(day), Words()):
        console.print(part)
    text = console.export_text()
    assert "What the soil takes out" in text
    assert "the compiled run has the same numbers" in text.replace("\n", " ")
    assert "soil and kinetics at their middle" in text
