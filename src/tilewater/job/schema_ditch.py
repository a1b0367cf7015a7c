# SPDX-License-Identifier: Apache-2.0
"""Tables of the job file about the ditch: how its water level is known, section, flows, marks."""

from typing import Annotated

from pydantic import Field

from tilewater.job.fields import Quantity, kind_of_thing
from tilewater.job.pairs import Pair, Pairs
from tilewater.job.schema_site import elevation, length
from tilewater.job.tables import Number, Table, Word
from tilewater.job.words import Choice, FileName, Text

WAYS = ("season table", "series", "rule", "section")


def _roughness(title: str, example: str, about: str) -> Quantity:
    return Quantity(
        title, kind="number", example=example, low="0.01", high="0.5", need="leave", help=about
    )


_flow = kind_of_thing("flow", low="0 cfs")


class DitchSection(Table):
    """A surveyed section of the ditch near the outlet, for the way "section"."""

    points: Annotated[
        tuple[Pair, ...] | None,
        Pairs(
            "Points across the ditch: distance from the first bank top, elevation",
            example="0 ft: 1186 ft, 10 ft: 1179 ft, 21 ft: 1186 ft",
            need="leave",
            first=length("Distance", "9 ft"),
            second=elevation("Elevation", "1179.1 ft"),
            least=3,
            may_repeat=True,
            help="From bank top to bank top, square to the flow, in a straight reach without a "
            "culvert close below. In place of bottom width and side slopes.",
        ),
    ]
    bottom_width: Annotated[
        Number | None, length("Width of the bottom of the ditch", "4 ft", need="leave")
    ]
    side_slope: Annotated[
        Number | None,
        Quantity(
            "Side slope of the ditch, horizontal to vertical",
            kind="side_slope",
            example="1.5:1",
            low="0",
            high="20",
            need="leave",
        ),
    ]
    side_slope_right: Annotated[
        Number | None,
        Quantity(
            "Side slope of the other bank, where it differs",
            kind="side_slope",
            example="2:1",
            low="0",
            high="20",
            need="leave",
        ),
    ]
    slope: Annotated[
        Number | None,
        Quantity(
            "Slope of the bed of the ditch",
            kind="slope",
            example="0.08 %",
            low="0.001 %",
            high="10 %",
            need="leave",
            help="Shoot the bed, or low water, at least 300 ft apart along the ditch.",
        ),
    ]
    n: Annotated[
        Number | None,
        _roughness(
            "Roughness of the ditch, Manning's n",
            "0.035",
            "When it is left out, high water marks with their flows give it.",
        ),
    ]
    n_low: Annotated[
        Number | None,
        _roughness("Lower end of its range", "0.028", "Mown or bare, as in late winter."),
    ]
    n_high: Annotated[
        Number | None,
        _roughness("Upper end of its range", "0.050", "Grown up, as in late summer."),
    ]


class Ditch(Table):
    """The ditch or stream at the outlet."""

    bottom: Annotated[Number, elevation("Bottom of the ditch", "1178.2 ft", how="shoot it")]
    bank_top: Annotated[
        Number, elevation("Top of the bank", "1186.4 ft", need="may", how="shoot it")
    ]
    right_of_way: Annotated[
        Number | None,
        length(
            "Width of the right of way, from the bank top",
            "25 ft",
            need="leave",
            help="What lies in it needs the consent of the district.",
        ),
    ]
    edge_distance: Annotated[
        Number | None,
        length("Distance from the bank top to the edge of the bed", "31 ft", need="leave"),
    ]
    stage: Annotated[
        Word,
        Choice(
            "How the water level of the ditch is known",
            choices=WAYS,
            example="season table",
            help="With a season table each season below states its levels; with a series a file "
            "of readings does; with a rule the level follows the drain flow; with a section it "
            "is computed from the flows under [ditch_flow.NAME].",
            how="read a staff or a logger in the ditch through one spring",
        ),
    ]
    series: Annotated[
        Word | None,
        FileName(
            "File of ditch levels",
            example="stage.csv",
            need="leave",
            help="Its first row names the columns: date, written year-month-day with or without "
            "a time, and stage with its unit in brackets, such as stage [ft]; a reading without a "
            "value is left blank or NA. One reading a day or more.",
        ),
    ]
    gauge_zero: Annotated[
        Number | None,
        elevation(
            "Elevation of the zero of the staff or logger",
            "1177.35 ft",
            need="leave",
            help="Added to every reading. Left out where the file holds elevations.",
        ),
    ]
    series_high: Annotated[
        Number | None,
        Quantity(
            "Share of the days of a season that the high level is not passed on",
            kind="ratio",
            example="98 %",
            low="50 %",
            high="100 %",
            need="leave",
            help="The highest reading of the season when it is left out.",
        ),
    ]
    rule: Annotated[
        tuple[Pair, ...] | None,
        Pairs(
            "Drain flow and the ditch level that goes with it",
            example="0 cfs: 1179.4 ft, 0.3 cfs: 1180.2 ft, 0.9 cfs: 1181.6 ft",
            need="leave",
            first=_flow("Drain flow", "0.3 cfs"),
            second=elevation("Ditch level", "1180.2 ft"),
            may_fall=False,
            help="By rising flow; straight between the pairs, flat beyond the ends.",
        ),
    ]
    section: DitchSection = Field(default_factory=lambda: DitchSection.model_validate({}))


class DitchFlow(Table):
    """A flow of the ditch at the section, with where it comes from."""

    flow: Annotated[
        Number,
        _flow(
            "Flow of the ditch",
            "45 cfs",
            how="a regional regression at the drained area of the ditch, a gauge nearby, or a "
            "current meter",
        ),
    ]
    use: Annotated[
        Word,
        Choice(
            "What its level stands for",
            choices=("ordinary", "high", "show"),
            example="high",
            help="A flow that is only shown judges nothing.",
        ),
    ]
    season: Annotated[
        Word | None,
        Text(
            "Season that it holds for",
            example="spring",
            need="leave",
            help="All seasons without one of their own when it is left out.",
        ),
    ]
    source: Annotated[
        Word,
        Text("Where the flow comes from", example="state regression, 2-year, 6.2 square miles"),
    ]
    error: Annotated[
        Number | None,
        Quantity(
            "Standard error of the flow",
            kind="ratio",
            example="40 %",
            low="0 %",
            high="500 %",
            need="leave",
            help="As the report of the regression states it, in percent.",
        ),
    ]


class Mark(Table):
    """A high water mark at the section."""

    elevation: Annotated[
        Number, elevation("Elevation of the mark", "1182.3 ft", how="shoot the mark")
    ]
    event: Annotated[
        Word,
        Text("Date or event that left it", example="2024-06-22", how="ask who lives there"),
    ]
    sure: Annotated[
        Number,
        length(
            "How far the water may have stood from it, up or down",
            "0.3 ft",
            low="0.01 ft",
            high="10 ft",
            how="judge it: a seed line 0.1 ft, a drift line 0.3 ft, a memory 1 ft",
        ),
    ]
    flow: Annotated[
        Number | None,
        _flow(
            "Flow that left it, where it is known",
            "60 cfs",
            need="leave",
            help="A mark with its flow is held against the computed level and can give n.",
        ),
    ]
