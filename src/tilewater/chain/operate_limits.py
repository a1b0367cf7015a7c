# SPDX-License-Identifier: Apache-2.0
"""What a search of the boards is held to: wet days, field work, and when more is worth its work."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.trace import argument_name
from tilewater.chain import operate_settings as settings
from tilewater.chain.operate_choices import Choice, tallest_for_free_drainage
from tilewater.chain.operate_dates import OwnerDates
from tilewater.chain.operate_days import SettingDays
from tilewater.chain.operate_search import Asked, usual_run_of, year_starts_of
from tilewater.hydrology.daily_weather import DailyWeather
from tilewater.hydrology.ditch_stage import day_of_year

Truths = NDArray[np.bool_]


def counted_days(season: Truths, weather: DailyWeather, work: Truths) -> Truths:
    """Days on which wet days count: the crop season, and the days of field work.

    Parameters
    ----------
    season : array of bool
        Days of the crop season. [-]
    weather : DailyWeather
        Days of the record. [-]
    work : array of bool of shape (366,)
        Days of the year in field work and ahead of it. [-]

    Returns
    -------
    array of bool
        By day of the record. [-]

    Notes
    -----
    crop season or field work    (practice)

    References
    ----------
    practice, wet soil hurts a crop and carries no machine
    """
    return np.asarray(season | work[day_of_year(weather.dates) - 1])


def wet_limit(limit: float, out: Truths, counted: Truths, weather: DailyWeather) -> float:
    """Days in a row too wet that boards may bring: the owner's limit, or what no board brings.

    Parameters
    ----------
    limit : float
        The owner's. [days]
    out : array of bool
        Days too wet with the boards out. [-]
    counted : array of bool
        Days that count. [-]
    weather : DailyWeather
        Days of the record. [-]

    Returns
    -------
    float
        The larger of both. [days]

    Notes
    -----
    max(limit, usual run with the boards out)    (derived)

    References
    ----------
    derived, boards cannot make a field drier than none
    """
    return max(limit, float(usual_run_of(out & counted, year_starts_of(weather.dates))))


def lowest_lateral(**laterals: float) -> float:
    """Lowest lateral of the spots.

    Parameters
    ----------
    **laterals : float
        Elevation by spot. [m]

    Returns
    -------
    float
        The lowest; infinite where no spot is known. [m]

    Notes
    -----
    min z    (derived)

    References
    ----------
    derived, the lowest
    """
    return min(laterals.values(), default=float("inf"))


def free_crest(field_work: str, crests: tuple[float, ...], lowest: float) -> float:
    """Highest crest that field work allows.

    Parameters
    ----------
    field_work : str
        "within the limit" or "free drainage". [-]
    crests : tuple of float
        Crests that can be set. [m]
    lowest : float
        Lowest lateral of a spot. [m]

    Returns
    -------
    float
        Elevation; infinite where the limit of wet days alone counts. [m]

    Notes
    -----
    crest <= lowest lateral    (practice)

    References
    ----------
    practice, free drainage before field work
    """
    if field_work != "free drainage":
        return float("inf")
    return tallest_for_free_drainage(crests, lowest)


def asked_of(
    dates: OwnerDates,
    choices: tuple[Choice, ...],
    days: SettingDays,
    work: Truths,
    free: float,
    used_limit: float,
    weather: DailyWeather | None = None,
    counted: Truths | None = None,
    day: NDArray[np.datetime64] | None = None,
    **named: Any,
) -> Asked:
    """What a search goes by, put together.

    Parameters
    ----------
    dates : OwnerDates
        Days on which boards may be moved. [-]
    choices : tuple of Choice
        Settings. [-]
    days : SettingDays
        What each does on every day. [-]
    work : array of bool of shape (366,)
        Days of field work and ahead of it. [-]
    free : float
        Highest crest in field work. [m]
    used_limit : float
        Days of a year on which nitrate may be used up. [days]
    weather : DailyWeather or None
        Days of the weather. [-]
    counted : array of bool or None
        Days that count as wet. [-]
    day : array of datetime64 or None
        Days of the drain flow; those of the weather where it is None. [-]
    **named : float or array
        `crest_SETTING`, `limit_SPOT` in days, `wet_SPOT_of_SETTING`. [-]

    Returns
    -------
    Asked

    References
    ----------
    derived, values put together
    """
    crests = [argument_name(settings.crest_setting(choice)) for choice in choices]
    crest = np.array([named[f"crest_{name}"] for name in crests])
    spots = [name.removeprefix("limit_") for name in named if name.startswith("limit_")]
    dated = day if day is not None else weather.dates if weather is not None else np.array([])
    return Asked(
        turns=dates.turns,
        day=dated,
        removed_kg=days.removed_kg,
        used_up=days.used_up,
        wet_day=dated if weather is None else weather.dates,
        wet={s: np.array([named[f"wet_{s}_of_{name}"] for name in crests]) for s in spots},
        counted=np.zeros(dated.size, dtype=bool) if counted is None else counted,
        wet_limits={spot: named[f"limit_{spot}"] for spot in spots},
        used_limit=used_limit,
        crest=crest,
        is_free=np.asarray(crest <= free + 1e-6),
        work=work,
    )


def fewest_as_good(noise: float, **rows: float) -> str:
    """The row with the fewest settings that the range cannot tell from the best.

    Parameters
    ----------
    noise : float
        Share of what is removed that cannot be told apart. [-]
    **rows : float
        Nitrate removed in a mean year by row, those with fewer settings first. [kg]

    Returns
    -------
    str
        Name of the row. [-]

    Notes
    -----
    first row with M >= (1 - noise) max M    (derived)

    References
    ----------
    derived, two significant figures of removal
    """
    best = max(rows.values())
    name = next(name for name, mass in rows.items() if mass >= best - noise * abs(best))
    return name.replace("_", "-")
