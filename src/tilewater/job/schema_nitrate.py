# SPDX-License-Identifier: Apache-2.0
"""Tables of the job file about nitrate, and about what was or could be measured."""

from typing import Annotated

from tilewater.job.fields import Quantities, Quantity, kind_of_thing
from tilewater.job.tables import Number, Table, Word
from tilewater.job.words import Choice, FileName
from tilewater.nitrate.concentration import rotations

error = kind_of_thing("ratio", low="0.1 %", high="300 %", need="leave")


class Nitrate(Table):
    """Nitrate in the drain water."""

    mean: Annotated[
        Number,
        Quantity(
            "Flow-weighted mean nitrate, as N",
            kind="concentration",
            example="14.2 mg/L",
            low="0 mg/L",
            high="200 mg/L",
            need="may",
            how="grab samples through a whole flow season, weighted by flow",
        ),
    ]
    samples: Annotated[
        Word | None, FileName("File of nitrate samples", example="samples.csv", need="leave")
    ]
    pattern: Annotated[
        Word | None,
        Choice(
            "How nitrate goes through the year",
            choices=("same every day", "by month", "fitted to samples", "by region"),
            example="fitted to samples",
            need="leave",
            help="Left out, the mean holds every day. By month takes by_month; fitted to samples "
            "takes the file of samples and the flow of their days, at least 8 of them; by region "
            "takes rotation, for a field without a sample.",
        ),
    ]
    by_month: Annotated[
        tuple[float, ...] | Word | None,
        Quantities(
            "Nitrate of each of the 12 months, January to December, as N",
            kind="concentration",
            example="12 mg/L, 13 mg/L, 15 mg/L",
            low="0 mg/L",
            high="200 mg/L",
            need="leave",
        ),
    ]
    rotation: Annotated[
        Word | None,
        Choice(
            "Crops of the field, for nitrate by region",
            choices=rotations(),
            need="leave",
        ),
    ]


class Measured(Table):
    """What was measured of the draws of chips, nitrate or flow, each with its error.

    A range that was thought before is narrowed by it, and both are shown. An error is one standard
    deviation: two of three measurements lie within it.
    """

    conductivity: Annotated[
        Number | None,
        Quantity(
            "Conductivity of the new chips, as measured, at 20 C",
            kind="media_conductivity",
            example="8.2 cm/s",
            low="0.01 cm/s",
            high="100 cm/s",
            need="leave",
        ),
    ]
    conductivity_error: Annotated[Number | None, error("Its error, as a share", "25 %")]
    porosity: Annotated[
        Number | None,
        Quantity(
            "Effective porosity by a tracer",
            kind="ratio",
            example="0.58",
            low="0.05",
            high="0.95",
            need="leave",
            bare=True,
        ),
    ]
    porosity_error: Annotated[
        Number | None,
        Quantity(
            "Its error, as porosity",
            kind="ratio",
            example="0.04",
            low="0.001",
            high="0.5",
            need="leave",
            bare=True,
        ),
    ]
    removal_rate: Annotated[
        Number | None,
        Quantity(
            "Removal rate at 15 C, as measured from the second year on",
            kind="rate",
            example="7.5 g/m3/day",
            low="0.01 g/m3/day",
            high="100 g/m3/day",
            need="leave",
            help="From samples in and out and the flow of a season, nitrate left at the outlet.",
        ),
    ]
    removal_rate_error: Annotated[Number | None, error("Its error, as a share", "30 %")]
    nitrate: Annotated[
        Number | None,
        Quantity(
            "Flow-weighted nitrate as measured, as N",
            kind="concentration",
            example="13.1 mg/L",
            low="0.01 mg/L",
            high="200 mg/L",
            need="leave",
            help="Of samples that `nitrate.mean` does not rest on.",
        ),
    ]
    nitrate_error: Annotated[
        Number | None,
        error("Its error, as a share, with what years differ", "10 %"),
    ]
    treated_share: Annotated[
        Number | None,
        Quantity(
            "Share of a season's drain flow that went through, as measured",
            kind="ratio",
            example="48 %",
            low="0 %",
            high="100 %",
            need="leave",
        ),
    ]
    treated_share_error: Annotated[
        Number | None,
        Quantity(
            "Its error, as a share of the flow, with what seasons differ",
            kind="ratio",
            example="8 %",
            low="0.1 %",
            high="100 %",
            need="leave",
        ),
    ]


class Measure(Table):
    """What a measurement would cost here, by the name that the advice gives it."""

    cost: Annotated[
        Number, Quantity("Cost", kind="money", example="240 USD", low="0 USD", high="1000000 USD")
    ]
