# SPDX-License-Identifier: Apache-2.0
"""What a search found as the page shows it: its members in words, their marks on a plot, edits.

Shapes of the marks tell what binds, so that the plot reads in grey.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

from tilewater.basis.memory import is_same
from tilewater.basis.units import from_si, unit_label
from tilewater.chain.inputs import JobInputs
from tilewater.chain.search import Search, usd_per_kg
from tilewater.chain.search_axes import Axis
from tilewater.chain.search_record import sizes_of, title_of
from tilewater.chain.search_walk import Tried, amount
from tilewater.documents.scales import round_step
from tilewater.documents.words import NOT_KNOWN, Words
from tilewater.job.as_edits import edits_of_inputs
from tilewater.job.edits import Edit

LEFT, RIGHT, TOP, BASE = 64.0, 704.0, 16.0, 352.0
"""Frame of the plot in its own units; the page scales it."""
CLOUD = 400
"""Others that pass, at most as many are drawn."""
SHAPES = ("square", "diamond", "triangle", "valley", "open-square", "open-diamond")
"""Marks of what binds, in the order in which it first binds along the front."""
BOUGHT = ("boards", "pipes", "headers")
"""Sizes that are said in inches or millimetres."""


@dataclass(frozen=True)
class Member:
    """A member of the front, or the design as it stands, in words.

    Attributes
    ----------
    number : int
        Along the front from the cheapest; -1 for the design as it stands.
    name : str
        Why it is named, or "".
    sizes : dict of str to str
        By the title of the axis.
    cost, removed, per_mass, binds : str
    shape : str
        Of its mark.
    x, y : float or None
        Of its mark on the plot.
    """

    number: int
    name: str
    sizes: dict[str, str]
    cost: str
    removed: str
    per_mass: str
    binds: str
    shape: str
    x: float | None = None
    y: float | None = None


@dataclass(frozen=True)
class Tick:
    """A round number of an axis of the plot and where it stands."""

    at: float
    words: str


@dataclass(frozen=True)
class Plot:
    """The plot of a front.

    Attributes
    ----------
    across, up : tuple of Tick
        Estimate and nitrate.
    unit : str
        Of the nitrate.
    stairs : str
        Points of the line that no bed beats.
    cloud : tuple of (x, y)
        Others that pass.
    shapes : tuple of (shape, words)
        What each shape says.
    """

    across: tuple[Tick, ...]
    up: tuple[Tick, ...]
    unit: str
    stairs: str
    cloud: tuple[tuple[float, float], ...]
    shapes: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Front:
    """A front in words, and its plot; no plot where nothing passes."""

    members: tuple[Member, ...]
    own: Member
    columns: tuple[str, ...]
    same: tuple[str, ...]
    plot: Plot | None = field(repr=False, default=None)


def front_shown(search: Search, words: Words) -> Front:
    """The members of a front, cheapest first, and the design as it stands.

    Parameters
    ----------
    search : Search
        What was found.
    words : Words
        Units of the reader.
    """
    named: dict[tuple[int, ...], list[str]] = {}
    for choice in search.choices:
        named.setdefault(choice.tried.candidate, []).append(choice.words)
    kinds = list(dict.fromkeys(tried.binds for tried in search.front))
    frame = _Frame.around(search, words)
    members = tuple(
        _member(search, tried, n, ", ".join(named.get(tried.candidate, ())), kinds, words, frame)
        for n, tried in enumerate(search.front)
    )
    own = _member(search, search.own, -1, "as it stands", kinds, words, frame)
    titles = [axis.title for axis in search.plan.axes]
    told = {t: {member.sizes[t] for member in (*members, own)} for t in titles}
    columns = tuple(t for t in titles if len(told[t]) > 1)
    same = tuple(f"{t} {next(iter(told[t]))}" for t in titles if len(told[t]) == 1)
    plot = None if frame is None else _plot(search, kinds, frame)
    return Front(members, own, columns, same, plot)


def edits_of(
    search: Search, number: int, job: JobInputs, text: str, words: Words
) -> dict[str, Edit]:
    """Edits that turn a job into a member of the front; only what is otherwise.

    Parameters
    ----------
    search : Search
        What was found.
    number : int
        Along the front.
    job : JobInputs
        The job as it stands.
    text : str
        Text of its job file.
    words : Words
        Units in which they are typed.
    """
    stands = {given.key: given.value for given in job.givens}
    asked = {given.key: given.value for given in search.design.job.givens}
    wanted: dict[str, Any] = {
        key: value
        for key, value in asked.items()
        if key in stands and not is_same(stands[key], value) and isinstance(value, float | str)
    }
    wanted |= search.plan.inputs_of(search.front[number].candidate)
    moved = {key: value for key, value in wanted.items() if not _is_as(stands.get(key), value)}
    return edits_of_inputs(text, moved, words.system)


def _is_as(stands: Any, value: Any) -> bool:
    if isinstance(stands, float) and isinstance(value, int | float):
        return abs(stands - value) <= 1e-9
    return is_same(stands, value)


def _member(
    search: Search,
    tried: Tried,
    number: int,
    name: str,
    kinds: Sequence[str],
    words: Words,
    frame: "_Frame | None",
) -> Member:
    sizes = sizes_of(search, tried)
    unit = unit_label("mass", words.system)
    per = usd_per_kg(tried) if tried.removed and tried.annual is not None else None
    at = frame.at(tried) if frame is not None else None
    return Member(
        number,
        name,
        {axis.title: size_words(axis, sizes[axis.key], words) for axis in search.plan.axes},
        words.say(tried.cost, "money"),
        words.say(tried.removed, "mass", style="two figures"),
        NOT_KNOWN if per is None else words.say(per, f"USD/{unit}"),
        title_of(search, tried.binds) or "nothing that was judged",
        shape_of(kinds, tried.binds) if number >= 0 else "own",
        *(at or (None, None)),
    )


def shape_of(kinds: Sequence[str], binds: str) -> str:
    """The mark of what binds."""
    return SHAPES[kinds.index(binds) % len(SHAPES)] if binds in kinds else SHAPES[0]


def size_words(axis: Axis, value: float | None, words: Words) -> str:
    """A size as it is dug, stacked or bought."""
    if value is None:
        return NOT_KNOWN
    if axis.unit == "-":
        return f"{value:g}:1"
    said = words.say(value, "size" if axis.key.startswith(BOUGHT) else "length")
    number, _, unit = said.rpartition(" ")
    return f"{float(number.replace(',', '')):g} {unit}"


class _Frame:
    """From estimate and nitrate to the plot."""

    def __init__(self, across: Sequence[float], up: Sequence[float], unit: str) -> None:
        self.across, self.up, self.unit = across, up, unit

    @classmethod
    def around(cls, search: Search, words: Words) -> "_Frame | None":
        """A frame that holds the front and the design as it stands; None where nothing passes."""
        shown = [*search.front, *([search.own] if _is_shown(search.own) else [])]
        if not search.front:
            return None
        unit = unit_label("mass", words.system)
        across = marks_around([amount(t.cost) for t in shown])
        return cls(across, marks_around([from_si(amount(t.removed), unit) for t in shown]), unit)

    def at(self, tried: Tried) -> tuple[float, float] | None:
        if not _is_shown(tried):
            return None
        return self.x(amount(tried.cost)), self.y(from_si(amount(tried.removed), self.unit))

    def holds(self, tried: Tried) -> bool:
        """Whether it lies between the ends of both axes."""
        removed = from_si(amount(tried.removed), self.unit)
        return (
            self.across[0] <= amount(tried.cost) <= self.across[-1]
            and self.up[0] <= removed <= self.up[-1]
        )

    def x(self, cost: float) -> float:
        share = (cost - self.across[0]) / (self.across[-1] - self.across[0])
        return round(LEFT + share * (RIGHT - LEFT), 2)

    def y(self, removed: float) -> float:
        share = (removed - self.up[0]) / (self.up[-1] - self.up[0])
        return round(BASE - share * (BASE - TOP), 2)


def _is_shown(tried: Tried) -> bool:
    return tried.cost is not None and tried.removed is not None


def marks_around(values: Sequence[float]) -> list[float]:
    """Round marks that hold all values between the first and the last."""
    low, high = min(values), max(values)
    step = round_step(max(high - low, 0.02 * abs(high), 1e-6), 6.0)
    marks = [step * (low // step)]
    while marks[-1] < high or len(marks) < 2:
        marks.append(round(marks[0] + len(marks) * step, 9))
    return marks


def _plot(search: Search, kinds: Sequence[str], frame: _Frame) -> Plot:
    on_front = {tried.candidate for tried in search.front}
    others = [t for t in search.tried if t.passes and t.candidate not in on_front]
    others = [t for t in others if frame.holds(t)]
    drawn = others[:: max(1, -(-len(others) // CLOUD))]
    return Plot(
        across=tuple(Tick(frame.x(value), f"${value:,.10g}") for value in frame.across),
        up=tuple(Tick(frame.y(value), f"{value:,.10g}") for value in frame.up),
        unit=frame.unit,
        stairs=" ".join(f"{x},{y}" for x, y in _stairs(search.front, frame)),
        cloud=tuple(at for t in drawn if (at := frame.at(t)) is not None),
        shapes=tuple(
            (shape_of(kinds, kind), title_of(search, kind) or "nothing that was judged")
            for kind in kinds
        ),
    )


def _stairs(front: Sequence[Tried], frame: _Frame) -> Iterator[tuple[float, float]]:
    """What a sum of money buys at most: level to the next, then up to it."""
    points = [at for tried in front if (at := frame.at(tried)) is not None]
    yield points[0]
    for (_, before), at in pairwise(points):
        yield at[0], before
        yield at
