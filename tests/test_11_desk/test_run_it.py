# SPDX-License-Identifier: Apache-2.0
"""Run it in the desk: what stands, a change in three taps, the search, the papers."""

from pathlib import Path
from time import monotonic, sleep

import pytest
from fastapi.testclient import TestClient

from tests.desks import copy_of, desk_of
from tilewater.desk.pages import run_it

BUILT, FARM = "corbel-built", "corbel-farm"
ENOUGH = 240.0
"""Longer than a search takes on a busy machine. [s]"""


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("desk")
    copy_of(BUILT, folder)
    copy_of(FARM, folder)
    return folder


@pytest.fixture(scope="module")
def desk(root: Path) -> TestClient:
    return desk_of(root)


@pytest.mark.works(of=(run_it.run_it, run_it.run_it_twin))
def test_the_page_says_what_stands_without_a_search(desk: TestClient):
    page = desk.get(f"/job/{BUILT}/run-it").text
    assert "since 2030-11-13 14:00" in page
    assert "4 x 8 + 4 in" in page
    twin = desk.get(f"/job/{BUILT}/run-it.json").json()
    assert ("none", None) == (twin["state"], twin["found"])
    assert {"inlet": pytest.approx(36 * 0.0254), "outlet": pytest.approx(24 * 0.0254)} == twin[
        "standing_m"
    ]


@pytest.mark.works(of=(run_it.record,))
def test_a_change_is_recorded_and_a_log_begun_where_there_is_none(desk: TestClient, root: Path):
    offered = desk.get(f"/job/{FARM}/run-it?board_set=outlet").text
    assert 'name="stack" value="10"' in offered
    sent = desk.post(f"/job/{FARM}/run-it/log", data={"board_set": "outlet", "stack": "10"})
    assert sent.status_code == 303
    log = (root / FARM / "boards-log.csv").read_text(encoding="utf-8").splitlines()
    assert log[0] == "time,set,stack [in],rim_down [in],who,note"
    assert ",outlet,10,,," in log[1]
    assert 'file = "boards-log.csv"' in (root / FARM / "job.toml").read_text(encoding="utf-8")
    assert len(desk.get(f"/job/{FARM}/run-it.json").json()["log"]) == 1


@pytest.mark.works(of=(run_it.record,))
def test_a_tape_that_fits_no_stack_is_refused_with_the_nearest(desk: TestClient, root: Path):
    before = (root / BUILT / "boards-log.csv").read_bytes()
    refused = desk.post(f"/job/{BUILT}/run-it/log", data={"board_set": "inlet", "rim_down": "33.6"})
    assert refused.status_code == 422
    assert "fits no stack of these boards. The nearest are 34 in" in refused.text
    assert "36 in (rim down 32.88 in)" in refused.text
    assert before == (root / BUILT / "boards-log.csv").read_bytes()


@pytest.mark.works(of=(run_it.record,))
def test_a_log_outside_the_folder_is_not_written(desk: TestClient, root: Path):
    folder = copy_of(FARM, root, "sly")
    (root / "far.csv").write_text("time,set,stack\n2028-01-01 00:00,inlet,36\n", encoding="utf-8")
    with (folder / "job.toml").open("a", encoding="utf-8") as file:
        file.write('\n[board_log]\nfile = "../far.csv"\n')
    sent = desk.post("/job/sly/run-it/log", data={"board_set": "inlet", "stack": "36"})
    assert sent.status_code == 422
    assert "lies outside the job folder and is not written" in sent.text
    assert "2028-01-01 00:00,inlet,36\n" == (root / "far.csv").read_text().splitlines(True)[-1]


@pytest.mark.slow
@pytest.mark.works(of=(run_it.start, run_it.running_file))
def test_a_search_runs_beside_the_page_and_its_papers_are_made(desk: TestClient):
    assert desk.get(f"/job/{BUILT}/run-it/file/lid-card.pdf").status_code == 404
    assert desk.post(f"/job/{BUILT}/run-it").status_code == 303
    until = monotonic() + ENOUGH
    while desk.get(f"/job/{BUILT}/run-it.json").json()["state"] == "runs" and monotonic() < until:
        sleep(0.2)
    twin = desk.get(f"/job/{BUILT}/run-it.json").json()
    assert "done" == twin["state"]
    assert twin["found"]["chosen"] == "best-4"
    page = desk.get(f"/job/{BUILT}/run-it").text
    assert "What stands by the log" in page
    assert "Ways to run them" in page
    assert desk.get(f"/job/{BUILT}/run-it/file/lid-card.pdf").content.startswith(b"%PDF")
    assert desk.get(f"/job/{BUILT}/run-it/file/boards.csv").text.startswith("from,until,set")


@pytest.mark.works(of=(run_it.start, run_it.stop))
def test_a_search_can_be_stopped(desk: TestClient, root: Path):
    copy_of(BUILT, root, "stopped")
    desk.post("/job/stopped/run-it")
    assert desk.post("/job/stopped/run-it/stop").status_code == 303
    until = monotonic() + ENOUGH
    while desk.get("/job/stopped/run-it.json").json()["state"] == "runs" and monotonic() < until:
        sleep(0.05)
    assert "stopped" == desk.get("/job/stopped/run-it.json").json()["state"]
    assert "Stopped before the boards were found." in desk.get("/job/stopped/run-it").text
