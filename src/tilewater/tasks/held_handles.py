# SPDX-License-Identifier: Apache-2.0
"""What of a held job can be taken in the hand and moved, and by which steps.

A handle moves in steps that can be built: stacks of the boards that the job lists, pipes that are
sold, whole feet. Where its value stands in the job file a move is an edit of that file. The flow
and the ditch that are looked at stand nowhere: they are a `LookedAt`, and are never saved.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from math import floor, log10
from typing import Literal

from tilewater.basis.trace import Trace
from tilewater.basis.units import System, from_si, to_si
from tilewater.chain.design import Design
from tilewater.chain.looked_at import FULL, LookedAt, stage_key
from tilewater.chain.scene_reading import SceneReading
from tilewater.chain.scene_way import read_way
from tilewater.job.edits import Edit
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.boards import stack_heights
from tilewater.tasks.held_handle import (
    SIZES,
    Axis,
    Handle,
    Kind,
    edit_at,
    edit_of,
    even_steps,
    looked_at_of,
    typed,
    with_value,
)

__all__ = ["Handle", "LookedAt", "edit_at", "edit_of", "handles_of", "looked_at_of"]

Side = Literal["length", "width"]
SIDES: tuple[tuple[Side, Axis], ...] = (("length", "along"), ("width", "across"))
SOLD_IN = (4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 18.0, 24.0)
"""Inside diameters of drain pipe that are sold, common practice. [in]"""
PIPES = {
    "feed": "Feed",
    "bed outlet": "Pipe from the bed",
    "return": "Return",
    "bypass": "Main past the practice",
    "inlet header": "Inlet header",
    "outlet header": "Outlet header",
}


def handles_of(design: Design) -> tuple[Handle, ...]:
    """What of a designed practice can be moved; what is not known enough for steps is left out.

    Parameters
    ----------
    design : Design
        Of a first or refined answer.

    Returns
    -------
    tuple of Handle
        In the order of a page: boards, sizes, pipes, what is looked at.
    """
    hand = _Hand(design)
    found = [*_HANDLES[design.practice.name](hand), *_looked_at(hand)]
    return tuple(handle for handle in found if handle is not None)


class _Hand:
    """Reads a design for its handles."""

    def __init__(self, design: Design) -> None:
        self.trace: Trace = design.trace
        self.practice = design.practice.name
        self.typed_keys = {given.key: given for given in design.job.givens}
        units = self.words("inputs.job.units")
        self.system: System = "si" if units == "si" else "us"

    def words(self, key: str) -> str:
        """A word; "" where it is not known."""
        return str(self.trace.value(key)) if self.trace.known(key) else ""

    def number(self, key: str) -> float | None:
        """A number; None where it is not known."""
        return float(self.trace.value(key)) if self.trace.known(key) else None

    def is_typed(self, key: str) -> bool:
        """Whether the job file has an input, known or not."""
        return key in self.typed_keys and bool(self.typed_keys[key].origin.line)

    def steps(self, kind: Kind, low: float, high: float, value: float | None) -> tuple[float, ...]:
        """Whole steps of a kind from low to high, the present value among them."""
        size, unit = SIZES[kind][self.system]
        return even_steps(to_si(size, unit), low, high, value)

    def sized(
        self,
        name: str,
        words: str,
        kind: Kind,
        path: str,
        key: str,
        *,
        low: float,
        high: float | None,
        axis: Axis,
        datum_m: float | None,
        other_edits: tuple[tuple[str, Edit], ...] = (),
    ) -> Handle | None:
        """A handle of a size; None while the size is not known."""
        value = self.number(key)
        if value is None:
            return None
        top = 2.0 * value if high is None else max(high, value)
        steps = self.steps(kind, low, top, value)
        return Handle(
            name, words, kind, (path,), key, "m", value, steps, axis, datum_m, self.system,
            other_edits,
        )  # fmt: skip


def _bed_handles(hand: _Hand) -> Iterator[Handle | None]:
    yield from _boards(hand, "inlet", "Inlet boards", "inlet")
    yield from _boards(hand, "outlet", "Outlet boards", "outlet")
    media = read_way(SceneReading(hand.trace)).media
    low = None if media is None else media.low
    cells = hand.trace.names("inputs.cell")
    least, margin = to_si(3.0, "ft"), hand.number("quantities.cut_margin_m") or 0.0
    for side, axis in SIDES:
        room = hand.number(f"inputs.bed.footprint_{side}_m")
        high = None if room is None else room - 2.0 * margin
        for place, key, words in _sized_in(hand, cells, side):
            yield hand.sized(
                f"{place.replace('.', '-')}-{side}", words, side, f"{place}.{side}_bottom", key,
                low=least, high=high, axis=axis, datum_m=low if axis == "along" else 0.0,
                other_edits=_as_given(hand, place, side),
            )  # fmt: skip
    floor, ground = hand.number("bed.floor_mean_m"), hand.number("inputs.site.ground_at_bed_m")
    deep = None if floor is None or ground is None else ground - floor
    yield hand.sized(
        "media-depth", "Depth of the media", "depth", "bed.media_depth", "bed.media_depth_m",
        low=to_si(0.5, "ft"), high=deep, axis="up", datum_m=floor,
    )  # fmt: skip
    yield from _pipes(hand)


def _sized_in(hand: _Hand, cells: Sequence[str], side: str) -> Iterator[tuple[str, str, str]]:
    """Table of the job file that sizes a side, key of its value, and its words."""
    own = [cell for cell in cells if hand.is_typed(f"inputs.cell.{cell}.{side}_bottom_m")]
    for cell in own:
        yield (
            f"cell.{cell}", f"bed.cells.{cell}.{side}_bottom_m",
            f"{side.capitalize()} of the floor of {cell}",
        )  # fmt: skip
    if len(own) < len(cells) or not cells:
        key = f"bed.{side}_bottom_m" if not cells else f"inputs.bed.{side}_bottom_m"
        yield "bed", key, f"{side.capitalize()} of the floor"


def _as_given(hand: _Hand, place: str, side: str) -> tuple[tuple[str, Edit], ...]:
    """What else a size settles: that the bed is no longer the smallest that was found."""
    if place != "bed" or hand.words("inputs.bed.size") != "smallest that passes":
        return ()
    other: Side = "width" if side == "length" else "length"
    found = hand.number(f"bed.{other}_bottom_m")
    if found is None:
        return ()
    kept = (f"bed.{other}_bottom", typed(found, other, hand.system))
    return (kept, ("bed.size", "as given"))


def _buffer_handles(hand: _Hand) -> Iterator[Handle | None]:
    yield from _boards(hand, "inlet", "Bypass boards", "bypass")
    if hand.is_typed("inputs.buffer.head_boards_m"):
        yield from _boards(hand, "head", "Head boards", "head")
    least = to_si(3.0, "ft")
    yield hand.sized(
        "buffer-width", "From the line to the water's edge", "width", "buffer.width",
        "inputs.buffer.width_m", low=least, high=None, axis="along", datum_m=0.0,
    )  # fmt: skip
    yield from _branches(hand)
    yield _pipe(hand, "buffer-pipe", "Distribution line", "buffer.pipe_diameter")


def _branches(hand: _Hand) -> Iterator[Handle | None]:
    key = "inputs.buffer.branches_m"
    if not hand.trace.known(key):
        return
    lengths = tuple(float(length) for length in hand.trace.value(key))
    room = hand.number("inputs.buffer.length_available_m")
    for member, length in enumerate(lengths):
        free = 2.0 * length if room is None else max(length, room - sum(lengths) + length)
        yield Handle(
            f"branch-{member + 1}", f"Branch {member + 1} of the line", "length",
            ("buffer.branches",), key, "m", length,
            hand.steps("length", to_si(3.0, "ft"), free, length), "none", None, hand.system,
            member=member,
            members=tuple(typed(each, "length", hand.system) for each in lengths),
        )  # fmt: skip


def _raised_handles(hand: _Hand) -> Iterator[Handle | None]:
    yield from _boards(hand, "inlet", "Boards", "raised")


def _boards(hand: _Hand, structure: str, words: str, name: str) -> Iterator[Handle | None]:
    """Boards of the design setting and of each season that has its own."""
    for setting in (DESIGN, *hand.trace.names("inputs.season")):
        path = _boards_path(hand, structure, setting)
        here = f"boards.{structure}-{setting}"
        if path is None or not hand.trace.known("inputs.boards.heights_m"):
            continue
        box = "inputs.structure.inlet" if structure == "head" else f"inputs.structure.{structure}"
        sill, rim = hand.number(f"{box}.sill_m"), hand.number(f"{box}.rim_m")
        value, crest = hand.number(f"{here}.height_m"), hand.number(f"{here}.crest_m")
        highest = to_si(6.0, "ft") if sill is None or rim is None else rim - sill
        steps = stack_heights(
            highest,
            board_heights=hand.trace.value("inputs.boards.heights_m"),
            seal_gap=hand.number("inputs.boards.seal_gap_m") or 0.0,
        )
        datum = sill if value is None or crest is None else crest - value
        season = "" if setting == DESIGN else f", {setting}"
        yield Handle(
            f"{name}-boards" if setting == DESIGN else f"{name}-boards-{setting}",
            f"{words}{season or ', design setting'}", "boards", (path,), f"{here}.height_m", "m",
            value, with_value(steps, value), "up", datum, hand.system, setting=setting,
        )  # fmt: skip


def _boards_path(hand: _Hand, structure: str, setting: str) -> str | None:
    """Where the job file has the boards of a setting; None where it has none of its own."""
    if setting == DESIGN:
        paths = ["buffer.head_boards" if structure == "head" else f"boards.{structure}"]
        seasons = hand.trace.names("inputs.season")
        own = [s for s in seasons if f"inputs.season.{s}.raised_boards_m" in hand.typed_keys]
        if hand.practice == "raised" and seasons and len(own) == len(seasons):
            return None
    else:
        names = ["raised", "inlet"] if hand.practice == "raised" else [structure]
        paths = [f"season.{setting}.{name}_boards" for name in names]
    return next((path for path in paths if hand.is_typed(f"inputs.{path}_m")), None)


def _pipes(hand: _Hand) -> Iterator[Handle | None]:
    for pipe in hand.trace.names("inputs.pipe"):
        use = hand.words(f"inputs.pipe.{pipe}.use")
        if use in PIPES:
            yield _pipe(hand, f"pipe-{pipe}", PIPES[use], f"pipe.{pipe}.diameter")


def _pipe(hand: _Hand, name: str, words: str, path: str) -> Handle | None:
    key = f"inputs.{path}_m"
    value = hand.number(key)
    if value is None:
        return None
    steps = with_value([to_si(size, "in") for size in SOLD_IN], value)
    return Handle(
        name, f"{words}, inside diameter", "pipe", (path,), key, "m", value, steps, "none", None,
        hand.system,
    )  # fmt: skip


def _looked_at(hand: _Hand) -> Iterator[Handle | None]:
    """The flow and the ditch that are looked at; they stand nowhere in the job."""
    full = hand.number(FULL)
    if full is not None:
        steps = even_steps(_tidy(full, hand.system), 0.0, 2.0 * full, full)
        yield Handle(
            "looked-at-flow", "Flow of the main", "flow", (), FULL, "m3/s", full, steps, "none",
            None, hand.system,
        )  # fmt: skip
    bottom, bank = hand.number("inputs.ditch.bottom_m"), hand.number("inputs.ditch.bank_top_m")
    key = stage_key(hand.trace, DESIGN)
    stage = hand.number(key)
    if bottom is not None and bank is not None and bank > bottom:
        steps = hand.steps("stage", bottom, max(bank, stage or bank), stage)
        yield Handle(
            "looked-at-ditch", "Water of the ditch", "stage", (), key, "m", stage, steps, "up",
            0.0, hand.system,
        )  # fmt: skip


def _tidy(full: float, system: System) -> float:
    """A round step of flow of which there are twenty to fifty up to the full main."""
    unit = SIZES["flow"][system][1]
    whole = from_si(full, unit) / 20.0
    power = 10.0 ** floor(log10(whole))
    size = max(each for each in (1.0, 2.0, 5.0) if each * power <= whole * (1.0 + 1e-9))
    return to_si(size * power, unit)


_HANDLES: Mapping[str, Callable[[_Hand], Iterable[Handle | None]]] = {
    "bed": _bed_handles,
    "buffer": _buffer_handles,
    "raised": _raised_handles,
}
