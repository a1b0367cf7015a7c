# SPDX-License-Identifier: Apache-2.0
"""The search of the desk: it never holds the page, stops at once, and what it found can be kept."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial
from itertools import pairwise
from pathlib import Path
from time import monotonic, sleep
from typing import Any

import pytest
from fastapi.testclient import TestClient

from tests.desks import copy_of, desk_of, version_of
from tests.draws import few_draws
from tilewater.basis.trace import Trace
from tilewater.basis.units import parse_quantity
from tilewater.chain.search import search_shape
from tilewater.chain.search_ask import Progress
from tilewater.chain.search_axes import Axis, Level, SearchPlan
from tilewater.chain.search_bed import plan_of_bed
from tilewater.desk.found import edits_of, front_shown, marks_around, size_words
from tilewater.desk.pages import search as search_of_desk
from tilewater.documents.words import Words
from tilewater.job.as_edits import edits_of_inputs
from tilewater.tasks.held import HeldJob

FOOT, INCH = 0.3048, 0.0254
FARM = "corbel-farm"
ENOUGH = 300.0
"""Longer than a small search takes on a busy machine. [s]"""
SAME_COST = 1e-6
"""Rounding of a price list in SI. [USD]"""


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """A desk whose searches ask few sizes."""
    root = tmp_path_factory.mktemp("desk")
    of_last_years(copy_of(FARM, root))
    small = partial(search_shape, plan_for=partial(near_the_farm, step=10))
    with pytest.MonkeyPatch.context() as patch, few_draws():
        patch.setattr(search_of_desk, "search_shape", small)
        yield desk_of(root)


def of_last_years(folder: Path) -> None:
    """Leave the weather of the last eight years, so that every day is asked sooner."""
    file = folder / "weather.csv"
    lines = file.read_text(encoding="utf-8").splitlines(keepends=True)
    kept = [line for line in lines if not line[:4].isdigit() or int(line[:4]) >= 2018]
    assert len(kept) < len(lines)
    file.write_text("".join(kept), encoding="utf-8")


def near_the_farm(trace: Trace, *, step: int) -> SearchPlan:
    """Floors near the bed of the farm, longer by so many feet each."""
    plan = plan_of_bed(trace)
    wanted = {
        "bed.length_bottom_m": [length * FOOT for length in range(70, 150, step)],
        "bed.width_bottom_m": [width * FOOT for width in range(26, 34)],
    }
    axes = tuple(
        replace(axis, levels=tuple(v for v in axis.levels if is_one(v.value, wanted[axis.key])))
        for axis in plan.axes
        if axis.key in wanted
    )
    return replace(plan, axes=axes, rewired=())


def is_one(value: float, of: Sequence[float]) -> bool:
    return any(abs(value - each) < 1e-6 for each in of)


def state_of(desk: TestClient) -> dict[str, Any]:
    return dict(desk.get(f"/job/{FARM}/search.json").json())


def wait_for(desk: TestClient, *states: str, tried: bool = False) -> dict[str, Any]:
    until = monotonic() + ENOUGH
    while monotonic() < until:
        now = state_of(desk)
        if now["state"] in states or (tried and now["share"]):
            return now
        sleep(0.05)
    raise AssertionError(f"it still says {now['said']}")


@pytest.fixture(scope="module")
def found(desk: TestClient) -> dict[str, Any]:
    """A search that came to its end."""
    assert desk.post(f"/job/{FARM}/search", data={"most": 100}).status_code == 303
    return wait_for(desk, "done", "failed")


@pytest.mark.works(of=(search_of_desk.start, search_of_desk.search_twin))
def test_a_search_ends_and_its_record_is_that_of_the_command_line(found: dict[str, Any]) -> None:
    assert found["state"] == "done"
    assert found["found"]["practice"] == "bed"
    assert found["found"]["routed"] <= 100
    assert found["found"]["front"]
    assert found["is_of_this_job"]


@pytest.mark.works(of=(edits_of, edits_of_inputs, search_of_desk.member_twin))
def test_a_picked_size_laid_over_the_job_costs_what_the_search_said(
    desk: TestClient, found: dict[str, Any]
) -> None:
    held = HeldJob(desk.app.state.shelf.place(FARM).folder)  # type: ignore[attr-defined]
    own = held.first().record
    assert own is not None
    for number in {0, len(found["found"]["front"]) - 1}:
        member = desk.get(f"/job/{FARM}/search/{number}.json").json()
        answer = held.first(member["edits"])
        record, design = answer.record, answer.design
        assert record is not None
        assert design is not None
        assert record["cost"]["total_usd"] == pytest.approx(member["cost_usd"], abs=SAME_COST)
        assert member["cost_usd"] != pytest.approx(own["cost"]["total_usd"], abs=1.0)
        length = member["sizes"]["bed.length_bottom_m"]
        assert design.trace.value("bed.length_bottom_m") == pytest.approx(length)


@pytest.mark.works(of=(front_shown, search_of_desk.search, search_of_desk.member))
def test_every_member_is_a_mark_and_a_row_that_lead_to_it(
    desk: TestClient, found: dict[str, Any]
) -> None:
    page = desk.get(f"/job/{FARM}/search").text
    for number in range(len(found["found"]["front"])):
        assert page.count(f'href="/job/{FARM}/search/{number}"') == 2
    picked = desk.get(f"/job/{FARM}/search/0", headers={"hx-request": "true"}).text
    assert "Try this one" in picked
    assert "<html" not in picked


@pytest.mark.works(of=(search_of_desk.keep,))
def test_a_size_is_kept_once_and_an_old_page_keeps_nothing(
    desk: TestClient, found: dict[str, Any]
) -> None:
    file = Path(desk.app.state.shelf.place(FARM).folder) / "job.toml"  # type: ignore[attr-defined]
    before, version = file.read_text(encoding="utf-8"), version_of(desk, FARM)
    asked = f"/job/{FARM}/search/0/keep"
    try:
        assert desk.post(asked, data={"version": version}).status_code == 303
        kept = file.read_text(encoding="utf-8")
        assert kept != before
        assert not state_of(desk)["is_of_this_job"]
        assert desk.post(asked, data={"version": version}).status_code == 409
        assert file.read_text(encoding="utf-8") == kept
    finally:
        desk.app.state.shelf.held(FARM).undo(version=version_of(desk, FARM))  # type: ignore[attr-defined]
    assert file.read_text(encoding="utf-8") == before


@pytest.mark.works(of=(search_of_desk.stop, search_shape))
def test_a_search_that_is_stopped_ends_within_a_second_and_keeps_what_is_known(
    desk: TestClient, found: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    many = partial(search_shape, plan_for=partial(near_the_farm, step=1))
    monkeypatch.setattr(search_of_desk, "search_shape", many)
    desk.post(f"/job/{FARM}/search", data={"most": 5000})
    wait_for(desk, "done", tried=True)
    began = monotonic()
    desk.post(f"/job/{FARM}/search/stop")
    now = wait_for(desk, "stopped", "done")
    assert monotonic() - began < 1.0 * slowness()
    assert now["state"] == "stopped"
    assert now["found"]["ended"] == "stopped"
    assert now["found"]["tried"] > 0
    assert now["found"]["choices"] == []
    assert "Stopped." in desk.get(f"/job/{FARM}/search").text


def slowness() -> float:
    """How much slower than usual this machine is now: a fixed piece of work against its usual."""
    began = monotonic()
    sum(n * n for n in range(1_000_000))
    return max(1.0, (monotonic() - began) / 0.06)


@pytest.mark.works(of=(search_of_desk.start, Progress))
def test_the_page_answers_while_a_search_runs(desk: TestClient) -> None:
    desk.post(f"/job/{FARM}/search", data={"most": 5000})
    page = desk.get(f"/job/{FARM}/search")
    try:
        assert page.status_code == 200
        assert "Stop, keep what is known" in page.text
    finally:
        desk.post(f"/job/{FARM}/search/stop")
        wait_for(desk, "stopped", "done")


@pytest.mark.works(of=(search_of_desk.start,))
def test_a_search_of_no_size_at_all_is_refused(desk: TestClient) -> None:
    assert desk.post(f"/job/{FARM}/search", data={"most": 0}).status_code == 422
    assert desk.get(f"/job/{FARM}/search/99.json").status_code == 404


@pytest.mark.by_hand(of=(edits_of_inputs,))
def test_inputs_are_typed_as_the_trade_writes_them() -> None:
    text = '[site]\nfoot = "us survey foot"\n[pipe.feed]\nuse = "feed"\n'
    inputs = {
        "inputs.bed.length_bottom_m": 100 * FOOT,
        "inputs.boards.outlet_m": 22 * INCH,
        "inputs.pipe.feed.diameter_m": 8 * INCH,
        "inputs.bed.side_slope": 1.5,
        "inputs.bed.cover_depth_m": 0.4876543,
        "inputs.bed.size": "as given",
    }
    typed = edits_of_inputs(text, inputs)
    assert typed["bed.length_bottom"] == "100 ft"
    assert typed["boards.outlet"] == "22 in"
    assert typed["pipe.feed.diameter"] == "8 in"
    assert typed["bed.side_slope"] == 1.5
    assert typed["bed.size"] == "as given"
    odd = parse_quantity(str(typed["bed.cover_depth"]), "length")
    assert odd == pytest.approx(0.4876543, abs=1e-9)


@pytest.mark.by_hand(of=(marks_around, size_words))
def test_axes_of_the_plot_are_round_and_hold_every_mark() -> None:
    marks = marks_around([40_370.0, 71_220.0])
    assert marks[0] <= 40_370.0
    assert marks[-1] >= 71_220.0
    # about six of them: 30,850 over six is near 5,000
    assert {round(b - a) for a, b in pairwise(marks)} == {5000}
    boards = Axis("boards.outlet-design.height_m", "Outlet boards", "m", (Level(22 * INCH, {}),))
    floor = Axis("bed.length_bottom_m", "Length of the floor", "m", (Level(96.5 * FOOT, {}),))
    slope = Axis("bed.side_slope", "Side slope", "-", (Level(1.5, {}),))
    said = [size_words(axis, axis.levels[0].value, Words("us")) for axis in (boards, floor, slope)]
    assert said == ["22 in", "96.5 ft", "1.5:1"]
