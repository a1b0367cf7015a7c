# SPDX-License-Identifier: Apache-2.0
"""Data files taken in by the desk: named safely, over nothing, and only where they can be read."""

from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from tests.desks import copy_of, desk_of, edit, version_of
from tilewater.desk.incoming import KINDS, MOST_BYTES, Kind, ask_at, taken_in
from tilewater.desk.pages.files import MOST_PASTED, files, take
from tilewater.job.reading import read_job
from tilewater.job.words import FileName

FARM = "corbel-farm"
HERE = f"/job/{FARM}/files"
SAMPLES = "date,place,nitrate [mg/L as N]\n2026-05-01,main,{}\n"
AS_FORM = {"empty": b""}
"""What makes the client send a form with files."""


@pytest.fixture
def farm(tmp_path: Path) -> Path:
    return copy_of(FARM, tmp_path)


@pytest.fixture
def desk(farm: Path) -> TestClient:
    return desk_of(farm.parent)


def names(farm: Path) -> list[str]:
    return sorted(path.name for path in farm.iterdir())


@pytest.mark.works(of=(Kind, ask_at))
def test_every_sort_of_file_is_one_that_a_job_file_names() -> None:
    for kind in KINDS:
        assert isinstance(kind.ask, FileName)
        assert all(ask_at(path).title for path in (*kind.beside, *dict(kind.fixed)))
    with pytest.raises(KeyError):
        ask_at("survey.shot")


@pytest.mark.works(of=(files,))
def test_the_files_that_a_job_names_are_listed_with_what_they_hold(desk: TestClient) -> None:
    record = {each["slug"]: each for each in desk.get(f"{HERE}.json").json()}
    assert record["shots"]["name"] == "survey/shots.csv"
    assert record["nitrate"]["holds"].endswith("nitrate samples")
    assert record["flow"]["name"] == ""
    page = desk.get(HERE).text
    for each in record.values():
        assert each["title"] in page


@pytest.mark.works(of=(take, taken_in))
def test_a_file_that_reads_well_is_put_beside_and_named(desk: TestClient, farm: Path) -> None:
    before = (farm / "nitrate.csv").read_bytes()
    sent = {"version": version_of(desk, FARM)}
    file = ("Nitrate.csv", SAMPLES.format("12.5").encode())
    answer = desk.post(f"{HERE}/nitrate", data=sent, files={"file": file})
    assert (303, HERE) == (answer.status_code, answer.headers["location"])
    assert (farm / "nitrate.csv").read_bytes() == before
    assert (farm / "nitrate-2.csv").read_text(encoding="utf-8") == SAMPLES.format("12.5")
    assert 'samples = "nitrate-2.csv"' in read_job(farm).text


@pytest.mark.works(of=(take, taken_in))
def test_a_file_is_replaced_where_that_is_asked_for(desk: TestClient, farm: Path) -> None:
    before = names(farm)
    sent = {"version": version_of(desk, FARM), "replaces": "yes"}
    file = ("nitrate.csv", SAMPLES.format("12.5").encode())
    assert desk.post(f"{HERE}/nitrate", data=sent, files={"file": file}).status_code == 303
    assert before == names(farm)
    assert (farm / "nitrate.csv").read_text(encoding="utf-8") == SAMPLES.format("12.5")
    assert 'samples = "nitrate.csv"' in read_job(farm).text
    assert desk.get(f"/job/{FARM}").status_code == 200


@pytest.mark.works(of=(take, taken_in))
def test_lines_that_are_pasted_are_a_file_as_well(desk: TestClient, farm: Path) -> None:
    sent = {
        "version": version_of(desk, FARM),
        "text": "P,N,E,Z\n101,3813110,4843530,1187.62\n102,3813120,4843540,1186.41\n"
        + "".join(f"{n},38131{n % 100:02},4843530,1180\n" for n in range(103, 111)),
        "survey.columns.point": "P",
        "survey.columns.north": "N",
        "survey.columns.east": "E",
        "survey.columns.height": "Z",
        "survey.columns.note": "",
        "survey.columns.fix": "",
        "site.foot": "international foot",
    }
    answer = desk.post(f"{HERE}/shots", data=sent, files=AS_FORM)
    assert answer.status_code == 303, answer.text
    text = read_job(farm).text
    assert 'shots = "shots.csv"' in text
    assert 'point = "P"' in text
    assert "position" not in text.split("[survey.columns]")[1].split("[")[0]
    assert (farm / "shots.csv").is_file()


@pytest.mark.works(of=(take, taken_in))
@pytest.mark.parametrize(
    ("text", "words"),
    [
        (SAMPLES.format("much"), "line 2: nitrate &#39;much&#39; is not a result."),
        (SAMPLES.format("<script>alert(1)</script>"), "&lt;script&gt;alert(1)&lt;/script&gt;"),
        ("date,place\n", "it holds no row below the names of the columns."),
        ("a" * 6000, "line 1: the line is longer than 5,000 letters."),
        ("  \n", "Nothing was sent. Choose a file, or paste its lines."),
    ],
)
def test_a_file_at_fault_is_not_kept_and_its_text_stays_in_the_page(
    desk: TestClient, farm: Path, text: str, words: str
) -> None:
    before, job = names(farm), read_job(farm).text
    sent = {"version": version_of(desk, FARM), "text": text}
    answer = desk.post(f"{HERE}/nitrate", data=sent, files=AS_FORM)
    assert answer.status_code == 422
    assert words in answer.text
    assert "It was not kept." in answer.text
    assert "<script>alert" not in answer.text
    assert (before, job) == (names(farm), read_job(farm).text)


