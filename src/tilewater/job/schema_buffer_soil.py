# SPDX-License-Identifier: Apache-2.0
"""Tables of the job file about the soil of a buffer, and what was tested in holes in its strip."""

from typing import Annotated, Any

from tilewater.job.fields import Quantities, Quantity
from tilewater.job.schema_buffer import some
from tilewater.job.schema_site import elevation, length
from tilewater.job.tables import Number, Table, Word
from tilewater.job.words import Choice, Day, Text

TESTED = "bail or slug a hole in the strip, three or more of them"


def _ratio(title: str, example: str, **more: Any) -> Quantity:
    return Quantity(
        title,
        kind="ratio",
        bare=True,
        example=example,
        **{"low": "0", "high": "1", "need": "leave", **more},
    )


class BufferSoil(Table):
    """The soil of the strip. Each kind of conductivity stands by itself; they are never mixed."""

    conductivity_from: Annotated[
        Word | None,
        Choice(
            "Which conductivity is computed with",
            choices=("auger holes", "slug tests", "soil survey", "layers"),
            example="auger holes",
            need="leave",
            help="The best there is when it is not said: holes, then slugs, layers, the survey.",
            how=TESTED,
        ),
    ]
    conductivity_survey: Annotated[
        Number | None,
        some(
            "Conductivity of the soil survey",
            "conductivity",
            "9 um/s",
            "0.001 um/s",
            "2000 um/s",
            help="An estimate of the map unit, not a measurement of the site.",
        ),
    ]
    tested_at: Annotated[
        Number | None,
        some(
            "Temperature of the ground water in the tests",
            "temperature",
            "10 degC",
            "0 degC",
            "30 degC",
        ),
    ]
    porosity_effective: Annotated[
        Number | None,
        _ratio("Effective porosity, for travel time", "0.35", help="0.35 when it is not given."),
    ]
    porosity_drainable: Annotated[
        Number | None,
        _ratio("Drainable porosity, for storage", "0.10", help="0.10 when it is not given."),
    ]
    organic_matter: Annotated[
        Number | None,
        _ratio("Organic matter, weighted to the depth below", "1.9 %", how="a laboratory"),
    ]
    organic_carbon: Annotated[
        Number | None,
        _ratio(
            "Organic carbon, weighted to the depth below", "1.1 %", help="In place of the matter."
        ),
    ]
    organic_depth: Annotated[
        Number | None, length("Depth to which it was sampled", "2.5 ft", high="20 ft", need="leave")
    ]
    sand_depth: Annotated[
        Number | None,
        length(
            "Depth of the first layer of sand or gravel in the strip",
            "6 ft",
            high="100 ft",
            need="leave",
            help="The depth of the boring where none was met.",
            how="bore beside the bank and at the line",
        ),
    ]
    first_order_rate: Annotated[
        Number | None,
        some(
            "First-order removal at 15 C, per day of travel",
            "number",
            "0.10",
            "0",
            "5",
            help="0.10 when it is not given, 0.02 to 0.3 being usual guesses.",
        ),
    ]
    zero_order_rate: Annotated[
        Number | None,
        some(
            "Zero-order removal at 15 C, per volume of soil",
            "rate",
            "0.04 g/m3/day",
            "0 g/m3/day",
            "10 g/m3/day",
        ),
    ]
    q10: Annotated[
        Number | None, some("Factor of removal for 10 degrees", "number", "1.97", "1", "6")
    ]
    oxygen: Annotated[
        Number | None,
        some("Oxygen in the drain water", "concentration", "8 mg/L", "0 mg/L", "15 mg/L"),
    ]
    oxygen_uptake: Annotated[
        Number | None,
        some(
            "Oxygen that the soil takes up in a day at 15 C",
            "concentration",
            "2 mg/L",
            "0.01 mg/L",
            "100 mg/L",
        ),
    ]
    cohesion_low: Annotated[
        Number | None,
        some("Effective cohesion of the bank, low", "pressure", "3 kPa", "0 kPa", "200 kPa"),
    ]
    cohesion_high: Annotated[
        Number | None,
        some("Effective cohesion of the bank, high", "pressure", "8 kPa", "0 kPa", "200 kPa"),
    ]
    friction_low: Annotated[
        Number | None,
        some("Effective angle of friction, low", "angle", "26 deg", "0 deg", "50 deg"),
    ]
    friction_high: Annotated[
        Number | None,
        some("Effective angle of friction, high", "angle", "32 deg", "0 deg", "50 deg"),
    ]
    unit_weight: Annotated[
        Number | None,
        some("Wet weight of the bank", "density", "120 lb/ft3", "60 lb/ft3", "160 lb/ft3"),
    ]


class AugerHole(Table):
    """An auger hole in the strip that was bailed and filled again; depths count from one mark."""

    radius: Annotated[
        Number,
        Quantity("Radius of the hole", kind="size", example="2 in", low="0.5 in", high="8 in"),
    ]
    depth: Annotated[Number, length("Depth of the hole", "8 ft", high="30 ft")]
    water_table: Annotated[
        Number, length("Depth of the water at rest", "4 ft", high="30 ft", how="the next morning")
    ]
    barrier: Annotated[
        Number | None,
        length(
            "Depth of the restrictive layer",
            "10.5 ft",
            high="100 ft",
            need="leave",
            help="Left out where none was met.",
        ),
    ]
    depths: Annotated[
        tuple[float, ...] | Number,
        Quantities(
            "Depth of the water at each reading",
            kind="length",
            example="5.2 ft, 5.1 ft, 5.0 ft",
            low="0 ft",
            high="30 ft",
        ),
    ]
    times: Annotated[
        tuple[float, ...] | Number,
        Quantities(
            "Time of each reading, in the same order",
            kind="time",
            example="0 s, 20 s, 40 s",
            low="0 s",
            high="100 h",
        ),
    ]
    by: Annotated[Word, Text("By whom", example="R. Lindqvist")]
    date: Annotated[Word, Day("When", example="2026-04-12")]


class SlugTest(Table):
    """A tube well in the strip in which the recovery from a slug was read."""

    casing_radius: Annotated[
        Number,
        Quantity(
            "Inside radius of the tube", kind="size", example="1 in", low="0.2 in", high="6 in"
        ),
    ]
    screen_radius: Annotated[
        Number,
        Quantity(
            "Radius of screen or gravel pack",
            kind="size",
            example="2 in",
            low="0.2 in",
            high="12 in",
        ),
    ]
    screen_length: Annotated[Number, length("Length of the screen", "3 ft", high="50 ft")]
    displacements: Annotated[
        tuple[float, ...] | Number,
        Quantities(
            "Water above or below rest at each reading",
            kind="size",
            example="20 in, 14 in, 10 in",
            low="0.01 in",
            high="20 ft",
        ),
    ]
    times: Annotated[
        tuple[float, ...] | Number,
        Quantities(
            "Time of each reading, in the same order",
            kind="time",
            example="0 s, 60 s, 120 s",
            low="0 s",
            high="100 h",
        ),
    ]
    by: Annotated[Word, Text("By whom", example="R. Lindqvist")]
    date: Annotated[Word, Day("When", example="2026-04-12")]


class SoilLayer(Table):
    """A level layer of the strip; the lowest ends at the restrictive layer."""

    top: Annotated[Number, elevation("Top of the layer", "739.0 ft")]
    conductivity: Annotated[
        Number,
        Quantity(
            "Lateral conductivity of the layer",
            kind="conductivity",
            example="3 ft/day",
            low="0.001 um/s",
            high="2000 um/s",
        ),
    ]
