# SPDX-License-Identifier: Apache-2.0
"""How long the desk takes from the start of its process to the first paint of the job.

    python -m benchmarks.desk_opens

The browser is open already, as it is at the desk of an engineer; it needs Chromium and playwright.
The shortest of five starts counts: the very first after an installation compiles every module.
Apart from the other benchmarks, since not every machine has a browser.
"""

import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path
from time import perf_counter
from typing import Any
from urllib.parse import urlsplit

from benchmarks.ratio import Ratio

ROOT = Path(__file__).resolve().parents[1]
FARM = "corbel-farm"
TIMES = 5
QUIET = ("--no-sandbox", "--disable-gpu", "--disable-background-networking")
PAINTED = """() => new Promise((done) => {
    const seen = () => performance.getEntriesByName("first-contentful-paint")[0];
    const look = () => seen() ? done(seen().startTime) : setTimeout(look, 10);
    look();
})"""
SHOWN = """() => new Promise((done) => {
    const look = () => document.querySelector("#section svg.living .drawn")
        ? done(performance.now()) : setTimeout(look, 10);
    look();
})"""


def measure() -> list[Ratio]:
    """Opening the desk, against an empty program of the same Python."""
    painted, drawn = opened()
    empty = min(_seconds(lambda: _run("pass")) for _ in range(TIMES))
    return [
        Ratio("desk, from start to first paint", "an empty program", painted / empty),
        Ratio("desk, from start to the section drawn", "an empty program", drawn / empty),
    ]


def opened() -> tuple[float, float]:
    """Shortest times to the first paint of a job and to its section. [s]"""
    from playwright.sync_api import sync_playwright

    chromium = shutil.which("chromium")
    if chromium is None:
        raise SystemExit("There is no chromium here. Install it, then run this again.")
    with sync_playwright() as driver, tempfile.TemporaryDirectory() as folder:
        shutil.copytree(ROOT / "examples" / FARM, Path(folder, FARM))
        browser = driver.chromium.launch(executable_path=chromium, args=list(QUIET))
        times = [_open(browser, Path(folder)) for _ in range(TIMES)]
        browser.close()
    return min(first for first, _ in times), min(last for _, last in times)


def _open(browser: Any, folder: Path) -> tuple[float, float]:
    page = browser.new_context().new_page()
    begun = perf_counter()
    line = [sys.executable, "-m", "tilewater", "desk", str(folder), "--no-browser"]
    with subprocess.Popen(
        line, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True, env=_kept()
    ) as desk:
        try:
            assert desk.stdout is not None
            address = desk.stdout.readline().strip()
            parts = urlsplit(address)
            before = perf_counter() - begun
            page.goto(f"http://{parts.netloc}/job/{FARM}?{parts.query}")
            painted = page.evaluate(PAINTED) / 1000.0
            drawn = page.evaluate(SHOWN) / 1000.0
        finally:
            desk.terminate()
    page.context.close()
    return before + painted, before + drawn


def _kept() -> dict[str, str]:
    """The environment of an engineer, where Python keeps what it compiled of its modules."""
    here = dict(os.environ)
    here.pop("PYTHONDONTWRITEBYTECODE", None)
    return here


def _run(code: str) -> None:
    subprocess.run([sys.executable, "-c", code], check=True, env=_kept())


def _seconds(work: Any) -> float:
    begun = perf_counter()
    work()
    return perf_counter() - begun


if __name__ == "__main__":
    painted, drawn = opened()
    print(f"first paint {painted:.2f} s, section drawn {drawn:.2f} s after the start")
