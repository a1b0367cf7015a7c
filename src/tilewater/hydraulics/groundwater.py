# SPDX-License-Identifier: Apache-2.0
"""Ground water on its way to the ditch: through a buffer, and its head losses at the pipe.

Heads of a buffer count from the top of the restrictive layer. Flow to parallel drains is in
`drains`; every name about ground water is found here. Nitrate and plants are not its business.
"""

import math

import numpy as np

from tilewater.basis.domain import Number, require_not_negative, require_positive
from tilewater.basis.errors import NoSolution
from tilewater.hydraulics.drains import (
    drain_flux_hooghoudt,
    drain_flux_kirkham_ponded,
    equivalent_depth_moody,
    equivalent_depth_range,
    equivalent_depth_series,
    water_height_hooghoudt,
)

__all__ = [
    "buffer_flow_dupuit",
    "buffer_surface_head_dupuit",
    "buffer_travel_time_dupuit",
    "buffer_travel_time_mceachran",
    "drain_flux_hooghoudt",
    "drain_flux_kirkham_ponded",
    "equivalent_depth_moody",
    "equivalent_depth_range",
    "equivalent_depth_series",
    "friction_share_christiansen",
    "radial_head_loss_ernst",
    "water_height_hooghoudt",
]

TRAVEL_TIME_FACTOR = 1.11
"""Travel time over that of the mean linear velocity (mceachran2023). [-]"""


def buffer_flow_dupuit(
    head_line: Number, head_stream: Number, *, width: Number, length: Number, conductivity: Number
) -> Number:
    """Flow from a distribution line through a buffer to the stream.

    Exact for a vertical face with or without a seepage face. The losses at the pipe come before.

    Parameters
    ----------
    head_line : float or array
        Head at the distribution line above the restrictive layer. [m]
    head_stream : float or array
        Stage of the stream above the restrictive layer. [m]
    width : float or array
        Distance from line to stream. [m]
    length : float or array
        Length of the distribution line. [m]
    conductivity : float or array
        Lateral saturated conductivity of the buffer. [m/s]

    Returns
    -------
    float or array
        Flow, negative where the stream stands higher. [m3/s]

    Raises
    ------
    OutOfDomain
        If a head is negative, or another value not above zero.

    Notes
    -----
    Q = L K (h1^2 - h2^2) / (2 W)    (dupuit1863)

    References
    ----------
    dupuit1863, level flow under a falling surface
    bear1972, flow through a dam with vertical faces
    """
    _require_buffer(head_line, head_stream, width, conductivity)
    require_positive("length", length, "m", "Give the length of the distribution line")
    return length * conductivity * (head_line**2 - head_stream**2) / (2.0 * width)


def buffer_surface_head_dupuit(
    distance: Number, head_line: Number, head_stream: Number, *, width: Number
) -> Number:
    """Water table in a buffer at a distance from the distribution line.

    Parameters
    ----------
    distance : float or array
        Distance from the line toward the stream. [m]
    head_line : float or array
        Head at the distribution line above the restrictive layer. [m]
    head_stream : float or array
        Stage of the stream above the restrictive layer. [m]
    width : float or array
        Distance from line to stream. [m]

    Returns
    -------
    float or array
        Water table above the restrictive layer. [m]

    Raises
    ------
    OutOfDomain
        If a head is negative, the width not above zero or the distance outside the buffer.

    Notes
    -----
    h^2 = h1^2 - (h1^2 - h2^2) x / W    (dupuit1863)

    Lower than the truth near the stream, where a seepage face forms.

    References
    ----------
    dupuit1863, level flow under a falling surface
    """
    _require_buffer(head_line, head_stream, width, 1.0)
    require_not_negative("distance", distance, "m", "Count from the line toward the stream")
    require_not_negative(
        "width - distance", np.subtract(width, distance)[()], "m", "Stay within the buffer"
    )
    share = np.divide(distance, width)
    return np.sqrt(head_line**2 * (1.0 - share) + head_stream**2 * share)[()]


def buffer_travel_time_dupuit(
    head_line: Number, head_stream: Number, *, width: Number, conductivity: Number, porosity: Number
) -> Number:
    """Travel time of water from the line to the stream, by the exact integral.

    Parameters
    ----------
    head_line : float or array
        Head at the distribution line above the restrictive layer. [m]
    head_stream : float or array
        Stage of the stream above the restrictive layer. [m]
    width : float or array
        Distance from line to stream. [m]
    conductivity : float or array
        Lateral saturated conductivity of the buffer. [m/s]
    porosity : float or array
        Effective porosity of the buffer. [-]

    Returns
    -------
    float or array
        Travel time. [s]

    Raises
    ------
    OutOfDomain
        If a head is negative, or another value not above zero.
    NoSolution
        If the line stands no higher than the stream: the water never arrives.

    Notes
    -----
    t = (4/3) n W^2 (h1^3 - h2^3) / (K (h1^2 - h2^2)^2)    (dupuit1863)

    Porosity times the integral of h dx, over the flow per length.

    References
    ----------
    dupuit1863, level flow under a falling surface
    bear1972, travel time along a stream line
    """
    _require_buffer(head_line, head_stream, width, conductivity)
    require_positive("porosity", porosity, "", "Give 35 percent as 0.35")
    fall = _fall(head_line, head_stream)
    both = np.add(head_line, head_stream)
    squares = head_line**2 + head_line * head_stream + head_stream**2
    top = 4.0 * porosity * width**2 * squares
    return np.divide(top, 3.0 * conductivity * fall * both**2)[()]


