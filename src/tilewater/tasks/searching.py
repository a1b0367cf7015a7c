# SPDX-License-Identifier: Apache-2.0
"""Search the sizes of the practice of a job folder, and write what was found."""

import csv
import io
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.basis.findings import Finding
from tilewater.basis.units import System
from tilewater.chain.plain import Record
from tilewater.chain.practices import first_practice
from tilewater.chain.search import Search, search_shape
from tilewater.chain.search_ask import GoesOn
from tilewater.chain.search_record import search_record, table_rows, title_of
from tilewater.chain.search_walk import Tried, amount
from tilewater.documents.search_chart import SearchScene, Spot, draw_search_chart
from tilewater.tasks.checking import Checked, check_job
from tilewater.tasks.records import record_text
from tilewater.tasks.results import FOLDER, write_whole

NAME = "search"


@dataclass(frozen=True)
class Searched:
    """What a search of a job found.

    Attributes
    ----------
    job : Checked
        The job as read.
    search : Search
    record : dict
        The result as other programs read it.
    """

    job: Checked
    search: Search
    record: Record

    @property
    def notes(self) -> tuple[Finding, ...]:
        """What the engineer must know: of the files read, then of the search."""
        return tuple(dict.fromkeys((*self.job.notes, *self.search.findings)))

    @property
    def fits(self) -> bool:
        """Whether one was found that falls short of nothing."""
        return bool(self.search.front) and not self.search.untouched


def search_job(folder: Path | str, *, beds: int, threads: int = 2, goes_on: GoesOn) -> Searched:
    """Search the sizes of the practice that a job folder asks for. Nothing is written.

    Parameters
    ----------
    folder : Path or str
        The job folder, or its `job.toml`.
    beds : int
        Beds or buffers that are routed, at most.
    threads : int
        Threads that route; the result does not depend on it.
    goes_on : callable
        Told of the progress now and then; False ends the search with what is known.

    Returns
    -------
    Searched
        Front, choices and record.

    Raises
    ------
    BadInputFile
        With every fault of its files.
    """
    job = check_job(folder)
    practice = first_practice(job.inputs)
    search = search_shape(job.inputs, practice, beds=beds, threads=threads, goes_on=goes_on)
    return Searched(job, search, search_record(search, version("tilewater")))


def write_search(searched: Searched, out: Path | str | None, units: System) -> Iterator[str]:
    """Write record, table and chart; a line for each file.

    Raises
    ------
    BadInputFile
        If the folder cannot be written to.
    """
    folder = searched.job.folder / FOLDER if out is None else Path(out)
    scene = search_scene(searched.search, searched.job.title)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for ending, text in (
            ("json", record_text(searched.record)),
            ("csv", _csv(searched.search)),
            ("svg", draw_search_chart(scene, units=units)),
        ):
            path = folder / f"{NAME}.{ending}"
            write_whole(path, text)
            yield f"{'Drawn' if ending == 'svg' else 'Written'}: {path}"
    except OSError as error:
        message = (
            f"the search cannot be written there: {(error.strerror or str(error)).lower()}. "
            "Name a folder with --out in which you may write."
        )
        raise BadInputFile(Fault(str(folder), None, "", message)) from None


def _csv(search: Search) -> str:
    text = io.StringIO()
    csv.writer(text, lineterminator="\n").writerows(table_rows(search))
    return text.getvalue()


def search_scene(search: Search, title: str) -> SearchScene:
    """What the chart of a search shows."""

    def spot(tried: Tried, words: str = "") -> Spot:
        binds = title_of(search, tried.binds)
        return Spot(amount(tried.cost), amount(tried.removed), binds, words)

    on_front = {tried.candidate for tried in search.front}
    others = (t for t in search.tried if t.passes and t.candidate not in on_front)
    own, noun = search.own, search.plan.noun
    is_shown = own.removed is not None and own.cost is not None
    return SearchScene(
        title=f"{title}: cost and nitrate",
        note=f"{len(search.tried):,} {noun}s asked, {search.routed:,} of them day by day",
        front=tuple(spot(tried) for tried in search.front),
        others=tuple(spot(tried) for tried in others),
        own=spot(own) if is_shown else None,
        named=tuple(spot(choice.tried, choice.words) for choice in search.choices),
        noun=noun,
    )
