# SPDX-License-Identifier: Apache-2.0
"""Rules of the trade that a practice is held to, and the rungs of the elevation ladder."""

from tilewater.basis.requirement import SCALES, Operator, Requirement
from tilewater.basis.tables import read_table
from tilewater.basis.trace import Trace

FOOT = 0.3048


def give_practice_rules(trace: Trace) -> None:
    """Record the rules of the trade as inputs `rules.<slug>_m`."""
    for row in read_table("tilewater.practices", "practice_rules").rows:
        trace.constant(
            f"rules.{row.text('slug')}_m",
            row.number("limit_ft") * FOOT,
            f"Limit: {row.text('label')}",
            unit="m",
            source="practice",
        )


def difference(upper: float, lower: float) -> float:
    """Height of one elevation above another.

    Parameters
    ----------
    upper, lower : float
        Elevations. [m]

    Returns
    -------
    float
        Upper minus lower. [m]

    Notes
    -----
    value = upper - lower    (derived)

    References
    ----------
    derived, a difference
    """
    return upper - lower


def add_rung(
    trace: Trace,
    name: str,
    title: str,
    *,
    upper: str,
    lower: str,
    limit: str,
    elevation: str,
    scale: str = "elevation",
    where: str = "",
    operator: Operator = ">=",
    exact: bool = False,
) -> None:
    """Record one rung of the ladder: an elevation, its height over another, and the rule."""
    key = f"elevations.{name}"
    trace.compute(
        f"{key}.elevation_m", same, unit="m", title=title.split(" above ")[0], value=elevation
    )
    trace.compute(f"{key}.value_m", difference, unit="m", title=title, upper=upper, lower=lower)
    trace.compute(f"{key}.limit_m", same, unit="m", title=f"{title}: limit", value=limit)
    trace.require(
        Requirement(
            key=key,
            title=title,
            value=f"{key}.value_m",
            operator=operator,
            limit=f"{key}.limit_m",
            unit="m",
            scale=SCALES[scale],
            where=where,
            exact=exact,
        )
    )


def same(value: float) -> float:
    """The value itself, carried to another place.

    Parameters
    ----------
    value : float
        Any value. [-]

    Returns
    -------
    float
        The same value. [-]

    Notes
    -----
    value = value    (derived)

    References
    ----------
    derived, a copy
    """
    return value
