# SPDX-License-Identifier: Apache-2.0
"""A desk that is served while a test runs, and a browser of this machine to open it."""

import shutil
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
import uvicorn

from tests.desks import TOKEN
from tilewater.desk.app import make_app
from tilewater.desk.keys import KEY
from tilewater.desk.serve import listening_on
from tilewater.desk.server import config_of

PATIENCE_MS = 90_000
"""A busy machine is no reason to fail."""
QUIET = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
DESK, PHONE = {"width": 1440, "height": 900}, {"width": 390, "height": 844}


@contextmanager
def served(root: Path) -> Iterator[str]:
    """The address of a desk of a folder, without its token."""
    listening = listening_on(0)
    server = uvicorn.Server(config_of(make_app(root, token=TOKEN)))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{listening.getsockname()[1]}"
    server.should_exit = True
    thread.join(20.0)
    listening.close()


@contextmanager
def a_browser() -> Iterator[Any]:
    """Debian's Chromium without a window; the test is skipped where there is none."""
    api = pytest.importorskip("playwright.sync_api")
    chromium = shutil.which("chromium")
    if chromium is None:
        pytest.skip("no chromium on this machine; install it to see the desk as its reader does")
    with api.sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=chromium, args=list(QUIET))
        yield browser
        browser.close()


class Watched:
    """What a page asked for and what failed in it."""

    def __init__(self, page: Any) -> None:
        self.asked: list[str] = []
        self.faults: list[str] = []
        page.on("request", lambda request: self.asked.append(request.url))
        page.on("pageerror", lambda error: self.faults.append(str(error)))

    def hosts(self) -> set[str]:
        """Hosts that were asked; what stands in the page itself has none."""
        return {urlsplit(url).netloc for url in self.asked} - {""}


def opened_at(browser: Any, address: str, size: dict[str, int] = DESK) -> tuple[Any, Watched]:
    """A page of a reader who opened the desk by its address."""
    page = browser.new_context(viewport=size).new_page()
    page.set_default_timeout(PATIENCE_MS)
    watched = Watched(page)
    page.goto(f"{address}/?{KEY}={TOKEN}")
    return page, watched


def until(holds: Callable[[], object], page: Any) -> None:
    """Wait until something holds."""
    end = time.monotonic() + PATIENCE_MS / 1000.0
    while not holds():
        assert time.monotonic() < end, "it never came"
        page.wait_for_timeout(50)
