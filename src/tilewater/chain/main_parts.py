# SPDX-License-Identifier: Apache-2.0
"""Small formulas about a main: roughness by its material, levels, grades and distances."""

from tilewater.basis.errors import OutOfDomain
from tilewater.hydraulics.pipes import (
    pipe_area_full,
    pipe_roughness_manning,
    pipe_velocity_limit,
)

MATERIALS = {
    "concrete": "concrete-tile",
    "clay": "clay-tile",
    "corrugated plastic": "corrugated-plastic",
    "smooth plastic": "dual-wall-plastic",
}


def main_roughness(material: str, diameter: float) -> float:
    """Manning roughness of the main by its material.

    Parameters
    ----------
    material : str
        "concrete", "clay", "corrugated plastic" or "smooth plastic". [-]
    diameter : float
        Inside diameter. [m]

    Returns
    -------
    float
        Manning roughness of a pipe in fair condition. [-]

    Notes
    -----
    n from the table of `pipe_roughness_manning`    (efh14)

    References
    ----------
    efh14, roughness of drains, from memory
    """
    return pipe_roughness_manning(MATERIALS[material], diameter)


def outlet_level(invert: float, diameter: float) -> float:
    """Water level at a free outlet of a pipe that runs full.

    Parameters
    ----------
    invert : float
        Invert of the outlet. [m]
    diameter : float
        Inside diameter. [m]

    Returns
    -------
    float
        Elevation of the crown. [m]

    Notes
    -----
    level = invert + D    (practice)

    References
    ----------
    practice, the grade line of a full pipe leaves at its crown
    """
    return invert + diameter


def station_difference(station: float, start: float) -> float:
    """Length of main between two stations.

    Parameters
    ----------
    station, start : float
        Stations along the main, counted up from the ditch. [m]

    Returns
    -------
    float
        Distance. [m]

    Notes
    -----
    x = station - start    (derived)

    References
    ----------
    derived, a difference
    """
    return station - start


def segment_grade(upper: float, lower: float, station_up: float, station_down: float) -> float:
    """Grade of a segment of the main by its inverts.

    Parameters
    ----------
    upper, lower : float
        Inverts at its upper and its lower end. [m]
    station_up, station_down : float
        Stations of these ends. [m]

    Returns
    -------
    float
        Grade, negative where it falls the wrong way. [-]

    Raises
    ------
    OutOfDomain
        If its upper end is no farther from the outlet than its lower end.

    Notes
    -----
    S = (invert up - invert down) / (station up - station down)    (derived)

    References
    ----------
    derived, a fall over a length
    """
    length = station_up - station_down
    if length <= 0:
        raise OutOfDomain(
            f"length of the segment is {length:.4g} m. Its upper end lies farther from the outlet "
            "than its lower end. Check from and to."
        )
    return (upper - lower) / length


def invert_on_grade(invert: float, slope: float, station: float, start: float) -> float:
    """Invert of the main at a station, on the grade stated for it.

    Parameters
    ----------
    invert : float
        Invert where the grade begins. [m]
    slope : float
        Grade. [-]
    station, start : float
        The place, and where the grade begins. [m]

    Returns
    -------
    float
        Invert. [m]

    Notes
    -----
    invert + S (station - start)    (derived)

    References
    ----------
    derived, a straight line
    """
    return invert + slope * (station - start)


def velocity_full(flow: float, diameter: float) -> float:
    """Velocity in a segment that runs full by its own grade.

    Parameters
    ----------
    flow : float
        What it carries full. [m3/s]
    diameter : float
        Inside diameter. [m]

    Returns
    -------
    float
        Mean velocity. [m/s]

    Notes
    -----
    V = Q / (pi D^2 / 4)    (derived)

    References
    ----------
    derived, a flow over an area
    """
    return flow / float(pipe_area_full(diameter))


def velocity_limit_by_soil(soil: str) -> float:
    """Greatest velocity in a drain without protection, by the soil around it.

    Parameters
    ----------
    soil : str
        Soil in words, "silty clay loam". [-]

    Returns
    -------
    float
        Velocity. [m/s]

    Notes
    -----
    V from the table of `pipe_velocity_limit`    (nrcs606)

    References
    ----------
    nrcs606, maximum velocity, from memory
    """
    return pipe_velocity_limit(soil.replace(" ", "-"))


def level_over_crest(crest: float, head: float) -> float:
    """Water level of a head over a crest.

    Parameters
    ----------
    crest : float
        Elevation of the crest. [m]
    head : float
        Head over it. [m]

    Returns
    -------
    float
        Level. [m]

    Notes
    -----
    level = crest + h    (derived)

    References
    ----------
    derived, a sum
    """
    return crest + head
