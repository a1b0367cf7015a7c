# SPDX-License-Identifier: Apache-2.0
"""Coefficients of thin-plate weirs: the tables of Kindsvater and Carter, the fits of Shen.

Flows made of them are in `rectangular_weirs` and `notches`, sets of boards in `board_sets`.
"""

import math
from functools import cache
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from tilewater.basis import unit_table
from tilewater.basis.domain import Number, refuse
from tilewater.basis.tables import read_table

N = TypeVar("N", float, Number)

FOOT = float(unit_table.FOOT)
GRAVITY = float(unit_table.STANDARD_GRAVITY)
TRIANGLE = 8.0 / 15.0 * math.sqrt(2.0 * GRAVITY)
# Above it the fit of the head correction falls to zero and means nothing.
MEANINGLESS_FROM = math.radians(160.0)


def rectangular_coefficients_kindsvater_carter(width_ratio: N) -> tuple[N, N, N]:
    """Coefficient over deep water, its rise with h/P, and width correction of a thin plate.

    Parameters
    ----------
    width_ratio : float or array
        Width of the crest over width of the channel, 0 in a pond. [-]

    Returns
    -------
    float or array
        Effective coefficient at h/P = 0. [-]
    float or array
        Rise of the effective coefficient with h/P. [-]
    float or array
        Correction of the crest width. [m]

    Raises
    ------
    OutOfDomain
        If the ratio is below 0 or above 1.

    Notes
    -----
    Ce = base + rise h/P, with base, rise and kb by b/B    (kindsvater1957)

    Between the rows of the tables on a straight line.

    References
    ----------
    kindsvater1957, from memory
    bos1989, coefficients, from memory
    iso1438, correction of the width, from memory
    """
    if not np.all((np.asarray(width_ratio) >= 0.0) & (np.asarray(width_ratio) <= 1.0)):
        raise refuse(
            "crest width over channel width",
            float(np.max(width_ratio)),
            "",
            "The crest cannot be wider than the channel",
            "Check the two widths",
        )
    ratios, bases, rises, correction_ratios, corrections = _kindsvater_carter_curves()
    base: N = np.interp(width_ratio, ratios, bases)
    rise: N = np.interp(width_ratio, ratios, rises)
    correction: N = np.interp(width_ratio, correction_ratios, corrections)
    return base, rise, correction


def v_notch_coefficients_kindsvater_shen(notch_angle: N) -> tuple[N, N]:
    """Flow of a V-notch at an effective head of 1 m, and the head that is added.

    Parameters
    ----------
    notch_angle : float or array
        Full angle of the notch. [rad]

    Returns
    -------
    float or array
        Flow at an effective head of 1 m. [m3/s]
    float or array
        Head that is added. [m]

    Raises
    ------
    OutOfDomain
        If the angle is not between 0 and 160 degrees.

    Notes
    -----
    Q = Ce (8/15) sqrt(2 g) tan(angle/2) (h + k)^(5/2)    (shen1981)

    Ce = 0.607165052 - 8.74466963e-4 a + 6.10393334e-6 a^2    (usbr2001)
    k = 0.0144902648 - 3.3955535e-4 a + 3.29819003e-6 a^2 - 1.06215442e-8 a^3 in ft    (usbr2001)

    with a the angle in degrees; both fits are from memory.

    References
    ----------
    shen1981, from memory
    usbr2001, ch. 7 sec. 7; fits from memory
    """
    angle = np.asarray(notch_angle)
    if not np.all((angle > 0.0) & (angle <= MEANINGLESS_FROM)):
        worst = angle[~((angle > 0.0) & (angle <= MEANINGLESS_FROM))].flat[0]
        allowed = "It lies above 0 and up to 2.79 rad, 160 degrees"
        raise refuse("notch angle", float(worst), "rad", allowed, "Give the full angle in radians")
    degrees = notch_angle * (180.0 / math.pi)
    coefficient = 0.607165052 - 8.74466963e-4 * degrees + 6.10393334e-6 * degrees**2
    correction_ft = (
        0.0144902648
        - 3.3955535e-4 * degrees
        + 3.29819003e-6 * degrees**2
        - 1.06215442e-8 * degrees**3
    )
    scale: N = TRIANGLE * coefficient * np.tan(notch_angle / 2.0)
    correction: N = correction_ft * FOOT
    return scale, correction


@cache
def _kindsvater_carter_curves() -> tuple[NDArray[np.float64], ...]:
    """Width ratios with base and rise of Ce, and width ratios with the width correction in m."""
    package = "tilewater.hydraulics"
    coefficients = read_table(package, "weir_coefficients_kindsvater_carter")
    corrections = read_table(package, "weir_width_corrections_kindsvater_carter")
    return (
        coefficients.numbers("width_ratio"),
        coefficients.numbers("base"),
        coefficients.numbers("rise"),
        corrections.numbers("width_ratio"),
        corrections.numbers("correction_mm") / 1000.0,
    )
