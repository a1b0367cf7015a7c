# SPDX-License-Identifier: Apache-2.0
"""The plan in words: coordinates of what is laid out, distances, the ground, what is not drawn."""

from collections.abc import Iterator

from tilewater.basis.trace import Trace
from tilewater.chain.plan_parts import DISTANCES, POINTS
from tilewater.chain.scene_plan_records import PlanScene
from tilewater.documents.pages.said import Cell, Part, Said, block, dim, rows
from tilewater.documents.words import NOT_KNOWN, Words

SIDES = ("station", "offset", "north", "east")
KINDS = {
    "station": "station",
    "offset": "length",
    "north": "coordinate",
    "east": "coordinate",
}


def plan_blocks(trace: Trace, scene: PlanScene, words: Words) -> Iterator[Part]:
    """Blocks below a plan."""
    yield coordinates(trace, words)
    yield ground(scene)
    missing: list[list[Cell]] = [[each.what, dim("; ".join(each.why))] for each in scene.missing]
    if missing:
        table = rows(("what", "why"), missing, wide=(0, 1))
        yield block("Not drawn, not known", "", table)


def coordinates(trace: Trace, words: Words) -> Part:
    """Every point that is laid out, by station and offset and in the grid."""
    lines: list[list[Cell]] = []
    for name in trace.names(POINTS):
        here = f"{POINTS}.{name}"
        step = f"{here}.station_m"
        title = trace.steps[step].title.partition(": ")[2] if step in trace.steps else name
        said = [_said(trace, f"{here}.{side}_m", KINDS[side], words) for side in SIDES]
        lines.append([title, *said])
    note = f"{len(lines)} points" if lines else ""
    if not lines:
        return block("Coordinates", note, dim("Nothing is laid out yet: give the places."))
    return block("Coordinates", note, rows(("point", *SIDES), lines, right=(1, 2, 3, 4)))


def _said(trace: Trace, key: str, kind: str, words: Words) -> str:
    return words.say(trace.value(key), kind) if trace.known(key) else NOT_KNOWN


def ground(scene: PlanScene) -> Part:
    """What is known of the heights of the ground."""
    used = [shot for shot in scene.shots if shot.is_used]
    if not used:
        said = (
            "No heights of the ground are drawn: the job has no shots in its grid. Name the file "
            "of the rover under [survey] and give [baseline]."
        )
    else:
        said = (
            f"{len(used)} shots, each with its height. No surface is drawn between them: between "
            "two shots nobody has measured."
        )
    return block("Ground", "", Said(said))


def distances(trace: Trace, there: Trace | None, words: Words) -> Part:
    """What the chain measures in plan, now and where something was moved to."""
    after = trace if there is None else there
    names = dict.fromkeys((*trace.names(DISTANCES), *after.names(DISTANCES)))
    lines: list[list[Cell]] = []
    for name in names:
        key = f"{DISTANCES}.{name}"
        owner = after if key in after else trace
        now, then = (_said(t, key, "length", words) if key in t else "" for t in (trace, after))
        is_moved = now != then
        said = [now] if there is None else [now, Said(then, "strong" if is_moved else "")]
        lines.append([owner.steps[key].title, *said])
    if not lines:
        return block(
            "Distances", "", dim("None can be measured: give the bank top and the places.")
        )
    heads = ("", "now") if there is None else ("", "now", "there")
    return block("Distances", "", rows(heads, lines, right=range(1, len(heads)), wide=(0,)))
