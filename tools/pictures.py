# SPDX-License-Identifier: Apache-2.0
"""Pictures for the README, made by running the program: its terminal, its drawings, its report.

    python3 dev.py pictures

Terminal and drawings are SVG that name no outside address; pages of the report are PNG, where the
system has `pdftoppm`. Made again whenever what they show changes.
"""

import os
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from io import StringIO
from pathlib import Path

from rich.console import Console
from rich.terminal_theme import TerminalTheme
from rich.text import Text

from tilewater.chain.scene import long_section_scene
from tilewater.chain.scene_plan import plan_scene
from tilewater.documents.drawing.svg import to_svg
from tilewater.documents.long_section import draw_long_section
from tilewater.documents.plan import plan_drawing
from tilewater.tasks.designing import design_job
from tilewater.tasks.papers import papers_of
from tilewater.tasks.sheeting import press_set, sheet_words, sheets_of

ROOT = Path(__file__).resolve().parents[1]
PICTURES = ROOT / "docs" / "pictures"
WIDTH = 100

PAPER = TerminalTheme(
    background=(251, 250, 246),
    foreground=(30, 42, 47),
    normal=[
        (30, 42, 47),
        (163, 40, 92),
        (78, 90, 99),
        (185, 135, 70),
        (44, 122, 155),
        (163, 40, 92),
        (44, 122, 155),
        (124, 132, 136),
    ],
)
"""Ink on paper: the colours of the sheets."""

SVG = """\
<svg class="rich-terminal" viewBox="0 0 {width} {height}" xmlns="http://www.w3.org/2000/svg">
<style>
.{unique_id}-matrix {{ font-family: ui-monospace, "DejaVu Sans Mono", Menlo, Consolas, monospace;
  font-size: {char_height}px; line-height: {line_height}px; font-variant-east-asian: full-width; }}
{styles}
</style>
<defs><clipPath id="{unique_id}-clip-terminal">
<rect x="0" y="0" width="{terminal_width}" height="{terminal_height}" /></clipPath>
{lines}</defs>
<rect fill="#fbfaf6" x="1" y="1" width="{width}" height="{height}" />
<g transform="translate({terminal_x}, {terminal_y})" clip-path="url(#{unique_id}-clip-terminal)">
{backgrounds}
<g class="{unique_id}-matrix">
{matrix}
</g></g></svg>
"""


@dataclass(frozen=True)
class Picture:
    """One picture: its name, the words after `tilewater`, and the lines that are shown."""

    name: str
    words: tuple[str, ...]
    lines: int


JOB = "examples/corbel-farm"
BUILT = "examples/corbel-built"
BUILT_ON = "2027-10-08"
RED_LINES = 6
"""Page of the as-built papers with the section in red lines."""
CALL = ("--area=62 acre", "--main=10 in", "--grade=0.18 %", "--ditch=1.35 ft")
GROUND = ("--strip=190 x 82 ft", "--nitrate=14.2 mg/L")
ALL = (
    Picture("rough", ("rough", *CALL, *GROUND), 70),
    Picture("screen", ("screen", "examples/verling-farm"), 46),
    Picture("design", ("design", JOB), 52),
    Picture("monitor", ("monitor", BUILT), 44),
    Picture("explain", ("design", JOB, "--explain", "field.low-1.midway_m"), 60),
)


