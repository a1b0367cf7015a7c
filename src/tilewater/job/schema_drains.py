# SPDX-License-Identifier: Apache-2.0
"""Tables of the job file about the drains: field and laterals, main, spots in the field."""

from typing import Annotated

from tilewater.job.fields import Quantity
from tilewater.job.schema_site import elevation, length, station
from tilewater.job.tables import Number, Table, Word
from tilewater.job.words import Answer, Choice, FileName, Texts


class Drainage(Table):
    """The drained field and its laterals."""

    area: Annotated[
        Number,
        Quantity(
            "Drained area",
            kind="area",
            example="62 acre",
            low="0.1 acre",
            high="20000 acre",
            help="The tile shed, not the surface shed.",
            how="planimeter the tile map; check it with the owner",
        ),
    ]
    coefficient: Annotated[
        Number,
        Quantity(
            "Drainage coefficient",
            kind="depth_rate",
            example="3/8 in/day",
            low="0.05 in/day",
            high="4 in/day",
            how="ask who designed the drains; state drainage guides give it by crop and soil",
        ),
    ]
    lateral_depth: Annotated[
        Number,
        length(
            "Depth of the laterals", "4 ft", low="0.5 ft", high="20 ft", how="probe three laterals"
        ),
    ]
    lateral_spacing: Annotated[
        Number,
        length(
            "Spacing of the laterals",
            "60 ft",
            low="5 ft",
            how="measure on the tile map or on an aerial photo of a drying spring",
        ),
    ]
    depth_to_barrier: Annotated[
        Number,
        length(
            "Depth from the laterals to the restrictive layer",
            "5 ft",
            how="bore to the layer; soil survey gives a first figure",
        ),
    ]
    conductivity: Annotated[
        Number,
        Quantity(
            "Conductivity of the soil below the laterals",
            kind="conductivity",
            example="9 um/s",
            low="0.0001 ft/day",
            high="500 ft/day",
            how="three auger holes; the soil survey is no measurement",
        ),
    ]
    conductivity_above: Annotated[
        Number,
        Quantity(
            "Conductivity of the soil above the laterals",
            kind="conductivity",
            example="9 um/s",
            low="0.0001 ft/day",
            high="500 ft/day",
            need="may",
            help="Taken as that below the laterals when it is not given.",
            how="auger holes above the laterals",
        ),
    ]
    effective_radius: Annotated[
        Number,
        Quantity(
            "Effective radius of the laterals",
            kind="size",
            example="5.1 mm",
            low="0.5 mm",
            high="1 ft",
            default="5.1 mm",
            source="skaggs1978",
            help="Smaller than the pipe: a full pipe open all round would take the water so.",
        ),
    ]
    design_water_height: Annotated[
        Number,
        length(
            "Water table above the laterals, midway, at which they are asked to supply",
            "2.5 ft",
            high="20 ft",
            how="lateral depth less the clear soil that the crop wants midway in a storm",
        ),
    ]
    surface_inlets: Annotated[
        Word,
        Choice(
            "Surface inlets on the drains",
            choices=("none", "some"),
            example="none",
            help="They bring flow beyond the laterals, and silt.",
            how="walk the low spots; ask the owner",
        ),
    ]
    surface_inlet_water: Annotated[
        Word | None,
        Choice(
            "What becomes of the water of the surface inlets",
            choices=("kept out", "settled first", "taken in"),
            example="kept out",
            need="leave",
            help="To be answered where there are surface inlets. Kept out: it goes its own way and "
            "does not reach the diversion. Settled first: it reaches it through a basin that "
            "holds the silt. Taken in: it reaches it as it comes.",
            how="follow each inlet to the main; decide it before the bed is drawn",
        ),
    ]
    mean_annual_depth: Annotated[
        Number,
        Quantity(
            "Mean annual drain flow",
            kind="depth",
            example="10.5 in",
            low="0 in",
            high="80 in",
            need="may",
            how="log the flow through whole years, or simulate it from the weather",
        ),
    ]
    flow_days: Annotated[
        Number,
        Quantity(
            "Days with drain flow in a normal year",
            kind="days",
            example="200",
            low="0",
            high="366",
            need="may",
            how="log the flow, or ask the owner in which months the outlet runs",
        ),
    ]
    pump_capacity: Annotated[
        Number | None,
        Quantity(
            "Capacity of the pump at the outlet",
            kind="flow",
            example="450 gpm",
            low="0 cfs",
            need="leave",
            help="Only where the drains are pumped.",
        ),
    ]
    measured_peak: Annotated[
        Number | None,
        Quantity(
            "Largest drain flow measured", kind="flow", example="0.9 cfs", low="0 cfs", need="leave"
        ),
    ]
    wet_season_flow: Annotated[
        Number | None,
        Quantity(
            "Flow of the main measured on a wet day of spring",
            kind="flow",
            example="0.35 cfs",
            low="0 cfs",
            need="leave",
            help="Tells whether this is the tile that drains the area: it should be a fair part of "
            "what the main carries full.",
            how="bucket or flow meter at the outlet, some wet days in spring",
        ),
    ]
    record: Annotated[
        Word | None,
        FileName(
            "File of daily drain flow",
            example="flow.csv",
            need="leave",
            help="Its first row names the columns: date, written year-month-day, and flow with "
            "its unit in brackets, such as flow [mm/day] or flow [cfs]; a day without a value is "
            "left blank or NA. Other columns may say whose record a row is, such as siteid and "
            "plotid; record_only then chooses. The record stands in the place of "
            "mean_annual_depth and flow_days.",
        ),
    ]
    record_only: Annotated[
        tuple[str, ...] | None,
        Texts(
            "Rows taken of the file of drain flow",
            example="siteid=NORTH, plotid=2",
            need="leave",
            help="Column and value, for a file that holds the records of several plots; a row is "
            "taken when it has all of them.",
        ),
    ]


