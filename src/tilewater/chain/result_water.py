# SPDX-License-Identifier: Apache-2.0
"""Plain records of the daily drain flow: its year, its days, its peak, how wet it makes the field.

The series themselves are not in the record; they are written beside it as a table.
"""

from math import isfinite
from typing import Any

from tilewater.basis.trace import Trace
from tilewater.chain.plain import Record, plain, plain_group
from tilewater.chain.water import PARTS

YEAR = (
    "mean_annual_depth_m",
    "mean_annual_volume_m3",
    "flow_days_per_year",
    "zero_flow_share",
    "one_day_in_hundred_m3_s",
    "median_year",
    "wettest_from",
    "wettest_share",
)
OF_RUN = (
    "evapotranspiration_form",
    "days_limited",
    "drainable_water_m",
    "main_limit_m3_s",
)
BAND = ("flow_m3_s", "low_m3_s", "high_m3_s")
WET = ("days_per_year", "season_days_per_year", "longest_run_days", "usual_run_days")


def water_record(trace: Trace) -> Record:
    """Record of the daily drain flow; only its basis, null, where there is no series.

    Parameters
    ----------
    trace : Trace
        Steps with the water side. [-]

    Returns
    -------
    dict
        As documented for `design --json` under `water`. [-]
    """
    record: Record = {"basis": plain(trace, "water.basis")}
    if "water.flow_m3_s" not in trace:
        return record
    record |= plain_group(trace, "water", *YEAR, *OF_RUN)
    for name in ("month_depth_m", "month_share", "years", "year_depth_m", "available_water_m"):
        record[name] = _numbers(trace, f"water.{name}")
    record["classes"] = {
        name: plain_group(trace, f"water.classes.{name}", "above", "to", "days", "share_of_water")
        for name in trace.names("water.classes")
    }
    simulated = ("mean_annual_depth_m", "flow_days_per_year")
    record["simulated"] = plain_group(trace, "water.simulated", *simulated)
    record["balance"] = plain_group(trace, "water.balance", *(f"{part}_m" for part in PARTS))
    record["setting"] = {
        name: plain_group(trace, f"water.setting.{name}", "pool_share", "outlet_height_m")
        for name in trace.names("water.setting")
    }
    record["ten_year"] = _ten_year(trace)
    record["spot"] = {spot: _spot(trace, spot) for spot in trace.names("water.spot")}
    return record


def _numbers(trace: Trace, key: str) -> list[Any] | None:
    """A short series as a list; None where it is not known or was not computed."""
    if not trace.known(key):
        return None
    return [_number(value) for value in trace.value(key)]


def _number(value: Any) -> Any:
    number = value.item() if hasattr(value, "item") else value
    return number if isinstance(number, int) or isfinite(number) else None


def _ten_year(trace: Trace) -> Record:
    here = "water.ten_year"
    record = plain_group(trace, here, "basis", "years", *BAND, "share_of_main")
    record["by_method"] = {
        name: plain_group(trace, f"{here}.by_method.{name}", "method", *BAND)
        for name in trace.names(f"{here}.by_method")
    }
    return record


def _spot(trace: Trace, spot: str) -> Record:
    here = f"water.spot.{spot}"
    return {
        state: plain_group(trace, f"{here}.{state}", *WET) for state in ("boards_in", "boards_out")
    }
