# SPDX-License-Identifier: Apache-2.0
"""Whether finished work conforms, part by part and in all.

A part conforms where all that was shot of it is within its tolerance. Outside it, the design run
again decides: it conforms with effect where no rule falls short that held, else it does not.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from tilewater.basis.requirement import Requirement
from tilewater.basis.trace import Trace
from tilewater.basis.unknown import is_unknown
from tilewater.chain.built_elements import CHECKED, Level
from tilewater.chain.built_grade import LaidRun, shot_key, status_of_run
from tilewater.chain.built_judged import part_key

CONFORMS, WITH_EFFECT, DOES_NOT, NOT_KNOWN = (
    "conforms",
    "conforms with effect",
    "does not conform",
    "not known",
)
NOT_SHOT = "not shot"
WITHIN = "within its tolerances"


@dataclass(frozen=True)
class Conformance:
    """Whether a part conforms, and why it is said."""

    element: str
    word: str
    why: str


def level_status(trace: Trace, level: Level) -> str:
    """Status of a level that was shot; "" where it was not, or is held against nothing."""
    key = f"{part_key(level)}.status"
    if key not in trace:
        return ""
    found = trace.value(key)
    return NOT_KNOWN if is_unknown(found) else str(found)


def outside(trace: Trace, levels: Iterable[Level], laid: Iterable[LaidRun]) -> tuple[str, ...]:
    """Parts of which something lies outside its tolerance, or may."""
    parts = [
        level.element
        for level in levels
        if level.what != CHECKED and level_status(trace, level) in ("short", NOT_KNOWN)
    ]
    parts += [each.run.name for each in laid if each.shots and _off_shots(trace, each)]
    return tuple(dict.fromkeys(parts))


def _off_shots(trace: Trace, laid: LaidRun) -> list[str]:
    """Shots of a pipe that do not hold."""
    found = []
    for m in laid.shots:
        key = f"{shot_key(laid, m)}.status"
        if key in trace and trace.value(key) != "holds":
            found.append(m.shot.point)
    return found


def conformances(
    trace: Trace,
    levels: Sequence[Level],
    laid: Sequence[LaidRun],
    alone: Mapping[str, tuple[Requirement, ...]],
) -> tuple[Conformance, ...]:
    """Whether each part conforms.

    Parameters
    ----------
    trace : Trace
        Of the design, with the work as built. [-]
    levels : sequence of Level
        From `add_levels`. [-]
    laid : sequence of LaidRun
        From `add_grade`. [-]
    alone : mapping of str to tuple of Requirement
        Rules that a part makes fall short. [-]

    Returns
    -------
    tuple of Conformance
        Structures and the bed, then pipes. [-]
    """
    parts = dict.fromkeys(level.element for level in levels if level.what != CHECKED)
    found = [
        _of_part(trace, name, [each for each in levels if each.element == name], alone)
        for name in parts
    ]
    return (*found, *(_of_run(trace, each, alone) for each in laid))


def _of_part(
    trace: Trace,
    name: str,
    levels: Sequence[Level],
    alone: Mapping[str, tuple[Requirement, ...]],
) -> Conformance:
    known = {level.what: status for level in levels if (status := level_status(trace, level))}
    if not known:
        return Conformance(name, NOT_KNOWN, NOT_SHOT)
    off = [what for what, status in known.items() if status == "short"]
    if off:
        return _judged(name, f"outside its tolerance: {', '.join(off)}", alone)
    unsure = [what for what, status in known.items() if status == NOT_KNOWN]
    if unsure:
        why = f"off by no more than noise may make: {', '.join(unsure)}"
        return Conformance(name, NOT_KNOWN, why)
    missing = [w for level in levels if (w := level.what) not in known and level.design]
    rest = f"; not shot: {', '.join(missing)}" if missing else ""
    return Conformance(name, CONFORMS, f"{WITHIN}{rest}")


def _judged(name: str, why: str, alone: Mapping[str, tuple[Requirement, ...]]) -> Conformance:
    short = alone.get(name, ())
    if short:
        titles = "; ".join(one.title[0].lower() + one.title[1:] for one in short[:2])
        return Conformance(name, DOES_NOT, f"{why}; falls short: {titles}")
    return Conformance(name, WITH_EFFECT, f"{why}; no rule falls short by it")


def _of_run(
    trace: Trace, laid: LaidRun, alone: Mapping[str, tuple[Requirement, ...]]
) -> Conformance:
    name = laid.run.name
    if not laid.shots:
        return Conformance(name, NOT_KNOWN, NOT_SHOT)
    for end, words in (("standing", "water will stand in it"), ("local", "too flat a reach")):
        key = f"{laid.key}.{end}.status"
        if key in trace and trace.value(key) == "short":
            return Conformance(name, DOES_NOT, words)
    status = status_of_run(trace, laid)
    if status == "short":
        points = _off_shots(trace, laid)
        what = f"outside its tolerance: shot {', '.join(points)}" if points else "not level"
        return _judged(name, what, alone)
    if status == NOT_KNOWN:
        return Conformance(name, NOT_KNOWN, _why_unknown(trace, laid))
    return Conformance(name, CONFORMS, WITHIN)


def _why_unknown(trace: Trace, laid: LaidRun) -> str:
    if any(f"{shot_key(laid, m)}.invert_m" not in trace for m in laid.shots):
        return "its wall is not known, so shots on its outside give no invert"
    if not any(f"{shot_key(laid, m)}.status" in trace for m in laid.shots):
        return "its designed inverts, or its place, are not known"
    if _off_shots(trace, laid):
        return "off by no more than noise may make"
    return "its shots scatter too much to tell its local grade"


def in_all(found: Iterable[Conformance], newly_short: Sequence[Requirement], lid: bool) -> str:
    """Whether the work conforms in all: the worst of what is known.

    Parameters
    ----------
    found : iterable of Conformance
        Each part. [-]
    newly_short : sequence of Requirement
        Rules that fall short as built and did not as designed. [-]
    lid : bool
        Whether a lid card changes. [-]

    Returns
    -------
    str
        One of the four answers. [-]
    """
    words = {each.word for each in found}
    if DOES_NOT in words or (newly_short and WITH_EFFECT in words):
        return DOES_NOT
    if WITH_EFFECT in words or newly_short or (lid and CONFORMS in words):
        return WITH_EFFECT
    return CONFORMS if CONFORMS in words else NOT_KNOWN
