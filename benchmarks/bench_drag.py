# SPDX-License-Identifier: Apache-2.0
"""What it costs to drag a handle: the first answer and its section drawn, step by step.

The goal is 100 ms for both, in the middle of a drag, so that the water follows the hand.
"""

import time
from collections.abc import Callable, Iterator
from pathlib import Path
from statistics import median

from benchmarks.ratio import Ratio, best_times
from tilewater.documents.living.section import living_section
from tilewater.documents.words import Words
from tilewater.job.edits import Edit
from tilewater.tasks.held import Answer, HeldJob
from tilewater.tasks.held_handles import LookedAt, edit_at, handles_of
from tilewater.tasks.held_water import scene_at

EXAMPLES = Path(__file__).resolve().parent.parent / "examples"
DRAGS = (
    ("corbel-farm", "inlet-boards"),
    ("corbel-farm", "bed-length"),
    ("merridew-farm", "bypass-boards"),
    ("merridew-farm", "buffer-width"),
)
"""A job, and what is dragged."""
STEPS = 16
FIRST = 3
"""Steps at the beginning of a drag that are not timed; a hand does not feel them either."""
GOAL = 0.1
"""For an answer and its section. [s]"""
WIDTH = 1200.0
WORDS = Words("us", "international foot")


def drawn(answer: Answer) -> str:
    """The section of an answer at a flow of half the full main, as the page gets it."""
    if answer.design is None:
        raise ValueError(f"the edits are at fault: {answer.faults}")
    full = float(answer.design.trace.value("drain_flow.full_m3_s"))
    looked = scene_at(answer, LookedAt(flow_m3_s=full / 2))
    return living_section(answer.design, WORDS, width=WIDTH, looked=looked).svg


def moves(held: HeldJob, name: str) -> list[dict[str, Edit]]:
    """Edits of a drag: one step after the other from where the handle stands, then back down."""
    design = held.first().design
    if design is None:
        raise ValueError(f"the job has faults: {held.faults}")
    handle = next(each for each in handles_of(design) if each.name == name)
    at = handle.index or 0
    places = [at + n for n in range(1, STEPS)] + [at - n for n in range(1, STEPS)]
    inside = [place for place in places if 0 <= place < len(handle.steps)]
    return [edit_at(handle, place) for place in inside[: STEPS + FIRST]]


def times(farm: str, name: str) -> tuple[float, float]:
    """Middle times of a first answer, and of the answer with its section drawn."""
    held = HeldJob(EXAMPLES / farm)
    answered, shown = [], []
    for edits in moves(held, name):
        start = time.perf_counter()
        answer = held.first(edits)
        answered.append(time.perf_counter() - start)
        drawn(answer)
        shown.append(time.perf_counter() - start)
    return median(answered[FIRST:]), median(shown[FIRST:])


def refining(farm: str) -> Callable[[], object]:
    """A refined answer to an edit that was not asked before."""
    job = HeldJob(EXAMPLES / farm)
    job.refined()
    asked = iter(moves(job, "inlet-boards" if farm == "corbel-farm" else "bypass-boards"))
    return lambda: job.refined(next(asked))


def measure() -> Iterator[Ratio]:
    """Yield the cost of drags, against the goal and against the refined answer."""
    refined = {farm: best_times(refining(farm), rounds=2)[0] for farm in dict(DRAGS)}
    for farm, name in DRAGS:
        first, both = times(farm, name)
        what = f"a step of {name} of {farm}"
        yield Ratio(f"{what}: first answer, {first * 1e3:.0f} ms", "100 ms", first / GOAL)
        yield Ratio(f"{what}: answer and section, {both * 1e3:.0f} ms", "100 ms", both / GOAL)
        against = f"its refined answer, {refined[farm]:.1f} s"
        yield Ratio(f"{what}: first answer", against, first / refined[farm])
