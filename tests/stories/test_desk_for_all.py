# SPDX-License-Identifier: Apache-2.0
"""Every main page of the desk can be read and worked by everybody, at the desk and on the phone.

The rules are those of the engine of the tests; what it calls serious or critical is none of ours.
"""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.browsers import DESK, PHONE, a_browser, opened_at, served
from tests.desks import copy_of
from tilewater.desk.app import make_app

JOB = "/job/corbel-farm"
PAGES = (
    "/",
    "/new",
    JOB,
    f"{JOB}/ask/removal",
    f"{JOB}/ask/height",
    f"{JOB}/number/capacity.criterion.flow_m3_s",
    f"{JOB}/plan",
    f"{JOB}/days",
    f"{JOB}/search",
    f"{JOB}/papers",
    f"{JOB}/files",
    f"{JOB}/files/shots",
    "/job/none",
)
BUILT = "/job/corbel-built"
LATER = tuple(
    f"{BUILT}/{page}"
    for page in (
        "draw",
        "stake",
        "bid",
        "site",
        "inspect",
        "run-it",
        "measured",
        "trouble",
        "renew",
        "ask/built",
        "ask/years",
    )
)
"""Pages of a practice that is built and runs."""
GRAVE = ("serious", "critical")

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[str, Any]]:
    root: Path = tmp_path_factory.mktemp("jobs")
    copy_of("corbel-farm", root)
    copy_of("corbel-built", root)
    with served(root) as address, a_browser() as browser:
        yield address, browser


@pytest.mark.works(of=(make_app,))
@pytest.mark.parametrize("size", [DESK, PHONE], ids=["desk", "phone"])
@pytest.mark.parametrize("way", [*PAGES, *LATER])
def test_nothing_keeps_anybody_from_a_page(
    desk: tuple[str, Any], way: str, size: dict[str, int]
) -> None:
    engine = pytest.importorskip("axe_playwright_python.sync_playwright")
    address, browser = desk
    page, _ = opened_at(browser, address, size)
    page.goto(address + way, wait_until="networkidle")
    found = engine.Axe().run(page).response["violations"]
    page_is_wide = page.evaluate("document.documentElement.scrollWidth > innerWidth")
    page.context.close()
    grave = [
        f"{each['id']}: {each['help']}: {[node['html'][:160] for node in each['nodes'][:4]]}"
        for each in found
        if each["impact"] in GRAVE
    ]
    assert grave == []
    assert not page_is_wide, "the page moves sideways"
