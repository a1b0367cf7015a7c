# SPDX-License-Identifier: Apache-2.0
"""`tilewater compare`: the page, the record, what explains a number, how the program ends."""

import json
import shutil
from io import StringIO

import pytest
from typer.testing import CliRunner

from tests.jobs import FARM
from tests.pages import Console
from tests.pdf import Paper
from tests.test_06_chain.test_compare import compared, pair
from tilewater.chain.compare import PracticeComparison
from tilewater.chain.compare_contenders import NONE, ROW, Contender
from tilewater.chain.compare_record import comparison_record, explained_keys
from tilewater.chain.explain import explain
from tilewater.chain.verdict import FITS, OPEN, SHORT
from tilewater.cli.main import app
from tilewater.documents import comparing
from tilewater.documents.pages.practices_page import practices_page
from tilewater.documents.report.owner_compare import (
    CompareMaterial,
    first_sentence,
    owner_compare_pdf,
)
from tilewater.documents.words import Words
from tilewater.tasks.comparing import OWNER, RECORD, compare_job, write_compared


def shown(comparison: PracticeComparison, words: Words | None = None) -> str:
    console = Console(width=110, file=StringIO())
    for part in practices_page("Corbel Farm", comparison, words or Words()):
        console.print(part)
    return console.file.getvalue()


def of(*contenders: Contender, pairs=()) -> PracticeComparison:
    """A comparison of which only names, verdicts and pairs are known."""
    from tilewater.chain.compare_pairs import MEASURES, answer

    names = [c.name for c in contenders if c.may_be_built]
    answers = tuple(answer(pairs, names, measure) for measure in MEASURES)
    leave = Contender(NONE, "leaving it as it is")
    whole = compared()
    return PracticeComparison(
        whole.job, (*contenders, leave), whole.trace, tuple(pairs), answers, None
    )


BED = Contender("bed", "woodchip bed", verdict=OPEN)
RAISED = Contender("raised", "outlet raised in season", verdict=FITS)
BAD = Contender("bed", "woodchip bed", verdict=SHORT, stops=("Clear soil at low-1", "Cover"))


@pytest.fixture(scope="module")
def dry_farm(tmp_path_factory):
    """Corbel Farm without weather, so that nothing takes long."""
    folder = tmp_path_factory.mktemp("farm") / "corbel-farm"
    shutil.copytree(FARM, folder, ignore=shutil.ignore_patterns("results", "weather.csv"))
    text = (folder / "job.toml").read_text(encoding="utf-8")
    start = text.index("[weather]")
    text = text[:start] + text[text.index("[money]") :]
    (folder / "job.toml").write_text(text, encoding="utf-8")
    return folder


@pytest.mark.works(of=(practices_page, comparing.lines))
def test_the_page_sets_practices_side_by_side():
    page = shown(compared())
    for words in ("2 may be built", "nitrate-N out a year", "a pound for", "a kilogram for"):
        assert words in page
    assert "the job does not give the line of a buffer, buffer.branches" in page
    assert "Must be true" in page
    assert "leave it" in page
    assert "USD/lb" not in page
    in_si = shown(compared(), Words("si"))
    assert in_si.index("a kilogram for") < in_si.index("a pound for")
    assert " kg" in in_si


@pytest.mark.works(of=(comparing.ahead_words, comparing.settle_words))
def test_nobody_is_called_better_who_is_not():
    close = pair("bed", "raised", 0.7)
    comparison = of(BED, RAISED, pairs=(close,))
    told = comparing.ahead_words(comparison, comparison.answers[0])
    assert told.endswith("woodchip bed and outlet raised in season cannot be told apart.")
    (settle,) = comparing.settle_words(comparison, comparison.answers[0])
    assert "in 70 of 100 draws" in settle
    clear = of(BED, RAISED, pairs=(pair("bed", "raised", 0.95),))
    told = comparing.ahead_words(clear, clear.answers[0])
    assert told == "Takes out most nitrate: woodchip bed, in nine draws of ten or more."
    assert list(comparing.settle_words(clear, clear.answers[0])) == []


@pytest.mark.works(of=(comparing.settle_words,))
def test_what_tells_two_apart_is_named():
    found = next(p for p in compared().pairs if (p.first, p.second) == ("bed", "raised"))
    assert found.hinge is not None
    assert found.hinge.name in compared().trace.value("pairs.bed.raised.removed.drawn")
    (settle,) = comparing.settle_words(compared(), compared().answers[1])
    assert "hangs most on" in settle


