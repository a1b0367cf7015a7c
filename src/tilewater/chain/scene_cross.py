# SPDX-License-Identifier: Apache-2.0
"""The plain geometric record that a cross section of the bed is drawn from; nothing is drawn here.

It stands half way along the bed and is seen looking up the main: offsets to the right are positive,
the main lies at 0. A bed that has no place in plan is measured from the edge of its own floor.
"""

from dataclasses import dataclass

from tilewater.basis.trace import Trace
from tilewater.chain.scene_reading import SceneReading
from tilewater.chain.scene_records import Level, Missing

GROUNDWATER = {"building": "while building", "finished": "finished", "flotation": "flotation"}
WATER = {"criterion": "criterion line", "spring": "spring line", "new": "new chips"}


@dataclass(frozen=True)
class Length:
    """A length or a ratio, and the key that explains it. [m, -]"""

    value: float
    key: str


@dataclass(frozen=True)
class CellCut:
    """A bed, or one of its cells, where it is cut.

    Attributes
    ----------
    name : str
        Name of the cell; "" where the bed is one.
    near, far : float
        Offsets of the two edges of its floor. [m]
    width, chips_top, cut_top : Length
        Widths at the floor, at the top of the media and at the ground; what is not known is None.
    """

    name: str
    near: float
    far: float
    width: Length
    chips_top: Length | None
    cut_top: Length | None

    @property
    def left(self) -> float:
        """Offset of the left edge of the floor. [m]"""
        return min(self.near, self.far)

    @property
    def right(self) -> float:
        """Offset of the right edge of the floor. [m]"""
        return max(self.near, self.far)


@dataclass(frozen=True)
class MainCut:
    """The main past the bed where it is cut; it lies at offset 0. [m]"""

    invert: Level
    diameter: Length


@dataclass(frozen=True)
class CrossSection:
    """The cross section half way along a bed.

    Attributes
    ----------
    title, datum, foot : str
    station : Length or None
        Where it stands along the main; None where the bed has no place.
    cells : tuple of CellCut
    floor, top, ground : Level or None
    media_depth, side_slope, cut_depth, cut_slope, cover, crown : Length or None
    lining : str
        What lines the bed; "" where it is not known.
    lap : Length or None
        Laps of two edges of the lining together.
    main : MainCut or None
    near_offset, clear : Length or None
        From the main to the near edge of the first floor, and to its top of cut.
    groundwater : tuple of (words, Level)
    water : tuple of (words, Level)
        Half way along the bed, line by line.
    missing : tuple of Missing
    """

    title: str
    datum: str
    foot: str
    station: Length | None
    cells: tuple[CellCut, ...]
    floor: Level | None
    top: Level | None
    ground: Level | None
    media_depth: Length | None
    side_slope: Length | None
    cut_depth: Length | None
    cut_slope: Length | None
    cover: Length | None
    crown: Length | None
    lining: str
    lap: Length | None
    main: MainCut | None
    near_offset: Length | None
    clear: Length | None
    groundwater: tuple[tuple[str, Level], ...]
    water: tuple[tuple[str, Level], ...]
    missing: tuple[Missing, ...]


def cross_section_scene(trace: Trace) -> CrossSection:
    """The cross section of a designed bed, half way along it.

    Parameters
    ----------
    trace : Trace
        Trace of a design. [-]

    Returns
    -------
    CrossSection
        Widths, levels, slopes, each with its key, and what is missing, in SI.
    """
    reading = SceneReading(trace)
    offset = _near_offset(reading)
    return CrossSection(
        title=_text(trace, "inputs.job.title"),
        datum=_text(trace, "inputs.site.vertical_datum"),
        foot=_text(trace, "inputs.site.foot"),
        station=_length(reading, "cross.station_m"),
        cells=_cells(reading),
        floor=reading.level("bed.floor_mean_m", "the bed"),
        top=reading.level("bed.media_top_m", "the media"),
        ground=reading.level("inputs.site.ground_at_bed_m", "the ground"),
        media_depth=_length(reading, "inputs.bed.media_depth_m", "the depth of the media"),
        side_slope=_length(reading, "inputs.bed.side_slope", "the sides of the media"),
        cut_depth=_length(reading, "quantities.cut_depth_m", "the depth of the cut"),
        cut_slope=_length(reading, "quantities.cut_slope", "the sides of the cut"),
        cover=_length(reading, "cross.cover_m"),
        crown=_length(reading, "inputs.bed.crown_m", "the crown"),
        lining=_text(trace, "inputs.bed.lining"),
        lap=_length(reading, "inputs.estimate.lap_m"),
        main=_main(reading, offset),
        near_offset=offset,
        clear=_clear(reading),
        groundwater=_levels(reading, "inputs.groundwater.{}_m", GROUNDWATER, "groundwater, {}"),
        water=_levels(reading, "cross.water.{}_m", WATER, "water of the {}"),
        missing=reading.missing,
    )


