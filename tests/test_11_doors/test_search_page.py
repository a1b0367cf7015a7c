# SPDX-License-Identifier: Apache-2.0
"""The search through its door: page, record, table and chart, and the wish to stop."""

import csv
import json
import os
import signal
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from tests.jobs import FARM
from tests.pages import Console
from tests.test_06_chain.test_search import whole
from tilewater.chain.search_ask import Progress
from tilewater.cli import main
from tilewater.cli.stopping import STOPPING, watched
from tilewater.documents.pages.search_page import search_page
from tilewater.documents.words import Words
from tilewater.tasks import searching
from tilewater.tasks.checking import check_job
from tilewater.tasks.searching import Searched, search_job, search_scene, write_search


def found(**asked: Any) -> Searched:
    """The search of the small problem as if it were that of the farm."""
    return Searched(check_job(FARM), whole(), {"tilewater": "0"})


def printed_page(system: Any) -> str:
    console = Console(width=80, highlight=False)
    with console.capture() as taken:
        for part in search_page(found().job.title, found().search, Words(system)):
            console.print(part)
    return taken.get()


@pytest.mark.works(of=(search_page,))
def test_the_page_sets_the_chosen_beside_the_own_bed() -> None:
    page = printed_page("us")

    for words in ("your own", "cheapest", "most for money", "most nitrate", "surest"):
        assert words in page
    own = next(line for line in page.splitlines() if line.strip().startswith("your own"))
    assert "96.5 by 30 ft" in own
    assert "36, 24 in" in own or "24 in" in own
    assert "every size there is was asked" in " ".join(page.split())
    assert "optimal" not in page
    assert max(len(line) for line in page.splitlines()) <= 80


@pytest.mark.works(of=(search_page,))
def test_the_page_is_in_the_units_of_the_reader() -> None:
    assert "kg/yr" in printed_page("si")
    assert "29.413 by 9.144 m" in printed_page("si")
    assert "lb/yr" in printed_page("us")


@pytest.mark.works(of=(search_job, write_search, search_scene))
def test_the_verb_prints_the_record_and_writes_three_files(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: dict[str, Any] = {}

    def shape(job: object, practice: object, **said: Any) -> object:
        asked.update(said)
        return whole()

    monkeypatch.setattr(searching, "search_shape", shape)
    line = ["design", str(FARM), "--search", "--beds", "77", "--json", "--out", str(tmp_path)]

    answer = CliRunner().invoke(main.app, line)

    assert answer.exit_code == 0, answer.output
    assert asked["beds"] == 77
    record = json.loads(answer.stdout)
    assert record == json.loads((tmp_path / "search.json").read_text(encoding="utf-8"))
    assert record["practice"] == "bed"
    with (tmp_path / "search.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == len(whole().tried)
    assert {"bed_length_bottom_m", "passes", "cost_usd", "removed_kg", "binds"} <= set(rows[0])
    assert (tmp_path / "search.svg").read_text(encoding="utf-8").startswith("<svg")
    assert "Written:" in answer.stderr


@pytest.mark.works(of=(watched,))
def test_the_first_interrupt_ends_the_search_and_the_second_the_program() -> None:
    console = Console(file=None, width=90)
    before = signal.getsignal(signal.SIGINT)
    progress = Progress(10, 5, 100, "routing beds")

    with console.capture() as taken, watched(console) as goes_on:
        assert goes_on(progress)
        os.kill(os.getpid(), signal.SIGINT)
        assert not goes_on(progress)
        with pytest.raises(KeyboardInterrupt):
            os.kill(os.getpid(), signal.SIGINT)

    assert STOPPING in " ".join(taken.get().split())
    assert signal.getsignal(signal.SIGINT) is before


@pytest.mark.works(of=(main.design,))
def test_what_is_of_one_design_does_not_stand_beside_a_search() -> None:
    line = ["design", str(FARM), "--search", "--explain", "bed.length_m"]

    answer = CliRunner().invoke(main.app, line)

    assert answer.exit_code == 2
    assert answer.stderr == (
        "--search looks at many; --explain, --day, --issue and --compare-with are of one. "
        "Write one of its sizes into the job, and design that.\n"
    )
