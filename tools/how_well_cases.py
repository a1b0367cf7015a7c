# SPDX-License-Identifier: Apache-2.0
"""Predicted ranges beside measured values: beds, buffers, chips, boards; defaults, nothing fitted.

A predicted range runs from the 10 to the 90 percent quantile of draws from the stated ranges.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from tilewater.basis.tables import Row, read_table
from tilewater.hydraulics.media_conductivity import conductivity_at_age
from tilewater.hydraulics.weirs import weir_flow_v_notch_kindsvater_shen
from tilewater.nitrate.kinetics import outlet_nitrate_zero_order, rate_at_temperature
from tilewater.nitrate.media_rate import rate_at_age
from tilewater.nitrate.parameter_ranges import (
    Draws,
    default_ranges,
    draws_of_ranges,
    read_ranges,
)
from tilewater.nitrate.removal import RATES_HOLD_AT
from tilewater.practices.buffer.removal import oxic_days_of, removal_first_order
from tools.measured_buffers import (
    FACTOR,
    THICKNESS,
    WATER_C,
    WIDTH,
    SiteYear,
    default,
    site_years,
)
from tools.pilot_beds import measured_rate, predictions

DRAWS, SEED = 1024, 11
ENDS = (0.1, 0.5, 0.9)
BUFFER_RANGES = ("tilewater.practices", "practice_buffer_ranges")
INCH = 0.0254
GPM = 231 * INCH**3 / 60
NOTCHES = {"upper": (1.4774, 2.3217), "middle": (0.9478, 2.5388)}
"""Flow in gpm over a head in inches of two boards of one structure, calibrated in place."""
HEADS = (1, 3, 6)
CHIPS = (
    ("Iowa, new chips, laboratory", 0.0, 0.095, True),
    ("Wetland of chips, 2 years, in place", 2.0, 0.14, True),
    ("Greene County, Iowa, chips dug out", 9.25, 0.042, True),
    ("Greene County, Iowa, shreds dug out", 9.25, 0.031, True),
)
"""Conductivity of chips: name, years, m/s, whether the range was chosen with it in view."""


@dataclass(frozen=True)
class Case:
    """A measured value beside the predicted range, in one unit.

    Attributes
    ----------
    name, unit : str
    low, middle, high : float
        10, 50 and 90 percent quantiles of the prediction.
    measured : float
    in_view : bool
        Whether a default was chosen with this case in view.
    """

    name: str
    unit: str
    low: float
    middle: float
    high: float
    measured: float
    in_view: bool = False

    @property
    def is_inside(self) -> bool:
        """Whether the measured value lies in the range."""
        return self.low <= self.measured <= self.high

    @property
    def ratio(self) -> float:
        """Middle of the prediction over the measured value."""
        return self.middle / self.measured

    @property
    def side(self) -> str:
        """Where the prediction lies beside what was measured."""
        if self.is_inside:
            return "inside"
        return "too high" if self.low > self.measured else "too low"


def _case(name: str, unit: str, draws: np.ndarray, measured: float, in_view: bool) -> Case:
    low, middle, high = (float(q) for q in np.quantile(draws, ENDS))
    return Case(name, unit, low, middle, high, measured, in_view)


def bed_cases() -> tuple[Case, ...]:
    """Every pilot bed: rate, temperature factor, flush, decline and porosity drawn."""
    draws = draws_of_ranges(default_ranges(), DRAWS, SEED)
    return tuple(_bed(each.row, draws) for each in predictions())


def _bed(row: Row, draws: Draws) -> Case:
    warm = rate_at_temperature(
        draws["removal-rate"], row.number("temperature"), q10=draws["q10"], reference=RATES_HOLD_AT
    )
    rate = rate_at_age(
        warm,
        row.number("years"),
        flush=draws["flush"],
        flush_years=draws["flush-years"],
        decline_per_year=draws["rate-decline-per-year"],
    )
    name, in_view = row.text("place"), row.text("anchor") == "yes"
    if not row.is_given("retention"):
        return _case(name, "g/m3/day", np.asarray(rate), measured_rate(row), in_view)
    inflow, days = row.number("inflow"), row.number("retention") / 24.0
    left = outlet_nitrate_zero_order(
        inflow, days, rate_mg_per_l_day=rate / draws["porosity-effective"]
    )
    removed = 100.0 * (inflow - np.asarray(left)) / inflow
    return _case(name, "%", removed, row.number("removed"), in_view)


def buffer_cases(folder: Path) -> tuple[Case, ...]:
    """Every site-year with nitrate: removal of what was diverted, soil drawn, first order."""
    draws = draws_of_ranges(read_ranges(*BUFFER_RANGES), DRAWS, SEED)
    return tuple(_buffer(row, draws) for row in site_years(folder) if row.has_nitrate)


def _buffer(row: SiteYear, draws: Draws) -> Case:
    columns = (draws[n] for n in ("buffer-porosity", "buffer-rate", "buffer-q10", "oxygen-uptake"))
    removed = []
    for porosity, rate, q10, uptake in zip(*columns, strict=True):
        days = FACTOR * porosity * WIDTH * THICKNESS / row.diverted_per_metre
        oxic = oxic_days_of(default("oxygen_mg_per_l"), uptake, WATER_C, q10)
        removed.append(100.0 * removal_first_order(days, oxic, rate, WATER_C, q10))
    measured = 100.0 * row.removed_kg / row.diverted_kg
    return _case(f"{row.site} {row.year}", "%", np.array(removed), measured, False)


def chip_cases() -> tuple[Case, ...]:
    """Conductivity of chips of an age beside the range of the defaults, at 20 degC."""
    ranges = default_ranges()
    draws = draws_of_ranges(ranges, DRAWS, SEED)
    new, left = draws["conductivity-new"], draws["conductivity-left"]
    return tuple(
        _case(
            name,
            "m/s",
            np.asarray(
                conductivity_at_age(new, years, conductivity_aged=new * left, aged_years=AGED)
            ),
            measured,
            in_view,
        )
        for name, years, measured, in_view in CHIPS
    )


AGED = 9.25
"""Age at which the share of the conductivity that is left holds. [years]"""


def board_cases() -> Iterator[Case]:
    """Two V-notches calibrated in place beside the formula with its stated uncertainty."""
    share = read_table("tilewater.hydraulics", "practice_rating_uncertainties")
    spread = share.row("v-notch").number("share")
    for name, (factor, exponent) in NOTCHES.items():
        for inches in HEADS:
            flow = weir_flow_v_notch_kindsvater_shen(inches * INCH, notch_angle=math.radians(45.0))
            middle = float(flow) / GPM
            away = spread * middle
            yield Case(
                f"{name} notch, head {inches} in",
                "gpm",
                middle - away,
                middle,
                middle + away,
                factor * inches**exponent,
            )


def counted(cases: tuple[Case, ...]) -> str:
    """Cases inside their range; a percentage only where they are many enough to say one."""
    inside = sum(case.is_inside for case in cases)
    said = f"{inside} of {len(cases)}"
    return f"{said} ({100 * inside / len(cases):.0f} %)" if len(cases) >= MANY else said


MANY = 30
"""Cases from which a share of them is said in percent."""
