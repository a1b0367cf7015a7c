# SPDX-License-Identifier: Apache-2.0
"""The soil of a buffer: conductivity by how it was found, its range, and its organic matter."""

import math

from tilewater.basis.domain import require_not_negative, require_positive
from tilewater.basis.errors import NoSolution
from tilewater.hydraulics.hole_tests import geometric_mean
from tilewater.hydraulics.layered_ground import Layers, conductivity_layered

MATTER_PER_CARBON = 1.724
"""Organic matter over organic carbon (vanbemmelen). [-]"""
FEW_HOLES_FACTOR = 2.0
"""How far a mean of one or two holes may be off, either way; judgement. [-]"""
SURVEY_FACTOR = 4.0
"""How far a value of a soil survey may be off, either way; judgement. [-]"""
NINE_TENTHS = 1.645
"""Normal deviate of the 5 and 95 percent quantiles. [-]"""


def mean_of_holes(**holes: float) -> float:
    """Conductivity from several holes tested the same way.

    Parameters
    ----------
    **holes : float
        Conductivity of each. [m/s]

    Returns
    -------
    float
        Geometric mean. [m/s]

    Notes
    -----
    K = exp(mean of ln K_i)    (practice)

    References
    ----------
    practice, conductivities scatter by factors
    """
    return geometric_mean(*holes.values())


def factor_of_holes(**holes: float) -> float:
    """How far the mean of holes may be off, as a factor up or down.

    Parameters
    ----------
    **holes : float
        Conductivity of each. [m/s]

    Returns
    -------
    float
        Factor of the 5 and 95 percent quantiles, at least 1.2. [-]

    Notes
    -----
    f = exp(1.645 s / sqrt(n)), s that of ln K; 2 for one or two holes    (derived)

    It is that of the mean, not of the ground between the holes.

    References
    ----------
    derived, standard error of a mean of logarithms
    practice, one or two holes
    """
    logs = [math.log(value) for value in holes.values()]
    if len(logs) < 3:
        return FEW_HOLES_FACTOR
    mean = sum(logs) / len(logs)
    spread = math.sqrt(sum((each - mean) ** 2 for each in logs) / (len(logs) - 1))
    return max(1.2, math.exp(NINE_TENTHS * spread / math.sqrt(len(logs))))


def survey_factor(conductivity: float) -> float:
    """How far a conductivity of the soil survey may be off, as a factor up or down.

    Parameters
    ----------
    conductivity : float
        Of the survey. [m/s]

    Returns
    -------
    float
        Factor. [-]

    Notes
    -----
    f = 4, our judgement; drained fields were seen to have ten times that of cores    (practice)

    References
    ----------
    practice, map units are no sites
    """
    require_positive("conductivity", conductivity, "m/s", "Give it in m/s")
    return SURVEY_FACTOR


def lower_by(conductivity: float, factor: float) -> float:
    """Low end of a value that may be off by a factor.

    Parameters
    ----------
    conductivity : float
        Conductivity. [m/s]
    factor : float
        How far it may be off. [-]

    Returns
    -------
    float
        Low end. [m/s]

    Notes
    -----
    low = K / f    (derived)

    References
    ----------
    derived, a range by a factor
    """
    return conductivity / factor


def higher_by(conductivity: float, factor: float) -> float:
    """High end of a value that may be off by a factor.

    Parameters
    ----------
    conductivity : float
        Conductivity. [m/s]
    factor : float
        How far it may be off. [-]

    Returns
    -------
    float
        High end. [m/s]

    Notes
    -----
    high = K f    (derived)

    References
    ----------
    derived, a range by a factor
    """
    return conductivity * factor


def layers_over_barrier(barrier: float, **layers: tuple[float, float]) -> Layers:
    """Level layers of the strip, from elevations.

    Parameters
    ----------
    barrier : float
        Top of the restrictive layer. [m]
    **layers : tuple of (float, float)
        Top of each layer and its conductivity. [m]

    Returns
    -------
    Layers

    Notes
    -----
    top = elevation - barrier, from the lowest up    (derived)

    References
    ----------
    derived, a difference
    """
    rising = sorted(layers.values())
    return Layers(tuple(top - barrier for top, _ in rising), tuple(k for _, k in rising))


def pair_of(layer_top: float, conductivity: float) -> tuple[float, float]:
    """Top and conductivity of a layer as one value.

    Parameters
    ----------
    layer_top : float
        Top of the layer. [m]
    conductivity : float
        Its conductivity. [m/s]

    Returns
    -------
    tuple of (float, float)
        Both. [-]

    References
    ----------
    derived, a pair
    """
    return layer_top, conductivity


def conductivity_of_layers(head_line: float, layers: Layers) -> float:
    """Conductivity of one soil that carries as much as the layers do at the line.

    Parameters
    ----------
    head_line : float
        Head at the line above the restrictive layer. [m]
    layers : Layers
        Soil from the restrictive layer up. [-]

    Returns
    -------
    float
        Mean conductivity over the wet thickness. [m/s]

    Notes
    -----
    K = sum(K_i d_i) / sum(d_i)    (bear1972)

    References
    ----------
    bear1972, flow along layers
    """
    return conductivity_layered(head_line, layers=layers)


def organic_matter_of_carbon(organic_carbon: float) -> float:
    """Organic matter from organic carbon.

    Parameters
    ----------
    organic_carbon : float
        Share of the dry soil. [-]

    Returns
    -------
    float
        Share of the dry soil. [-]

    Raises
    ------
    OutOfDomain
        If the carbon is negative.

    Notes
    -----
    OM = 1.724 OC    (vanbemmelen)

    References
    ----------
    vanbemmelen, from memory
    """
    require_not_negative("organic_carbon", organic_carbon, "", "Give 1.1 percent as 0.011")
    return MATTER_PER_CARBON * organic_carbon


def head_above_barrier(elevation: float, barrier: float) -> float:
    """Head of a water level above the restrictive layer.

    Parameters
    ----------
    elevation : float
        Water level. [m]
    barrier : float
        Top of the restrictive layer. [m]

    Returns
    -------
    float
        Head; 0 for water that stands below the layer. [m]

    Notes
    -----
    h = max(0, level - barrier)    (derived)

    References
    ----------
    derived, a difference
    """
    return max(0.0, elevation - barrier)


def head_of_line(crest: float, barrier: float) -> float:
    """Head at the line when the water stands at the bypass crest.

    Parameters
    ----------
    crest : float
        Elevation of the bypass crest. [m]
    barrier : float
        Top of the restrictive layer. [m]

    Returns
    -------
    float
        Head. [m]

    Raises
    ------
    NoSolution
        If the crest is no higher than the restrictive layer.

    Notes
    -----
    h1 = crest - barrier    (derived)

    References
    ----------
    derived, a difference
    """
    if crest <= barrier:
        raise NoSolution(
            f"The bypass crest lies {barrier - crest:.3g} m under the restrictive layer. No water "
            "stands in the soil at the line. Raise the boards or check the boring."
        )
    return crest - barrier