@pytest.mark.works(of=(comparing.choice_words, comparing.measure_lines, comparing.measure_note))
def test_the_page_says_what_to_measure_and_what_that_could_change():
    choice = compared().choice
    assert choice is not None
    told = comparing.choice_words(compared())
    assert told.startswith("By the middle of the draws the ")
    assert told.endswith("agree." if choice.is_clear else "do not agree on it.")
    for what, takes, changes in comparing.measure_lines(compared()):
        assert takes.startswith("about $")
        assert " of 100" in changes
        assert what in " ".join(shown(compared()).split()) or len(what) > 30
    nobody = of(BED, RAISED)
    assert comparing.choice_words(nobody) == ""
    assert comparing.measure_lines(nobody) == ()
    assert comparing.measure_note(nobody).startswith("Nothing can be weighed")
    record = comparison_record(compared(), "0")["choice"]
    assert record["among"] == ["bed", "raised"]
    assert [each["name"] for each in record["measure"]] == [
        each.measurement.slug for each in choice.measures
    ]


@pytest.mark.works(of=(comparing.headline, comparing.why_not, first_sentence))
def test_nothing_fits_is_said_first():
    nothing = of(BAD)
    assert comparing.headline(nothing).startswith("Nothing that was described fits here")
    assert first_sentence(nothing).startswith("No: a woodchip bed does not fit")
    assert comparing.why_not(BAD) == "Clear soil at low-1, and 1 more"
    assert nothing.answers[0].front == ()
    both = of(BAD, Contender("raised", "outlet raised in season", verdict=SHORT, stops=("x",)))
    assert first_sentence(both).startswith("No: neither a woodchip bed nor outlet raised in season")
    assert first_sentence(of(BED)).startswith("Yes: of what was looked at, one can be built")
    assert "choice is yours" in first_sentence(of(BED, RAISED))
    undescribed = of(Contender("bed", "woodchip bed", verdict="not described", missing=("x",)))
    assert comparing.headline(undescribed).startswith("The job describes no practice")
    assert first_sentence(undescribed).startswith("We cannot compare")


@pytest.mark.works(of=(comparison_record, explained_keys))
def test_numbers_of_the_record_stand_under_the_keys_that_explain_them():
    record = json.loads(json.dumps(comparison_record(compared(), "0"), allow_nan=False))
    assert record["practices"] == ["bed", "buffer", "raised", ROW, NONE]
    assert record["buffer"]["missing"]
    for key in (
        "bed.cost.total_usd",
        "bed.owner.annual_usd",
        "bed.removal.removed_kg.p50",
        "raised.owner.usd_per_kg.p50",
        "pairs.bed.raised.removed.bed_better",
    ):
        value = record
        for part in key.split("."):
            value = value[part]
        trace, own = explained_keys(compared(), key)
        (found,) = explain(trace, own)
        assert found.step.value == pytest.approx(value)
        assert own.startswith(("bed.", "raised.", "pairs."))


@pytest.mark.works(of=(explained_keys,))
def test_a_verdict_is_explained_by_its_design():
    trace, own = explained_keys(compared(), "bed.verdict")
    assert own == "verdict"
    assert len(explain(trace, own)) > 5


@pytest.mark.works(of=(owner_compare_pdf,))
def test_the_owner_gets_two_pages():
    material = CompareMaterial("Corbel Farm", compared(), Words(), "0", owner="J. Corbel")
    first, second = Paper(owner_compare_pdf(material)).pages
    assert "J. Corbel" in first
    assert "Your hours in a year" in first
    assert "treats nothing" in first
    assert "Must be true" in second
    assert "criterion line" not in second
    assert owner_compare_pdf(material) == owner_compare_pdf(material)


@pytest.mark.works(of=(compare_job, write_compared))
def test_record_and_pages_are_written(dry_farm, tmp_path):
    found = compare_job(dry_farm)
    assert found.fits
    written = write_compared(found, Words(), tmp_path)
    assert (written.files, written.troubles) == ([RECORD, OWNER], [])
    assert json.loads((tmp_path / RECORD).read_text())["job"] == "corbel-farm"
    assert write_compared(found, Words(), tmp_path, with_papers=False).files == [RECORD]


@pytest.mark.works(of=(compare_job,))
def test_the_program_ends_in_0_1_or_2(dry_farm, tmp_path):
    run = CliRunner().invoke
    fits = run(app, ["compare", str(dry_farm), "--json", "--no-papers", "--out", str(tmp_path)])
    assert fits.exit_code == 0
    assert json.loads(fits.stdout)["bed"]["verdict"] == OPEN
    text = (dry_farm / "job.toml").read_text(encoding="utf-8")
    low = tmp_path / "low"
    shutil.copytree(dry_farm, low)
    (low / "job.toml").write_text(text.replace('ground = "1187.00 ft"', 'ground = "1185.00 ft"'))
    nothing = run(app, ["compare", str(low), "--json", "--no-papers", "--out", str(tmp_path)])
    assert nothing.exit_code == 1
    assert json.loads(nothing.stdout)["buildable"] == []
    told = run(app, ["compare", str(dry_farm), "--explain", "bed.cost.total_usd"])
    assert told.exit_code == 0
    assert "bed.cost.total_usd" in told.stdout
