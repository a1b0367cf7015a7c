# SPDX-License-Identifier: Apache-2.0
"""What crops of a rotation ask of the field on each day: coefficient and roots by stage.

The coefficient is flat in the initial and middle stages and straight between, after FAO-56; outside
the season the ground is bare. Roots deepen from the evaporating layer to their full depth by the
start of the middle stage. Yields, cover crops and irrigation are not its business.
"""

import datetime
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.domain import Number, require_not_negative, require_positive
from tilewater.basis.errors import OutOfDomain, UnknownName
from tilewater.basis.tables import Row, read_table
from tilewater.basis.units import did_you_mean
from tilewater.hydrology.daily_weather import Series

PACKAGE = "tilewater.hydrology"
LONGEST_YEAR = 366
CROPS = ("corn", "soybean", "small-grain", "grass")
STAGES = ("initial", "development", "mid", "late")


@dataclass(frozen=True)
class Crop:
    """A crop of the rotation.

    Attributes
    ----------
    name : str
    planted_month, planted_day : int
        Day of the year on which the initial stage begins.
    stage_days : tuple of float
        Lengths of the initial, development, middle and late stage. [days]
    coefficient_initial, coefficient_mid, coefficient_end : float
        Crop coefficients. [-]
    coefficient_bare : float
        Outside the season. [-]
    root_depth : float
        Full depth of the roots. [m]
    evaporating_depth : float
        Depth that bare ground draws from. [m]
    depletion_share : float
        Share of the available water from which the crop takes less. [-]
    """

    name: str
    planted_month: int
    planted_day: int
    stage_days: tuple[float, float, float, float]
    coefficient_initial: float
    coefficient_mid: float
    coefficient_end: float
    coefficient_bare: float
    root_depth: float
    evaporating_depth: float
    depletion_share: float

    def __post_init__(self) -> None:
        require_positive("root_depth", self.root_depth, "m", "Give the full depth of the roots")
        if not 0.0 < self.depletion_share < 1.0:
            raise OutOfDomain(
                f"depletion_share is {self.depletion_share:g}. It lies between 0 and 1, both left "
                f"out. Give 50 percent as 0.5."
            )
        for name in ("initial", "mid", "end", "bare"):
            value = getattr(self, f"coefficient_{name}")
            require_not_negative(f"coefficient_{name}", value, "", "Give a crop coefficient")
        if min(self.stage_days) < 0.0 or self.season_days > LONGEST_YEAR:
            raise OutOfDomain(
                f"stage_days of {self.name} sum to {self.season_days:g} days. A season has 0 to "
                f"{LONGEST_YEAR} and no stage is negative. Give the length of each stage."
            )

    @property
    def season_days(self) -> float:
        """Length of the season. [days]"""
        return sum(self.stage_days)


@dataclass(frozen=True, eq=False)
class CropDays:
    """What a rotation asks on each day.

    Attributes
    ----------
    coefficient : array
        Crop coefficient. [-]
    root_depth : array
        Depth that the crop draws from. [m]
    full_root_depth : array
        Full depth of the roots of the year's crop. [m]
    depletion_share : array
        Share of the available water from which the crop takes less. [-]
    """

    coefficient: Series
    root_depth: Series
    full_root_depth: Series
    depletion_share: Series


def crop_named(name: str) -> Crop:
    """Crop of the tables by its name.

    Its full root depth is the middle of the published range.

    Parameters
    ----------
    name : str
        "corn", "soybean", "small-grain" or "grass". [-]

    Returns
    -------
    Crop
        The crop. [-]

    Raises
    ------
    UnknownName
        If there is no such crop.
    """
    if name not in CROPS:
        raise UnknownName(
            f"No crop called '{name}'. Known: {', '.join(CROPS)}.{did_you_mean(name, CROPS)}"
        )
    return _crop(name)


@cache
def _crop(name: str) -> Crop:
    row = _row_of(name, "crop_coefficients_fao56", "crop_coefficients_remembered")
    calendar = read_table(PACKAGE, "practice_crop_calendar").row(name)
    stages = calendar
    if not calendar.is_given("initial"):
        stages = read_table(PACKAGE, "crop_stages_fao56").row(name)
    bare = read_table(PACKAGE, "practice_bare_ground")
    first, second, third, fourth = (stages.number(stage) for stage in STAGES)
    return Crop(
        name=name,
        planted_month=int(calendar.number("month")),
        planted_day=int(calendar.number("day")),
        stage_days=(first, second, third, fourth),
        coefficient_initial=row.number("initial"),
        coefficient_mid=row.number("mid"),
        coefficient_end=row.number("end"),
        coefficient_bare=bare.row("coefficient").number("value"),
        root_depth=0.5 * (row.number("root_low") + row.number("root_high")),
        evaporating_depth=bare.row("evaporating-depth").number("value"),
        depletion_share=row.number("depletion_share"),
    )


