# SPDX-License-Identifier: Apache-2.0
"""The generated pages are those of the code as it stands, and the site needs no other host."""

import re
import subprocess
import sys
from pathlib import Path

import pytest
import typer

from tools.checks import stale_lines
from tools.command_line import table
from tools.package import ROOT
from tools.pages import PAGES, checks_page, sources_page

LOADED_FROM_OUTSIDE = re.compile(
    r"""<(?:script|img|iframe|source)\b[^>]*\bsrc=["']?(?:https?:)?//[^"'>]*
      | <link\b[^>]*\brel=["']?(?:stylesheet|preconnect|icon)[^>]*\bhref=["']?(?:https?:)?//[^"'>]*
      | url\(["']?(?:https?:)?//[^)]*""",
    re.VERBOSE,
)

pytestmark = pytest.mark.works


@pytest.mark.parametrize("page", PAGES)
def test_page_is_fresh(page: str) -> None:
    written = (ROOT / page).read_text(encoding="utf-8")
    assert [] == stale_lines(written, PAGES[page]()), "run: python3 dev.py docs"


def test_checks_page_admits_what_is_not_checked() -> None:
    assert re.search(r"Of \d+ functions that return a number, \d+ have no check", checks_page())


def test_sources_page_keeps_read_and_remembered_apart() -> None:
    headings = re.findall(r"^## (\w+)$", sources_page(), re.MULTILINE)
    assert headings == ["Read", "Memory", "Practice", "Derived"]


@pytest.mark.slow
def test_site_loads_nothing_from_another_host(tmp_path: Path) -> None:
    subprocess.run(
        [sys.executable, "dev.py", "site", f"--site-dir={tmp_path}"], cwd=ROOT, check=True
    )
    pages = [*tmp_path.rglob("*.html"), *tmp_path.rglob("*.css")]
    assert pages
    assert [] == [
        f"{page.name}: {found[0]}"
        for page in pages
        if (found := LOADED_FROM_OUTSIDE.search(page.read_text(encoding="utf-8")))
    ]


def test_outside_hosts_are_recognised() -> None:
    assert LOADED_FROM_OUTSIDE.search('<script src="https://elsewhere.example/a.js">')
    assert LOADED_FROM_OUTSIDE.search("body{background:url(//elsewhere.example/a.png)}")
    assert not LOADED_FROM_OUTSIDE.search('<a href="https://elsewhere.example/">source</a>')


def test_command_line_is_told_from_the_commands() -> None:
    app = typer.Typer()

    @app.command()
    def weigh(
        job: str = typer.Argument(help="Job folder."),
        units: str = typer.Option("us", help="us or si."),
    ) -> None:
        """Weigh a job."""

    rows = list(table(typer.main.get_command(app)))
    assert "| `JOB` | Job folder. |  |" in rows
    assert "| `--units` | us or si. | `us` |" in rows
