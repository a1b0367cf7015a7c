# SPDX-License-Identifier: Apache-2.0
"""The design run again with the work as it was built: boards, lid card, capacity, what falls short.

Levels and lengths as built stand in for the inputs that they are of; nothing is written. Boards are
those of the job, so a sill that was set higher carries its crest with it.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from tilewater.basis.memory import Memory
from tilewater.basis.requirement import Requirement
from tilewater.basis.trace import Origin, Trace
from tilewater.chain.built_elements import Level, has_bed, structure_name
from tilewater.chain.built_grade import LaidRun, shot_key
from tilewater.chain.built_judged import PARTS, part_key, slug_of
from tilewater.chain.built_parts import depth_between, mean_of_inverts, moved_level
from tilewater.chain.built_shots import Matched, is_as_found, keyed
from tilewater.chain.design import Design, design_practice
from tilewater.chain.inputs import JobInputs
from tilewater.practices.rules import same

INSTEAD = "built.instead"
RERUN = "rerun"
OF_DAYS = ("wet_days", "annual", "reduction", "life")
"""Parts of the keys of rules that rest on the days of a record."""
FLOORS = ("floor_inlet_m", "floor_outlet_m")
NUMBERS = (
    ("capacity.criterion.flow_m3_s", "Flow of the criterion line"),
    ("capacity.criterion.share_of_peak", "Share of the peak"),
    ("capacity.criterion.retention_h", "Retention on the criterion line"),
    ("capacity.spring.flow_m3_s", "Flow of the spring line"),
    ("capacity.spring.share_of_peak", "Share of the peak in spring"),
    ("capacity.new.flow_m3_s", "Flow when new"),
    ("bed.media_volume_m3", "Chips in place"),
    ("bed.depth_inlet_crest_m", "Water over the floor at the inlet crest"),
    ("buffer.flow_m3_s", "Flow of the line"),
    ("buffer.share_of_peak", "Share of the peak that it takes"),
    ("buffer.travel_time_days", "Days on the way to the ditch"),
)
"""What is told before and after, where the practice has it."""
OF_BED = ("capacity.", "bed.")
"""How the keys of what only a bed is told by begin."""


@dataclass(frozen=True)
class Change:
    """A number before and after; None where it is not known."""

    key: str
    title: str
    before: float | None
    after: float | None


@dataclass(frozen=True)
class Effect:
    """What the work as built does to the design.

    Attributes
    ----------
    before, after : Design
    sets : tuple of str
        Board sets with their season: `inlet-spring`.
    numbers : tuple of Change
    newly_short : tuple of Requirement
        Rules that did not fall short as designed, and do as built.
    by_element : mapping of str to tuple of Requirement
        Those of them that hold once a part outside its tolerance is as designed.
    """

    before: Design
    after: Design
    sets: tuple[str, ...]
    numbers: tuple[Change, ...]
    newly_short: tuple[Requirement, ...]
    by_element: Mapping[str, tuple[Requirement, ...]]


def add_instead(
    trace: Trace, levels: Iterable[Level], laid: Iterable[LaidRun]
) -> dict[str, tuple[str, ...]]:
    """Record what stands in for inputs; gives by part the inputs that its levels replace.

    Parameters
    ----------
    trace : Trace
        Of the design, levels and pipes as built added. [-]
    levels : iterable of Level
        From `add_levels`. [-]
    laid : iterable of LaidRun
        From `add_grade`. [-]

    Returns
    -------
    dict of str to tuple of str
        Keys of inputs by the name of the part. [-]
    """
    found: dict[str, list[str]] = {}
    for level in levels:
        if f"{part_key(level)}_m" not in trace:
            continue
        for key in level.inputs:
            if _add_one(trace, level, key):
                found.setdefault(level.element, []).append(key)
    if is_as_found(trace):
        for element, key in _add_found_boards(trace):
            found.setdefault(element, []).append(key)
    for each in laid:
        for end, key in each.run.inputs:
            if _add_end(trace, each, end, key):
                found.setdefault(each.run.name, []).append(key)
    return {element: tuple(keys) for element, keys in found.items()}


def _add_found_boards(trace: Trace) -> Iterator[tuple[str, str]]:
    """Boards that were found in a structure: the height of their crest over its sill."""
    for name in trace.names("inputs.structure"):
        element, key = structure_name(name), f"inputs.boards.{name}_m"
        own = f"{PARTS}.{slug_of(element)}"
        if key not in trace or not trace.known(f"{own}.crest_m", f"{own}.sill_m"):
            continue
        title = f"As found in place of: {trace.steps[key].title}"
        upper, lower = f"{own}.crest_m", f"{own}.sill_m"
        trace.compute(
            instead_key(key), depth_between, unit="m", title=title, upper=upper, lower=lower
        )
        yield element, key


def instead_key(key: str) -> str:
    """Where the value that stands in for an input is recorded."""
    return f"{INSTEAD}.{key.removeprefix('inputs.')}"


def _add_one(trace: Trace, level: Level, key: str) -> bool:
    here, title = part_key(level), f"As built in place of: {trace.steps[key].title}"
    last = key.rpartition(".")[2]
    if last in FLOORS and f"{here}.off_m" in trace and f"bed.{last}" in trace:
        design, off = f"bed.{last}", f"{here}.off_m"
        trace.compute(instead_key(key), moved_level, unit="m", title=title, design=design, off=off)
    elif last == "cover_depth_m":
        crown = "inputs.bed.crown_m"
        trace.compute(
            instead_key(key), depth_between, unit="m", title=title, upper=f"{here}_m", lower=crown
        )
    else:
        trace.compute(instead_key(key), same, unit="m", title=title, value=f"{here}_m")
    return trace.known(instead_key(key))


def _add_end(trace: Trace, laid: LaidRun, end: str, key: str) -> bool:
    """The invert of an end of a pipe, from the shots within reach of that end."""
    shots = _at_end(trace, laid, end)
    if not shots:
        return False
    values = {name: f"{shot_key(laid, m)}.invert_m" for m in shots for name in keyed((m,), "")}
    title = f"As built in place of: {trace.steps[key].title}"
    trace.compute(instead_key(key), mean_of_inverts, unit="m", title=title, **values)
    return trace.known(instead_key(key))


def _at_end(trace: Trace, laid: LaidRun, end: str) -> tuple[Matched, ...]:
    known = [m for m in laid.shots if trace.known(f"{shot_key(laid, m)}.invert_m")]
    if end == "mean":
        return tuple(known)
    if is_as_found(trace):
        return tuple(m for m in known if end == "lower" and m.match.code == "flowline")
    placed = [m for m in known if f"{shot_key(laid, m)}.along_m" in trace]
    length = f"{laid.key}.length_m"
    if not placed or length not in trace:
        return ()
    reach, run = (float(trace.value(key)) for key in ("inputs.as_built.reach_m", length))
    along = {m.shot.key: float(trace.value(f"{shot_key(laid, m)}.along_m")) for m in placed}
    is_lower = end == "lower"
    ways = {key: x if is_lower else run - x for key, x in along.items()}
    near = [m for m in placed if ways[m.shot.key] <= reach]
    least = min((ways[m.shot.key] for m in near), default=0.0)
    return tuple(m for m in near if ways[m.shot.key] <= least + 1e-6)


def as_built_inputs(job: JobInputs, trace: Trace, keys: Sequence[str], origin: Origin) -> JobInputs:
    """The inputs of a job with the work as built in their place; the job itself stays as it is.

    Parameters
    ----------
    job : JobInputs
        As designed. [-]
    trace : Trace
        Of the design, with what stands in for inputs. [-]
    keys : sequence of str
        Inputs that are replaced. [-]
    origin : Origin
        The file of the shots. [-]

    Returns
    -------
    JobInputs
        As built. [-]
    """
    values = {key: trace.value(instead_key(key)) for key in keys}
    size = "inputs.bed.size"
    if not is_as_found(trace) and trace.known(size) and trace.value(size) != "as given":
        values |= {size: "as given"} | {
            key: values.get(key, trace.value(key.replace("inputs.bed", "bed")))
            for key in ("inputs.bed.length_bottom_m", "inputs.bed.width_bottom_m")
            if trace.known(key.replace("inputs.bed", "bed"))
        }
    elif is_as_found(trace) and size in trace:
        values[size] = "as given"
    return replace(
        job,
        givens=tuple(
            replace(given, value=values[given.key], origin=origin) if given.key in values else given
            for given in job.givens
        ),
    )


def rerun(
    before: Design,
    trace: Trace,
    instead: Mapping[str, Sequence[str]],
    outside: Iterable[str],
    origin: Origin,
    *,
    by_days: bool,
    memory: Memory | None = None,
) -> Effect:
    """Run a design again with the work as built.

    Parameters
    ----------
    before : Design
        As designed, or as far as it is known of a practice that was found. [-]
    trace : Trace
        That holds what stands in for inputs. [-]
    instead : mapping of str to sequence of str
        Inputs that each part replaces. [-]
    outside : iterable of str
        Parts that lie outside their tolerance, each put back to its design in turn. [-]
    origin : Origin
        The file of the shots. [-]
    by_days : bool
        Whether known days are routed through it. [-]
    memory : Memory or None
        What is remembered of the design; it changes no number. [-]

    Returns
    -------
    Effect
        What changes. [-]
    """
    job = before.job
    keys = tuple(dict.fromkeys(key for each in instead.values() for key in each))
    after = design_practice(
        as_built_inputs(job, trace, keys, origin),
        before.practice,
        by_days=by_days,
        memory=memory,
    )
    short = newly_short(before, after)
    cured = {
        element: _cured(after, job, trace, _without(instead, element), origin, short)
        for element in outside
        if short and instead.get(element)
    }
    return Effect(
        before,
        after,
        tuple(name for name in after.trace.names("boards") if _is_set(after.trace, name)),
        _numbers(before.trace, after.trace),
        short,
        cured,
    )


def _without(instead: Mapping[str, Sequence[str]], element: str) -> tuple[str, ...]:
    """Inputs that all parts but one replace."""
    rest = (key for name, keys in instead.items() if name != element for key in keys)
    return tuple(dict.fromkeys(rest))


def _cured(
    after: Design,
    job: JobInputs,
    trace: Trace,
    keys: Sequence[str],
    origin: Origin,
    short: Sequence[Requirement],
) -> tuple[Requirement, ...]:
    """Rules that fall short with all parts as built, and not once one part is as designed."""
    inputs = as_built_inputs(job, trace, keys, origin)
    by_days = any(not _is_judged(one) for one in short)
    without = design_practice(inputs, after.practice, by_days=by_days)
    return tuple(one for one in short if not _is_short(without, one))


def _is_judged(one: Requirement) -> bool:
    """Whether a rule can be judged without the days of the record."""
    return not any(word in one.key for word in OF_DAYS)


def _is_short(design: Design, one: Requirement) -> bool:
    key = f"{one.key}.status"
    return key in design.trace and design.trace.value(key) == "short"


def _is_set(trace: Trace, name: str) -> bool:
    return trace.known(f"boards.{name}.crest_m")


def _numbers(before: Trace, after: Trace) -> tuple[Change, ...]:
    is_bed = has_bed(after)
    return tuple(
        Change(key, title, _number(before, key), _number(after, key))
        for key, title in NUMBERS
        if (key in before or key in after) and (is_bed or not key.startswith(OF_BED))
    )


def _number(trace: Trace, key: str) -> float | None:
    return float(trace.value(key)) if trace.known(key) else None


def newly_short(before: Design, after: Design) -> tuple[Requirement, ...]:
    """Rules that fall short after and did not before.

    Parameters
    ----------
    before, after : Design
        As designed and as built. [-]

    Returns
    -------
    tuple of Requirement
        In the order of the chain. [-]
    """
    return tuple(
        one
        for one in after.trace.requirements
        if _is_short(after, one) and not _is_short(before, one)
    )


def add_rerun(trace: Trace, effect: Effect, keys: Iterable[str]) -> None:
    """Record numbers of the design as built, with all that they rest on, under `rerun`.

    Parameters
    ----------
    trace : Trace
        Of the design. [-]
    effect : Effect
        Of the work as built. [-]
    keys : iterable of str
        Numbers that are told. [-]
    """
    steps = effect.after.trace.steps
    replaced = {key for key in steps if instead_key(key) in trace}
    pile = [key for key in keys if key in steps]
    done: set[str] = set()
    while pile:
        key = pile.pop()
        if key in done:
            continue
        done.add(key)
        pile += [source for _, source in steps[key].inputs]
    for key, step in steps.items():
        if key in done:
            inputs = tuple((name, f"{RERUN}.{source}") for name, source in step.inputs)
            title = step.title if step.origin is not None else f"{step.title}, as built"
            made = replace(step, key=f"{RERUN}.{key}", title=title, inputs=inputs)
            if key in replaced:
                by = f"{same.__module__}.{same.__qualname__}"
                taken = (("value", instead_key(key)),)
                made = replace(made, function=by, inputs=taken, origin=None)
            trace.put(made)
