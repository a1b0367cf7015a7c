# SPDX-License-Identifier: Apache-2.0
"""What a set of sheets costs warm, against a count that no change of the program touches."""

from collections.abc import Iterator
from functools import partial
from pathlib import Path
from time import perf_counter

from benchmarks.ratio import Ratio, best_times
from tilewater.chain.design import design_practice
from tilewater.chain.practices import first_practice
from tilewater.tasks.checking import check_job
from tilewater.tasks.designing import Outcome
from tilewater.tasks.sheeting import press_set, sheet_words, sheets_of

FARM = Path(__file__).resolve().parent.parent / "examples" / "corbel-farm"
ROUNDS = 3
GOAL = 2.0
"""What a set may take warm on a quiet machine. [s]"""


def full_set(outcome: Outcome) -> bytes:
    """Every sheet of the job, drawn anew and pressed."""
    return press_set(sheets_of(outcome, "us", sheet_words("review", "", "11x17")))


COUNT = 10_000_000


def count_up() -> int:
    """A plain count: the same work on every machine and in every version."""
    total = 0
    for number in range(COUNT):
        total += number & 7
    return total


def measure() -> Iterator[Ratio]:
    """Yield the cost of the set."""
    job = check_job(FARM)
    practice = first_practice(job.inputs)
    design = partial(design_practice, job.inputs, practice, by_days=False)
    outcome = Outcome(job, design(), {}, ())
    full_set(outcome)
    work = count_up, design, partial(full_set, outcome)
    counted, designed, drawn = best_times(*work, rounds=ROUNDS)
    yield Ratio("the set of sheets, warm", "a count to ten million", drawn / counted)
    yield Ratio("the set of sheets, warm", "the design without its days", drawn / designed)


def seconds() -> float:
    """The set in seconds, warm, on this machine. [s]"""
    job = check_job(FARM)
    design = design_practice(job.inputs, first_practice(job.inputs), by_days=False)
    outcome = Outcome(job, design, {}, ())
    full_set(outcome)
    start = perf_counter()
    full_set(outcome)
    return perf_counter() - start


if __name__ == "__main__":
    print(f"The set of sheets takes {seconds():.2f} s warm; the goal is {GOAL:g} s.")