def _row_of(name: str, *tables: str) -> Row:
    found = [table for each in tables if name in (table := read_table(PACKAGE, each)).texts("slug")]
    return found[0].row(name)


def crop_coefficient_fao56(crop: Crop, day_of_year: Number) -> Number:
    """Crop coefficient on a day of the year.

    Parameters
    ----------
    crop : Crop
        The crop. [-]
    day_of_year : float or array
        Day counted from 1 January, which is 1. [-]

    Returns
    -------
    float or array
        Evapotranspiration of the crop over that of the reference grass. [-]

    Notes
    -----
    Kc = Kini, then straight to Kmid, Kmid, then straight to Kend    (allen1998, eq. 66)

    Outside the season that of bare ground. Not adjusted for wind and humidity of the place, nor the
    initial stage for how often rain wets the ground, which leaves it low in a wet spring.

    References
    ----------
    allen1998, figure 34 and eq. 66
    """
    first, second, third, fourth = crop.stage_days
    after = _days_since_planting(crop, day_of_year)
    ends = np.cumsum([0.0, first, second, third, fourth])
    values = [crop.coefficient_initial] * 2 + [crop.coefficient_mid] * 2 + [crop.coefficient_end]
    grown = np.interp(after, ends, values)
    return np.where(after <= crop.season_days, grown, crop.coefficient_bare)[()]


def root_depth_linear(crop: Crop, day_of_year: Number) -> Number:
    """Depth that a crop draws from on a day of the year.

    Parameters
    ----------
    crop : Crop
        The crop. [-]
    day_of_year : float or array
        Day counted from 1 January, which is 1. [-]

    Returns
    -------
    float or array
        Depth. [m]

    Notes
    -----
    Z = Ze + (Zmax - Ze) t / (Lini + Ldev), at most Zmax; Ze outside the season    (derived)

    References
    ----------
    derived, roots that deepen evenly until the middle stage
    """
    first, second, _, _ = crop.stage_days
    after = _days_since_planting(crop, day_of_year)
    shallow = min(crop.evaporating_depth, crop.root_depth)
    grown = np.interp(after, [0.0, max(first + second, 1.0)], [shallow, crop.root_depth])
    return np.where(after <= crop.season_days, grown, shallow)[()]


def crop_days(
    dates: NDArray[np.datetime64], rotation: tuple[Crop, ...], *, first_year: int
) -> CropDays:
    """What a rotation asks on each day: one crop a calendar year, in turn.

    Parameters
    ----------
    dates : array
        The days. [-]
    rotation : tuple of Crop
        Crops in their order. [-]
    first_year : int
        A calendar year with the first crop of the rotation. [years]

    Returns
    -------
    CropDays
        Coefficients and roots. [-]

    Raises
    ------
    OutOfDomain
        If the rotation has no crop.
    """
    if not rotation:
        raise OutOfDomain("The rotation has 0 crops. At least one is needed. Name a crop.")
    year_starts = dates.astype("datetime64[Y]")
    turn = (year_starts.astype(np.int64) + 1970 - first_year) % len(rotation)
    day = (dates - year_starts).astype(np.int64)
    every_day = np.arange(1.0, LONGEST_YEAR + 1.0)
    coefficients = np.array([crop_coefficient_fao56(crop, every_day) for crop in rotation])
    depths = np.array([root_depth_linear(crop, every_day) for crop in rotation])
    return CropDays(
        coefficients[turn, day],
        depths[turn, day],
        np.array([crop.root_depth for crop in rotation])[turn],
        np.array([crop.depletion_share for crop in rotation])[turn],
    )


def _days_since_planting(crop: Crop, day_of_year: Number) -> Series:
    """Days since the crop was last planted, counted within a year."""
    planted = datetime.date(2001, crop.planted_month, crop.planted_day).timetuple().tm_yday
    return np.asarray(np.mod(np.subtract(day_of_year, planted), LONGEST_YEAR), dtype=np.float64)
