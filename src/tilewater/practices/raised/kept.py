# SPDX-License-Identifier: Apache-2.0
"""What a raised outlet keeps back: drain flow and nitrate, by year and draw, and where they go.

Nothing is treated. Water that does not leave by the drains leaves another way, and its nitrate may
go with it; only what plants draw is sure to stay off the ditch.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.domain import Number
from tilewater.basis.errors import OutOfDomain
from tilewater.practices.raised.draws import IN, OUT, PARTS, FieldDraw, YearSums

Array = NDArray[np.float64]
Whole = NDArray[np.bool_]
DRAINS = PARTS.index("drains")


def share_kept_back(sums: YearSums, whole: Whole) -> Array:
    """Share of the drain flow that the boards keep back over all whole years, by draw.

    Parameters
    ----------
    sums : array of shape (draws, years, 2, parts)
        Depths by year in m, boards out and in. [-]
    whole : array of bool
        Years that are whole. [-]

    Returns
    -------
    array of shape (draws,)
        Ratio; negative where boards bring more drain flow. [-]

    Raises
    ------
    OutOfDomain
        If a field gives no drain flow with the boards out.

    Notes
    -----
    1 - sum D_in / sum D_out    (derived)

    References
    ----------
    derived, a ratio of depths over all years
    """
    without, within = _drains(sums, whole)
    return np.asarray(1.0 - within.sum(axis=1) / _some(without.sum(axis=1)), dtype=np.float64)


def annual_depths(annual_depth: float, draws: Sequence[FieldDraw]) -> Array:
    """Drainage of a mean year with the boards out, by draw.

    Parameters
    ----------
    annual_depth : float
        Of the job. [m]
    draws : sequence of FieldDraw
        Factors on the drain flow. [-]

    Returns
    -------
    array of shape (draws,)
        Depth. [m]

    Notes
    -----
    D_i = D f_i    (derived)

    References
    ----------
    derived, a product
    """
    return annual_depth * np.array([draw.flow_factor for draw in draws])


def depth_kept_back(sums: YearSums, whole: Whole, annual_depth: Number) -> Array:
    """Drain flow kept back in each draw and whole year.

    Parameters
    ----------
    sums : array of shape (draws, years, 2, parts)
        Depths by year in m, boards out and in. [-]
    whole : array of bool
        Years that are whole. [-]
    annual_depth : float or array of shape (draws,)
        Drainage of a mean year with the boards out, on which every draw is put. [m]

    Returns
    -------
    array
        Depth over the drained area, all draws and years in a row. [m]

    Notes
    -----
    s (D_out - D_in),  s = D_mean / mean D_out of the draw    (derived)

    References
    ----------
    derived, a difference
    """
    without, within = _drains(sums, whole)
    kept = (without - within) * _scale(without, annual_depth)
    return np.asarray(kept.ravel(), dtype=np.float64)


def load_of_drains(
    sums: YearSums,
    whole: Whole,
    draws: Sequence[FieldDraw],
    annual_depth: Number,
    area: float,
    nitrate_mg_per_l: float,
) -> Array:
    """Nitrate nitrogen that the drains bring with the boards out, in each draw and whole year.

    Parameters
    ----------
    sums : array of shape (draws, years, 2, parts)
        Depths by year in m, boards out and in. [-]
    whole : array of bool
        Years that are whole. [-]
    draws : sequence of FieldDraw
        Factors on the nitrate. [-]
    annual_depth : float or array of shape (draws,)
        Drainage of a mean year with the boards out. [m]
    area : float
        Drained area. [m2]
    nitrate_mg_per_l : float
        Nitrate of the drain water with the boards out, as N. [mg/L]

    Returns
    -------
    array
        Mass, all draws and years in a row. [kg]

    Notes
    -----
    L = n C A s D_out / 1000    (derived)

    References
    ----------
    derived, a load by year
    """
    left = _loads(sums, whole, draws, annual_depth)[1] * area * nitrate_mg_per_l / 1000.0
    return np.asarray(left.ravel(), dtype=np.float64)


def load_kept_back(
    sums: YearSums,
    whole: Whole,
    draws: Sequence[FieldDraw],
    annual_depth: Number,
    area: float,
    nitrate_mg_per_l: float,
) -> Array:
    """Nitrate nitrogen that does not leave by the drains, in each draw and whole year.

    Parameters
    ----------
    sums : array of shape (draws, years, 2, parts)
        Depths by year in m, boards out and in. [-]
    whole : array of bool
        Years that are whole. [-]
    draws : sequence of FieldDraw
        Factors on the nitrate. [-]
    annual_depth : float or array of shape (draws,)
        Drainage of a mean year with the boards out. [m]
    area : float
        Drained area. [m2]
    nitrate_mg_per_l : float
        Nitrate of the drain water with the boards out, as N. [mg/L]

    Returns
    -------
    array
        Mass, all draws and years in a row. [kg]

    Notes
    -----
    M = n C A s (D_out - c D_in) / 1000    (derived)

    n is the factor on the nitrate of the job and c = 1 + g (share of the drain flow kept back) the
    nitrate with boards in over that without.

    References
    ----------
    derived, a difference of loads
    """
    kept = _loads(sums, whole, draws, annual_depth)[0] * area * nitrate_mg_per_l / 1000.0
    return np.asarray(kept.ravel(), dtype=np.float64)


def load_kept_back_mean(
    sums: YearSums,
    whole: Whole,
    draws: Sequence[FieldDraw],
    annual_depth: Number,
    area: float,
    nitrate_mg_per_l: float,
) -> Array:
    """Nitrate nitrogen that does not leave by the drains in a mean year, by draw.

    Parameters
    ----------
    sums : array of shape (draws, years, 2, parts)
        Depths by year in m, boards out and in. [-]
    whole : array of bool
        Years that are whole. [-]
    draws : sequence of FieldDraw
        Factors on the nitrate. [-]
    annual_depth : float or array of shape (draws,)
        Drainage of a mean year with the boards out. [m]
    area : float
        Drained area. [m2]
    nitrate_mg_per_l : float
        Nitrate of the drain water with the boards out, as N. [mg/L]

    Returns
    -------
    array of shape (draws,)
        Mass. [kg]

    Notes
    -----
    mean of M over the years    (derived)

    References
    ----------
    derived, a mean of loads
    """
    kept = _loads(sums, whole, draws, annual_depth)[0].mean(axis=1)
    return np.asarray(kept * area * nitrate_mg_per_l / 1000.0, dtype=np.float64)


def percent_kept_back(
    sums: YearSums,
    whole: Whole,
    draws: Sequence[FieldDraw],
    annual_depth: Number,
    site_over_diversion: float,
) -> Array:
    """Share of the load of the site that does not leave by the drains, by draw and whole year.

    Parameters
    ----------
    sums : array of shape (draws, years, 2, parts)
        Depths by year in m, boards out and in. [-]
    whole : array of bool
        Years that are whole. [-]
    draws : sequence of FieldDraw
        Factors on the nitrate. [-]
    annual_depth : float or array of shape (draws,)
        Drainage of a mean year with the boards out. [m]
    site_over_diversion : float
        Load of the site over the load that reaches the structure. [-]

    Returns
    -------
    array
        Percent, in a row; 0 in a year without drain flow. [%]

    Notes
    -----
    100 (D_out - c D_in) / (r D_out)    (derived)

    References
    ----------
    derived, a ratio of loads of the same year
    """
    kept, left = _loads(sums, whole, draws, annual_depth)
    site = left * site_over_diversion
    share = np.divide(kept, site, out=np.zeros_like(kept), where=site > 0)
    return np.asarray(100.0 * share.ravel(), dtype=np.float64)


def change_of_way(sums: YearSums, whole: Whole, part: str, annual_depth: Number) -> Array:
    """Water that leaves one way more with the boards in than without, mean year, by draw.

    Parameters
    ----------
    sums : array of shape (draws, years, 2, parts)
        Depths by year in m, boards out and in. [-]
    whole : array of bool
        Years that are whole. [-]
    part : str
        Name in `PARTS`. [-]
    annual_depth : float or array of shape (draws,)
        Drainage of a mean year with the boards out, on which every draw is put. [m]

    Returns
    -------
    array of shape (draws,)
        Depth; negative where it is less. [m]

    Notes
    -----
    s mean(W_in - W_out)    (derived)

    References
    ----------
    derived, a difference
    """
    column = PARTS.index(part)
    of_way = sums[:, whole, IN, column] - sums[:, whole, OUT, column]
    scale = _scale(_drains(sums, whole)[0], annual_depth)[:, 0]
    return np.asarray(of_way.mean(axis=1) * scale, dtype=np.float64)


def load_round_boards(
    sums: YearSums, whole: Whole, annual_depth: Number, area: float, nitrate_mg_per_l: float
) -> Array:
    """Nitrate nitrogen that may pass round the boards through the ground in a mean year, by draw.

    Parameters
    ----------
    sums : array of shape (draws, years, 2, parts)
        Depths by year in m, boards out and in. [-]
    whole : array of bool
        Years that are whole. [-]
    annual_depth : float or array of shape (draws,)
        Drainage of a mean year with the boards out. [m]
    area : float
        Drained area. [m2]
    nitrate_mg_per_l : float
        Nitrate of the drain water, as N. [mg/L]

    Returns
    -------
    array of shape (draws,)
        Mass if none of it is taken up or turned to gas on its way. [kg]

    Notes
    -----
    M = C A (deep + side, boards in less boards out) / 1000    (derived)

    References
    ----------
    derived, drain water's nitrate in all that seeps
    """
    depth = sum(change_of_way(sums, whole, part, annual_depth) for part in PARTS[3:])
    return np.asarray(depth * area * nitrate_mg_per_l / 1000.0, dtype=np.float64)


def _loads(
    sums: YearSums, whole: Whole, draws: Sequence[FieldDraw], annual_depth: Number
) -> tuple[Array, Array]:
    """Kept back, and leaving with boards out, in depth of the job's own drain water. [m]"""
    without, within = _drains(sums, whole)
    scale = _scale(without, annual_depth)
    factor = np.array([[draw.nitrate_factor] for draw in draws])
    gain = np.array([[draw.gain] for draw in draws])
    other = 1.0 + gain * share_kept_back(sums, whole)[:, None]
    return factor * scale * (without - other * within), factor * scale * without


def _drains(sums: YearSums, whole: Whole) -> tuple[Array, Array]:
    """Drain flow with boards out and in, by draw and whole year. [m]"""
    return sums[:, whole, OUT, DRAINS], sums[:, whole, IN, DRAINS]


def _scale(without: Array, annual_depth: Number) -> Array:
    """What puts the mean year of every draw on that of the job. [-]"""
    return np.asarray(annual_depth / _some(without.mean(axis=1)), dtype=np.float64)[:, None]


def _some(depth: Array) -> Array:
    if not np.all(depth > 0.0):
        raise OutOfDomain(
            "The field gives 0 mm of drain flow with the boards out. A raised outlet needs some to "
            "keep back. Check weather, soil and drains."
        )
    return depth
