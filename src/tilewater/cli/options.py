# SPDX-License-Identifier: Apache-2.0
"""Options and codes that verbs share."""

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from tilewater.basis.units import System

DONE, SHORT, AT_FAULT = 0, 1, 2
"""What the program ends with."""


class Units(StrEnum):
    """Units of the reader."""

    us = "us"
    si = "si"


Job = Annotated[Path, typer.Argument(help="Job folder, or its job.toml.", show_default=False)]
AsJson = Annotated[bool, typer.Option("--json", help="Print the result for other programs, in SI.")]
Explain = Annotated[
    str, typer.Option(help="Show where a number comes from, by its key in --json.", metavar="KEY")
]
OnDay = Annotated[
    str,
    typer.Option(
        "--day", help="With --explain: work this day of it again, step by step.", metavar="DAY"
    ),
]
Search = Annotated[
    bool,
    typer.Option("--search", help="Set cost against nitrate over all sizes, instead of a design."),
]
Beds = Annotated[
    int, typer.Option(min=1, help="With --search: sizes to lead through the days, at most.")
]
InUnits = Annotated[
    Units | None,
    typer.Option(help="Units of the page; those of the job where nothing is said."),
]


def system_of(units: Units | None) -> System | None:
    """Units of the reader; None where nothing was said."""
    if units is None:
        return None
    return "si" if units is Units.si else "us"
