# SPDX-License-Identifier: Apache-2.0
"""Sizes that exist, whichever practice is searched: steps of a tape, stacks of boards, pipes."""

from math import floor

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.trace import Trace
from tilewater.chain.search_axes import Axis, Level
from tilewater.practices.bed.sizing import LARGEST, STEP
from tilewater.practices.boards import HEIGHT_TOLERANCE, stackable_heights

INCH = STEP / 12
STEP_SI = 0.25
"""Step of a floor in a job in SI units. [m]"""
YEAR = "days.year"


def require_days(trace: Trace) -> None:
    """Refuse a design whose days have not been routed.

    Parameters
    ----------
    trace : Trace
        Of the design. [-]

    Raises
    ------
    OutOfDomain
        If it has no sums of draws by year.
    """
    if "days.sums" not in trace or not trace.known("days.sums"):
        raise OutOfDomain(
            "No days have been routed through the practice. A search asks every size over the days "
            "of a record. Give the weather or a flow record, and what else the design says is "
            "missing."
        )


def steps_of(first: float, last: float, step: float) -> list[float]:
    """Whole multiples of a step from the first to the last.

    Parameters
    ----------
    first, last : float
        Ends. [m]
    step : float
        Step. [m]

    Returns
    -------
    list of float
        Sizes from the smallest; at least one step, and no more than so many steps. [m]

    References
    ----------
    derived, a scale
    """
    low, high = floor(first / step + 1e-9), floor(last / step + 1e-9)
    return [round(n * step, 9) for n in range(max(1, low), min(high, LARGEST) + 1)]


def is_si(trace: Trace) -> bool:
    """Whether the job is in SI units."""
    return bool(trace.value("inputs.job.units") == "si")


def floor_step(trace: Trace) -> float:
    """Step of a floor, a foot or a quarter of a metre.

    Parameters
    ----------
    trace : Trace
        With the units of the job. [-]

    Returns
    -------
    float
        Step. [m]

    References
    ----------
    practice, floors are staked in whole feet
    """
    return STEP_SI if is_si(trace) else STEP


def boards_axis(trace: Trace, structure: str) -> Axis:
    """Heights that the boards can be stacked to; the seasons that stand alike go along.

    Parameters
    ----------
    trace : Trace
        With the boards of the job. [-]
    structure : str
        "inlet" or "outlet". [-]

    Returns
    -------
    Axis

    References
    ----------
    derived, sums of what can be bought
    """
    design = f"inputs.boards.{structure}_m"
    own = float(trace.value(design))
    given = f"inputs.structure.{structure}"
    room = float(trace.value(f"{given}.rim_m")) - float(trace.value(f"{given}.sill_m"))
    seasons = {
        key: float(trace.value(key))
        for season in trace.names("inputs.season")
        if (key := f"inputs.season.{season}.{structure}_boards_m") in trace and trace.known(key)
    }
    levels = []
    for height in stackable(trace, room):
        follow = {
            key: height if abs(stands - own) < HEIGHT_TOLERANCE else min(stands, height)
            for key, stands in seasons.items()
        }
        levels.append(Level(height, {design: height} | follow))
    title = f"Height of the {structure} boards"
    return Axis(f"boards.{structure}-design.height_m", title, "m", tuple(levels))


def stackable(trace: Trace, room: float) -> list[float]:
    """Heights up to a limit that the job's boards can be stacked to.

    Parameters
    ----------
    trace : Trace
        With the boards of the job. [-]
    room : float
        Highest stack. [m]

    Returns
    -------
    list of float
        Heights from the lowest. [m]

    Notes
    -----
    H = sum of boards and their seals    (derived)

    References
    ----------
    derived, sums of what can be bought
    """
    gap = float(trace.value("inputs.boards.seal_gap_m"))
    return stackable_heights(trace.value("inputs.boards.heights_m"), seal_gap=gap, room=room)


def priced_sizes(trace: Trace, kind: str) -> list[float]:
    """Inside diameters of a kind of pipe that the prices have.

    Parameters
    ----------
    trace : Trace
        With the prices of the job. [-]
    kind : str
        "solid" or "perforated". [-]

    Returns
    -------
    list of float
        Diameters. [in]

    References
    ----------
    derived, a part of a record
    """
    start, end = f"{kind}-pipe-", "-in"
    return [
        float(item.removeprefix(start).removesuffix(end))
        for item in trace.names("inputs.price")
        if item.startswith(start) and item.endswith(end)
    ]


def removed_in_mean_year(trace: Trace) -> float:
    """Nitrate nitrogen of a mean whole year that the days of a design take out.

    Parameters
    ----------
    trace : Trace
        Of a design with its days. [-]

    Returns
    -------
    float
        At the middle of every range. [kg]

    Notes
    -----
    M = sum over the days of whole years / number of whole years    (derived)

    References
    ----------
    derived, a mean
    """
    whole = trace.value("days.whole_years")
    is_counted = whole[trace.value(YEAR)]
    return float(trace.value("days.run").removed_kg[is_counted].sum() / whole.sum())
