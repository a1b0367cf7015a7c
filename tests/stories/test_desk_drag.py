# SPDX-License-Identifier: Apache-2.0
"""An engineer takes a board in the hand: with the mouse, with the keys, and takes it back."""

import re
import shutil
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.desks import TOKEN, copy_of
from tilewater.desk.app import make_app
from tilewater.desk.keys import KEY
from tilewater.desk.pages.section import section, try_edits
from tilewater.desk.serve import listening_on
from tilewater.desk.server import config_of

INLET = '[data-handle="inlet-boards"]'
OUTLET = '[data-handle="outlet-boards"]'
PATIENCE_MS = 60_000
"""A busy machine is no reason to fail."""
QUIET = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)

pytestmark = pytest.mark.slow


@pytest.fixture
def farm(tmp_path: Path) -> Path:
    return copy_of("corbel-farm", tmp_path)


@pytest.fixture
def address(farm: Path) -> Iterator[str]:
    """A desk that is served while a test runs."""
    uvicorn = pytest.importorskip("uvicorn")
    app = make_app(farm.parent, token=TOKEN)
    listening = listening_on(0)
    server = uvicorn.Server(config_of(app))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{listening.getsockname()[1]}"
    server.should_exit = True
    thread.join(20.0)


@pytest.fixture
def page(address: str) -> Iterator[Any]:
    """The page of the job in a browser; a fault of its script fails the test."""
    api = pytest.importorskip("playwright.sync_api")
    chromium = shutil.which("chromium")
    if chromium is None:
        pytest.skip("no chromium on this machine")
    faults: list[str] = []
    with api.sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=chromium, args=list(QUIET))
        here = browser.new_page(viewport={"width": 1440, "height": 900})
        here.set_default_timeout(PATIENCE_MS)
        here.on("pageerror", lambda error: faults.append(str(error)))
        here.goto(f"{address}/?{KEY}={TOKEN}")
        here.goto(f"{address}/job/corbel-farm")
        here.wait_for_selector(INLET)
        yield here
        browser.close()
    assert faults == []


def boards_in(farm: Path, structure: str) -> str:
    text = (farm / "job.toml").read_text(encoding="utf-8")
    table = text[text.index("[boards]") :]
    found = re.search(rf'^{structure} = "(.*)"', table, re.MULTILINE)
    assert found is not None
    return found[1]


def until(holds: Any, page: Any) -> None:
    """Wait until something holds."""
    end = time.monotonic() + PATIENCE_MS / 1000.0
    while not holds():
        assert time.monotonic() < end, "it never came"
        page.wait_for_timeout(50)


def said(page: Any, handle: str) -> str:
    return str(page.locator(handle).get_attribute("aria-valuetext"))


def through(page: Any) -> str:
    return str(page.locator("#five dd.value").first.text_content()).replace("\u00a0", " ")


def pull(page: Any, handle: str, inches: int) -> None:
    """Take a ring with the mouse and pull it to a height of boards, without letting go."""
    ring = page.locator(f"{handle} .ring").bounding_box()
    x, y = ring["x"] + ring["width"] / 2, ring["y"] + ring["height"] / 2
    way = page.eval_on_selector(
        handle,
        """(ring, wanted) => {
            const steps = JSON.parse(ring.dataset.steps);
            const now = steps[Number(ring.getAttribute("aria-valuenow"))];
            const then = steps.find((step) => step[1].startsWith(`${wanted} in`));
            const svg = ring.ownerSVGElement;
            const per = svg.viewBox.baseVal.width / svg.getBoundingClientRect().width;
            return (then[0] - now[0]) / per;
        }""",
        inches,
    )
    page.mouse.move(x, y)
    page.mouse.down()
    for step in range(1, 9):
        page.mouse.move(x, y + way * step / 8)


@pytest.mark.works(of=(section, try_edits))
def test_a_board_follows_the_mouse_and_is_kept_when_it_is_let_go(page: Any, farm: Path) -> None:
    pull(page, INLET, 34)
    assert said(page, INLET) == "34 in, 5 boards"
    until(lambda: through(page) == "0.132 cfs", page)
    drawn = page.locator("svg.living .drawn").first.text_content()
    assert "inlet 34 in" in drawn
    assert boards_in(farm, "inlet") == "36 in"  # nothing is written while it is in the hand
    page.mouse.up()
    until(lambda: boards_in(farm, "inlet") == "34 in", page)


@pytest.mark.works(of=(section, try_edits))
def test_escape_takes_it_back_while_it_is_dragged(page: Any, farm: Path) -> None:
    pull(page, INLET, 28)
    until(lambda: through(page) != "0.152 cfs", page)
    page.keyboard.press("Escape")
    page.mouse.up()
    assert said(page, INLET) == "36 in, 5 boards"
    until(lambda: through(page) == "0.152 cfs", page)
    assert boards_in(farm, "inlet") == "36 in"


@pytest.mark.works(of=(section, try_edits))
def test_boards_move_with_the_keys_and_the_change_is_taken_back(page: Any, farm: Path) -> None:
    page.focus(OUTLET)
    page.keyboard.press("ArrowUp")
    page.keyboard.press("ArrowUp")
    assert said(page, OUTLET) == "28 in, 4 boards"
    until(lambda: "outlet 28 in" in page.locator("svg.living .drawn").first.text_content(), page)
    assert boards_in(farm, "outlet") == "24 in"
    page.keyboard.press("Enter")
    until(lambda: boards_in(farm, "outlet") == "28 in", page)
    until(lambda: page.evaluate("document.activeElement.dataset.handle") == "outlet-boards", page)
    page.keyboard.press("Control+z")
    until(lambda: boards_in(farm, "outlet") == "24 in", page)
    until(lambda: said(page, OUTLET) == "24 in, 3 boards", page)
    page.keyboard.press("Control+Shift+z")
    until(lambda: boards_in(farm, "outlet") == "28 in", page)


@pytest.mark.works(of=(section, try_edits))
def test_the_flow_that_is_looked_at_is_never_saved(page: Any, farm: Path) -> None:
    before = (farm / "job.toml").read_bytes()
    page.focus('[data-handle="looked-at-flow"]')
    page.keyboard.press("PageDown")
    page.keyboard.press("Enter")
    page.wait_for_selector(".living-looked:visible")
    until(lambda: "looked at" in page.locator("#five").text_content(), page)
    page.click("[data-back]")
    until(lambda: through(page) == "0.152 cfs", page)
    assert (farm / "job.toml").read_bytes() == before