def buffer_travel_time_mceachran(
    head_line: Number,
    head_stream: Number,
    *,
    width: Number,
    conductivity: Number,
    porosity: Number,
    factor: Number = TRAVEL_TIME_FACTOR,
) -> Number:
    """Travel time of water from the line to the stream, by the mean linear velocity.

    The factor stands for the flow near pipe and stream, which is not level. It belongs to this
    form; the exact integral of `buffer_travel_time_dupuit` takes none.

    Parameters
    ----------
    head_line : float or array
        Head at the distribution line above the restrictive layer. [m]
    head_stream : float or array
        Stage of the stream above the restrictive layer. [m]
    width : float or array
        Distance from line to stream. [m]
    conductivity : float or array
        Lateral saturated conductivity of the buffer. [m/s]
    porosity : float or array
        Effective porosity of the buffer. [-]
    factor : float or array
        Travel time over that of the mean linear velocity, 1 for the bare form. [-]

    Returns
    -------
    float or array
        Travel time. [s]

    Raises
    ------
    OutOfDomain
        If a head is negative, or another value not above zero.
    NoSolution
        If the line stands no higher than the stream: the water never arrives.

    Notes
    -----
    t = 1.11 W / v, v = K (h1 - h2) / (n W)    (mceachran2023)

    References
    ----------
    mceachran2023, abstract
    """
    _require_buffer(head_line, head_stream, width, conductivity)
    require_positive("porosity", porosity, "", "Give 35 percent as 0.35")
    require_positive("factor", factor, "", "Use 1.11, or 1 for the bare form")
    fall = _fall(head_line, head_stream)
    return factor * porosity * width**2 / (conductivity * fall)


def radial_head_loss_ernst(
    flow_per_length: Number,
    *,
    conductivity: Number,
    thickness: Number,
    wetted_perimeter: Number,
    sides: int = 2,
) -> Number:
    """Head lost where flow spreads from a pipe into the soil around it.

    Parameters
    ----------
    flow_per_length : float or array
        Flow per length of pipe. [m2/s]
    conductivity : float or array
        Saturated conductivity of the soil around the pipe. [m/s]
    thickness : float or array
        Thickness of the layer that carries the flow. [m]
    wetted_perimeter : float or array
        Wetted perimeter of pipe, envelope or trench. [m]
    sides : int
        2 where water leaves to both sides, 1 where all of it goes to one. [-]

    Returns
    -------
    float or array
        Head lost. [m]

    Raises
    ------
    OutOfDomain
        If a value is not above zero, the perimeter larger than the thickness, or there are other
        than one or two sides.

    Notes
    -----
    dh = q ln(D / u) / (pi K), twice that for flow to one side    (ernst1962)

    Ernst's geometry factor is taken as 1, for one soil.

    References
    ----------
    ernst1962, radial resistance
    """
    require_not_negative("flow_per_length", flow_per_length, "m2/s", "Give the flow outward")
    require_positive("conductivity", conductivity, "m/s", "Give it in m/s")
    require_positive("wetted_perimeter", wetted_perimeter, "m", "Give that of the envelope")
    require_not_negative(
        "thickness - wetted_perimeter",
        np.subtract(thickness, wetted_perimeter)[()],
        "m",
        "A layer thinner than the perimeter has no radial flow; leave this loss out",
    )
    require_positive("sides", sides, "", "Use 1 or 2")
    require_not_negative("2 - sides", 2 - sides, "", "Use 1 or 2")
    resistance = np.log(np.divide(thickness, wetted_perimeter)) / (math.pi * conductivity)
    return np.multiply(flow_per_length * (2.0 / sides), resistance)[()]


def friction_share_christiansen(exponent: Number, *, outlets: Number = math.inf) -> Number:
    """Friction in a line that gives off its flow evenly, as a share of the full flow's friction.

    Parameters
    ----------
    exponent : float or array
        Power of the flow in the friction law, 2 for Manning. [-]
    outlets : float or array
        Number of outlets at equal distances; infinite for a perforated pipe. [-]

    Returns
    -------
    float or array
        Share of the friction that the whole flow would lose over the whole length. [-]

    Raises
    ------
    OutOfDomain
        If the exponent or the number of outlets is below one.

    Notes
    -----
    F = 1 / (m + 1) + 1 / (2 N) + sqrt(m - 1) / (6 N^2)    (christiansen1942)

    The first outlet lies one distance from the inlet.

    References
    ----------
    christiansen1942, friction in lines of many outlets
    """
    require_not_negative("exponent - 1", exponent - 1.0, "", "Use 2 for Manning's law")
    require_not_negative("outlets - 1", outlets - 1.0, "", "A line has at least one outlet")
    many = np.divide(1.0, exponent + 1.0)
    few = np.divide(1.0, 2.0 * outlets) + np.divide(np.sqrt(exponent - 1.0), 6.0 * outlets**2)
    share: Number = np.add(many, few)[()]
    return share


def _require_buffer(
    head_line: Number, head_stream: Number, width: Number, conductivity: Number
) -> None:
    advice = "Count heads from the top of the restrictive layer"
    require_not_negative("head_line", head_line, "m", advice)
    require_not_negative("head_stream", head_stream, "m", advice)
    require_positive("width", width, "m", "Give the distance from line to stream")
    require_positive("conductivity", conductivity, "m/s", "Give it in m/s")


def _fall(head_line: Number, head_stream: Number) -> Number:
    """Fall from line to stream; without one no water arrives."""
    fall = np.subtract(head_line, head_stream)[()]
    if not np.all(fall > 0.0):
        raise NoSolution(
            f"The stream stands {-float(np.min(fall)):g} m above the line. No water reaches the "
            f"stream. Raise the head at the line or take a lower stage."
        )
    return fall
