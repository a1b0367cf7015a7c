# SPDX-License-Identifier: Apache-2.0
"""What the standard of a buffer asks, as values: the flow rule by both arms, bank, plants."""

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.domain import require_positive

Number = float | NDArray[np.float64]


def flow_rule_604(share_of_peak: Number, length_share: Number, share_limit: float) -> Number:
    """How far the better arm of the flow rule is met; 1 where one is met whole.

    Parameters
    ----------
    share_of_peak : float or array
        Share of the capacity of the drainage system that the buffer takes. [-]
    length_share : float or array
        Share of the strip that the line uses. [-]
    share_limit : float
        Share of the first arm. [-]

    Returns
    -------
    float or array
        The larger of the two over their limits. [-]

    Raises
    ------
    OutOfDomain
        If the limit is not above zero.

    Notes
    -----
    max(share / 0.05, length / length available)    (johnson-604)

    References
    ----------
    johnson-604, at least 5 percent or as much as practical for the length
    """
    require_positive("share_limit", share_limit, "", "Use 0.05")
    met = np.maximum(share_of_peak / share_limit, length_share)
    return met if met.ndim else float(met)


def height_unstudied(height: float, study: str = "none") -> float:
    """Height of a bank that nobody has studied.

    Parameters
    ----------
    height : float
        Top of the bank above the bottom of the ditch. [m]
    study : str
        Geotechnical judgement, "none" where there is none. [-]

    Returns
    -------
    float
        The height; 0 where somebody who knows soils has judged the bank. [m]

    Notes
    -----
    0 if studied, else the height    (msu-buffers)

    References
    ----------
    msu-buffers, more investigation where the channel is deeper than 8 ft
    """
    return 0.0 if study.strip().casefold() not in ("", "none", "no") else height


def is_perennial(vegetation: str) -> float:
    """Whether the strip is in perennial plants.

    Parameters
    ----------
    vegetation : str
        "perennial", "annual" or "bare". [-]

    Returns
    -------
    float
        1 or 0. [-]

    Notes
    -----
    1 if perennial, else 0    (ars-buffers)

    References
    ----------
    ars-buffers, perennial buffer
    """
    return 1.0 if vegetation == "perennial" else 0.0
