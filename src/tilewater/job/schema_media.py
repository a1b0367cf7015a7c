# SPDX-License-Identifier: Apache-2.0
"""Tables of the job file about media, ground water, weights, limits of the field."""

from typing import Annotated

from tilewater.job.fields import Quantity, kind_of_thing
from tilewater.job.schema_site import elevation
from tilewater.job.tables import Number, Table, Word
from tilewater.job.words import MonthDay

clear_soil = kind_of_thing("length", low="0 ft", high="10 ft", is_obvious=True)
unit_weight = kind_of_thing("density", low="5 lb/ft3", high="250 lb/ft3", is_obvious=True)


class Media(Table):
    """The woodchips: how freely water passes, what they hold, what they remove."""

    conductivity_new: Annotated[
        Number,
        Quantity(
            "Conductivity of new media, at 20 C",
            kind="media_conductivity",
            example="9.5 cm/s",
            low="0.01 cm/s",
            high="100 cm/s",
            how="a laboratory measures a sample of the pile; published means are no measurement",
        ),
    ]
    conductivity_aged: Annotated[
        Number,
        Quantity(
            "Conductivity of aged media, at 20 C",
            kind="media_conductivity",
            example="4.2 cm/s",
            low="0.001 cm/s",
            high="100 cm/s",
            how="chips dug from an old bed; published values where there are none",
        ),
    ]
    aged_years: Annotated[
        Number,
        Quantity("Age of the aged media", kind="years", example="9.25", low="0.1", high="100"),
    ]
    design_year: Annotated[
        Number,
        Quantity(
            "Age at which the bed must still pass",
            kind="years",
            example="10",
            low="0",
            high="50",
            default="10",
            source="practice",
        ),
    ]
    porosity_effective: Annotated[
        Number,
        Quantity(
            "Effective porosity, for residence",
            kind="ratio",
            bare=True,
            example="0.61",
            low="0.05",
            high="0.95",
            default="0.61",
            source="ghane2019",
        ),
    ]
    porosity_drainable: Annotated[
        Number,
        Quantity(
            "Drainable porosity, for drain-down and storage",
            kind="ratio",
            bare=True,
            example="0.45",
            low="0.05",
            high="0.95",
            default="0.45",
            source="practice",
        ),
    ]
    dry_density: Annotated[
        Number,
        Quantity(
            "Dry chips in place",
            kind="density",
            example="215 kg/m3",
            low="50 kg/m3",
            high="600 kg/m3",
            default="215 kg/m3",
            source="christianson-bulk-density",
            help="Says how much carbon the bed holds.",
        ),
    ]
    ward_coefficient: Annotated[
        Number,
        Quantity(
            "Ward's coefficient of the inertial loss",
            kind="number",
            example="0.55",
            low="0",
            high="5",
            default="0.55",
            source="ward1964",
        ),
    ]
    reference_temperature: Annotated[
        Number,
        Quantity(
            "Temperature at which the conductivities hold",
            kind="temperature",
            example="20 degC",
            low="0 degC",
            high="35 degC",
            default="20 degC",
            source="practice",
        ),
    ]
    spring_temperature: Annotated[
        Number,
        Quantity(
            "Temperature of the drain water in spring",
            kind="temperature",
            example="8 degC",
            low="-1 degC",
            high="35 degC",
            default="8 degC",
            source="practice",
        ),
    ]
    rate_low: Annotated[
        Number,
        Quantity(
            "Removal rate at 15 C, low",
            kind="rate",
            example="2.5 g/m3/day",
            low="0 g/m3/day",
            high="100 g/m3/day",
            default="2.5 g/m3/day",
            source="derived",
            help="Per volume of wet media and flowing day, from the second year on.",
        ),
    ]
    rate_mid: Annotated[
        Number,
        Quantity(
            "Removal rate at 15 C, middle",
            kind="rate",
            example="6 g/m3/day",
            low="0 g/m3/day",
            high="100 g/m3/day",
            default="6 g/m3/day",
            source="derived",
        ),
    ]
    rate_high: Annotated[
        Number,
        Quantity(
            "Removal rate at 15 C, high",
            kind="rate",
            example="13 g/m3/day",
            low="0 g/m3/day",
            high="100 g/m3/day",
            default="13 g/m3/day",
            source="derived",
        ),
    ]
    q10: Annotated[
        Number,
        Quantity(
            "Factor of the removal rate for 10 degrees",
            kind="number",
            example="2.15",
            low="1",
            high="6",
            default="2.15",
            source="addy2016",
        ),
    ]


