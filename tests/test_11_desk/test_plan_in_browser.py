# SPDX-License-Identifier: Apache-2.0
"""An engineer moves the bed on the plan, looks into the days, and picks a size: in a browser."""

import json
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import Any
from urllib.request import Request, urlopen

import pytest

from tests.browsers import a_browser, opened_at, served, until
from tests.desks import TOKEN, copy_of
from tests.draws import few_draws
from tests.test_11_desk.test_search import near_the_farm, of_last_years
from tilewater.chain.search import search_shape
from tilewater.desk.pages import days, papers, plan, search

JOB = "/job/corbel-farm"

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def farm(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = copy_of("corbel-farm", tmp_path_factory.mktemp("jobs"))
    of_last_years(folder)
    return folder


@pytest.fixture(scope="module")
def desk(farm: Path) -> Iterator[tuple[str, Any]]:
    with few_draws(), served(farm.parent) as address, a_browser() as browser:
        yield address, browser


@pytest.fixture
def page(desk: tuple[str, Any]) -> Iterator[Any]:
    """A page whose script has no fault and that asks nobody else."""
    address, browser = desk
    page, watched = opened_at(browser, address)
    page.desk = address
    yield page
    page.context.close()
    assert watched.faults == []
    assert watched.hosts() == {address.partition("//")[2]}


def record_of(page: Any, way: str) -> Any:
    asked = Request(page.desk + way, headers={"authorization": f"Bearer {TOKEN}"})
    with urlopen(asked) as answer:
        return json.load(answer)


@pytest.mark.works(of=(plan.try_it, plan.plan))
def test_the_bed_is_dragged_kept_and_taken_back(page: Any, farm: Path) -> None:
    before = (farm / "job.toml").read_text(encoding="utf-8")
    page.goto(page.desk + JOB + "/plan")
    page.wait_for_selector("#map canvas")
    page.wait_for_timeout(800)
    box = page.locator("#map").bounding_box()
    middle = floor_on_screen(page, box)
    page.mouse.move(*middle)
    page.mouse.down()
    page.mouse.move(middle[0] + 15, middle[1] + 15, steps=3)
    page.mouse.move(middle[0] + 30, middle[1] + 30, steps=3)
    page.mouse.up()
    until(lambda: page.locator("#keep-move").count() == 1, page)
    until(lambda: page.input_value("#offset") != "21.0 ft", page)
    page.wait_for_timeout(1500)
    station, offset = page.input_value("#station"), page.input_value("#offset")
    assert (farm / "job.toml").read_text(encoding="utf-8") == before
    page.click("#keep-move button")
    until(lambda: (farm / "job.toml").read_text(encoding="utf-8") != before, page)
    kept = (farm / "job.toml").read_text(encoding="utf-8")
    assert f'offset = "{offset}"' in kept
    assert f'station = "{station}"' in kept
    (floor,) = [
        each
        for each in record_of(page, f"{JOB}/plan.json")["features"]
        if each["properties"]["kind"] == "floor"
    ]
    assert len(floor["geometry"]["coordinates"][0]) == 5
    (farm / "job.toml").write_text(before, encoding="utf-8")


def floor_on_screen(page: Any, box: dict[str, float]) -> tuple[float, float]:
    """Where the middle of the bed is seen: the view is fitted to the box that the server gives."""
    record = record_of(page, f"{JOB}/plan.json")
    (floor,) = [e for e in record["features"] if e["properties"]["kind"] == "floor"]
    ring = floor["geometry"]["coordinates"][0][:4]
    east, north = (sum(at[side] for at in ring) / 4 for side in (0, 1))
    left, low, right, high = record["view"]
    scale = max((right - left) / (box["width"] - 80), (high - low) / (box["height"] - 90))
    x = box["x"] + box["width"] / 2 + (east - (left + right) / 2) / scale
    y = box["y"] + (box["height"] - 10) / 2 - (north - (low + high) / 2) / scale
    return x, y


@pytest.mark.works(of=(plan.try_it,))
def test_the_bed_is_moved_by_the_keys_and_by_its_boxes(page: Any) -> None:
    page.goto(page.desk + JOB + "/plan")
    page.wait_for_selector("#map canvas")
    page.wait_for_timeout(500)
    page.focus("#map")
    page.keyboard.press("Shift+ArrowDown")
    until(lambda: page.input_value("#offset") not in ("", "21.0 ft"), page)
    page.fill("#station", "0+50")
    page.fill("#offset", "21 ft")
    page.press("#offset", "Enter")
    until(lambda: page.input_value("#station") == "0+50.0", page)
    assert page.input_value("#offset") == "21.0 ft"
    until(lambda: "36.71 ft" in page.inner_text("#told"), page)  # 31.01 ft and 5.7 ft more


@pytest.mark.works(of=(days.span, days.on_day, days.series))
def test_days_zoom_at_once_and_their_sums_are_those_of_the_server(page: Any) -> None:
    page.goto(page.desk + JOB + "/days")
    page.wait_for_selector(".panel canvas")
    until(lambda: page.locator("#of-day-values dd").count() > 5, page)
    over = page.locator(".u-over").first.bounding_box()
    y = over["y"] + over["height"] / 2
    page.mouse.move(over["x"] + over["width"] * 0.3, y)
    page.mouse.down()
    page.mouse.move(over["x"] + over["width"] * 0.5, y, steps=5)
    page.mouse.up()
    until(lambda: page.input_value("#first") > "2019", page)
    first, last = page.input_value("#first"), page.input_value("#last")
    sums = record_of(page, f"{JOB}/days/span.json?first={first}&last={last}")
    until(lambda: f"{sums['days']:,} days" in page.inner_text("#span"), page)
    page.focus("#panels")
    page.keyboard.press("Escape")
    until(lambda: page.input_value("#first") == "2018-01-01", page)
    page.keyboard.press("Enter")
    page.wait_for_selector("#worked h2")
    assert "The day in sum" in page.inner_text("#worked")


@pytest.mark.works(of=(search.start, search.member, search.try_it))
def test_a_size_is_found_picked_by_the_keys_and_tried(
    page: Any, farm: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    few = partial(search_shape, plan_for=partial(near_the_farm, step=10))
    monkeypatch.setattr(search, "search_shape", few)
    before = (farm / "job.toml").read_bytes()
    page.goto(page.desk + JOB + "/search")
    page.fill("input[name=most]", "100")
    page.click("form.start button")
    page.wait_for_selector(".working")
    page.reload()
    page.wait_for_selector(".front", timeout=300_000)
    page.locator(".plot a.mark").first.focus()
    page.keyboard.press("ArrowRight")
    until(lambda: page.locator("[data-picked='1']").count() == 1, page)
    assert page.locator("tr[aria-selected='true']").get_attribute("data-number") == "1"
    page.click("#member button")
    page.wait_for_selector("text=The whole chain says")
    assert (farm / "job.toml").read_bytes() == before


@pytest.mark.works(of=(papers.papers, plan.plan, days.days))
def test_pages_print_on_paper(page: Any) -> None:
    for way, wait in (("/plan", "#map canvas"), ("/days", ".panel canvas")):
        page.goto(page.desk + JOB + way)
        page.wait_for_selector(wait)
        page.wait_for_timeout(800)
        page.emulate_media(media="print")
        assert page.locator(".views").is_hidden()
        assert page.locator(".shelf").is_hidden()
        assert page.locator(".paper svg" if way == "/plan" else ".panel canvas").first.is_visible()
        assert page.pdf().startswith(b"%PDF")
        page.emulate_media(media="screen")
