# SPDX-License-Identifier: Apache-2.0
"""The records of a scene: what a drawing of the practice needs, in SI, nothing drawn.

Distances run along the way of the water, from the end of the return (0) up to the diversion.
Every elevation carries the key by which it is explained.
"""

from dataclasses import dataclass


@dataclass(frozen=True)
class Level:
    """An elevation and the key that explains it. [m]"""

    elevation: float
    key: str


@dataclass(frozen=True)
class Missing:
    """What is left out of a drawing, and all that is not known for it."""

    what: str
    why: tuple[str, ...]


@dataclass(frozen=True)
class PipePart:
    """A pipe along the way of the water; low is the end towards the ditch.

    Attributes
    ----------
    name : str
    low, high : float
        Distance of its two ends along the way. [m]
    invert_low, invert_high : Level
    diameter, length : float
        Inside diameter and length of the pipe itself. [m]
    """

    name: str
    low: float
    high: float
    invert_low: Level
    invert_high: Level
    diameter: float
    length: float


@dataclass(frozen=True)
class HeaderPart:
    """A header across the bed: where it lies on the floor, and its inside diameter. [m]"""

    name: str
    at: float
    floor: Level
    diameter: float


@dataclass(frozen=True)
class Setting:
    """Boards of a structure in a season or in the design setting: crest, and height of each."""

    name: str
    crest: Level
    stack: tuple[float, ...]


@dataclass(frozen=True)
class StructurePart:
    """A structure with boards; what is not known of it is None."""

    name: str
    low: float
    high: float
    floor: Level | None
    sill: Level | None
    rim: Level | None
    ground: Level | None
    settings: tuple[Setting, ...]

    @property
    def middle(self) -> float:
        """Distance of its middle along the way. [m]"""
        return (self.low + self.high) / 2

    def setting(self, name: str) -> Setting | None:
        """The boards of a season or of the design setting."""
        return next((each for each in self.settings if each.name == name), None)


@dataclass(frozen=True)
class MediaPart:
    """The media in long section: floor between its toes, ends that slope outward, level top.

    Attributes
    ----------
    low, high : float
        Distance of the two toes of the floor along the way. [m]
    flow_low, flow_high : float
        Distance of the ends of the flow length: the middles of the end slopes. [m]
    floor_low, floor_high, top : Level
    side_slope : float
        Of the ends, horizontal to vertical. [-]
    ground : Level or None
    cut_margin : float or None
        Top of the cut outside each toe. [m]
    crown : float or None
        Mean height of the crown over the ground. [m]
    cell : str
        Name of the cell, where the bed has several side by side; "" where it is of one piece.
    """

    low: float
    high: float
    flow_low: float
    flow_high: float
    floor_low: Level
    floor_high: Level
    top: Level
    side_slope: float
    ground: Level | None
    cut_margin: float | None
    crown: float | None
    cell: str

    @property
    def outline(self) -> tuple[tuple[float, float], ...]:
        """Corners of the media: distance along the way and elevation. [m]"""
        top, z = self.top.elevation, self.side_slope
        out_low = z * (top - self.floor_low.elevation)
        out_high = z * (top - self.floor_high.elevation)
        return (
            (self.low - out_low, top),
            (self.low, self.floor_low.elevation),
            (self.high, self.floor_high.elevation),
            (self.high + out_high, top),
        )


@dataclass(frozen=True)
class Stage:
    """Water of the ditch in a season: ordinary, high, and how far both may be off. [m]"""

    season: str
    ordinary: Level | None
    high: Level | None
    band: float | None


@dataclass(frozen=True)
class DitchPart:
    """The ditch where the return ends; `outline` is empty while its shape is not known.

    Attributes
    ----------
    bottom, bank_top : Level or None
    bank_at : float or None
        Distance of the bank top along the way. [m]
    outline : tuple of (distance, elevation)
        From the near bank top across the bottom to the far bank. [m]
    stages : tuple of Stage
    """

    bottom: Level | None
    bank_top: Level | None
    bank_at: float | None
    outline: tuple[tuple[float, float], ...]
    stages: tuple[Stage, ...]

    def highest(self, which: str) -> tuple[str, Level] | None:
        """Season and level of the highest "ordinary" or "high" water."""
        found = [(getattr(stage, which), stage.season) for stage in self.stages]
        known = [(level, season) for level, season in found if level is not None]
        if not known:
            return None
        level, season = max(known, key=lambda pair: float(pair[0].elevation))
        return season, level


