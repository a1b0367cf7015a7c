# SPDX-License-Identifier: Apache-2.0
"""Boxes in a browser: what is typed stays over a reload, is kept by Enter, and is never lost."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.browsers import DESK, a_browser, opened_at, served
from tests.desks import copy_of, edit
from tilewater.desk.forms import sections_of
from tilewater.desk.pages.keep import keep

pytestmark = pytest.mark.slow
SLOPE, DIAMETER = '[id="main.slope"]', '[id="main.diameter"]'
WAIT_MS = 60_000


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return copy_of("corbel-farm", tmp_path)


@pytest.fixture
def page(folder: Path) -> Iterator[Any]:
    with served(folder.parent) as address, a_browser() as browser:
        opened, _ = opened_at(browser, address, DESK)
        opened.set_default_timeout(WAIT_MS)
        opened.goto(f"{address}/job/corbel-farm/ask/tile?box=main.slope")
        opened.wait_for_selector(SLOPE)
        yield opened


def kept(page: Any, box: str) -> None:
    with page.expect_response(lambda answer: answer.url.endswith("/keep")):
        page.press(box, "Enter")


@pytest.mark.works(of=(sections_of,))
def test_the_box_that_was_looked_for_has_the_cursor(page: Any):
    page.wait_for_function("document.activeElement.id === 'main.slope'")
    assert page.get_attribute('#questions a[href$="/ask/tile"]', "aria-current") == "page"


@pytest.mark.works(of=(sections_of, keep))
def test_what_is_typed_outlives_a_reload_until_it_is_kept(page: Any, folder: Path):
    page.fill(SLOPE, "0.2")
    page.wait_for_selector("text=1 typed, not kept yet")
    page.reload()
    page.wait_for_function("document.getElementById('main.slope').value === '0.2'")
    kept(page, SLOPE)
    page.wait_for_selector("text=Kept in the job file.")
    assert 'slope = "0.2 %"' in (folder / "job.toml").read_text()
    assert page.evaluate("localStorage.length") == 0
    page.reload()
    page.wait_for_selector(SLOPE)
    assert page.input_value(SLOPE) == "0.2"
    assert page.inner_text("[data-count]") == ""


@pytest.mark.works(of=(sections_of, keep))
def test_a_fault_leaves_what_is_typed_and_takes_the_cursor(page: Any):
    page.fill(DIAMETER, "12")
    page.fill(SLOPE, "0.2 furlong")
    kept(page, DIAMETER)
    page.wait_for_selector('[id="about-main.slope"] .fault')
    assert (page.input_value(SLOPE), page.input_value(DIAMETER)) == ("0.2 furlong", "12")
    page.wait_for_function("document.activeElement.id === 'main.slope'")
    page.fill(SLOPE, "0.2")
    kept(page, SLOPE)
    page.wait_for_selector("text=Kept in the job file.")


@pytest.mark.works(of=(sections_of, keep))
def test_an_edit_made_elsewhere_is_shown_and_mine_is_laid_over_it(page: Any, folder: Path):
    page.fill(SLOPE, "0.2")
    edit(folder, '"J. Corbel"', '"J. Corbel the younger"')
    kept(page, SLOPE)
    page.click("text=Leave my edit in the box")
    assert page.input_value(SLOPE) == "0.2"
    edit(folder, '"J. Corbel the younger"', '"J. Corbel the elder"')
    kept(page, SLOPE)
    page.click("text=Read the file again and lay my edit over it")
    page.wait_for_selector("text=What you typed is laid over the file as it is now.")
    assert page.input_value(SLOPE) == "0.2"
    kept(page, SLOPE)
    page.wait_for_selector("text=Kept in the job file.")
    text = (folder / "job.toml").read_text()
    assert 'slope = "0.2 %"' in text
    assert "J. Corbel the elder" in text


@pytest.mark.works(of=(sections_of,))
def test_typing_unticks_not_known_and_forgetting_puts_all_back(page: Any):
    page.check('[name="unknown"][value="main.slope"]')
    page.wait_for_selector("text=1 typed, not kept yet")
    page.fill(SLOPE, "0.3")
    assert not page.is_checked('[name="unknown"][value="main.slope"]')
    page.click("text=Forget what is typed")
    assert page.input_value(SLOPE) == "0.18"
    assert page.evaluate("localStorage.length") == 0
