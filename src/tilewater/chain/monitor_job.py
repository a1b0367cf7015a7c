# SPDX-License-Identifier: Apache-2.0
"""Steps that lead from the loggers of a job and its design to flows, volumes, a trend and a year.

They stand before and behind those of `monitor`: stage to flow by the ratings of the design, the wet
volume by the levels, the trend of flow over head drop, whether the time was like other years, and
where the measured percents lie in the range that was designed for.
"""

from collections.abc import Mapping

import numpy as np

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.basis.unknown import is_unknown
from tilewater.chain.monitor_steps import HERE, VOLUMES, give, give_errors
from tilewater.chain.monitor_year import (
    days_like_these,
    flow_days_measured,
    flow_of_years,
    index_days,
    is_usual,
    rain_measured,
    rain_of_years,
    trend_first,
    trend_high,
    trend_low,
    trend_per_year,
    usual_of,
    year_kind,
)
from tilewater.hydraulics.board_sets import BoardSet
from tilewater.monitoring.conductivity_index import FEWEST_DAYS, trend_theil_sen
from tilewater.monitoring.load_uncertainty import MeasurementErrors, usual_errors
from tilewater.monitoring.passable import flow_passable
from tilewater.monitoring.series import DAY, Series
from tilewater.monitoring.stage_flow import BoardSetting, flow_as_measured, stage_flow
from tilewater.monitoring.wet_volume import mean_wet_volume
from tilewater.monitoring.year_kind import is_representative

CONDUCTIVITY = "capacity.new.conductivity_m_s"
SET = "structure.{}.set-design"
WHOLE_YEAR = 300.0
"""Days that stand for a year; the rest is winter without flow. [days]"""
RATED = {"treated": "outlet", "bypass": "inlet", "total": "head"}
"""Whose boards a way of the water goes over."""
FOLDED = {
    "site_percent": "removal.site_percent",
    "bed_percent": "removal.bed_percent",
    "treated_share": "removal.treated_volume_share",
}
"""What is held against the range of the design, and its key there."""
SHAPE = {
    "floor": "bed.floor_mean_m",
    "length": "bed.length_m",
    "width": "bed.width_bottom_m",
    "side_slope": "bed.side_slope",
    "media_depth": "bed.media_depth_m",
}
"""Size of the bed as its wet section rests on it."""


def add_level(trace: Trace, place: str, level: Series) -> str:
    """Record a logged level."""
    return give(trace, f"level.{place}", level, "m", f"Level as logged, {place}")


def add_rated_flow(
    trace: Trace, way: str, place: str, crests: tuple[tuple[float, float], ...]
) -> bool:
    """Record the flow over the boards of a structure; False where the design has no rating of it.

    Parameters
    ----------
    trace : Trace
        Of the design. [-]
    way : str
        treated or bypass. [-]
    place : str
        Where the level was logged. [-]
    crests : tuple of tuple
        Times, and the crests that stood from then on. [m]

    Returns
    -------
    bool
    """
    boards = SET.format(RATED[way])
    if boards not in trace or is_unknown(trace.value(boards)):
        return False
    base: BoardSet = trace.value(boards)
    settings = tuple(BoardSetting(time, base._replace(crest=crest)) for time, crest in crests)
    given = give(
        trace, f"boards.{RATED[way]}", settings, "m", f"Boards of the {RATED[way]} by time"
    )
    inputs = {"level": f"{HERE}.level.{place}", "settings": given}
    if f"{HERE}.level.ditch" in trace:
        inputs["tailwater"] = f"{HERE}.level.ditch"
    rated, logged = f"{HERE}.rated.{way}", f"{HERE}.logged.{way}"
    levels = [f"{HERE}.level.{name}" for name in ("inlet", "outlet")]
    checked = way == "treated" and trace.known(*levels, CONDUCTIVITY, *SHAPE.values())
    title = f"Flow over the {RATED[way]} boards by the logged level"
    trace.compute(rated if checked else logged, stage_flow, unit="m3/s", title=title, **inputs)
    if checked:
        trace.compute(
            logged,
            flow_passable,
            unit="m3/s",
            title=f"{title}, what the chips cannot have passed left out",
            record=rated,
            level_inlet=levels[0],
            level_outlet=levels[1],
            conductivity=CONDUCTIVITY,
            **SHAPE,
        )
    return True


