# SPDX-License-Identifier: Apache-2.0
"""Numbers of a measurement as it was weighed, one by one."""

from tilewater.chain.measurements import Weighed


def chance_of(weighed: Weighed) -> float:
    """Chance that a measurement leads to another choice.

    Parameters
    ----------
    weighed : Weighed
        The measurement. [-]

    Returns
    -------
    float
        Share of its results; 0 where no choice is weighed. [-]

    Notes
    -----
    share of the results with another choice    (derived)

    References
    ----------
    derived, of the measurement as weighed
    """
    return weighed.chance.share


def chance_error_of(weighed: Weighed) -> float:
    """Standard error of the chance of another choice.

    Parameters
    ----------
    weighed : Weighed
        The measurement. [-]

    Returns
    -------
    float
        In terms of the chance. [-]

    Notes
    -----
    groups of draws left out one by one    (derived)

    References
    ----------
    derived, of the measurement as weighed
    """
    return weighed.chance.error


def settles_of(weighed: Weighed) -> float:
    """Chance that an open choice is clear after a measurement.

    Parameters
    ----------
    weighed : Weighed
        The measurement. [-]

    Returns
    -------
    float
        Share of its results; 0 where the choice is clear already. [-]

    Notes
    -----
    share of the results in which 9 of 10 draws agree    (derived)

    References
    ----------
    derived, of the measurement as weighed
    """
    return weighed.settles.share


def settles_error_of(weighed: Weighed) -> float:
    """Standard error of the chance that a choice is clear.

    Parameters
    ----------
    weighed : Weighed
        The measurement. [-]

    Returns
    -------
    float
        In terms of the chance. [-]

    Notes
    -----
    groups of draws left out one by one    (derived)

    References
    ----------
    derived, of the measurement as weighed
    """
    return weighed.settles.error


def spread_of(weighed: Weighed) -> float:
    """Share of the spread of what is removed that a measurement takes away.

    Parameters
    ----------
    weighed : Weighed
        The measurement. [-]

    Returns
    -------
    float
        Share of the variance. [-]

    Notes
    -----
    S_i s^2 / (s^2 + e^2)    (derived)

    References
    ----------
    derived, of the measurement as weighed
    """
    return weighed.narrows.share


def spread_error_of(weighed: Weighed) -> float:
    """Standard error of the share of the spread taken away.

    Parameters
    ----------
    weighed : Weighed
        The measurement. [-]

    Returns
    -------
    float
        In terms of the share. [-]

    Notes
    -----
    e_i s^2 / (s^2 + e^2)    (derived)

    References
    ----------
    derived, of the measurement as weighed
    """
    return weighed.narrows.error


NUMBERS = {
    "chance": (chance_of, "Chance of another choice"),
    "chance_error": (chance_error_of, "Its standard error"),
    "settles_choice": (settles_of, "Chance that an open choice is clear"),
    "settles_choice_error": (settles_error_of, "Its standard error"),
    "share_of_spread": (spread_of, "Share of the spread that it takes away"),
    "share_of_spread_error": (spread_error_of, "Its standard error"),
}
"""Number by name: function and title."""