def _text(trace: Trace, key: str) -> str:
    return str(trace.value(key)) if trace.known(key) else ""


def _length(reading: SceneReading, key: str, what: str = "") -> Length | None:
    value = reading.number(key, what)
    return None if value is None else Length(value, key)


def _levels(
    reading: SceneReading, pattern: str, names: dict[str, str], what: str
) -> tuple[tuple[str, Level], ...]:
    found = []
    for name, words in names.items():
        key = pattern.format(name)
        if key in reading.trace:
            level = reading.level(key, what.format(words))
            if level is not None:
                found.append((words, level))
    return tuple(found)


def _near_offset(reading: SceneReading) -> Length | None:
    """From the main to the near edge of the floor of the bed, or of its first cell."""
    trace = reading.trace
    cells = trace.names("inputs.cell")
    place = f"inputs.cell.{cells[0]}" if cells else "inputs.place.bed"
    return _length(reading, f"{place}.offset_m", "the main beside the bed")


def _clear(reading: SceneReading) -> Length | None:
    cells = reading.trace.names("inputs.cell")
    name = f"cell_{cells[0].replace('-', '_')}" if cells else "bed"
    return _length(reading, f"plan.distances.main_to_{name}_cut_m")


def _cells(reading: SceneReading) -> tuple[CellCut, ...]:
    trace = reading.trace
    names = trace.names("inputs.cell")
    if not names:
        place = _length(reading, "inputs.place.bed.offset_m")
        cut = _cell(reading, "", "bed", "cross.bed", 0.0 if place is None else place.value)
        return () if cut is None else (cut,)
    placed = [name for name in names if f"inputs.cell.{name}.offset_m" in trace]
    for name in names:
        if name not in placed and (placed or name != names[0]):
            reading.miss(f"cell {name}", "offset of the cell is not given")
    found = []
    for name in placed or names[:1]:
        place = _length(reading, f"inputs.cell.{name}.offset_m")
        near = 0.0 if place is None else place.value
        cut = _cell(reading, name, f"bed.cells.{name}", f"cross.cell-{name}", near)
        if cut is not None:
            found.append(cut)
    return tuple(found)


def _cell(reading: SceneReading, name: str, bed: str, here: str, near: float) -> CellCut | None:
    width = _length(reading, f"{bed}.width_bottom_m", f"cell {name}" if name else "the bed")
    if width is None:
        return None
    return CellCut(
        name,
        near,
        near + (-width.value if near < 0.0 else width.value),
        width,
        _length(reading, f"{here}.chips_top_width_m"),
        _length(reading, f"{here}.cut_top_width_m"),
    )


def _main(reading: SceneReading, offset: Length | None) -> MainCut | None:
    words = "the main beside the bed"
    if offset is None:
        return None
    turn = reading.number("inputs.place.bed.turn_deg")
    if turn:
        reading.miss(words, "the bed is turned from the main, which is not cut square")
        return None
    invert = reading.level("cross.main_invert_m", words)
    laid = "system.bypass.diameter_m"
    diameter = _length(
        reading, laid if reading.trace.known(laid) else "inputs.main.diameter_m", words
    )
    return None if invert is None or diameter is None else MainCut(invert, diameter)
