# SPDX-License-Identifier: Apache-2.0
"""Auger logs of a site: layers, mottles, and the water found the next morning.

One row is one layer. What belongs to the whole hole (station, offset, ground, date, water) stands
in the first row of the hole and may be left blank below. A hole that was dry the next morning is
answered `dry`; a hole that nobody looked into is `unknown`.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from pathlib import Path

from tilewater.basis.findings import Finding
from tilewater.basis.told import elevation
from tilewater.basis.units import Foot
from tilewater.basis.unknown import Unknown
from tilewater.job.rows import Row, Sheet, read_sheet

REQUIRED = ("hole", "ground", "from", "to", "texture", "mottles", "water next morning")
OF_THE_HOLE = ("station", "offset", "ground", "date", "water next morning")
WATER_BEARING = ("sand", "gravel")
"""Textures whose names hold one of these carry water."""
NO_MOTTLES = ("", "none", "no")
DRY = "dry"
UNKNOWN = "unknown"
SAME_DEPTH_M = 1e-6


@dataclass(frozen=True)
class Layer:
    """One layer of soil.

    Attributes
    ----------
    top, bottom : float
        Depth below the ground. [m]
    texture, mottles, remark : str
        In the words of the log.
    line : int
    """

    top: float
    bottom: float
    texture: str
    mottles: str
    remark: str
    line: int

    def is_mottled(self) -> bool:
        """Whether the log speaks of mottles."""
        return self.mottles.casefold() not in NO_MOTTLES

    def is_water_bearing(self) -> bool:
        """Whether the texture is sandy or gravelly."""
        return any(word in self.texture.casefold() for word in WATER_BEARING)


@dataclass(frozen=True)
class Boring:
    """One hole.

    Attributes
    ----------
    hole : str
    ground : float
        Elevation of the ground. [m]
    station, offset : float or None
        Place along the main and to its right, looking upstream. [m]
    date : date or None
    layers : tuple of Layer
        From the top down.
    water : float or Unknown
        Elevation of the water the next morning. [m]
    is_dry : bool
        Whether the hole was looked into and held no water.
    line : int
    """

    hole: str
    ground: float
    station: float | None
    offset: float | None
    date: date | None
    layers: tuple[Layer, ...]
    water: float | Unknown
    is_dry: bool
    line: int

    @property
    def bottom(self) -> float:
        """Elevation of the bottom of the hole, in metres."""
        return self.ground - self.layers[-1].bottom

    @property
    def mottles_from(self) -> float | None:
        """Elevation of the highest mottles, in metres; None where the log has none."""
        depths = [layer.top for layer in self.layers if layer.is_mottled()]
        return self.ground - min(depths) if depths else None


@dataclass(frozen=True)
class BoringFile:
    """The holes of a file, in its order, and what the engineer must know about them."""

    borings: tuple[Boring, ...]
    findings: tuple[Finding, ...]


def read_borings(path: Path, *, foot: Foot = "international foot") -> BoringFile:
    """Auger logs of a file.

    Parameters
    ----------
    path : Path
        The file.
    foot : "international foot" or "us survey foot"
        What `ft` means in stations and elevations of the job.

    Returns
    -------
    BoringFile
        Holes and findings.

    Raises
    ------
    BadInputFile
        With every fault of the file at once.
    """
    sheet = read_sheet(path, REQUIRED)
    groups: dict[str, list[Row]] = {}
    for row in sheet.rows:
        if row["hole"]:
            groups.setdefault(row["hole"], []).append(row)
        else:
            sheet.fault(row.line, "hole", "the row names no hole. Write it in each row.")
    borings = [_boring(sheet, name, rows, foot) for name, rows in groups.items()]
    sheet.close()
    whole = tuple(boring for boring in borings if boring is not None)
    findings = tuple(finding for boring in whole for finding in _findings(boring, foot))
    return BoringFile(whole, findings)


def _boring(sheet: Sheet, name: str, rows: list[Row], foot: Foot) -> Boring | None:
    first = rows[0]
    for row in rows[1:]:
        for column in OF_THE_HOLE:
            if row[column] not in ("", first[column]):
                sheet.fault(
                    row.line,
                    column,
                    f"{column} of hole {name} is '{row[column]}' here and '{first[column]}' on "
                    f"line {first.line}. Write it once.",
                )
    ground = sheet.quantity(first, "ground", "elevation", foot=foot)
    layers = [layer for row in rows if (layer := _layer(sheet, row)) is not None]
    if ground is None or len(layers) < len(rows):
        return None
    layers.sort(key=lambda layer: layer.top)
    _no_overlap(sheet, name, layers)
    water, is_dry = _water(sheet, first, ground, layers[-1].bottom)
    station = sheet.quantity(first, "station", "station", foot=foot) if first["station"] else None
    offset = sheet.quantity(first, "offset", "length") if first["offset"] else None
    day = sheet.day(first) if first["date"] else None
    return Boring(name, ground, station, offset, day, tuple(layers), water, is_dry, first.line)


def _layer(sheet: Sheet, row: Row) -> Layer | None:
    top, bottom = sheet.quantity(row, "from", "length"), sheet.quantity(row, "to", "length")
    if not row["texture"]:
        sheet.fault(row.line, "texture", 'the layer has no texture. Write it, or "unknown".')
    if top is None or bottom is None:
        return None
    if not 0 <= top < bottom:
        sheet.fault(
            row.line,
            "from",
            f"the layer runs from {row['from']} to {row['to']}. Depths count down from the ground, "
            "the smaller first. Correct one of them.",
        )
        return None
    return Layer(top, bottom, row["texture"], row["mottles"], row["remark"], row.line)


def _no_overlap(sheet: Sheet, name: str, layers: list[Layer]) -> None:
    for upper, lower in pairwise(layers):
        if lower.top < upper.bottom - SAME_DEPTH_M:
            sheet.fault(
                lower.line,
                "from",
                f"this layer of hole {name} begins above the end of the one on line {upper.line}. "
                "Two layers cannot share a depth. Correct one of them.",
            )


def _water(
    sheet: Sheet, row: Row, ground: float, hole_depth: float
) -> tuple[float | Unknown, bool]:
    """Elevation of the water, and whether the hole was dry."""
    column = "water next morning"
    text = row[column].casefold()
    if text == DRY:
        return Unknown("the hole was dry", "read a tube well through one spring"), True
    if text in ("", UNKNOWN):
        why = f"nobody looked into hole {row['hole']} the next morning"
        return Unknown(why, "look into the hole the morning after, or set a tube well"), False
    depth = sheet.quantity(row, column, "length")
    if depth is None:
        return Unknown("not read"), False
    if depth > hole_depth + SAME_DEPTH_M:
        sheet.fault(
            row.line,
            column,
            f"water at {row[column]} lies below the bottom of hole {row['hole']}. "
            "Write dry where no water was found.",
        )
    return ground - depth, False


def _findings(boring: Boring, foot: Foot) -> Iterator[Finding]:
    def level(depth: float) -> str:
        return elevation(boring.ground - depth, foot)

    first = boring.layers[0]
    if first.top > SAME_DEPTH_M:
        yield _gap(boring, level(0.0), level(first.top))
    for upper, lower in pairwise(boring.layers):
        if lower.top > upper.bottom + SAME_DEPTH_M:
            yield _gap(boring, level(upper.bottom), level(lower.top))
    for layer in boring.layers:
        if layer.is_water_bearing():
            yield Finding(
                "boring-water-bearing",
                "caution",
                f"hole {boring.hole}",
                f"Hole {boring.hole} has {layer.texture} from {level(layer.top)} to "
                f"{level(layer.bottom)}. It carries water: hold it against the floor "
                "of the bed and against the bank.",
            )
    if isinstance(boring.water, Unknown) and not boring.is_dry:
        yield Finding(
            "boring-water-unknown",
            "caution",
            f"hole {boring.hole}",
            f"Hole {boring.hole} says nothing of water the next morning. Write its depth, or dry.",
        )
    mottled = boring.mottles_from
    if mottled is not None and not isinstance(boring.water, Unknown) and mottled > boring.water:
        yield Finding(
            "boring-mottles-above-water",
            "note",
            f"hole {boring.hole}",
            f"In hole {boring.hole} mottles begin at {level(boring.ground - mottled)}, above the "
            f"water of that morning at {level(boring.ground - boring.water)}. Water stands "
            "higher in a wet season.",
            value=mottled,
            limit=boring.water,
            unit="m",
        )


def _gap(boring: Boring, upper: str, lower: str) -> Finding:
    return Finding(
        "boring-gap",
        "caution",
        f"hole {boring.hole}",
        f"The log of hole {boring.hole} says nothing between {upper} and {lower}. "
        "Look into the hole again, or add the layer.",
    )