@pytest.mark.works(of=(take,))
@pytest.mark.parametrize(
    "content", [b"\x00" * 300, bytes(range(256)) * 8, b"\xff" * 9, b"PK\x03\x04" + b"\x00" * 99]
)
def test_a_file_that_is_no_text_is_told(desk: TestClient, farm: Path, content: bytes) -> None:
    before = names(farm)
    for kind in KINDS:
        sent = {"version": version_of(desk, FARM)}
        answer = desk.post(f"{HERE}/{kind.slug}", data=sent, files={"file": ("a.csv", content)})
        assert answer.status_code == 422
    assert before == names(farm)


@pytest.mark.works(of=(take,))
def test_a_file_that_is_too_large_is_told(desk: TestClient, farm: Path) -> None:
    before = names(farm)
    sent = {"version": version_of(desk, FARM)}
    file = ("a.csv", b"1\n" * (MOST_BYTES // 2 + 1))
    answer = desk.post(f"{HERE}/flow", data=sent, files={"file": file})
    assert answer.status_code == 422
    assert "The file is larger than 32 MB." in answer.text
    pasted = desk.post(f"{HERE}/flow", data={**sent, "text": "1\n" * MOST_PASTED}, files=AS_FORM)
    assert pasted.status_code == 400
    assert before == names(farm)


@pytest.mark.works(of=(take,))
def test_more_than_one_file_is_not_taken(desk: TestClient, farm: Path) -> None:
    before = names(farm)
    many = [("file", (f"{n}.csv", b"1")) for n in range(3)]
    answer = desk.post(f"{HERE}/flow", data={"version": "x"}, files=many)
    assert answer.status_code == 400
    assert before == names(farm)


@pytest.mark.works(of=(take, taken_in))
def test_a_page_that_is_behind_loses_nothing_and_writes_nothing(
    desk: TestClient, farm: Path
) -> None:
    behind = version_of(desk, FARM)
    edit(farm, '"36 in"', '"34 in"')
    before, text = names(farm), (farm / "job.toml").read_text(encoding="utf-8")
    sent = {"version": behind, "text": SAMPLES.format("12.5")}
    answer = desk.post(f"{HERE}/nitrate", data=sent, files=AS_FORM)
    assert answer.status_code == 409
    assert "changed the file since it was read" in answer.text
    assert SAMPLES.format("12.5").strip() in answer.text
    assert (before, text) == (names(farm), (farm / "job.toml").read_text(encoding="utf-8"))


@pytest.mark.works(of=(take,))
def test_there_is_no_other_sort_and_no_other_job(desk: TestClient, farm: Path) -> None:
    for address in (f"{HERE}/job", f"{HERE}/%2e%2e", "/job/other/files/flow"):
        assert desk.get(address).status_code in (404, 307)
        assert desk.post(address, data={"text": "x"}, files=AS_FORM).status_code in (404, 405, 307)
    assert "other" not in names(farm.parent)


LEVELS = "Time,Level [ft]\n2028-03-13 00:00,1.00\n2028-03-13 00:15,{}\n2028-03-13 00:30,1.2\n"


@pytest.mark.works(of=(take, taken_in))
def test_a_logger_is_taken_in_and_one_at_fault_is_told_by_line(
    desk: TestClient, farm: Path
) -> None:
    before = names(farm)
    sent = {"version": version_of(desk, FARM), "logger.inlet.measures": "stage"}
    zone = {"logger.inlet.time_zone": "-6 h"}
    for text, more, words in (
        (LEVELS.format("x"), zone, "line 3: Level [ft]: &#39;x&#39; is not a number."),
        (LEVELS.format("1.1"), {}, "nothing says in which time zone its times are."),
    ):
        file = ("inlet.csv", text.encode())
        answer = desk.post(f"{HERE}/logger-inlet", data={**sent, **more}, files={"file": file})
        assert answer.status_code == 422
        assert words in answer.text
        assert before == names(farm)
    file = ("inlet.csv", LEVELS.format("1.1").encode())
    answer = desk.post(f"{HERE}/logger-inlet", data={**sent, **zone}, files={"file": file})
    assert answer.status_code == 303
    text = read_job(farm).text
    assert '[logger.inlet]\nfile = "inlet.csv"\nplace = "inlet"\nmeasures = "stage"' in text
    listed = {each["slug"]: each for each in desk.get(f"{HERE}.json").json()}
    assert listed["logger-inlet"]["title"] == "Logger of the inlet"
    assert listed["logger-inlet"]["name"] == "inlet.csv"
