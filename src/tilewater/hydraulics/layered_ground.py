# SPDX-License-Identifier: Apache-2.0
"""Flow through a buffer whose soil lies in level layers, each with its own conductivity.

The forms of `groundwater` take one conductivity; these take any number and agree with them for
one. Heads count from the top of the restrictive layer. Water moves level, as there; the layers do
not slope and no flow crosses between them upright.
"""

import math
from dataclasses import dataclass

from tilewater.basis.domain import refuse, require_not_negative, require_positive
from tilewater.basis.errors import NoSolution

ADVICE = "Count heads from the top of the restrictive layer"


@dataclass(frozen=True)
class Layers:
    """Level layers of soil over a restrictive layer, from the lowest up.

    Attributes
    ----------
    tops : tuple of float
        Top of each layer above the restrictive layer, rising; the last reaches any height. [m]
    conductivities : tuple of float
        Lateral saturated conductivity of each. [m/s]
    """

    tops: tuple[float, ...]
    conductivities: tuple[float, ...]

    def __post_init__(self) -> None:
        if not self.tops or len(self.tops) != len(self.conductivities):
            raise refuse(
                "number of layers",
                float(len(self.tops)),
                "",
                "Each layer has a top and a conductivity",
                "Give both for each layer, from the lowest up",
            )
        for below, top in zip((0.0, *self.tops), self.tops, strict=False):
            require_positive("thickness of a layer", top - below, "m", "List them from below")
        for conductivity in self.conductivities:
            require_positive("conductivity", conductivity, "m/s", "Give it in m/s")

    def parts(self, head: float) -> tuple[tuple[float, float, float], ...]:
        """Floor, wetted top and conductivity of each layer that water stands in. [m, m, m/s]"""
        tops = (*self.tops[:-1], math.inf)
        floors = (0.0, *self.tops[:-1])
        return tuple(
            (floor, min(top, head), conductivity)
            for floor, top, conductivity in zip(floors, tops, self.conductivities, strict=True)
            if head > floor
        )


def transmissivity_layered(head: float, *, layers: Layers) -> float:
    """Conductivity times thickness, summed over the layers that water stands in.

    Parameters
    ----------
    head : float
        Water table above the restrictive layer. [m]
    layers : Layers
        Soil from the restrictive layer up. [-]

    Returns
    -------
    float
        Transmissivity. [m2/s]

    Raises
    ------
    OutOfDomain
        If the head is negative.

    Notes
    -----
    T = sum(K_i d_i)    (bear1972)

    References
    ----------
    bear1972, flow along layers
    """
    require_not_negative("head", head, "m", ADVICE)
    return sum(k * (top - floor) for floor, top, k in layers.parts(head))


def conductivity_layered(head: float, *, layers: Layers) -> float:
    """Mean lateral conductivity of the layers that water stands in.

    Parameters
    ----------
    head : float
        Water table above the restrictive layer. [m]
    layers : Layers
        Soil from the restrictive layer up. [-]

    Returns
    -------
    float
        Mean conductivity, by thickness. [m/s]

    Raises
    ------
    OutOfDomain
        If the head is not above zero.

    Notes
    -----
    K = sum(K_i d_i) / sum(d_i)    (bear1972)

    References
    ----------
    bear1972, flow along layers
    """
    require_positive("head", head, "m", ADVICE)
    return transmissivity_layered(head, layers=layers) / head


def buffer_flow_layered(
    head_line: float, head_stream: float, *, width: float, length: float, layers: Layers
) -> float:
    """Flow from a distribution line to the stream through level layers.

    Parameters
    ----------
    head_line : float
        Head at the distribution line above the restrictive layer. [m]
    head_stream : float
        Stage of the stream above the restrictive layer. [m]
    width : float
        Distance from line to stream. [m]
    length : float
        Length of the distribution line. [m]
    layers : Layers
        Soil from the restrictive layer up. [-]

    Returns
    -------
    float
        Flow, negative where the stream stands higher. [m3/s]

    Raises
    ------
    OutOfDomain
        If a head is negative, or another value not above zero.

    Notes
    -----
    Q = L (G(h1) - G(h2)) / W, G(h) = integral of K(z) (h - z) dz from 0 to h    (girinskii1946)

    For a vertical face it holds with the seepage face left out of account, as the form for one
    soil does (charny1951).

    References
    ----------
    girinskii1946, potential of flow in layers
    charny1951, exactness for a vertical face
    """
    require_not_negative("head_line", head_line, "m", ADVICE)
    require_not_negative("head_stream", head_stream, "m", ADVICE)
    require_positive("width", width, "m", "Give the distance from line to stream")
    require_positive("length", length, "m", "Give the length of the distribution line")
    return length * (_potential(head_line, layers) - _potential(head_stream, layers)) / width


def buffer_travel_time_layered(
    head_line: float, head_stream: float, *, width: float, porosity: float, layers: Layers
) -> float:
    """Mean travel time of water from the line to the stream through level layers.

    The water of the freest layer is sooner through, that of the tightest later.

    Parameters
    ----------
    head_line : float
        Head at the distribution line above the restrictive layer. [m]
    head_stream : float
        Stage of the stream above the restrictive layer. [m]
    width : float
        Distance from line to stream. [m]
    porosity : float
        Effective porosity of the buffer. [-]
    layers : Layers
        Soil from the restrictive layer up. [-]

    Returns
    -------
    float
        Travel time. [s]

    Raises
    ------
    OutOfDomain
        If a head is negative, or another value not above zero.
    NoSolution
        If the line stands no higher than the stream: the water never arrives.

    Notes
    -----
    t = n integral(h T(h) dh) / q^2 from h2 to h1, T(h) the transmissivity    (derived)

    Porosity times the integral of h dx over the flow per length, since dx = -T(h) dh / q.

    References
    ----------
    girinskii1946, potential of flow in layers
    derived, the integral over the way
    """
    require_positive("porosity", porosity, "", "Give 35 percent as 0.35")
    flow = buffer_flow_layered(head_line, head_stream, width=width, length=1.0, layers=layers)
    if flow <= 0:
        raise NoSolution(
            f"The stream stands {head_stream - head_line:g} m above the line. No water reaches the "
            f"stream. Raise the head at the line or take a lower stage."
        )
    moment = _moment(head_line, layers) - _moment(head_stream, layers)
    return porosity * moment / flow**2


def _potential(head: float, layers: Layers) -> float:
    return sum(
        k * ((head - floor) ** 2 - (head - top) ** 2) / 2.0 for floor, top, k in layers.parts(head)
    )


def _moment(head: float, layers: Layers) -> float:
    """Integral of h T(h) from 0 to a head."""
    total, below = 0.0, 0.0
    for floor, top, k in layers.parts(head):
        total += (below - k * floor) * (top**2 - floor**2) / 2.0 + k * (top**3 - floor**3) / 3.0
        below += k * (top - floor)
    return total
