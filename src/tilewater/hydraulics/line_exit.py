# SPDX-License-Identifier: Apache-2.0
"""What a metre of distribution line gives to the soil, and the head it loses at the pipe.

Heads count from the top of the restrictive layer. The pipe along its length is in
`distribution_line`.
"""

import math
from dataclasses import dataclass

from tilewater.basis.domain import refuse, require_not_negative, require_positive
from tilewater.hydraulics._exit_flow import exit_flow

ADVICE = "Count heads from the top of the restrictive layer"


@dataclass(frozen=True)
class LineSoil:
    """The soil that a distribution line feeds.

    Attributes
    ----------
    width : float
        Distance from line to stream. [m]
    conductivity : float
        Lateral saturated conductivity. [m/s]
    exit_resistance : float
        Head that a flow per length loses at the pipe. [s/m]
    """

    width: float
    conductivity: float
    exit_resistance: float


def line_exit_resistance_ernst(
    *, conductivity: float, thickness: float, wetted_perimeter: float, sides: int = 1
) -> float:
    """Head that a line loses where its water spreads into the soil, per flow per length.

    Parameters
    ----------
    conductivity : float
        Saturated conductivity of the soil around the pipe. [m/s]
    thickness : float
        Thickness of the layer that carries the flow. [m]
    wetted_perimeter : float
        Wetted perimeter of pipe, envelope or trench. [m]
    sides : int
        1 where all water goes to the stream, 2 where as much goes to the field. [-]

    Returns
    -------
    float
        Resistance. [s/m]

    Raises
    ------
    OutOfDomain
        If a value is not above zero or there are other than one or two sides.

    Notes
    -----
    r = (2 / sides) ln(D / u) / (pi K), none where u is larger than D    (ernst1962)

    To leave this loss out overstates what a buffer takes (abdalaal2023).

    References
    ----------
    ernst1962, radial resistance
    abdalaal2023, abstract
    """
    require_positive("conductivity", conductivity, "m/s", "Give it in m/s")
    require_positive("thickness", thickness, "m", ADVICE)
    require_positive("wetted_perimeter", wetted_perimeter, "m", "Give that of the envelope")
    if sides not in (1, 2):
        raise refuse("sides", sides, "", "Water leaves to 1 side or to 2", "Use 1 for a buffer")
    spread = max(0.0, math.log(thickness / wetted_perimeter))
    return (2.0 / sides) * spread / (math.pi * conductivity)


def wetted_perimeter_of_pipe(effective_radius: float) -> float:
    """Perimeter by which a perforated pipe in soil lets its water out.

    Parameters
    ----------
    effective_radius : float
        Radius of a pipe that is open all around and loses as much head. [m]

    Returns
    -------
    float
        Perimeter. [m]

    Raises
    ------
    OutOfDomain
        If the radius is not above zero.

    Notes
    -----
    u = 2 pi re    (skaggs1978)

    References
    ----------
    skaggs1978, effective radius
    """
    require_positive("effective_radius", effective_radius, "m", "Use 5.1 mm for bare 4-in tubing")
    return 2.0 * math.pi * effective_radius


def wetted_perimeter_of_trench(trench_width: float, envelope_depth: float) -> float:
    """Perimeter by which a gravel envelope lets water into the soil.

    Parameters
    ----------
    trench_width : float
        Width of the trench. [m]
    envelope_depth : float
        Water in the envelope above the bottom of the trench. [m]

    Returns
    -------
    float
        Bottom and two sides. [m]

    Raises
    ------
    OutOfDomain
        If the width is not above zero or the depth negative.

    Notes
    -----
    u = b + 2 d    (ernst1962)

    References
    ----------
    ernst1962, radial resistance
    """
    require_positive("trench_width", trench_width, "m", "Give the width of the bucket")
    require_not_negative("envelope_depth", envelope_depth, "m", "Count from the trench bottom")
    return trench_width + 2.0 * envelope_depth


def flow_per_length_with_exit(head_pipe: float, head_stream: float, *, soil: LineSoil) -> float:
    """Flow that a metre of line gives to the stream, the loss at the pipe taken off.

    Parameters
    ----------
    head_pipe : float
        Head in the pipe above the restrictive layer. [m]
    head_stream : float
        Stage of the stream above the restrictive layer. [m]
    soil : LineSoil
        Width, conductivity and resistance. [-]

    Returns
    -------
    float
        Flow per length, negative where the stream stands higher. [m2/s]

    Raises
    ------
    OutOfDomain
        If a head is negative.

    Notes
    -----
    q = K ((h - r q)^2 - h2^2) / (2 W), the root that is 0 where the heads are equal    (derived)

    References
    ----------
    dupuit1863, level flow under a falling surface
    derived, the loss at the pipe in a row with it
    """
    require_not_negative("head_pipe", head_pipe, "m", ADVICE)
    require_not_negative("head_stream", head_stream, "m", ADVICE)
    slope = soil.conductivity / (2.0 * soil.width)
    return exit_flow(head_pipe, head_stream, slope, soil.exit_resistance)
