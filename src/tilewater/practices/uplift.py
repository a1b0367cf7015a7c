# SPDX-License-Identifier: Apache-2.0
"""What ground water lifts: the lining of an empty bed and the boxes of the structures.

Weights enter as masses and water as the mass displaced, so gravity cancels. Soil friction is left
out, which is on the safe side.
"""

from tilewater.basis.errors import OutOfDomain

WATER_DENSITY = 62.4 * 0.45359237 / 0.3048**3
"""The trade's 62.4 lb/ft3. [kg/m3]"""


def uplift_ratio(load: float, groundwater: float, floor: float) -> float:
    """Weight that lies on a lining over the push of the ground water under it.

    Parameters
    ----------
    load : float
        Mass on the lining per area. [kg/m2]
    groundwater : float
        Elevation of the ground water outside. [m]
    floor : float
        Elevation of the lining. [m]

    Returns
    -------
    float
        Ratio; infinite where the ground water lies at or under the lining. [-]

    Notes
    -----
    ratio = load / (w (groundwater - floor))    (practice)

    References
    ----------
    practice, uplift of an empty lined bed at each stage of building
    """
    head = groundwater - floor
    return float("inf") if head <= 0 else load / (WATER_DENSITY * head)


def groundwater_limit(load: float, floor: float, factor: float) -> float:
    """Highest ground water outside at which a lining stays down, the bed empty.

    Parameters
    ----------
    load : float
        Mass on the lining per area. [kg/m2]
    floor : float
        Elevation of the lining. [m]
    factor : float
        Factor of safety on the uplift. [-]

    Returns
    -------
    float
        Elevation of the ground water. [m]

    Notes
    -----
    limit = floor + load / (F w)    (practice)

    References
    ----------
    practice, uplift of an empty lined bed at each stage of building
    """
    return floor + load / (factor * WATER_DENSITY)


def load_on_lining(
    media_depth: float, media_density: float, cover_depth: float, cover_density: float
) -> float:
    """Mass of drained media and cover on the lining, per area.

    Parameters
    ----------
    media_depth, cover_depth : float
        Depth of the media and of the soil over it. [m]
    media_density, cover_density : float
        Density as it lies, drained. [kg/m3]

    Returns
    -------
    float
        Mass per area. [kg/m2]

    Notes
    -----
    load = d_m w_m + d_c w_c    (practice)

    References
    ----------
    practice, weights as they lie
    """
    return media_depth * media_density + cover_depth * cover_density


def box_uplift(groundwater: float, floor: float, length: float, width: float) -> float:
    """Water displaced by an empty box standing in ground water.

    Parameters
    ----------
    groundwater : float
        Highest elevation of the ground water at the box. [m]
    floor : float
        Elevation of the box's floor. [m]
    length, width : float
        Outside plan size of the box. [m]

    Returns
    -------
    float
        Mass of the displaced water. [kg]

    Notes
    -----
    U = w (groundwater - floor) a b    (practice)

    References
    ----------
    practice, buoyancy of an empty box
    """
    return WATER_DENSITY * max(0.0, groundwater - floor) * length * width


def anchor_volume(uplift: float, weight: float, concrete_density: float, factor: float) -> float:
    """Concrete that holds an empty box down, its own uplift counted.

    Parameters
    ----------
    uplift : float
        Mass of the water that the box displaces. [kg]
    weight : float
        Mass of the box. [kg]
    concrete_density : float
        Density of the anchor. [kg/m3]
    factor : float
        Factor of safety on the uplift of box and anchor. [-]

    Returns
    -------
    float
        Volume of the anchor; 0 where the box stays down by itself. [m3]

    Raises
    ------
    OutOfDomain
        If the concrete is no heavier than the water it displaces times the factor.

    Notes
    -----
    V = (F U - W) / (w_c - F w)    (derived)

    References
    ----------
    derived, the factor counts on the uplift of the box and of the anchor
    """
    net = concrete_density - factor * WATER_DENSITY
    if net <= 0:
        raise OutOfDomain(
            f"concrete_density is {concrete_density:.4g} kg/m3. It must be above the factor times "
            f"water, {factor * WATER_DENSITY:.4g} kg/m3. Check the density and the factor."
        )
    return max(0.0, factor * uplift - weight) / net
