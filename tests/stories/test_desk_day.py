# SPDX-License-Identifier: Apache-2.0
"""An engineer's hour at the desk: begin, paste, move, open, overrule, stop, print."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.browsers import Watched, a_browser, opened_at, served, until
from tests.desks import copy_of
from tilewater.desk.pages.files import take
from tilewater.desk.pages.keep import keep
from tilewater.desk.pages.new import begin
from tilewater.desk.pages.number import number
from tilewater.desk.pages.search import search
from tilewater.desk.pages.section import section

SHOTS = "P,N,E,Z,D\n" + "".join(
    f"{n},{3813110 + n},{4843530 - n},{1186.0 - n / 50:.2f},ground\n" for n in range(101, 113)
)

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("jobs")
    copy_of("corbel-farm", root)
    copy_of("merridew-farm", root)
    return root


@pytest.fixture(scope="module")
def desk(root: Path) -> Iterator[tuple[str, Any]]:
    with served(root) as address, a_browser() as browser:
        yield address, browser


@pytest.fixture
def page(desk: tuple[str, Any]) -> Iterator[Any]:
    """The list of jobs; whatever a page asks for comes from the desk, and no script fails."""
    address, browser = desk
    page, watched = opened_at(browser, address)
    yield page
    assert watched.hosts() == {address.removeprefix("http://")}
    assert watched.faults == []
    page.context.close()


def job_text(root: Path, name: str = "corbel-farm") -> str:
    return (root / name / "job.toml").read_text(encoding="utf-8")


@pytest.mark.works(of=(begin,))
def test_six_numbers_and_a_name_make_a_job(page: Any, root: Path) -> None:
    page.click("text=New job")
    for box, typed in (("area", "62 acre"), ("main", "10 in"), ("strip", "190 x 62 ft")):
        page.fill(f"#in-{box}", typed)
    page.click("text=Show the rough answer")
    assert "low" in page.locator("#rough").inner_text()
    assert "Woodchip bed" in page.locator("#rough").inner_text()
    page.fill("#in-name", "Miller, north outlet")
    page.click("button:text-is('Begin')")
    page.wait_for_url("**/job/miller-north-outlet")
    assert "Miller, north outlet" in page.locator("h1").inner_text()
    assert 'area = "62 acre"' in job_text(root, "miller-north-outlet")


@pytest.mark.works(of=(take,))
def test_shots_are_pasted_and_named_in_the_job(page: Any, root: Path) -> None:
    page.goto(page.url.rstrip("/") + "/job/merridew-farm/files/shots")
    page.fill("#text", SHOTS)
    for box, typed in (("point", "P"), ("north", "N"), ("east", "E"), ("height", "Q")):
        page.fill(f"#in-survey-columns-{box}", typed)
    page.fill("#in-survey-columns-note", "D")
    page.fill("#in-survey-columns-fix", "")
    page.click("text=Take it in")
    assert "It was not kept." in page.locator("[role=alert]").inner_text()
    assert SHOTS.strip() == page.input_value("#text").strip()
    page.fill("#in-survey-columns-height", "Z")
    page.click("text=Take it in")
    if "/files/shots" in page.url:  # the plan of this job names shots that are not in these
        assert "line" in page.locator("[role=alert]").inner_text()
        assert "survey/shots.csv" in job_text(root, "merridew-farm")
        return
    assert 'shots = "shots.csv"' in job_text(root, "merridew-farm")


@pytest.mark.works(of=(section,))
def test_a_board_is_moved_and_the_five_numbers_and_what_binds_follow(page: Any, root: Path) -> None:
    page.goto(page.url.rstrip("/") + "/job/corbel-farm")
    ring = page.locator("[role=slider][data-handle='inlet-boards']")
    before, bound = page.locator("#five").inner_text(), page.locator("#five .binds").count()
    ring.focus()
    for _ in range(6):
        page.keyboard.press("ArrowDown")
    until(lambda: page.locator("#five").inner_text() != before, page)
    page.keyboard.press("Enter")
    until(lambda: 'inlet = "36 in"' not in job_text(root), page)
    assert page.locator("#five .binds").count() >= min(bound, 1)
    assert 'outlet = "24 in"' in job_text(root)


@pytest.mark.works(of=(number, keep))
def test_a_number_is_opened_and_overruled_with_a_reason(page: Any, root: Path) -> None:
    page.goto(page.url.rstrip("/") + "/job/corbel-farm")
    page.click("#five dd.value a >> nth=0")
    page.wait_for_selector("#opened h2, #answer h2")
    opened = page.locator("main").inner_text()
    assert "Where it comes from" in opened or "Equation" in opened or "=" in opened
    form = page.locator("#form")
    assert form.count() == 1
    boxes = form.locator("input:not([type=hidden]):not([type=checkbox]), textarea")
    typed = {"value": "0.10 cfs", "by": "R. Lindqvist", "date": "2026-11-20", "reason": "measured"}
    for place in range(boxes.count()):
        name = str(boxes.nth(place).get_attribute("name"))
        for word, text in typed.items():
            if name.endswith(f".{word}"):
                boxes.nth(place).fill(text)
    form.locator("button.first").click()
    until(lambda: "[overrule." in job_text(root), page)
    assert 'reason = "measured"' in job_text(root)


@pytest.mark.works(of=(search,))
def test_a_search_is_begun_and_stopped(page: Any) -> None:
    page.goto(page.url.rstrip("/") + "/job/merridew-farm/search")
    page.click("button:text-is('Search')")
    stop = page.locator("text=Stop, keep what is known")
    stop.wait_for()
    stop.click()
    page.wait_for_selector("form.start")
    assert re.search("Stopped|Search again", page.locator("#search").inner_text())


@pytest.mark.works(of=(section,))
def test_what_is_on_the_screen_can_be_printed(page: Any) -> None:
    page.goto(page.url.rstrip("/") + "/job/corbel-farm")
    page.wait_for_selector("#section svg.living .drawn")
    page.emulate_media(media="print")
    assert page.locator("h1").is_visible()
    assert page.locator("#section svg.living .drawn").first.is_visible()
    for gone in (".shelf", ".questions", "#answer form"):
        assert not page.locator(gone).first.is_visible() if page.locator(gone).count() else True
    assert page.pdf()[:5] == b"%PDF-"


@pytest.mark.works(of=(keep,))
def test_two_tabs_lose_no_edit(desk: tuple[str, Any], root: Path) -> None:
    address, browser = desk
    one, _ = opened_at(browser, address)
    two = one.context.new_page()
    for tab in (one, two):
        tab.goto(f"{address}/job/merridew-farm/ask/cost")
        tab.wait_for_selector("#form input[name='version']", state="attached")
    body = """async (version) => {
        const sent = { version, edits: { "money.years": 25 } };
        const answer = await fetch("/job/merridew-farm/keep", { method: "POST",
            headers: { "content-type": "application/json" }, body: JSON.stringify(sent) });
        return answer.status;
    }"""
    seen = [tab.get_attribute("#form input[name='version']", "value") for tab in (one, two)]
    assert one.evaluate(body, seen[0]) == 200
    kept = job_text(root, "merridew-farm")
    assert two.evaluate(body.replace("25", "30"), seen[1]) == 409
    assert job_text(root, "merridew-farm") == kept
    one.context.close()


@pytest.mark.works(of=(Watched,))
def test_no_page_fetches_anything_from_elsewhere(desk: tuple[str, Any]) -> None:
    address, browser = desk
    page, watched = opened_at(browser, address)
    job = "/job/corbel-farm"
    ways = ("/", "/new", job, f"{job}/plan", f"{job}/days", f"{job}/search", f"{job}/papers")
    for way in (*ways, f"{job}/files", f"{job}/ask/cost"):
        page.goto(address + way, wait_until="networkidle")
    assert watched.hosts() == {address.removeprefix("http://")}
    assert not [url for url in watched.asked if "key=" in url and "?key=" not in url]
    page.context.close()
