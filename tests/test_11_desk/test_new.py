# SPDX-License-Identifier: Apache-2.0
"""A new job from the desk: the ten-minute answer, one more word, or an example."""

from pathlib import Path

import pytest
from fastapi.testclient import TestClient
from hypothesis import given
from hypothesis import strategies as st

from tests.desks import copy_of, desk_of
from tilewater.desk.pages.new import ASKED, begin, from_example, new, rough
from tilewater.desk.placing import (
    ENDINGS,
    MOST_LETTERS,
    NoPlace,
    file_name_of,
    free_name,
    names_in,
    new_folder,
    slug_of,
)
from tilewater.job.file_names import strange_name
from tilewater.job.reading import read_job
from tilewater.tasks.roughing import BOXES

SAID = {"area": "62 acre", "main": "10 in", "grade": "0.18 %", "nitrate": "14 mg/L"}


@pytest.fixture
def desk(tmp_path: Path) -> TestClient:
    return desk_of(tmp_path)


def folders(root: Path) -> list[str]:
    return sorted(path.name for path in root.iterdir())


@pytest.mark.works(of=(new,))
def test_the_boxes_are_those_of_the_ten_minute_answer(desk: TestClient) -> None:
    assert BOXES == tuple(asked.name for asked in ASKED)
    page = desk.get("/new").text
    for asked in ASKED:
        assert f'<label for="in-{asked.name}">{asked.label}</label>' in page
    assert desk.get("/new.json").json()["boxes"] == list(BOXES)


@pytest.mark.works(of=(rough,))
def test_the_rough_answer_is_shown_as_bands_with_a_box_for_a_name(desk: TestClient) -> None:
    answer = desk.post("/new/rough", data=SAID)
    assert answer.status_code == 200
    for words in ("Woodchip bed", "low", "middle", "high", "For the telephone only"):
        assert words in answer.text
    assert 'name="name"' in answer.text
    record = desk.post("/new/rough.json", data=SAID).json()
    assert record["kind"] == "rough answer, no design"


@pytest.mark.works(of=(rough,))
@pytest.mark.parametrize(
    ("box", "typed", "words"),
    [
        ("area", "", "Without it there is no answer at all."),
        ("area", "62", "&#39;62&#39; has no unit. Write 62 acre or 25.1 ha."),
        ("main", "-10 in", "It is -10 in. It is more than nothing."),
        ("strip", "190 ft", "&#39;190 ft&#39; is not two lengths."),
        ("levels", "1 ft, 2 ft, 3 ft", "Grade and levels say the same thing. Give one of them."),
        ("nitrate", "<b>", "&lt;b&gt;"),
    ],
)
def test_a_box_that_cannot_be_read_says_so_beside_it(
    desk: TestClient, tmp_path: Path, box: str, typed: str, words: str
) -> None:
    for address in ("/new/rough", "/new/begin"):
        answer = desk.post(address, data={**SAID, box: typed, "name": "x"})
        assert answer.status_code == 422
        assert words in answer.text
        assert "--" not in answer.text.split("<main")[1].replace("<!--", "")
    assert [] == folders(tmp_path)


@pytest.mark.works(of=(begin, new_folder))
def test_one_more_word_makes_the_job(desk: TestClient, tmp_path: Path) -> None:
    answer = desk.post("/new/begin", data={**SAID, "name": " Miller,  north  <outlet> "})
    assert (303, "/job/miller-north-outlet") == (answer.status_code, answer.headers["location"])
    job = read_job(tmp_path / "miller-north-outlet")
    assert job.file.job.title == "Miller, north <outlet>"
    assert 'area = "62 acre"' in job.text
    page = desk.get("/job/miller-north-outlet")
    assert page.status_code == 200
    assert "<outlet>" not in page.text


