# SPDX-License-Identifier: Apache-2.0
"""A tracer test of a job: file, pore volume of the design, page, paper, what is missing."""

import shutil
from datetime import date
from pathlib import Path

import pytest

from tests.pages import Console
from tests.pdf import Paper
from tilewater.basis.errors import BadInputFile
from tilewater.chain.tracer import add_tracer
from tilewater.documents.pages.tracer_page import tracer_page
from tilewater.documents.words import Words
from tilewater.job.tracer_file import read_tracer_file
from tilewater.tasks.checking import check_job
from tilewater.tasks.inspection import Inspection, Part
from tilewater.tasks.later_files import check_every_file
from tilewater.tasks.tracing import tracing_part
from tools.package import ROOT

TEST = """
[tracer.spring-2029]
file = "tracer.csv"
date = "2029-05-14"
mass = "{mass}"
background = "0.12 mg/L"
flow = "0.15 cfs"

[renew]
filled = "2027-10-01"
"""
CURVE = "time [h],concentration [mg/L]\n" + "\n".join(
    f"{hour},{level}"
    for hour, level in enumerate((0.12, 4.1, 12.0, 18.2, 15.0, 9.1, 5.0, 2.4, 1.1))
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shutil.copytree(ROOT / "examples" / "corbel-farm", tmp_path / "farm")
    (tmp_path / "farm" / "tracer.csv").write_text(CURVE, encoding="utf-8")
    return tmp_path / "farm"


def give(folder: Path, mass: str = "0.8 lb") -> Path:
    job = folder / "job.toml"
    text = f"{job.read_text(encoding='utf-8')}\n{TEST.format(mass=mass)}"
    job.write_text(text, encoding="utf-8")
    return folder


def part_of(folder: Path) -> Part:
    made = tracing_part(Inspection(check_job(folder), date(2030, 12, 1)))
    assert made is not None
    return made


def page(part: Part) -> str:
    console = Console(width=80, record=True, quiet=False)
    for each in part.page(Words()):
        console.print(each)
    return console.export_text()


@pytest.mark.works(of=(tracing_part,))
def test_a_job_without_a_test_has_no_part() -> None:
    job = check_job(ROOT / "examples" / "corbel-farm")
    assert tracing_part(Inspection(job, date(2030, 12, 1))) is None


@pytest.mark.works(of=(tracing_part, tracer_page, add_tracer))
def test_a_test_stands_on_the_design_and_every_number_has_a_key(folder: Path) -> None:
    part = part_of(give(folder))
    trace, record = part.trace, part.record["spring-2029"]
    # chips placed 2027-10-01, tested 2029-05-14: 591 days
    assert trace.value("tracer.spring-2029.age_years") == pytest.approx(591 / 365.25)
    pores = 0.61 * record["wet_volume_m3"]
    assert record["pore_volume_m3"] == pytest.approx(pores)
    stayed = record["mean_residence_s"]
    assert record["effective_volume_ratio"] == pytest.approx(
        stayed / (pores / record["mean_flow_m3_s"])
    )
    assert record["porosity_shown"] == pytest.approx(0.61 * record["effective_volume_ratio"])
    told = page(part)
    assert "Mean time in the bed" in told
    assert "with tail extrapolated" in told
    assert {"tracer.spring-2029.t10_s", "tracer.spring-2029.with_tail.t10_s"} <= set(trace.steps)


@pytest.mark.works(of=(tracing_part, tracer_page))
def test_too_much_tracer_prints_no_efficiency(folder: Path) -> None:
    part = part_of(give(folder, mass="0.4 lb"))
    assert part.record["spring-2029"]["is_final"] is False
    assert [note.code for note in part.notes][:1] == ["tracer-recovery-high"]
    lines = [line for line in page(part).splitlines() if "efficiency" in line]
    assert [line.split()[-4:] for line in lines] == [["not", "final", "not", "final"]]


@pytest.mark.works(of=(tracing_part,))
def test_a_mass_that_nobody_weighed_leaves_the_test_not_known(folder: Path) -> None:
    part = part_of(give(folder, mass="unknown"))
    assert part.record["spring-2029"]["recovery"] is None
    assert "not known" in page(part)


@pytest.mark.works(of=(tracing_part,))
def test_the_page_of_a_test_is_one_and_names_what_was_put_in(folder: Path) -> None:
    part = part_of(give(folder))
    content = part.files["tracer-spring-2029.pdf"]()
    assert isinstance(content, bytes)
    paper = Paper(content)
    assert paper.length == 1
    assert "Tracer test" in paper.text
    assert "lb put in, 2029-05-14" in paper.text


@pytest.mark.works(of=(read_tracer_file, check_every_file))
def test_check_reads_the_curve_and_names_the_row_at_fault(folder: Path) -> None:
    give(folder)
    assert any(
        "tracer test spring-2029, 9 samples" in file for file in check_every_file(folder).files
    )
    (folder / "tracer.csv").write_text(
        "time [h],concentration [mg/L]\n0,0\n2,1\n1,3\n3,much\n", encoding="utf-8"
    )
    with pytest.raises(BadInputFile) as wrong:
        check_every_file(folder)
    assert [fault.line for fault in wrong.value.faults] == [4, 5]
    assert "does not come after the row before it" in wrong.value.faults[0].message