def add_flow(trace: Trace, way: str, flow: Series) -> None:
    """Record a flow that was logged as one."""
    given = give(trace, f"flow.{way}", flow, "m3/s", f"Flow as logged, {way}")
    trace.compute(
        f"{HERE}.logged.{way}",
        flow_as_measured,
        unit="m3/s",
        title=f"Flow as logged, {way}",
        flow=given,
    )


def add_errors(trace: Trace) -> None:
    """Record the errors: those of the ratings as the design has them, the others as usual."""
    errors = vars(usual_errors()).copy()
    for way, structure in RATED.items():
        rated = f"structure.{structure}.rating_uncertainty"
        if trace.known(rated):
            errors[f"flow_{way}"] = float(trace.value(rated))
    give_errors(trace, MeasurementErrors(**errors))


def add_volumes(trace: Trace) -> None:
    """Record the wet volume by the levels, else that of the design; and the full one."""
    if trace.known("bed.media_volume_m3"):
        full = float(trace.value("bed.media_volume_m3"))
        give(trace, "chip_volume_m3", full, "m3", VOLUMES["chip_volume_m3"])
    levels = {name: f"{HERE}.level.{name}" for name in ("inlet", "outlet")}
    if all(key in trace for key in levels.values()) and trace.known(*SHAPE.values()):
        trace.compute(
            f"{HERE}.wet_volume_m3",
            mean_wet_volume,
            unit="m3",
            title=f"{VOLUMES['wet_volume_m3']}, by the levels",
            level_inlet=levels["inlet"],
            level_outlet=levels["outlet"],
            **SHAPE,
        )
    elif trace.known("capacity.criterion.wet_volume_m3"):
        wet = float(trace.value("capacity.criterion.wet_volume_m3"))
        title = f"{VOLUMES['wet_volume_m3']}, that of the design"
        give(trace, "wet_volume_m3", wet, "m3", title)


def add_trend(trace: Trace, temperature: Series | None) -> None:
    """Record the trend of flow over head drop, where levels and temperature tell it."""
    levels = [f"{HERE}.level.{name}" for name in ("inlet", "outlet")]
    if temperature is None or not trace.known(*levels, f"{HERE}.water", *SHAPE.values()):
        return
    warm = give(trace, "temperature", temperature, "degC", "Temperature of the water as logged")
    days = f"{HERE}.index.days"
    trace.compute(
        days,
        index_days,
        unit="m/s",
        title="Flow per wet section and gradient by the day, at 20 C",
        water=f"{HERE}.water",
        level_inlet=levels[0],
        level_outlet=levels[1],
        temperature=warm,
        **SHAPE,
    )
    if not trace.known(days) or trace.value(days).time_s.size < FEWEST_DAYS:
        return
    here = f"{HERE}.index.trend"
    trace.compute(
        here,
        trend_theil_sen,
        unit="",
        title="Trend of flow per wet section and gradient",
        days=days,
    )
    for name, function, unit, title in (
        (
            "first_m_s",
            trend_first,
            "m/s",
            "Flow per section and gradient at the beginning, at 20 C",
        ),
        ("per_year", trend_per_year, "1/year", "Trend of it, a share per year"),
        ("per_year_p10", trend_low, "1/year", "Trend of it, P10"),
        ("per_year_p90", trend_high, "1/year", "Trend of it, P90"),
    ):
        trace.compute(f"{HERE}.index.{name}", function, unit=unit, title=title, trend=here)