class Main(Table):
    """The main that the practice stands on."""

    diameter: Annotated[
        Number,
        Quantity(
            "Inside diameter of the main",
            kind="size",
            example="10 in",
            low="2 in",
            high="96 in",
            how="measure an exposed pipe; the stub at the outlet is often larger",
        ),
    ]
    material: Annotated[
        Word,
        Choice(
            "Material of the main",
            choices=("concrete", "clay", "corrugated plastic", "smooth plastic"),
            example="concrete",
            help="Smooth plastic is smooth inside, whatever it is outside.",
            how="look at an exposed pipe",
        ),
    ]
    n: Annotated[
        Number | None,
        Quantity(
            "Roughness of the main, Manning's n",
            kind="number",
            example="0.013",
            low="0.007",
            high="0.04",
            need="leave",
            help="Follows from the material when it is not given.",
        ),
    ]
    slope: Annotated[
        Number,
        Quantity(
            "Slope of the main",
            kind="slope",
            example="0.18 %",
            low="0.005 %",
            high="20 %",
            how="shoot two exposed inverts at least 100 ft apart",
        ),
    ]
    invert_outlet: Annotated[
        Number, elevation("Invert of the main at the outlet", "1180.95 ft", how="shoot it")
    ]
    station_outlet: Annotated[
        Number, station("Station of the outlet", "0+00", help="Counted up the main.")
    ]
    invert_diversion: Annotated[
        Number,
        elevation(
            "Invert of the main at the diversion",
            "1181.20 ft",
            how="expose the main there and shoot the invert",
        ),
    ]
    station_diversion: Annotated[
        Number, station("Station of the diversion", "1+40", how="tape it from the outlet")
    ]
    stub_diameter: Annotated[
        Number | None,
        Quantity(
            "Inside diameter of the stub at the outlet",
            kind="size",
            example="12 in",
            low="2 in",
            high="96 in",
            need="leave",
            help="The stub that shows in the bank, where it is another size than the main.",
        ),
    ]
    upstream_station: Annotated[
        Number,
        station(
            "Station of the upper end of the main",
            "24+00",
            need="may",
            how="follow the tile map, or trace the line",
        ),
    ]
    property_line_station: Annotated[
        Number,
        station(
            "Station where the main crosses the property line upstream",
            "21+50",
            need="may",
            how="scale it from the parcel map, then find the pins",
        ),
    ]
    consent_upstream: Annotated[
        Word,
        Answer(
            "Written consent of the neighbour upstream",
            choices=("given", "refused", "not needed"),
            other=(("yes", "given"), ("no", "refused")),
            example="given, letter of 2026-04-11",
            need="may",
            how="ask for it in writing where water would be backed past the line",
        ),
    ]


class Spot(Table):
    """A place in the field where water may stand too high: a lateral junction or a low spot."""

    kind: Annotated[
        Word,
        Choice("Sort of spot", choices=("junction", "low spot"), example="low spot"),
    ]
    station: Annotated[
        Number, station("Station of the spot along the main", "2+90", how="tape or shoot it")
    ]
    ground: Annotated[Number, elevation("Ground at the spot", "1187.0 ft", how="shoot it")]
    drain: Annotated[
        Number | None,
        elevation(
            "Elevation of the lateral at the spot",
            "1183.0 ft",
            need="leave",
            help="Ground less the depth of the laterals when it is not given.",
        ),
    ]
    standing: Annotated[
        Number | None, length("Own limit, standing water", "2.0 ft", need="leave", high="20 ft")
    ]
    storm: Annotated[Number | None, length("Own limit, storm", "1.5 ft", need="leave")]
    midway: Annotated[
        Number | None,
        length("Own limit, midway between laterals in a storm", "1.0 ft", need="leave"),
    ]
