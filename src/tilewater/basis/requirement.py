# SPDX-License-Identifier: Apache-2.0
"""A requirement, how it stands, and how much is in reserve.

Every requirement, of a published standard, of the trade or of the job, is judged in the same three
words: "holds", "short" or "not known". Its slack is the reserve over a named scale, negative where
it falls short, so that unlike requirements can be compared and the one that binds can be named.
"""

from dataclasses import dataclass
from typing import Literal

from tilewater.basis.unknown import Unknown

Status = Literal["holds", "short", "not known"]
Operator = Literal[">=", "<="]

TOLERANCE = 1e-5
"""Difference that is no shortfall: absolute below 1, relative above. [-]

Of an elevation it is a hundredth of a millimetre, which nobody can shoot. Two elevations in the
survey foot with boards or a tape between them in the international foot, parts in a million longer
or shorter, meet no closer than that.
"""

SCALES = {
    "clear soil": 0.3048,  # m, 1 ft
    "freeboard": 0.3048,  # m, 1 ft
    "elevation": 0.1524,  # m, 0.5 ft
    "share of flow": 0.15,
    "retention": 3.0,  # h
    "reduction": 0.30,
}
"""Scales of the slack by kind, in the unit of the value; other kinds use their own limit."""


@dataclass(frozen=True)
class Requirement:
    """One rule that a design is held to.

    Attributes
    ----------
    key : str
        Key of the row, without unit (`field.low-1.storm`).
    title : str
        The rule in words.
    value, limit : str
        Keys of the value and of the limit in the trace.
    operator : ">=" or "<="
        How the value must stand to the limit.
    unit : str
    scale : float
        What counts as one whole unit of reserve, in `unit`.
    text_status : "read", "memory" or "practice"
        How the limit is known.
    source : str
        Key of `basis/sources.toml`.
    where : str
        Where it binds in the drawing: a structure, a spot, the bed.
    binding : bool
        False for a row that is printed for information only.
    exact : bool
        True where the design meets the limit exactly by how it is drawn; such a row is said to bind
        only when it falls short.
    """

    key: str
    title: str
    value: str
    operator: Operator
    limit: str
    unit: str
    scale: float
    text_status: Literal["read", "memory", "practice"] = "practice"
    source: str = "practice"
    where: str = ""
    binding: bool = True
    exact: bool = False


def status_of(value: float | Unknown, limit: float | Unknown, operator: Operator) -> Status:
    """How a requirement stands.

    Parameters
    ----------
    value, limit : float or Unknown
        In the same unit. [-]
    operator : ">=" or "<="
        How the value must stand to the limit. [-]

    Returns
    -------
    "holds", "short" or "not known"
        Not known where the value or the limit is not known. [-]

    Notes
    -----
    holds = value operator limit    (derived)

    A difference of one part in 10^5, or 10^-5 below 1, counts as equal.

    References
    ----------
    derived, decision on words for status
    """
    if isinstance(value, Unknown) or isinstance(limit, Unknown):
        return "not known"
    reserve = value - limit if operator == ">=" else limit - value
    return "holds" if reserve >= -TOLERANCE * max(1.0, abs(value), abs(limit)) else "short"


def slack_of(value: float, limit: float, operator: Operator, scale: float) -> float:
    """Reserve of a requirement on its scale; negative where it falls short.

    Parameters
    ----------
    value, limit : float
        In the same unit. [-]
    operator : ">=" or "<="
        How the value must stand to the limit. [-]
    scale : float
        One whole unit of reserve, in the unit of the value. [-]

    Returns
    -------
    float
        Reserve over scale. [-]

    Notes
    -----
    slack = (value - limit) / scale, turned round for "<="    (derived)

    References
    ----------
    derived, decision on what binds
    """
    return (value - limit if operator == ">=" else limit - value) / scale