class Groundwater(Table):
    """Design water tables outside the bed, one for each stage of building."""

    building: Annotated[
        Number,
        elevation(
            "Water table while liner and media are placed",
            "1180.0 ft",
            how="a tube well read in the building season",
        ),
    ]
    finished: Annotated[
        Number,
        elevation(
            "Design water table with the bed finished and emptied",
            "1182.2 ft",
            how="a tube well read through one spring",
        ),
    ]
    flotation: Annotated[
        Number,
        elevation(
            "Highest water table, for flotation of the boxes",
            "1185.0 ft",
            how="a tube well in the wettest spring; the ground surface is safe",
        ),
    ]


class Weights(Table):
    """Unit weights and the factor of uplift and flotation."""

    chips: Annotated[
        Number,
        unit_weight("Moist chips in place", "25 lb/ft3", default="25 lb/ft3", source="practice"),
    ]
    cover_soil: Annotated[
        Number,
        unit_weight("Soil over the media", "105 lb/ft3", default="105 lb/ft3", source="practice"),
    ]
    concrete: Annotated[
        Number, unit_weight("Concrete", "150 lb/ft3", default="150 lb/ft3", source="practice")
    ]
    factor: Annotated[
        Number,
        Quantity(
            "Factor against uplift and flotation",
            kind="number",
            example="1.2",
            low="1",
            high="5",
            default="1.2",
            source="practice",
        ),
    ]


class Limits(Table):
    """How much clear soil the field keeps above the water."""

    standing: Annotated[
        Number,
        clear_soil("Above standing water", "2.0 ft", default="2.0 ft", source="practice"),
    ]
    storm: Annotated[
        Number,
        clear_soil(
            "Above the grade line in the main, in a storm",
            "1.5 ft",
            default="1.5 ft",
            source="practice",
        ),
    ]
    midway: Annotated[
        Number,
        clear_soil(
            "Midway between laterals, in a storm", "1.0 ft", default="1.0 ft", source="practice"
        ),
    ]
    wet_days: Annotated[
        Number,
        Quantity(
            "Days in a row with less than that midway, in half the crop seasons",
            kind="days",
            example="2",
            low="0",
            high="60",
            default="2",
            source="practice",
            help="Counted from the daily series that the weather gives. It binds where it is "
            "written here; left out, it is shown beside what it is held against.",
        ),
    ]
    drowned: Annotated[
        Number,
        Quantity(
            "Share of the drain flow that may meet the ditch above the bypass crest",
            kind="ratio",
            example="10 %",
            low="0 %",
            high="100 %",
            default="10 %",
            source="practice",
            help="So much of the water finds no head to go through the practice.",
        ),
    ]


class Frost(Table):
    """Winter: when boards are frozen in, how cold melt water is, how deep the frost goes."""

    frozen_from: Annotated[
        Word,
        MonthDay(
            "First day on which boards may be frozen in",
            example="12-10",
            default="12-01",
            source="practice",
        ),
    ]
    frozen_to: Annotated[
        Word,
        MonthDay(
            "Last day on which boards may be frozen in",
            example="03-15",
            default="03-31",
            source="practice",
        ),
    ]
    melt_temperature: Annotated[
        Number,
        Quantity(
            "Temperature of the drain water when snow melts",
            kind="temperature",
            example="1 degC",
            low="-1 degC",
            high="15 degC",
            default="1 degC",
            source="practice",
            help="The cold end: water that comes through soil is often warmer, 2 to 5 C in March "
            "is remembered.",
        ),
    ]
    depth: Annotated[
        Number,
        Quantity(
            "Design frost depth of the county",
            kind="length",
            example="3.5 ft",
            low="0 ft",
            high="20 ft",
            need="may",
            how="ask the county building office which frost depth it builds to",
        ),
    ]
    freezing_index: Annotated[
        Number | None,
        Quantity(
            "Air freezing index of a hard winter",
            kind="cold",
            example="1500 degF-day",
            low="0 degF-day",
            high="10000 degF-day",
            need="leave",
            help="Days times degrees below freezing, summed over the winter; it only checks the "
            "depth.",
        ),
    ]
