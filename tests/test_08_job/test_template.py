# SPDX-License-Identifier: Apache-2.0
"""New job folders: the commented file, a few answers, copies of examples."""

import re
from pathlib import Path

import pytest

from tilewater.basis.errors import BadInputFile, UnknownName
from tilewater.basis.unknown import is_unknown
from tilewater.job.edits import Edit
from tilewater.job.reading import job_of_text, read_job
from tilewater.job.schema import JobFile, asks
from tilewater.job.template import (
    FIRST_QUESTIONS,
    SAMPLE_NAMES,
    copy_example,
    example_names,
    start_job,
    template_text,
)
from tilewater.job.words import FileName

COMMENTED_OUT = re.compile(r"^# (\[[a-z0-9_.-]+\]|[a-z_0-9]+ = .+)$", re.MULTILINE)
ANSWERS: dict[str, Edit] = {
    "job.title": "Käthes Feld, outlet 2",
    "drainage.area": "62 acre",
    "main.diameter": "10 in",
    "main.slope": "0.18 %",
    "main.n": 0.013,
    "spot.low-2.kind": "low spot",
    "spot.low-2.ground": "1187.0 ft",
}


@pytest.mark.works(of=(template_text,))
def test_the_template_is_a_job_of_which_nothing_is_known(tmp_path: Path) -> None:
    job = job_of_text(template_text(), tmp_path)
    typed = [given for given in job.givens if given.origin.line is not None]

    assert len(typed) > 50
    assert all(is_unknown(given.value) for given in typed)
    assert [note.code for note in job.notes] == ["foot-unknown"]


@pytest.mark.works(of=(template_text,))
def test_the_template_with_all_comments_taken_in_is_read(tmp_path: Path) -> None:
    named = {group: {name: {}} for group, name in SAMPLE_NAMES.items()}
    for _, _, ask in asks(JobFile, named):
        if isinstance(ask, FileName):
            file = tmp_path / ask.example
            file.parent.mkdir(exist_ok=True)
            file.write_text("")
    job = job_of_text(COMMENTED_OUT.sub(r"\1", template_text()), tmp_path)
    inputs = [path for path, _, _ in asks(JobFile, named) if path[0] not in SAMPLE_NAMES]

    assert {path[0] for path in inputs} <= {given.key.split(".")[1] for given in job.givens}
    assert job.overrules
    assert job.confirmations
    assert len([g for g in job.givens if g.key.startswith("inputs.spot.")]) == 7


@pytest.mark.works(of=(template_text,))
def test_the_template_explains_each_field_above_it() -> None:
    assert (
        "# Inside diameter of the main, in inches or mm. To find out: measure an exposed pipe; "
        "the stub\n"
        '# at the outlet is often larger. Allowed: 2 in to 96 in. Like "10 in".\n'
        'diameter = "unknown"\n'
    ) in template_text()
    assert (
        "# Effective porosity, for residence. Allowed: 0.05 to 0.95. Default 0.61 (ghane2019).\n"
        "# porosity_effective = 0.61\n"
    ) in template_text()


@pytest.mark.works(of=(template_text,))
def test_no_line_of_the_template_is_wide() -> None:
    assert max(len(line) for line in template_text().splitlines()) <= 100


@pytest.mark.works(of=(start_job,))
def test_a_job_starts_from_a_few_answers_in_any_folder(tmp_path: Path) -> None:
    folder = tmp_path / "Höfe 2026" / "Käthes Feld"
    job = start_job(folder, ANSWERS)
    values = {given.key: given.value for given in job.givens}

    assert job == read_job(folder)
    assert values["inputs.job.title"] == "Käthes Feld, outlet 2"
    assert values["inputs.main.diameter_m"] == 0.254
    assert values["inputs.main.n"] == 0.013
    assert values["inputs.spot.low-2.kind"] == "low spot"
    assert is_unknown(values["inputs.spot.low-2.station_m"])
    assert is_unknown(values["inputs.bed.length_bottom_m"])


@pytest.mark.works(of=(start_job,))
def test_a_job_without_a_title_is_called_after_its_folder(tmp_path: Path) -> None:
    job = start_job(tmp_path / "north outlet")

    assert job.file.job.title == "north outlet"


@pytest.mark.works(of=(start_job,))
def test_a_new_job_overwrites_nothing(tmp_path: Path) -> None:
    start_job(tmp_path, ANSWERS)
    before = (tmp_path / "job.toml").read_bytes()
    with pytest.raises(BadInputFile) as raised:
        start_job(tmp_path)

    assert str(raised.value) == (
        f"job.toml: there is a job.toml in {tmp_path} already. "
        "Nothing was written. Choose another folder."
    )
    assert before == (tmp_path / "job.toml").read_bytes()


@pytest.mark.works(of=(start_job,))
def test_a_wrong_answer_writes_nothing(tmp_path: Path) -> None:
    with pytest.raises(BadInputFile, match=r"main\.diameter: '10' has no unit\."):
        start_job(tmp_path / "new", {"main.diameter": "10"})
    with pytest.raises(UnknownName) as raised:
        start_job(tmp_path / "new", {"main.diametre": "10 in"})

    assert str(raised.value) == (
        "The job file has no place for 'main.diametre'. Write table and key, like main.diameter. "
        "Did you mean main.diameter?"
    )
    assert not (tmp_path / "new").exists()


@pytest.mark.works(of=(template_text,))
def test_the_first_questions_have_a_place(tmp_path: Path) -> None:
    text = template_text(dict.fromkeys(FIRST_QUESTIONS, "unknown"))

    assert job_of_text(text, tmp_path).givens


@pytest.mark.works(of=(copy_example,))
def test_an_example_is_copied_with_its_files(tmp_path: Path) -> None:
    job = copy_example("corbel-farm", tmp_path / "mine")

    assert "corbel-farm" in example_names()
    assert (tmp_path / "mine" / "prices.csv").is_file()
    assert job.name == "mine"


@pytest.mark.works(of=(copy_example,))
def test_an_example_is_not_copied_over_anything(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("mine")
    with pytest.raises(BadInputFile) as raised:
        copy_example("corbel-farm", tmp_path)

    assert str(raised.value) == (
        f"job.toml: {tmp_path} is not empty. Nothing was written. Choose another folder."
    )
    assert [path.name for path in tmp_path.iterdir()] == ["notes.txt"]


@pytest.mark.works(of=(copy_example,))
def test_an_unknown_example_is_said(tmp_path: Path) -> None:
    with pytest.raises(UnknownName, match=r"^No example called 'corbel'\. Known: .*corbel-farm"):
        copy_example("corbel", tmp_path / "x")