def add_year(trace: Trace, rain: Series | None) -> None:
    """Record whether the measured time was like the same days of other years."""
    known = ("water.flow_m3_s", "water.day", f"{HERE}.start_s", f"{HERE}.end_s", f"{HERE}.water")
    if not trace.known(*known, f"{HERE}.midnights_s"):
        return
    window = {"start_s": f"{HERE}.start_s", "end_s": f"{HERE}.end_s"}
    trace.compute(
        f"{HERE}.year.days",
        days_like_these,
        unit="days",
        title="The same days of the year, in each year on record",
        day="water.day",
        **window,
    )
    _add_kind(
        trace,
        "flow_days",
        (
            flow_days_measured,
            {"water": f"{HERE}.water", "midnights_s": f"{HERE}.midnights_s"},
        ),
        (flow_of_years, {"flow": "water.flow_m3_s", "days": f"{HERE}.year.days"}),
        ("days", "Days with flow"),
    )
    trace.compute(
        f"{HERE}.year.is_representative",
        is_representative,
        unit="",
        title="Whether the time had days enough with flow",
        flow_days=f"{HERE}.year.flow_days.measured",
        usual_flow_days=f"{HERE}.year.flow_days.usual",
    )
    if rain is None or not trace.known("inputs.weather.precipitation_m"):
        return
    give(trace, "rain", rain, "m", "Rain as logged")
    _add_kind(
        trace,
        "rain_m",
        (rain_measured, {"rain": f"{HERE}.rain", **window}),
        (
            rain_of_years,
            {"precipitation": "inputs.weather.precipitation_m", "days": f"{HERE}.year.days"},
        ),
        ("m", "Rain"),
    )


def _add_kind(
    trace: Trace,
    name: str,
    measured: tuple[object, Mapping[str, str]],
    years: tuple[object, Mapping[str, str]],
    words: tuple[str, str],
) -> None:
    unit, title = words
    here = f"{HERE}.year.{name}"
    for key, (function, inputs), what in (
        ("measured", measured, "in the measured time"),
        ("years", years, "in the same days of other years"),
    ):
        trace.compute(f"{here}.{key}", function, unit=unit, title=f"{title} {what}", **inputs)  # type: ignore[arg-type]
    trace.compute(
        f"{here}.kind",
        year_kind,
        unit="",
        title=f"{title}: kind of the time",
        measured=f"{here}.measured",
        others=f"{here}.years",
    )
    trace.compute(
        f"{here}.usual",
        usual_of,
        unit=unit,
        title=f"{title} in the middle one of other years",
        kind=f"{here}.kind",
    )


def add_against_design(trace: Trace) -> None:
    """Record whether the measured percents lie in the range that was designed for.

    The design tells single years, so a part of one is not held against it.
    """
    days = (trace.value(f"{HERE}.end_s") - trace.value(f"{HERE}.start_s")) / DAY
    if days < WHOLE_YEAR:
        message = (
            f"{days:.0f} days were measured. The range of the design is that of whole years, so "
            "nothing is held against it. Measure a year."
        )
        trace.findings.append(
            Finding("monitor-part-of-a-year", "note", "Against the design", message, days)
        )
        return
    for name, key in FOLDED.items():
        low, high = f"{key}.p10", f"{key}.p90"
        measured = f"{HERE}.{name}.p50"
        if not trace.known(low, high, measured):
            continue
        trace.compute(
            f"{HERE}.against.{name}",
            is_usual,
            unit="",
            title=f"Measured against the design: {name.replace('_', ' ')}",
            measured=measured,
            low=low,
            high=high,
        )
        if trace.value(f"{HERE}.against.{name}") != "inside":
            trace.findings.append(_outside(trace, name, low, high, measured))


def _outside(trace: Trace, name: str, low: str, high: str, measured: str) -> Finding:
    where = trace.value(f"{HERE}.against.{name}")
    percent = 100.0 if name == "treated_share" else 1.0
    a, b, x = (percent * float(trace.value(key)) for key in (low, high, measured))
    return Finding(
        "monitor-outside-design",
        "note",
        name.replace("_", " ").capitalize(),
        f"Measured {x:.1f} %, {where} the {a:.1f} to {b:.1f} % that eight of ten single years were "
        "designed for. One time in five a single year does that. Look at the year, the boards and "
        "the flow before the design is doubted.",
        float(np.float64(x)),
        unit="%",
        source="derived",
    )
