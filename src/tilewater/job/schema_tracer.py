# SPDX-License-Identifier: Apache-2.0
"""Table of the job file about a tracer test of the bed; its curve stands in a file of its own."""

from typing import Annotated

from tilewater.job.fields import Quantity
from tilewater.job.tables import Number, Table, Word
from tilewater.job.words import Day, FileName, Text


class Tracer(Table):
    """A tracer test: what was put in at the inlet, and the file of what came out."""

    file: Annotated[
        Word,
        FileName(
            "File of the curve",
            example="tracer.csv",
            help="Columns time since the middle of the injection, concentration, and flow where "
            "it was read: time [h], concentration [mg/L], flow [cfs].",
        ),
    ]
    date: Annotated[Word | None, Day("Day of the injection", example="2029-05-14", need="leave")]
    tracer: Annotated[
        Word | None, Text("What was put in", example="potassium bromide, as Br", need="leave")
    ]
    mass: Annotated[
        Number,
        Quantity(
            "Tracer put in, as it is analysed",
            kind="mass",
            example="6.2 lb",
            low="0.001 lb",
            high="5000 lb",
            need="may",
            how="weigh the salt and count only the ion that the laboratory reports",
        ),
    ]
    background: Annotated[
        Number,
        Quantity(
            "Concentration at the outlet before the test",
            kind="concentration",
            example="0.1 mg/L",
            low="0 mg/L",
            high="10000 mg/L",
            default="0 mg/L",
            source="practice",
            how="two samples before the injection",
        ),
    ]
    flow: Annotated[
        Number | None,
        Quantity(
            "Flow through the bed in the test, where the file has none",
            kind="flow",
            example="0.11 cfs",
            low="0.0001 cfs",
            high="20 cfs",
            need="leave",
        ),
    ]
    wet_volume: Annotated[
        Number | None,
        Quantity(
            "Media under water in the test, from wells in the bed",
            kind="volume",
            example="330 CY",
            low="1 CY",
            high="20000 CY",
            need="leave",
            help="Left out, it is worked out for the mean flow and the boards of the design.",
        ),
    ]
    media_age: Annotated[
        Number | None,
        Quantity(
            "Age of the chips on that day",
            kind="years",
            example="1.6 years",
            low="0 years",
            high="60 years",
            need="leave",
            help="Left out, it counts from filled of [renew] to the day; new chips without that.",
        ),
    ]
