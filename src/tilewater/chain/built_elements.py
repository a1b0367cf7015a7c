# SPDX-License-Identifier: Apache-2.0
"""Parts of a design that can be shot once they stand: where they lie, what is compared, and how.

A `Level` is one number of a structure or of the bed; a `Run` is a pipe or line with an invert at
each end. Both name the inputs that the number as built stands in for when the design is run again.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from tilewater.basis.trace import Trace
from tilewater.chain.plan_parts import LINES, OUTLINES, PIPES, POINTS
from tilewater.chain.stake import HEADERS, PIPE_LEVELS
from tilewater.ground.matching import Element, Place

TOLERANCE = "inputs.as_built.tolerance"
BED = "bed"
OF_PIPE = frozenset({"invert", "flowline", "pipe_top", "pipe_bottom"})
OF_BED = frozenset({"floor", "corner", "chips", "ground"})
BENCHMARK = "benchmark"
CHECKED = "level"
REPLACED = "solid replacement"


@dataclass(frozen=True)
class Level:
    """One level of a part, and what it is held against.

    Attributes
    ----------
    element, what : str
        Name of the part, and which of its levels.
    codes : frozenset of str
        Codes of the shots that it is taken from.
    design : str
        Key of the designed level; "" where there is none.
    below, above : str
        Keys of the tolerances.
    inputs : tuple of str
        Inputs that it stands in for.
    """

    element: str
    what: str
    codes: frozenset[str]
    design: str
    below: str
    above: str
    inputs: tuple[str, ...] = ()


@dataclass(frozen=True)
class Run:
    """A pipe or line with the keys of its designed inverts; its places run from its lower end.

    Attributes
    ----------
    name, use : str
    line : tuple of place
        [m]
    lower, upper : str
        Keys of the designed inverts; "" where there is none.
    diameter, wall : str
        Keys; "" where there is none.
    inputs : tuple of (end, key)
        Inputs that the invert of an end stands in for.
    """

    name: str
    use: str
    line: tuple[Place, ...]
    lower: str
    upper: str
    diameter: str
    wall: str
    inputs: tuple[tuple[str, str], ...] = ()

    @property
    def slug(self) -> str:
        """Its name in keys."""
        return self.name.replace(" ", "-")


INPUTS_OF_USE = {
    "bypass": (
        ("lower", "inputs.main.invert_outlet_m"),
        ("upper", "inputs.main.invert_diversion_m"),
    ),
    "bed outlet": (("lower", "inputs.bed.outlet_invert_m"),),
    "return": (("lower", "inputs.bed.return_invert_m"),),
}
"""Inputs that the ends of a pipe stand in for, by what it does."""


def structure_levels(trace: Trace) -> Iterator[Level]:
    """Levels of every structure."""
    for name in trace.names("inputs.structure"):
        own, element = f"inputs.structure.{name}", structure_name(name)
        levels = (("sill", "sill", "structure"), ("floor", "box_floor", "structure"))
        for what, code, tolerance in (*levels, ("rim", "rim", "rim")):
            key, within = f"{own}.{what}_m", f"{TOLERANCE}.{tolerance}_m"
            if key in trace:
                yield Level(element, what, frozenset({code}), key, within, within, (key,))
        crest = f"boards.{name}-design.crest_m"
        if crest in trace or f"{own}.sill_m" in trace:
            within = f"{TOLERANCE}.crest_m"
            design = crest if crest in trace else ""
            yield Level(element, "crest", frozenset({"crest"}), design, within, within)


def structure_name(name: str) -> str:
    """What a structure is called."""
    return f"{name.replace('-', ' ')} structure"


def runs(trace: Trace) -> Iterator[Run]:
    """Pipes and level lines of the design."""
    for name in trace.names("inputs.pipe"):
        use = str(trace.value(f"inputs.pipe.{name}.use"))
        line = _line_of(trace, f"{PIPES}.{name}.line")[::-1]
        diameter = f"inputs.pipe.{name}.diameter_m"
        lower, upper = _inverts(trace, name, use)
        yield Run(
            name.replace("-", " "),
            use,
            line,
            lower,
            upper,
            diameter if diameter in trace else "",
            _wall(trace, name),
            tuple(each for each in INPUTS_OF_USE.get(use, ()) if each[1] in trace),
        )
    yield from _lines(trace)


def _lines(trace: Trace) -> Iterator[Run]:
    """Lines that let water out, laid level."""
    level = "inputs.buffer.line_invert_m"
    diameter = "inputs.buffer.pipe_diameter_m"
    for name in trace.names("inputs.line"):
        if level not in trace or trace.value(f"inputs.line.{name}.kind") != "distribution line":
            continue
        yield Run(
            f"line {name.replace('-', ' ')}",
            "distribution line",
            _line_of(trace, f"{LINES}.{name}"),
            level,
            level,
            diameter if diameter in trace else "",
            _wall(trace, name),
            (("mean", level),),
        )


def _line_of(trace: Trace, key: str) -> tuple[Place, ...]:
    return tuple(trace.value(key)) if trace.known(key) else ()


def _wall(trace: Trace, name: str) -> str:
    key = f"inputs.built_pipe.{name}.wall_m"
    return key if key in trace else ""


def _inverts(trace: Trace, name: str, use: str) -> tuple[str, str]:
    """Keys of the designed inverts of a pipe, lower end first."""
    if use in HEADERS:
        floor = HEADERS[use]
        return (floor, floor) if floor in trace else ("", "")
    if use == REPLACED:
        lower, upper = "inputs.main.invert_diversion_m", f"built.design.{name}.upper_invert_m"
        return (lower, upper) if lower in trace else ("", "")
    if use not in PIPE_LEVELS:
        return "", ""
    step, up, down = PIPE_LEVELS[use]
    if step not in trace and use == "bypass":
        ends = ("inputs.main.invert_outlet_m", "inputs.main.invert_diversion_m")
        return ends if all(end in trace for end in ends) else ("", "")
    taken = dict(trace.steps[step].inputs) if step in trace else {}
    return taken.get(down, ""), taken.get(up, "")


def elements(trace: Trace) -> tuple[Element, ...]:
    """Every part that a shot may be of, with where it lies."""
    found: list[Element] = []
    for name in trace.names("inputs.structure"):
        codes = frozenset({"sill", "box_floor", "rim", "crest"})
        place = _point(trace, f"{POINTS}.{name}-structure")
        found.append(Element(structure_name(name), codes, place))
    found += [Element(run.name, OF_PIPE, run.line) for run in runs(trace)]
    if has_bed(trace):
        outline = _line_of(trace, f"{OUTLINES}.bed-chips") or _line_of(
            trace, f"{OUTLINES}.bed-floor"
        )
        found.append(Element(BED, OF_BED, outline, is_outline=True))
    for name in trace.names("inputs.benchmark"):
        place = _point(trace, f"{POINTS}.benchmark-{name}")
        found.append(Element(name.replace("-", " "), frozenset({BENCHMARK}), place))
    return tuple(found)


def has_bed(trace: Trace) -> bool:
    """Whether the practice is a bed, or has one."""
    return "bed.shape" in trace


def _point(trace: Trace, key: str) -> tuple[Place, ...]:
    sides = (f"{key}.station_m", f"{key}.offset_m")
    if not trace.known(*sides):
        return ()
    station, offset = (float(trace.value(side)) for side in sides)
    return ((station, offset),)