@dataclass(frozen=True)
class WaterLine:
    """Where water stands from the diversion to the outlet structure, in one state.

    Attributes
    ----------
    name, words : str
        Short name, and what the state is.
    setting : str
        Boards that stand: "design" or a season.
    nodes : tuple of (node, Level)
        From the diversion down.
    surface : tuple of (distance, elevation)
        The curved surface inside the media, from the inlet end. [m]
    tailwater : Level or None
        Water where the return ends.
    flow : float or None
        Through the bed. [m3/s]
    flow_key : str
    """

    name: str
    words: str
    setting: str
    nodes: tuple[tuple[str, Level], ...]
    surface: tuple[tuple[float, float], ...]
    tailwater: Level | None
    flow: float | None
    flow_key: str

    def level(self, node: str) -> Level | None:
        """Level at a node, None where it is not known."""
        return dict(self.nodes).get(node)


@dataclass(frozen=True)
class SpotPart:
    """A low spot or junction of the field, by its station along the main. [m]"""

    name: str
    kind: str
    station: float
    ground: Level
    drain: Level | None
    storm: Level | None


@dataclass(frozen=True)
class SegmentPart:
    """A stretch of the main of one size and grade, by stations; low is towards the outlet. [m]

    An invert that was not shot, but follows from the stated grade, has no key.
    """

    low: float
    high: float
    invert_low: Level
    invert_high: Level
    diameter: float


@dataclass(frozen=True)
class MainPart:
    """The main by its own stations: past the bed, and up the field. [m]

    Attributes
    ----------
    outlet, diversion : float
        Stations of its outlet and of the diversion. [m]
    segments : tuple of SegmentPart
        From the outlet up, as far as they are known.
    invert_outlet, invert_diversion : Level
    diameter : float
        [m]
    upper_end, property_line : float or None
        Stations. [m]
    crest : Level or None
        Bypass crest of the design setting, where the pool stands.
    pool_end : float or None
        Station where the pool ends. [m]
    storm_at_diversion : float or None
        Storm grade line at the diversion, above the crest. [m]
    ground_at_diversion : Level or None
    spots : tuple of SpotPart
    """

    outlet: float
    diversion: float
    segments: tuple[SegmentPart, ...]
    invert_outlet: Level
    invert_diversion: Level
    diameter: float
    upper_end: float | None
    property_line: float | None
    crest: Level | None
    pool_end: float | None
    storm_at_diversion: float | None
    ground_at_diversion: Level | None
    spots: tuple[SpotPart, ...]


@dataclass(frozen=True)
class Bypass:
    """The main past the bed, which lies beside it.

    Attributes
    ----------
    invert_low, invert_high : Level
    low : float
        Where its lower end falls on the way of the water. [m]
    diameter, length : float
        [m]
    """

    invert_low: Level
    invert_high: Level
    low: float
    diameter: float
    length: float


@dataclass(frozen=True)
class LongSection:
    """The long section of a designed bed, drawn by nobody yet.

    Attributes
    ----------
    title, datum, foot : str
        Of the job; what a foot means in its elevations.
    length : float
        From the end of the return to the upper face of the diversion. [m]
    outflow, drain, feed : PipePart or None
        Return, pipe from the bed to the outlet structure, feed.
    inlet, outlet : StructurePart
    media : MediaPart or None
    headers : tuple of HeaderPart
    bypass : Bypass or None
    joins_main : bool
        Whether the return ends in the main, not in the ditch.
    ditch : DitchPart
    groundwater : tuple of (name, Level)
    lines : tuple of WaterLine
        The lines that a design is judged and told by.
    seasons : tuple of WaterLine
        Main full in each season, with its own boards.
    main : MainPart or None
    missing : tuple of Missing
        What is not drawn since it is not known.
    binds : str
        What binds, in words; "" where nothing could be judged.
    binds_at : str
        Name of the place that binds.
    stations : tuple of (name, words)
        Where parts lie along the main, for a reader who sets them out; empty where it is not told.
    """

    title: str
    datum: str
    foot: str
    length: float
    outflow: PipePart | None
    drain: PipePart | None
    feed: PipePart | None
    inlet: StructurePart
    outlet: StructurePart
    media: MediaPart | None
    headers: tuple[HeaderPart, ...]
    bypass: Bypass | None
    joins_main: bool
    ditch: DitchPart
    groundwater: tuple[tuple[str, Level], ...]
    lines: tuple[WaterLine, ...]
    seasons: tuple[WaterLine, ...]
    main: MainPart | None
    missing: tuple[Missing, ...]
    binds: str
    binds_at: str
    stations: tuple[tuple[str, str], ...] = ()
