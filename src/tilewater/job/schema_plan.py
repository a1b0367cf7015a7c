# SPDX-License-Identifier: Apache-2.0
"""Tables of the job file about the plan: where the main runs in the grid and what lies where.

Places are given by station and offset along the main, or by the shots of the survey. All of it may
be left out: the practice is computed without, and what has no place is not drawn.
"""

from typing import Annotated

from pydantic import Field

from tilewater.job.fields import Quantity, kind_of_thing
from tilewater.job.pairs import Pair, Pairs
from tilewater.job.schema_main import FOUND
from tilewater.job.schema_site import elevation, station
from tilewater.job.tables import Number, Table, Word
from tilewater.job.words import Choice, Text, Texts

LINES = (
    "bank top",
    "toe of bank",
    "far toe of bank",
    "far bank top",
    "property line",
    "field edge",
    "fence",
    "tile line",
    "buried utility",
    "distribution line",
)
SIDE = "To the right looking up the main; negative to the left."

offset = kind_of_thing("length", low="-3000 ft", high="3000 ft", is_obvious=True)
coordinate = kind_of_thing("coordinate", low="-100000000 ft", high="100000000 ft", is_obvious=True)


def bearing(title: str, example: str, about: str, how: str = "") -> Quantity:
    """An angle of the plan that may be left out."""
    return Quantity(
        title,
        kind="angle",
        example=example,
        low="-360 deg",
        high="360 deg",
        need="leave",
        help=about,
        how=how,
    )


def points_of(title: str, example: str, about: str) -> Pairs:
    """Points by station and offset, in the order of the line."""
    return Pairs(
        title,
        example=example,
        need="leave",
        first=station("Station", "1+40"),
        second=offset("Offset", "21 ft"),
        may_go_back=True,
        help=about,
    )


class Baseline(Table):
    """Where the main lies in the grid: one known point on it, and the way it runs up from there."""

    north: Annotated[
        Number | None,
        coordinate("North of the known point", "3813100.00 ft", need="leave", how="shoot it"),
    ]
    east: Annotated[
        Number | None,
        coordinate("East of the known point", "4843520.00 ft", need="leave", how="shoot it"),
    ]
    station: Annotated[
        Number,
        Quantity(
            "Station of the known point",
            kind="station",
            example="0+00",
            low="-1000 ft",
            high="100000 ft",
            default="0+00",
            source="practice",
        ),
    ]
    azimuth: Annotated[
        Number | None,
        bearing(
            "Azimuth of the main, up from the known point",
            "68.50 deg",
            "Clockwise from north of the grid.",
            "shoot the main at two places far apart",
        ),
    ]

    latitude: Annotated[
        Number | None,
        bearing(
            "Latitude of the known point", "42.9612 deg", "For the outline of a locate request."
        ),
    ]
    longitude: Annotated[
        Number | None,
        bearing("Longitude of the known point", "-93.7925 deg", "West is negative."),
    ]
    convergence: Annotated[
        Number | None,
        bearing(
            "Azimuth of grid north",
            "-0.2 deg",
            "Clockwise from true north; none when it is not given.",
        ),
    ]


class Bend(Table):
    """A bend of the main: where it turns, and how it runs from there up."""

    station: Annotated[Number, station("Station of the bend", "6+40", how="trace the main")]
    azimuth: Annotated[
        Number,
        Quantity(
            "Azimuth of the main above the bend",
            kind="angle",
            example="74.25 deg",
            low="-360 deg",
            high="360 deg",
            how="shoot the main at two places above the bend",
        ),
    ]


class Place(Table):
    """The middle of a structure in plan."""

    station: Annotated[
        Number | None, station("Station of the middle of the box", "0+22.5", need="leave")
    ]
    offset: Annotated[
        Number | None,
        offset("Offset of the middle of the box", "36 ft", need="leave", help=SIDE),
    ]


class PlaceOfGround(Table):
    """A corner of the ground that may be used, as long and wide as its footprint under [bed]."""

    station: Annotated[Number | None, station("Station of its lower end", "0+33", need="leave")]
    offset: Annotated[
        Number | None,
        offset("Offset of its edge next to the main", "10 ft", need="leave", help=SIDE),
    ]


class PlaceOfBed(Table):
    """A corner of the floor of the bed, and how the bed is turned."""

    station: Annotated[
        Number | None,
        station("Station of the lower end of the floor", "0+44.3", need="leave"),
    ]
    offset: Annotated[
        Number | None,
        offset(
            "Offset of the edge of the floor next to the main", "21 ft", need="leave", help=SIDE
        ),
    ]
    turn: Annotated[
        Number | None,
        bearing(
            "How far the bed is turned from the main",
            "0 deg",
            "About that corner, clockwise seen from above; along the main when it is not given.",
        ),
    ]


class Places(Table):
    """What stands where."""

    bed: PlaceOfBed = Field(default_factory=lambda: PlaceOfBed.model_validate({}))
    footprint: PlaceOfGround = Field(default_factory=lambda: PlaceOfGround.model_validate({}))
    inlet: Place = Field(default_factory=lambda: Place.model_validate({}))
    outlet: Place = Field(default_factory=lambda: Place.model_validate({}))


class PlanLine(Table):
    """A line of the site: the bank, a boundary, a tile line; by shots or by station and offset."""

    kind: Annotated[Word, Choice("What the line is", choices=LINES, example="bank top")]
    shots: Annotated[
        tuple[str, ...] | None,
        Texts(
            "Shots on the line, in their order",
            example="103, 106, 109",
            need="leave",
            help="Point numbers of the survey.",
        ),
    ]
    points: Annotated[
        tuple[Pair, ...] | None,
        points_of(
            "Points on the line, in their order: station, offset",
            "0+08: -30 ft, 0+08: 80 ft",
            f"In place of shots. {SIDE}",
        ),
    ]
    found: Annotated[
        Word | None,
        Choice(
            "How the line was found",
            choices=FOUND,
            example="probed",
            need="leave",
            help="For tile lines and what else is buried.",
        ),
    ]


class Benchmark(Table):
    """A benchmark that heights are held to."""

    elevation: Annotated[Number, elevation("Elevation of the benchmark", "1187.62 ft")]
    shot: Annotated[
        Word | None,
        Text("Shot that was taken on it", example="101", need="leave", help="For its place."),
    ]
    station: Annotated[
        Number | None,
        station("Station of the benchmark", "2+18", need="leave", help="In place of a shot."),
    ]
    offset: Annotated[
        Number | None,
        offset(
            "Offset of the benchmark", "14 ft", need="leave", help=f"In place of a shot. {SIDE}"
        ),
    ]
    mark: Annotated[
        Word | None,
        Text("What it is", example="rod and cap at the fence corner", need="leave"),
    ]
