# SPDX-License-Identifier: Apache-2.0
"""What a practice asks of its owner beside the bill: hours, and ground that is farmed no more."""


def hours_cost(hours_per_year: float, hour_usd: float) -> float:
    """What the owner's hours of a year come to.

    Parameters
    ----------
    hours_per_year : float
        Looking after boards, lids and outlet. [h]
    hour_usd : float
        What an hour of the owner is worth. [USD]

    Returns
    -------
    float
        Cost of a year. [USD]

    Notes
    -----
    C = t c    (derived)

    References
    ----------
    derived, a product
    """
    return hours_per_year * hour_usd


def land_cost(land: float, cropped_share: float, rent_usd_per_acre: float) -> float:
    """Rent of a year of the ground that is taken from crops.

    Parameters
    ----------
    land : float
        Ground that the practice takes. [m2]
    cropped_share : float
        Share of it that is cropped now. [-]
    rent_usd_per_acre : float
        Rent of cropland in a year, for an acre. [USD]

    Returns
    -------
    float
        Cost of a year. [USD]

    Notes
    -----
    C = A s r / 4046.86    (derived)

    References
    ----------
    derived, a product; an acre is 43560 square feet
    """
    return land / ACRE * cropped_share * rent_usd_per_acre


ACRE = 43560 * 0.3048**2
"""An acre. [m2]"""


def strip_area(line_length: float, width: float) -> float:
    """Ground between a distribution line and the water.

    Parameters
    ----------
    line_length : float
        Length of the line. [m]
    width : float
        From the line to the water's edge. [m]

    Returns
    -------
    float
        Area. [m2]

    Notes
    -----
    A = L W    (derived)

    References
    ----------
    derived, a rectangle
    """
    return line_length * width


def cropped_of_vegetation(vegetation: str) -> float:
    """Share of a strip that is cropped, by what grows on it.

    Parameters
    ----------
    vegetation : str
        "perennial", or another word. [-]

    Returns
    -------
    float
        0 where it is in perennial plants already, else 1. [-]

    Notes
    -----
    s = 0 of perennial plants, else 1    (practice)

    References
    ----------
    practice, grass beside a ditch is no cropland
    """
    return 0.0 if vegetation == "perennial" else 1.0


def largest_difference(**days: float) -> float:
    """Largest difference between days with boards in and with boards out.

    Parameters
    ----------
    **days : float
        `SPOT_in` and `SPOT_out` of each spot. [days]

    Returns
    -------
    float
        Difference at the spot where it is largest. [days]

    Notes
    -----
    max over spots of (in - out)    (derived)

    References
    ----------
    derived, differences of counts
    """
    spots = {name.removesuffix("_in") for name in days if name.endswith("_in")}
    return max(days[f"{spot}_in"] - days[f"{spot}_out"] for spot in spots)
