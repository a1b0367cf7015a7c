# SPDX-License-Identifier: Apache-2.0
"""How much water the drains can bring, by each way of estimating it.

Two peaks come out of it. The peak for the share is a convention: the smaller of the full main and
the drainage coefficient, unless the job names another. The peak for the bypass is physical: what
the laterals can supply with water at the surface, as far as the main can carry it surcharged.
"""

import math
from typing import Literal

from tilewater.basis.errors import NoSolution, OutOfDomain
from tilewater.basis.roots import bracketed_root
from tilewater.hydraulics.pipes import pipe_flow_full_manning, pipe_slope_for_flow_full_manning
from tilewater.hydraulics.weirs import weir_flow_rectangular_francis, weir_head_rectangular_francis

FLOW_TOLERANCE = 1e-9
"""Closeness of solved flows. [m3/s]"""

PeakRule = Literal["smaller of main and coefficient", "main full", "coefficient", "measured"]
Control = Literal["main", "drainage coefficient", "laterals", "measured", "pump"]


def flux_from_flow(flow: float, area: float) -> float:
    """Depth of water per time that a flow is of an area.

    Parameters
    ----------
    flow : float
        Flow. [m3/s]
    area : float
        Drained area. [m2]

    Returns
    -------
    float
        Flux. [m/s]

    Raises
    ------
    OutOfDomain
        If the area is not above 0.

    Notes
    -----
    q = Q / A    (derived)

    References
    ----------
    derived, a flow over an area
    """
    if area <= 0:
        raise OutOfDomain(f"area is {area:.4g} m2. It must be above 0. Check the drained area.")
    return flow / area


def main_flow_surcharged_free(
    ground: float, distance: float, outlet_level: float, diameter: float, n: float
) -> float:
    """Flow that brings water in the main to the ground at a spot, boards out.

    Parameters
    ----------
    ground : float
        Ground elevation at the spot. [m]
    distance : float
        Length of main from its outlet to the spot. [m]
    outlet_level : float
        Water level at the outlet: its crown, or the ditch where that stands higher. [m]
    diameter : float
        Inside diameter of the main. [m]
    n : float
        Manning's roughness. [-]

    Returns
    -------
    float
        Flow; 0 where the outlet level is at the ground of the spot. [m3/s]

    Raises
    ------
    OutOfDomain
        If the spot does not lie up the main from the outlet.

    Notes
    -----
    Q = (1/n) A R^(2/3) S^(1/2), S = (ground - outlet level) / x    (manning1891)

    References
    ----------
    manning1891, full pipe on the grade line that is there
    """
    if distance <= 0:
        raise OutOfDomain(
            f"distance is {distance:.4g} m. The spot must lie up the main from its outlet. "
            "Check the station of the spot."
        )
    slope = (ground - outlet_level) / distance
    return float(pipe_flow_full_manning(diameter, slope, n=n)) if slope > 0 else 0.0


def main_flow_surcharged_boards(
    ground: float, distance: float, crest: float, crest_width: float, diameter: float, n: float
) -> float:
    """Flow that brings water in the main to the ground at a spot, over the bypass boards.

    Parameters
    ----------
    ground : float
        Ground elevation at the spot. [m]
    distance : float
        Length of main from the structure to the spot. [m]
    crest : float
        Elevation of the bypass crest. [m]
    crest_width : float
        Clear length of the crest. [m]
    diameter : float
        Inside diameter of the main. [m]
    n : float
        Manning's roughness. [-]

    Returns
    -------
    float
        Flow; 0 where the crest stands at or above the ground of the spot. [m3/s]

    Raises
    ------
    OutOfDomain
        If the spot lies below the structure.

    Notes
    -----
    crest + h(Q) + S_f(Q) x = ground    (derived)

    h by Francis, S_f by Manning for the full pipe.

    References
    ----------
    derived, weir head and friction of the full pipe summed
    """
    if distance < 0:
        raise OutOfDomain(
            f"distance is {distance:.4g} m. Boards raise no water below their structure. "
            "Check the station of the spot."
        )
    room = ground - crest
    if room <= 0:
        return 0.0
    over_boards = float(
        weir_flow_rectangular_francis(room, crest_width=crest_width, contractions=0)
    )
    if distance == 0:
        return over_boards

    def rise(flow: float) -> float:
        head = float(weir_head_rectangular_francis(flow, crest_width=crest_width))
        slope = float(pipe_slope_for_flow_full_manning(flow, diameter, n=n))
        return head + slope * distance - room

    in_pipe = float(pipe_flow_full_manning(diameter, room / distance, n=n))
    return bracketed_root(rise, 0.0, min(in_pipe, over_boards), (), FLOW_TOLERANCE)


