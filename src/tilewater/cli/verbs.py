# SPDX-License-Identifier: Apache-2.0
"""What each verb shows, once its task is done."""

import json
from collections.abc import Iterable
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from rich.text import Text

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.basis.units import System
from tilewater.basis.unknown import Unknown
from tilewater.chain.changes import Comparison
from tilewater.cli.page import margin, paper
from tilewater.documents.pages.findings_page import findings_page
from tilewater.documents.pages.said import block, dim, pairs, rows
from tilewater.documents.words import Words
from tilewater.job.issued import IssuedCopy
from tilewater.job.reading import Job
from tilewater.tasks.checking import Checked
from tilewater.tasks.designing import Outcome
from tilewater.tasks.reader import words_for
from tilewater.tasks.since_issue import issued_record

if TYPE_CHECKING:
    from tilewater.chain.rough import Rough
    from tilewater.tasks.comparing import Compared
    from tilewater.tasks.issue_slip import IssueWords
    from tilewater.tasks.screening import Screened
    from tilewater.tasks.watering import Watered


def show_started(job: Job, *, to_stderr: bool = False) -> None:
    """Say what was written and what to do next."""
    console = margin() if to_stderr else paper()
    console.print(f"Written: {job.folder / 'job.toml'}")
    console.print(f"Fill in what is known, then: tilewater check {job.folder}")


def show_rough(rough: "Rough", key: str, *, as_json: bool, units: System) -> None:
    """Show a rough answer, or where one of its numbers comes from."""
    from tilewater.documents.pages.explain_page import explain_page, explained_record
    from tilewater.documents.pages.rough_page import rough_page
    from tilewater.tasks.roughing import rough_record

    words = Words(units)
    if as_json:
        record = explained_record(rough.trace, key) if key else rough_record(rough)
        print(json.dumps(record, indent=1, ensure_ascii=False))
        return
    console = paper()
    for part in explain_page(rough.trace, key, words) if key else rough_page(rough, words):
        console.print(part)


def show_checked(job: Checked, *, as_json: bool, units: System | None) -> None:
    """Say what was read and what is not known yet."""
    show_findings(job.notes, words_for(job, units).system)
    if as_json:
        print(json.dumps(_checked_record(job), indent=1, ensure_ascii=False))
        return
    console = paper()
    console.print(Text(job.title, "bold"))
    console.print("No faults.")
    files = (file.partition(": ") for file in job.files)
    console.print(block("Read", "", pairs((name, what) for name, _, what in files)))
    if job.issued:
        copies = ((copy.name, _standing(copy)) for copy in job.issued)
        console.print(block("Issued copies", "", pairs(copies)))
    lines = []
    for given in job.unknown:
        measure = given.value.measure if isinstance(given.value, Unknown) else ""
        lines.append((given.title, dim(measure)))
    if lines:
        note = f"{len(lines)} of {len(job.inputs.givens)} inputs"
        table = rows(("what", "how to know it"), lines, wide=(0, 1))
        console.print(block("Not known yet", note, table))


def _standing(copy: IssuedCopy) -> str:
    what = ", ".join(word for word in (copy.status, copy.by) if word)
    return f"{what}: as issued" if copy.is_sound else f"{what}: not as issued"


def _checked_record(job: Checked) -> dict[str, object]:
    return {
        "job": job.inputs.name,
        "files": list(job.files),
        "unknown": [
            {"key": g.key, "why": g.value.why, "measure": g.value.measure}
            for g in job.unknown
            if isinstance(g.value, Unknown)
        ],
        "findings": [finding.record for finding in job.notes],
        "issued": issued_record(job.issued),
    }


def show_design(
    outcome: Outcome,
    changed: Comparison | None,
    *,
    as_json: bool,
    units: System | None,
    out: Path | None,
    with_papers: bool,
) -> None:
    """Show a design and what changed; then write its record and its papers."""
    from tilewater.cli.written_page import written_lines
    from tilewater.documents.pages.compare_page import compare_page
    from tilewater.documents.pages.since_page import since_page
    from tilewater.documents.pages.summary import summary
    from tilewater.tasks.papers import papers_of
    from tilewater.tasks.records import record_text
    from tilewater.tasks.results import hold_folder, write_results

    words = words_for(outcome.job, units)
    hold_folder(out)
    if as_json:
        print(record_text(outcome.record), end="", flush=True)
    else:
        console = paper()
        for part in summary(outcome.job.title, outcome.design, outcome.alternatives, words):
            console.print(part)
        if outcome.since is not None:
            console.print(since_page(outcome.since, outcome.design.trace, words))
        if changed is not None:
            console.print(compare_page(changed, outcome.design.trace, words))
    show_findings(outcome.notes, words.system)
    if as_json and changed is not None:
        margin().print(compare_page(changed, outcome.design.trace, words))
    papers = papers_of(outcome, words.system) if with_papers else {}
    with margin().status("Writing") as status:
        written = write_results(
            outcome, out, papers=papers, tell=lambda name: status.update(f"Writing {name}")
        )
    show_lines(written_lines(written))