@pytest.mark.works(of=(begin, from_example))
@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("", "A name needs a letter from a to z, or a digit."),
        ("../..", "A name needs a letter from a to z, or a digit."),
        ("CON", "is what some systems call a device."),
        ("Corbel FARM", "There is a &#39;corbel-farm&#39; in this folder already."),
        ("x" * 300, "The name is longer than 200 letters."),
    ],
)
def test_a_name_that_makes_no_new_folder_is_refused(
    desk: TestClient, tmp_path: Path, name: str, words: str
) -> None:
    copy_of("corbel-farm", tmp_path)
    answer = desk.post("/new/begin", data={**SAID, "name": name})
    assert answer.status_code == 422
    assert words in answer.text
    assert ["corbel-farm"] == folders(tmp_path)


@pytest.mark.works(of=(from_example,))
def test_an_example_is_copied_and_never_over_anything(desk: TestClient, tmp_path: Path) -> None:
    sent = {"example": "merridew-farm", "name": "Trial"}
    assert desk.post("/new/example", data=sent).headers["location"] == "/job/trial"
    assert desk.post("/new/example", data=sent).status_code == 422
    assert desk.post("/new/example", data={"example": "../corbel-farm"}).status_code == 422
    assert ["trial"] == folders(tmp_path)
    assert read_job(tmp_path / "trial").name == "trial"


@pytest.mark.works(of=(begin,))
def test_a_desk_of_one_job_begins_no_other(tmp_path: Path) -> None:
    farm = copy_of("corbel-farm", tmp_path)
    before = folders(farm)
    answer = desk_of(farm).post("/new/begin", data={**SAID, "name": "other"})
    assert answer.status_code == 422
    assert "The desk was opened on one job." in answer.text
    assert before == folders(farm)


@pytest.mark.law(of=(slug_of, new_folder))
@given(st.text(max_size=100))
def test_whatever_is_typed_makes_a_plain_name_or_none(words: str) -> None:
    slug = slug_of(words)
    assert set(slug) <= set("abcdefghijklmnopqrstuvwxyz0123456789-")
    assert len(slug) <= MOST_LETTERS
    assert not slug.startswith("-")
    assert not slug.endswith("-")


@pytest.mark.law(of=(file_name_of,))
@given(st.text(max_size=300))
def test_whatever_a_file_is_called_it_gets_a_plain_name(sent: str) -> None:
    name = file_name_of(sent, "shots")
    assert set(name) <= set("abcdefghijklmnopqrstuvwxyz0123456789-.")
    assert name[name.rindex(".") :] in ENDINGS
    assert name.count(".") == 1
    assert not name.startswith((".", "-"))
    assert strange_name(name) == ""


@pytest.mark.works(of=(file_name_of,))
@pytest.mark.parametrize(
    ("sent", "name"),
    [
        ("../../etc/passwd", "passwd.csv"),
        ("D:\\survey\\Shots 1.TXT", "shots-1.txt"),
        ("job.toml", "job-toml.csv"),
        (".htaccess", "htaccess.csv"),
        ("con.csv", "file-con.csv"),
        ("page.html", "page-html.csv"),
        ("USC00130200.dly", "usc00130200.dly"),
        ("Größe.csv", "grosse.csv"),
        ("", "shots.csv"),
        ("…", "shots.csv"),
    ],
)
def test_names_of_files_that_are_sent(sent: str, name: str) -> None:
    assert file_name_of(sent, "shots") == name


@pytest.mark.works(of=(free_name, names_in))
def test_a_name_that_is_taken_gets_a_number(tmp_path: Path) -> None:
    (tmp_path / "Shots.csv").write_text("", encoding="utf-8")
    (tmp_path / "shots-2.csv").write_text("", encoding="utf-8")
    assert free_name(tmp_path, "shots.csv") == "shots-3.csv"
    assert free_name(tmp_path, "other.csv") == "other.csv"


@pytest.mark.works(of=(new_folder, NoPlace))
def test_a_link_of_that_name_is_not_followed(tmp_path: Path) -> None:
    root = tmp_path / "jobs"
    root.mkdir()
    (root / "trial").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(NoPlace, match="There is a 'trial' in this folder already"):
        new_folder(root, "trial")
    assert not (tmp_path / "elsewhere").exists()