def least_of(**flows: float) -> float:
    """Smallest of several values.

    Parameters
    ----------
    **flows : float
        The values, all in one unit. [m3/s]

    Returns
    -------
    float
        The smallest. [m3/s]

    Notes
    -----
    Q = min(Q_i)    (derived)

    References
    ----------
    derived, what can pass a row of limits
    """
    return min(flows.values())


def largest_of(**flows: float) -> float:
    """Largest of several values.

    Parameters
    ----------
    **flows : float
        The values, all in one unit. [m3/s]

    Returns
    -------
    float
        The largest. [m3/s]

    Notes
    -----
    Q = max(Q_i)    (derived)

    References
    ----------
    derived, what was measured has passed, whatever a formula says
    """
    return max(flows.values())


def peak_for_share(rule: PeakRule, **candidates: float) -> float:
    """Peak of the drainage system that shares are counted against.

    Parameters
    ----------
    rule : str
        "smaller of main and coefficient", "main full", "coefficient" or "measured". [-]
    **candidates : float
        Those of `main_full`, `coefficient`, `measured` and `pump` that the job has; a pump caps
        whatever the rule gives. [m3/s]

    Returns
    -------
    float
        Peak. [m3/s]

    Raises
    ------
    NoSolution
        If the rule names a flow that the job does not have.

    Notes
    -----
    Q_peak = min(Q_main full, DC A), and no more than the pump lifts    (practice)

    References
    ----------
    practice, the smaller of full main and coefficient; states differ
    """
    wanted = {
        "smaller of main and coefficient": ("main_full", "coefficient"),
        "main full": ("main_full",),
        "coefficient": ("coefficient",),
        "measured": ("measured",),
    }[rule]
    missing = [name for name in wanted if name not in candidates]
    if missing:
        raise NoSolution(
            f"The peak is to be '{rule}' and the job has no flow '{missing[0]}'. "
            "Give it, or choose another rule under criteria.peak_for_share."
        )
    peak = min(candidates[name] for name in wanted)
    return min(peak, candidates.get("pump", math.inf))


def flow_control(**candidates: float) -> Control:
    """What limits the flow of the drainage system.

    Parameters
    ----------
    **candidates : float
        Those of `main_full`, `coefficient`, `laterals` and `pump` that the job has. [m3/s]

    Returns
    -------
    str
        "main", "drainage coefficient", "laterals" or "pump". [-]

    Notes
    -----
    control = argmin of the candidates    (derived)

    References
    ----------
    derived, the least of what the parts of the system can pass
    """
    words: dict[str, Control] = {
        "main_full": "main",
        "coefficient": "drainage coefficient",
        "laterals": "laterals",
        "pump": "pump",
    }
    return words[min(words.keys() & candidates.keys(), key=lambda name: candidates[name])]


def annual_volume(annual_depth: float, area: float) -> float:
    """Volume of water that leaves the drains in a mean year.

    Parameters
    ----------
    annual_depth : float
        Drainage of a mean year. [m]
    area : float
        Drained area. [m2]

    Returns
    -------
    float
        Volume. [m3]

    Notes
    -----
    V = D A    (derived)

    References
    ----------
    derived, a depth over an area
    """
    return annual_depth * area


def mean_flow_on_flow_days(volume: float, flow_days: float) -> float:
    """Mean flow of the days on which the drains flow.

    Parameters
    ----------
    volume : float
        Volume of a mean year. [m3]
    flow_days : float
        Days with flow in a mean year. [days]

    Returns
    -------
    float
        Flow. [m3/s]

    Raises
    ------
    OutOfDomain
        If there are no flow days.

    Notes
    -----
    Q = V / (86400 d)    (derived)

    References
    ----------
    derived, a volume over a time
    """
    if flow_days <= 0:
        raise OutOfDomain(
            f"flow_days is {flow_days:.4g} days. It must be above 0. Give the days with flow."
        )
    return volume / (86400.0 * flow_days)


def treated_share_exponential(capacity: float, mean_flow: float) -> float:
    """Share of the water within a capacity if daily flows were exponentially distributed.

    A screening figure: it satisfies no criterion and is replaced by a series of flows.

    Parameters
    ----------
    capacity : float
        Flow that the practice takes. [m3/s]
    mean_flow : float
        Mean flow on flow days. [m3/s]

    Returns
    -------
    float
        Share of the volume. [-]

    Raises
    ------
    OutOfDomain
        If there is no flow to share.

    Notes
    -----
    f = 1 - exp(-c / m)    (derived)

    References
    ----------
    derived, mean of min(Q, c) of an exponential distribution
    """
    if mean_flow <= 0:
        raise OutOfDomain(
            f"mean_flow is {mean_flow:.4g} m3/s. It must be above 0. "
            "Give the drainage of a mean year."
        )
    return -math.expm1(-max(capacity, 0.0) / mean_flow)