def draw(picture: Picture) -> str:
    """Run the program and return what it prints as an SVG."""
    environment = os.environ | {"FORCE_COLOR": "1", "COLUMNS": str(WIDTH), "TERM": "xterm-256color"}
    done = subprocess.run(
        [sys.executable, "-c", "from tilewater.__main__ import run; run()", *picture.words],
        cwd=ROOT,
        env=environment,
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    if not done.stdout:
        raise SystemExit(f"nothing to draw for {picture.name}:\n{done.stderr}")
    command = f"$ tilewater {' '.join(picture.words)}"
    shown = [command, "", *done.stdout.rstrip().splitlines()[: picture.lines]]
    console = Console(record=True, width=WIDTH, file=StringIO(), force_terminal=True)
    console.print(Text.from_ansi("\n".join(shown)))
    svg = console.export_svg(title="", theme=PAPER, code_format=SVG, unique_id=picture.name)
    return "\n".join(line.rstrip() for line in svg.splitlines()) + "\n"


def drawings() -> dict[str, str]:
    """Return the drawings of the example as SVG that a browser shows in any face."""
    trace = design_job(ROOT / JOB).design.trace
    plan = plan_drawing(plan_scene(trace), "us")
    return {
        "long-section": draw_long_section(long_section_scene(trace), units="us"),
        "plan": to_svg(plan, hold_widths=True),
    }


def report_pages() -> None:
    """Write the first pages of the report and of the owner's letter as PNG."""
    pages = shutil.which("pdftoppm")
    if pages is None:
        print("no pdftoppm here: pages of the report are left as they are")
        return
    made = papers_of(design_job(ROOT / JOB), "us")
    for name in ("report", "owner"):
        with tempfile.TemporaryDirectory() as folder:
            file = Path(folder) / f"{name}.pdf"
            file.write_bytes(made[f"{name}.pdf"]())
            target = PICTURES / f"{name}-page"
            first = [pages, "-r", "80", "-f", "1", "-l", "1", "-singlefile", "-png"]
            subprocess.run([*first, str(file), str(target)], check=True)
        print(f"drawn: {(PICTURES / f'{name}-page.png').relative_to(ROOT)}")


def sheet_page() -> None:
    """Write the plan sheet of the set as PNG."""
    pages = shutil.which("pdftoppm")
    if pages is None:
        return
    outcome = design_job(ROOT / JOB)
    made = sheets_of(outcome, "us", sheet_words("review", "", "11x17"))
    number = 1 + [sheet.title for sheet in made.sheets].index("Plan")
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "sheets.pdf"
        file.write_bytes(press_set(made))
        at = ["-f", str(number), "-l", str(number)]
        line = [pages, "-r", "80", *at, "-singlefile", "-png", str(file)]
        subprocess.run([*line, str(PICTURES / "sheet-page")], check=True)
    print("drawn: docs/pictures/sheet-page.png")


def page_of_verb(words: tuple[str, ...], paper: str, number: int, name: str) -> None:
    """Write a page of a paper that a verb writes as PNG."""
    pages = shutil.which("pdftoppm")
    if pages is None:
        return
    with tempfile.TemporaryDirectory() as folder:
        line = [sys.executable, "-m", "tilewater", *words, "--out", folder]
        subprocess.run(line, cwd=ROOT, capture_output=True, check=False)
        at = ["-r", "80", "-f", str(number), "-l", str(number), "-singlefile", "-png"]
        target = str(PICTURES / name)
        subprocess.run([pages, *at, str(Path(folder) / paper), target], check=True)
    print(f"drawn: docs/pictures/{name}.png")


def desk_page() -> None:
    """Write the desk with the bundled site as PNG, where the system has chromium."""
    chromium = shutil.which("chromium")
    if chromium is None:
        print("no chromium here: the picture of the desk is left as it is")
        return
    from playwright.sync_api import sync_playwright

    with tempfile.TemporaryDirectory() as folder:
        jobs = Path(folder) / "sites"
        shutil.copytree(ROOT / "examples", jobs, ignore=shutil.ignore_patterns("results", "issued"))
        words = [sys.executable, "-m", "tilewater", "desk", str(jobs), "--no-browser"]
        desk = subprocess.Popen(words, stdout=subprocess.PIPE, encoding="utf-8")
        try:
            assert desk.stdout is not None
            address = desk.stdout.readline().strip()
            with sync_playwright() as playwright:
                browser = playwright.chromium.launch(executable_path=chromium, args=BROWSER)
                page = browser.new_page(viewport={"width": 1440, "height": 900})
                page.goto(address)
                page.goto(f"{address.partition('?')[0]}job/corbel-farm")
                page.wait_for_selector("#section svg")
                page.wait_for_function(REFINED, timeout=180_000)
                page.screenshot(path=PICTURES / "desk.png")
                browser.close()
        finally:
            desk.terminate()
            desk.wait(timeout=30)
    print("drawn: docs/pictures/desk.png")


BROWSER = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-sync"]
REFINED = "() => !document.querySelector('#five').innerText.includes('range follows')"
"""True once the range stands in place of its promise."""


def main() -> None:
    """Write every picture."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    drawn = {picture.name: draw(picture) for picture in ALL} | drawings()
    for name, svg in drawn.items():
        file = PICTURES / f"{name}.svg"
        file.write_text(svg, encoding="utf-8", newline="\n")
        print(f"drawn: {file.relative_to(ROOT)}")
    report_pages()
    sheet_page()
    page_of_verb(("operate", JOB), "lid-card.pdf", 1, "lid-card")
    page_of_verb(("inspect", BUILT, "--on", BUILT_ON), "as-built.pdf", RED_LINES, "red-lines")
    desk_page()


if __name__ == "__main__":
    main()
