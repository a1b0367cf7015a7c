# SPDX-License-Identifier: Apache-2.0
"""Soil in the ground, in the heap and in the fill.

Swell and shrink are shares of the volume in the ground; they differ by soil and by trade custom,
and no default is given here.
"""

from tilewater.basis.domain import (
    Number,
    require_not_negative,
    require_positive,
    require_share,
)


def loose_volume(bank_volume: Number, *, swell: Number) -> Number:
    """Volume of soil once it is dug.

    Parameters
    ----------
    bank_volume : float or array
        Volume in the ground. [m3]
    swell : float or array
        Gain as a share of the bank volume, 0.25 for 25 percent. [-]

    Returns
    -------
    float or array
        Volume in the heap or truck. [m3]

    Raises
    ------
    OutOfDomain
        If a value is negative.

    Notes
    -----
    loose = bank (1 + swell)    (practice)

    References
    ----------
    practice, earthwork
    """
    require_not_negative("bank_volume", bank_volume, "m3", "Give the volume in the ground")
    require_not_negative("swell", swell, "", "Give 25 percent as 0.25")
    return bank_volume * (1.0 + swell)


def compacted_volume(bank_volume: Number, *, shrink: Number) -> Number:
    """Volume of soil once it is placed and compacted.

    Parameters
    ----------
    bank_volume : float or array
        Volume in the ground. [m3]
    shrink : float or array
        Loss as a share of the bank volume, 0.10 for 10 percent. [-]

    Returns
    -------
    float or array
        Volume in the fill. [m3]

    Raises
    ------
    OutOfDomain
        If the volume is negative or the loss no share.

    Notes
    -----
    compacted = bank (1 - shrink)    (practice)

    References
    ----------
    practice, earthwork
    """
    require_not_negative("bank_volume", bank_volume, "m3", "Give the volume in the ground")
    require_share("shrink", shrink, "Give 10 percent as 0.10")
    return bank_volume * (1.0 - shrink)


def bank_volume_for_fill(compacted: Number, *, shrink: Number) -> Number:
    """Volume to dig for a fill of some compacted volume.

    Parameters
    ----------
    compacted : float or array
        Volume of the fill. [m3]
    shrink : float or array
        Loss as a share of the bank volume, 0.10 for 10 percent. [-]

    Returns
    -------
    float or array
        Volume in the ground. [m3]

    Raises
    ------
    OutOfDomain
        If the volume is negative, or the loss no share or a whole.

    Notes
    -----
    bank = compacted / (1 - shrink)    (practice)

    References
    ----------
    practice, earthwork
    """
    require_not_negative("compacted", compacted, "m3", "Give the volume of the fill")
    require_share("shrink", shrink, "Give 10 percent as 0.10")
    require_positive("1 - shrink", 1.0 - shrink, "", "Give 10 percent as 0.10")
    return compacted / (1.0 - shrink)
