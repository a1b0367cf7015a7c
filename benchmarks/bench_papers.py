# SPDX-License-Identifier: Apache-2.0
"""What each paper of a design costs, against the design itself with thirty years of days."""

from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

from benchmarks.bench_report import forget
from benchmarks.ratio import Ratio, best_times
from tilewater.tasks.designing import Outcome, design_job
from tilewater.tasks.papers import papers_of

FARM = Path(__file__).resolve().parent.parent / "examples" / "corbel-farm"
ROUNDS = 3
AGAINST = "the design with its days"


def drawn(outcome: Outcome, *names: str) -> None:
    """Make some papers with nothing drawn before."""
    papers = papers_of(outcome, "us")
    for name in names:
        papers[name]()


def written(outcome: Outcome) -> None:
    """Make all papers with nothing drawn or set before."""
    forget()
    drawn(outcome, *papers_of(outcome, "us"))


def measure() -> Iterator[Ratio]:
    """Yield the cost of each drawing in both forms, and of all papers."""
    outcome = design_job(FARM)
    names = [name for name in papers_of(outcome, "us") if name.endswith(".svg")]
    acts: list[Callable[[], object]] = [partial(design_job, FARM), partial(written, outcome)]
    acts += [partial(drawn, outcome, name, name.replace(".svg", ".dxf")) for name in names]
    designed, all_of_them, *each = best_times(*acts, rounds=ROUNDS)
    for name, time in zip(names, each, strict=True):
        yield Ratio(f"{name} and .dxf", AGAINST, time / designed)
    yield Ratio("all papers, drawn and set anew", AGAINST, all_of_them / designed)