def show_search(
    job: Path, beds: int, *, as_json: bool, units: System | None, out: Path | None
) -> bool:
    """Search, show the front and write it; whether a bed was found that passes."""
    from tilewater.cli.stopping import watched
    from tilewater.documents.pages.search_page import search_page
    from tilewater.tasks.records import record_text
    from tilewater.tasks.results import hold_folder
    from tilewater.tasks.searching import search_job, write_search

    hold_folder(out)
    with watched(margin()) as goes_on:
        searched = search_job(job, beds=beds, goes_on=goes_on)
    words = words_for(searched.job, units)
    if as_json:
        print(record_text(searched.record), end="", flush=True)
    else:
        console = paper()
        for part in search_page(searched.job.title, searched.search, words):
            console.print(part)
    show_findings(searched.notes, words.system)
    show_lines(write_search(searched, out, words.system))
    return searched.fits


def show_issued(outcome: Outcome, words: "IssueWords", day: date, *, units: System | None) -> None:
    """Issue a copy of the job and say where it stands and how it is known again."""
    from tilewater.tasks.issuing import issue_design

    system = words_for(outcome.job, units).system
    with margin().status("Issuing") as status:
        issued = issue_design(
            outcome, words, day, system, tell=lambda name: status.update(f"Issuing {name}")
        )
    show_lines(
        (
            f"Issued: {issued.folder}",
            f"  sha256 of its checksums.txt: {issued.seal}",
            "  Nothing in it is altered from now on; check tells when something was.",
        )
    )


def show_lines(lines: Iterable[str]) -> None:
    """Lines beside the result, a path in one piece so that it can be copied."""
    console = margin()
    for line in lines:
        console.print(dim(line), soft_wrap=True)


def show_water(
    watered: "Watered", *, as_json: bool, units: System | None, out: Path | None
) -> None:
    """Show the water of a job, write its series and draw its charts."""
    from tilewater.documents.pages.summary_water import water_page
    from tilewater.tasks.records import record_text
    from tilewater.tasks.watering import write_water

    words = words_for(watered.job, units)
    try:
        written = write_water(watered, out, words.system)
    except OSError as error:
        if out is not None:
            raise
        written = (f"The series was not written: {error}. Name a folder with --out.",)
    if as_json:
        print(record_text(watered.record), end="")
    else:
        console = paper()
        for part in water_page(watered.job.title, watered.side.trace, words):
            console.print(part)
    show_findings(watered.notes, words.system)
    show_lines(written)


def show_fit(folder: Path, *, as_json: bool, keep: bool) -> None:
    """Show the soil of a job fitted to its record; write it into the job where told to."""
    from tilewater.cli.fit_page import fit_page
    from tilewater.tasks.fitting import fit_job, keep_fit
    from tilewater.tasks.records import record_text

    fitted = fit_job(folder)
    if as_json:
        print(record_text(fitted.record), end="")
    else:
        console = paper()
        for part in fit_page(fitted, kept=keep):
            console.print(part)
    show_findings(fitted.job.notes, words_for(fitted.job, None).system)
    if keep:
        show_lines(keep_fit(fitted))


def show_screen(
    screened: "Screened", *, as_json: bool, units: System | None, out: Path | None, every: bool
) -> None:
    """Show what could lie at the outlet of a job; write the record and the owner's page."""
    from tilewater.cli.written_page import written_lines
    from tilewater.documents.pages.screen_page import screen_page
    from tilewater.tasks.records import record_text
    from tilewater.tasks.screening import write_screen

    words = words_for(screened.job, units)
    if as_json:
        print(record_text(screened.record), end="", flush=True)
    else:
        console = paper()
        for part in screen_page(screened.job.title, screened.screen, words, every=every):
            console.print(part)
    show_findings(screened.notes, words.system)
    show_lines(written_lines(write_screen(screened, words, out)))


def show_compared(
    compared: "Compared", *, as_json: bool, units: System | None, out: Path | None, papers: bool
) -> None:
    """Show the practices of a job side by side; write the record and the owner's pages."""
    from tilewater.cli.written_page import written_lines
    from tilewater.documents.pages.practices_page import practices_page
    from tilewater.tasks.comparing import write_compared
    from tilewater.tasks.records import record_text

    words = words_for(compared.job, units)
    if as_json:
        print(record_text(compared.record), end="", flush=True)
    else:
        console = paper()
        for part in practices_page(compared.job.title, compared.comparison, words):
            console.print(part)
    show_findings(compared.notes, words.system)
    show_lines(written_lines(write_compared(compared, words, out, with_papers=papers)))


def show_day(
    job: Checked, trace: Trace, key: str, day: str, *, as_json: bool, units: System | None
) -> None:
    """Show a day of a series, worked again."""
    from tilewater.documents.pages.day_page import day_page, day_record

    if as_json:
        print(json.dumps(day_record(trace, key, day), indent=1, ensure_ascii=False))
        return
    console = paper()
    for part in day_page(trace, key, day, words_for(job, units)):
        console.print(part)


def show_explained(
    job: Checked, trace: Trace, key: str, *, as_json: bool, units: System | None
) -> None:
    """Show where a number comes from."""
    from tilewater.documents.pages.explain_page import explain_page, explained_record

    if as_json:
        print(json.dumps(explained_record(trace, key), indent=1, ensure_ascii=False))
        return
    console = paper()
    for part in explain_page(trace, key, words_for(job, units)):
        console.print(part)


def show_findings(findings: tuple[Finding, ...], system: System) -> None:
    page = findings_page(findings, system)
    if page is not None:
        margin().print(page)
