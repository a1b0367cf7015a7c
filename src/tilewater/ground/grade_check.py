# SPDX-License-Identifier: Apache-2.0
"""A laid pipe from end to end: its shots in order, and its grade over a length.

Between two shots of a perfect pipe noise alone makes a grade that is steeper or flatter than
designed, the more the nearer they are. So a grade is taken over a length at which noise cannot hide
it, and never over less than the job asks for where the pipe is that long.
"""

from dataclasses import dataclass
from math import sqrt

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.unknown import Unknown
from tilewater.ground.tolerances import Status

Shot = tuple[float, float]
HAIR = 1e-9
"""Lengths nearer to each other are one. [m]"""
TOO_NEAR = "no two shots lie so far apart that their grade can be told from noise"
MEASURE = "shoot both ends of the pipe with a level or a laser"


@dataclass(frozen=True)
class LaidPipe:
    """Shots of a pipe in the order of their distance from its lower end. [m]

    Attributes
    ----------
    along, inverts : tuple of float
    """

    along: tuple[float, ...]
    inverts: tuple[float, ...]


def laid_pipe(**shots: Shot) -> LaidPipe:
    """A pipe from its shots; shots at one distance count as one, with their mean.

    Parameters
    ----------
    **shots : tuple of (along, invert)
        Distance from the lower end and invert of each shot. [m]

    Returns
    -------
    LaidPipe
        In the order of their distance. [m]

    Notes
    -----
    z(x) = mean of the inverts shot at x    (derived)

    References
    ----------
    derived, an order and a mean
    """
    groups: list[tuple[float, list[float]]] = []
    for along, invert in sorted(shots.values()):
        if groups and along - groups[-1][0] <= HAIR:
            groups[-1][1].append(invert)
        else:
            groups.append((along, [invert]))
    return LaidPipe(
        tuple(along for along, _ in groups),
        tuple(sum(inverts) / len(inverts) for _, inverts in groups),
    )


def comparisons_of(pipe: LaidPipe) -> float:
    """How many comparisons are made of the shots of one pipe.

    Parameters
    ----------
    pipe : LaidPipe
        As shot. [m]

    Returns
    -------
    float
        Each shot against the design, and each pair of shots. [-]

    Notes
    -----
    m = n + n (n - 1) / 2    (derived)

    References
    ----------
    derived, pairs of n
    """
    count = len(pipe.along)
    return count + count * (count - 1) / 2


def design_invert(along: float, *, lower: float, upper: float, run: float) -> float:
    """Invert of a pipe of one grade at a distance from its lower end.

    Parameters
    ----------
    along : float
        Distance from the lower end. [m]
    lower, upper : float
        Designed inverts of its ends. [m]
    run : float
        Length of the pipe. [m]

    Returns
    -------
    float
        Designed invert there. [m]

    Raises
    ------
    OutOfDomain
        If the pipe has no length.

    Notes
    -----
    z = z_low + (z_up - z_low) x / L    (derived)

    References
    ----------
    derived, a straight line
    """
    return lower + grade_of_ends(lower=lower, upper=upper, run=run) * along


def grade_of_ends(*, lower: float, upper: float, run: float) -> float:
    """Grade of a pipe between its ends.

    Parameters
    ----------
    lower, upper : float
        Inverts of its ends. [m]
    run : float
        Length between them. [m]

    Returns
    -------
    float
        Fall over length towards the lower end. [-]

    Raises
    ------
    OutOfDomain
        If the pipe has no length.

    Notes
    -----
    S = (z_up - z_low) / L    (derived)

    References
    ----------
    derived, a slope
    """
    if not run > 0.0:
        raise OutOfDomain(f"run is {run:g} m. A pipe has a length. Correct its points.")
    return (upper - lower) / run


def local_grade_length(
    *,
    noise: float,
    factor: float,
    designed_grade: float,
    grade_least: float,
    at_least: float,
    run: float,
) -> float:
    """Length over which a local grade can be told from noise.

    Parameters
    ----------
    noise : float
        One standard deviation of a shot. [m]
    factor : float
        Standard deviations that noise alone may reach. [-]
    designed_grade : float
        Designed grade. [-]
    grade_least : float
        Least local grade that is allowed. [-]
    at_least : float
        Length that the job asks for. [m]
    run : float
        Length of the pipe. [m]

    Returns
    -------
    float
        The longer of what is asked and what noise needs; of a pipe shorter than what is asked, what
        noise needs. [m]

    Raises
    ------
    OutOfDomain
        If the designed grade is not above the least.

    Notes
    -----
    L = k s sqrt(2) / (S - S_least)    (derived)

    The difference of two shots scatters by s sqrt(2). Over L it must fall k of these short of the
    designed fall before the local grade reaches the least: a perfect pipe does not.

    References
    ----------
    derived, the variance of a difference
    """
    if not designed_grade > grade_least:
        raise OutOfDomain(
            f"designed_grade is {designed_grade:g} -. It lies above the least local grade of "
            f"{grade_least:g}. Lower grade_least in [as_built.tolerance]."
        )
    needed = factor * noise * sqrt(2.0) / (designed_grade - grade_least)
    return needed if run < at_least else max(at_least, needed)


@dataclass(frozen=True)
class Reach:
    """A reach of a pipe between two shots, and its grade. [m, -]"""

    low: float
    high: float
    grade: float


def flattest_reach(pipe: LaidPipe, over: float) -> Reach | Unknown:
    """The reach of the least grade, from each shot up to the first that lies far enough.

    Parameters
    ----------
    pipe : LaidPipe
        As shot. [m]
    over : float
        Length of a reach at least. [m]

    Returns
    -------
    Reach or Unknown
        Where it lies and its grade; not known where no two shots lie so far apart. [-]

    Notes
    -----
    S = (z_j - z_i) / (x_j - x_i) with the first x_j >= x_i + L    (derived)

    References
    ----------
    derived, a slope
    """
    found: Reach | None = None
    for place, (low, invert) in enumerate(zip(pipe.along, pipe.inverts, strict=True)):
        for high, other in zip(pipe.along[place + 1 :], pipe.inverts[place + 1 :], strict=True):
            if high - low >= over - HAIR:
                grade = (other - invert) / (high - low)
                if found is None or grade < found.grade:
                    found = Reach(low, high, grade)
                break
    return found or Unknown(TOO_NEAR, MEASURE)


def grade_of_reach(reach: Reach) -> float:
    """Grade of a reach.

    Parameters
    ----------
    reach : Reach
        Between two shots. [-]

    Returns
    -------
    float
        Its grade. [-]

    Notes
    -----
    S of the reach    (derived)

    References
    ----------
    derived, the value itself
    """
    return reach.grade


def grade_status(value: float, *, limit: float) -> Status:
    """Whether the flattest reach of a pipe has the least grade.

    Parameters
    ----------
    value : float
        Its grade. [-]
    limit : float
        Least local grade. [-]

    Returns
    -------
    "holds" or "short"
        The length of the reach was chosen so that noise cannot hide it. [-]

    Notes
    -----
    S >= S_least holds    (derived)

    References
    ----------
    derived, a value against a limit
    """
    return "holds" if value >= limit else "short"
