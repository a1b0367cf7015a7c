# SPDX-License-Identifier: Apache-2.0
"""Tables of the job file about a raised outlet, and about what practices are compared by."""

from typing import Annotated

from pydantic import Field

from tilewater.job.fields import Quantity
from tilewater.job.schema_site import length
from tilewater.job.tables import Number, Table


def hours(default: str) -> Quantity:
    """Hours of the owner in a year."""
    return Quantity(
        "Hours of the owner in a year",
        kind="number",
        example=default,
        low="0",
        high="500",
        default=default,
        source="practice",
        help="Looking after boards, lids and outlet.",
    )


def cropped() -> Quantity:
    """Share of the ground that is cropped now."""
    return Quantity(
        "Share of its ground that is cropped now",
        kind="ratio",
        example="0 %",
        low="0 %",
        high="100 %",
        need="leave",
        help="All of the ground of a bed, and none of a strip in perennial plants, when it is not "
        "given.",
    )


def upkeep() -> Quantity:
    """Upkeep of one practice."""
    return Quantity(
        "Upkeep, USD per year",
        kind="yearly_cost",
        example="60",
        low="0",
        need="leave",
        help="That of [money] when it is not given.",
    )


class Raised(Table):
    """The outlet raised in season: boards on the main alone, as the seasons set them."""

    solid_pipe: Annotated[
        Number,
        length(
            "Solid pipe on each side of the structure",
            "20 ft",
            high="500 ft",
            default="20 ft",
            source="practice",
        ),
    ]


class ComparedBed(Table):
    """What a woodchip bed asks of its owner."""

    hours: Annotated[Number, hours("6")]
    cropped: Annotated[Number | None, cropped()]
    upkeep_usd_per_year: Annotated[Number | None, upkeep()]


class ComparedBuffer(Table):
    """What a saturated buffer asks of its owner."""

    hours: Annotated[Number, hours("4")]
    cropped: Annotated[Number | None, cropped()]
    upkeep_usd_per_year: Annotated[Number | None, upkeep()]


class ComparedRaised(Table):
    """What an outlet raised in season asks of its owner."""

    hours: Annotated[Number, hours("10")]
    upkeep_usd_per_year: Annotated[Number | None, upkeep()]


class Compare(Table):
    """What practices are compared by, beside nitrate and the bill."""

    hour_usd: Annotated[
        Number,
        Quantity(
            "What an hour of the owner is worth, USD",
            kind="number",
            example="25",
            low="0",
            high="1000",
            default="25",
            source="practice",
        ),
    ]
    rent_usd_per_acre: Annotated[
        Number,
        Quantity(
            "Rent of cropland, USD per acre and year",
            kind="yearly_cost",
            example="250",
            low="0",
            high="5000",
            default="250",
            source="practice",
            how="the rent survey of the state, or the lease",
        ),
    ]
    bed: ComparedBed = Field(default_factory=lambda: ComparedBed.model_validate({}))
    buffer: ComparedBuffer = Field(default_factory=lambda: ComparedBuffer.model_validate({}))
    raised: ComparedRaised = Field(default_factory=lambda: ComparedRaised.model_validate({}))
