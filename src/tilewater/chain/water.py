# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: the daily drain flow, measured or from the weather of the job.

Keys that others read: `water.basis` says "measured" or "simulated"; `water.day` holds days counted
from the year 1, `water.flow_m3_s` the mean flow of each at the diversion, boards in as the seasons
set them; `water.air_temperature_c` the mean air temperature of each. A job with neither weather nor
a record has none of these but the basis, which is not known.

The field is run as one: the water that the boards hold over its laterals is that over their mean.
"""

from collections.abc import Callable, Iterator
from typing import Any

from tilewater.basis.trace import Given, Origin, Trace
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.chain import water_parts as parts
from tilewater.chain.areas import AREA_ABOVE
from tilewater.chain.inlets import inlets_bring_water
from tilewater.chain.pumping import has_pump
from tilewater.hydrology import flow_record
from tilewater.hydrology.daily_weather import SERIES
from tilewater.hydrology.ditch_shares import flow_of_days
from tilewater.hydrology.ditch_stage import SeasonValue, year_table
from tilewater.hydrology.drain_flow import flux_from_flow, least_of
from tilewater.hydrology.field_parts import (
    SLUGS,
    FieldCold,
    FieldDrains,
    FieldSoil,
    field_default,
    field_default_words,
)
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.rules import same
from tilewater.practices.wetness import drain_elevation_at_spot

WEATHER = "inputs.weather"
FIELD = "inputs.field"
RECORD, RECORD_DAYS = "inputs.record.daily_depth_m_s", "inputs.record.day"
RUN = "water.run"
"""Key of the field day by day, boards in; nothing where the weather is not given."""
CROPS = ("corn", "soybean")
ENDINGS = {"degC": "_c", "m": "_m", "m/s": "_m_s"}


def add_water(trace: Trace) -> None:
    """Record the field day by day, and the daily flow at the diversion with its basis."""
    if f"{WEATHER}.precipitation_m" in trace:
        _add_weather(trace)
        _add_parts(trace)
        _add_outlet(trace)
        add_run(trace, RUN, "water.outlet_height_m", "The field day by day, boards in")
    _add_series(trace)


def add_run(trace: Trace, key: str, outlet: str, title: str, drains: str = "water.drains") -> Any:
    """Record a run of the field with water held above its drains."""
    first = f"{FIELD}.first_crop_year"
    return trace.compute(
        key,
        parts.field_run,
        unit="",
        title=title,
        weather="water.weather",
        soil="water.soil",
        drains=drains,
        cold="water.cold",
        rotation="water.rotation",
        outlet_height=outlet,
        **({"first_year": first} if first in trace else {}),
    )


def _add_weather(trace: Trace) -> None:
    elements = dict(_elements(trace))
    if f"{WEATHER}.elevation_m" not in trace:
        why = "the elevation of the weather is neither typed nor in its file"
        unknown = Unknown(why, "give elevation under [weather], or ground_at_bed under [site]")
        trace.give(Given(f"{WEATHER}.elevation_m", unknown, "m", "Elevation of the weather"))
    trace.compute(
        "water.weather",
        parts.daily_weather,
        unit="",
        title="Weather of the field, day by day",
        day=f"{WEATHER}.day",
        latitude_deg=f"{WEATHER}.latitude_deg",
        elevation=f"{WEATHER}.elevation_m",
        **elements,
    )


def _elements(trace: Trace) -> Iterator[tuple[str, str]]:
    """Names of the elements that are recorded, with their keys."""
    for name in SERIES:
        for ending in ("", "_m", "_c", "_h", "_m_s"):
            key = f"{WEATHER}.{name.removesuffix('_hours') if ending == '_h' else name}{ending}"
            if key in trace:
                yield name, key
                break
    if f"{WEATHER}.wind_m_s" in trace:
        yield "wind_height", f"{WEATHER}.wind_height_m"


DRAINAGE = {
    "conductivity_above": "inputs.drainage.conductivity_above_m_s",
    "conductivity_below": "inputs.drainage.conductivity_m_s",
    "barrier_below_drains": "inputs.drainage.depth_to_barrier_m",
    "depth": "inputs.drainage.lateral_depth_m",
    "spacing": "inputs.drainage.lateral_spacing_m",
    "radius": "inputs.drainage.effective_radius_m",
    "snow_undercatch": "inputs.weather.undercatch",
    "main_capacity": "water.main_limit_m_s",
}
"""What the model takes from other tables of the job than that of the field."""


def _add_parts(trace: Trace) -> None:
    """Soil, drains, cold and crops: each value from the job, else the default with its label."""
    _add_limits(trace)
    inlets = {"inlet_capacity": "water.inlet_limit_m_s"}
    for key, part, title, more in (
        ("water.soil", FieldSoil, "Soil of the field", {}),
        ("water.drains", FieldDrains, "Drains of the field", inlets),
        ("water.cold", FieldCold, "Snow and frost of the field", {}),
    ):
        values = {name: _value_key(trace, name, slug) for name, slug in SLUGS[part].items()}
        trace.compute(key, part, unit="", title=title, **values, **more)
    _add_rotation(trace)


def _value_key(trace: Trace, name: str, slug: str) -> str:
    """Key of a value of the model: of another table, of the field, or its default."""
    if DRAINAGE.get(name, "") in trace:
        return DRAINAGE[name]
    for ending in ("", *ENDINGS.values()):
        if f"{FIELD}.{name}{ending}" in trace:
            return f"{FIELD}.{name}{ending}"
    words = field_default_words(slug)
    key = f"water.default.{name}{ENDINGS.get(words.unit, '')}"
    origin = Origin(source="practice", text=words.typed, note=words.label)
    trace.give(Given(key, field_default(slug), words.unit, words.title, origin))
    return key


def _add_limits(trace: Trace) -> None:
    """Most that the main, or the pump, takes; and most that surface inlets bring."""
    carries = {"main": "drain_flow.candidates_m3_s.main_full"}
    if has_pump(trace):
        carries["pump"] = "drain_flow.candidates_m3_s.pump"
    trace.compute(
        "water.main_limit_m3_s",
        least_of,
        unit="m3/s",
        title="Most that the main carries full, or the pump lifts",
        **carries,
    )
    trace.compute(
        "water.main_limit_m_s",
        flux_from_flow,
        unit="m/s",
        title="The same over the area above the diversion",
        flow="water.main_limit_m3_s",
        area=AREA_ABOVE,
    )
    own, key = f"{FIELD}.inlet_flow_m3_s", "water.inlet_limit_m_s"
    title = "Most that surface inlets let into the main, over the area above the diversion"
    if not inlets_bring_water(trace):
        trace.constant(key, 0.0, f"{title}: none", unit="m/s", source="derived")
    elif own in trace:
        trace.compute(key, flux_from_flow, unit="m/s", title=title, flow=own, area=AREA_ABOVE)
    else:
        trace.compute(
            key,
            same,
            unit="m/s",
            title=f"{title}: as much as the main carries, since nobody says less",
            value="water.main_limit_m_s",
        )


def _add_rotation(trace: Trace) -> None:
    crops = f"{FIELD}.rotation"
    if crops not in trace:
        crops = trace.constant(
            "water.default.rotation", CROPS, "Crops of the field in turn", source="practice"
        )
    limit = f"{FIELD}.root_limit_m"
    trace.compute(
        "water.rotation",
        parts.rotation_of,
        unit="",
        title="Crops of the field with their stages and roots",
        crops=crops,
        **({"root_limit": limit} if limit in trace else {}),
    )


def _add_outlet(trace: Trace) -> None:
    """Water that the boards hold over the laterals, by day, as a mean over all laterals."""
    title = "Water that the boards hold over the laterals, mean of all"
    key = "water.outlet_height_m"
    if has_pump(trace):
        trace.constant(key, 0.0, f"{title}: the pump holds none", unit="m", source="derived")
        return
    places = _laterals(trace)
    settings = (DESIGN, *trace.names("inputs.season"))
    for setting in settings:
        for name, function, unit, words in (
            ("pool_share", parts.pool_share, "-", "Share of the laterals that the boards reach"),
            ("outlet_height_m", parts.pool_height, "m", title),
        ):
            trace.compute(
                f"water.setting.{setting}.{name}",
                function,
                unit=unit,
                title=f"{words}, {setting} setting",
                crest=f"boards.inlet-{setting}.crest_m",
                start="inputs.main.station_diversion_m",
                end=_upper_end(trace),
                slope="inputs.main.slope",
                **places,
            )
    design = f"water.setting.{DESIGN}.outlet_height_m"
    if len(settings) == 1:
        trace.compute(key, same, unit="m", title=title, value=design)
        return
    _add_seasons(trace, key, design, title)


def _add_seasons(trace: Trace, key: str, design: str, title: str) -> None:
    names = trace.names("inputs.season")
    for name in names:
        trace.compute(
            f"water.setting.{name}.days",
            SeasonValue,
            unit="",
            title=f"{title}, with its days, {name}",
            first=f"inputs.season.{name}.from",
            last=f"inputs.season.{name}.to",
            value=f"water.setting.{name}.outlet_height_m",
        )
    trace.compute(
        "water.outlet_table_m",
        year_table,
        unit="m",
        title=f"{title}, by the day of the year",
        **{name.replace("-", "_"): f"water.setting.{name}.days" for name in names},
    )
    trace.compute(
        key,
        parts.outlet_by_day,
        unit="m",
        title=f"{title}, day by day",
        weather="water.weather",
        table="water.outlet_table_m",
        otherwise=design,
    )


def _upper_end(trace: Trace) -> str:
    return "inputs.main.upstream_station_m"


def _laterals(trace: Trace) -> dict[str, str]:
    """Keys of the laterals whose elevation is known; that of the main where no spot is shot."""
    places = {}
    for spot in trace.names("inputs.spot"):
        given, here = f"inputs.spot.{spot}", f"water.lateral.{spot}"
        title = f"Elevation of the lateral at {spot}"
        if f"{given}.drain_m" in trace:
            own = f"{given}.drain_m"
            trace.compute(f"{here}.drain_m", same, unit="m", title=title, value=own)
        else:
            trace.compute(
                f"{here}.drain_m",
                drain_elevation_at_spot,
                unit="m",
                title=title,
                ground=f"{given}.ground_m",
                lateral_depth="inputs.drainage.lateral_depth_m",
            )
        places[spot] = (f"{given}.station_m", f"{here}.drain_m")
    if not places:
        places["main"] = ("inputs.main.station_diversion_m", "inputs.main.invert_diversion_m")
    found = {}
    for name, (station, drain_key) in places.items():
        key = f"water.lateral.{name}.place_m"
        title = f"Station and elevation of the lateral at {name}"
        trace.compute(
            key, parts.lateral_at_spot, unit="m", title=title, station=station, drain=drain_key
        )
        found[f"lateral_{name.replace('-', '_')}"] = key
    return found


def _add_series(trace: Trace) -> None:
    """Daily flow at the diversion: as measured, else as simulated."""
    basis = "Daily drain flow rests on"
    if RECORD in trace and RECORD_DAYS in trace:
        trace.constant("water.basis", "measured", basis, source="derived")
        steps: tuple[tuple[str, Callable[..., Any], str, str, dict[str, str]], ...] = (
            ("day", parts.days_of_record, "", "Days of the record", {"day": RECORD_DAYS}),
            (
                "flow_m3_s",
                flow_of_days,
                "m3/s",
                "Measured flow of each day at the diversion",
                {"daily_depth": RECORD, "area": AREA_ABOVE},
            ),
        )
    elif RUN in trace:
        value = trace.value(RUN)
        simulated = Unknown(value.why, value.measure, value.causes) if is_unknown(value) else None
        trace.give(
            Given("water.basis", simulated or "simulated", "", basis, Origin(source="derived"))
        )
        steps = (
            ("day", parts.days_of_weather, "", "Days of the weather", {"weather": "water.weather"}),
            (
                "flow_m3_s",
                parts.flow_of_run,
                "m3/s",
                "Flow of each day at the diversion, boards in",
                {"run": RUN, "area": AREA_ABOVE},
            ),
        )
    else:
        why = "neither weather nor a record of daily drain flow is given"
        unknown = Unknown(why, "name a file under [weather], or record under [drainage]")
        trace.give(Given("water.basis", unknown, "", basis))
        return
    for name, function, unit, title, inputs in steps:
        trace.compute(f"water.{name}", function, unit=unit, title=title, **inputs)
    _add_mean_year(trace)
    if "water.weather" in trace:
        trace.compute(
            "water.air_temperature_c",
            parts.air_on_days,
            unit="degC",
            title="Mean air temperature of each of these days",
            day="water.day",
            weather="water.weather",
        )


def _add_mean_year(trace: Trace) -> None:
    """Mean year of the field as simulated, whatever was measured beside it."""
    if RUN not in trace:
        return
    trace.compute(
        "water.depth_m_s",
        parts.depth_of_run,
        unit="m/s",
        title="Simulated drain flow of each day over the drained area",
        run=RUN,
    )
    for name, function, unit, title in (
        ("mean_annual_depth_m", flow_record.mean_annual_depth, "m", "Drainage of a mean year"),
        ("flow_days_per_year", flow_record.flow_days_per_year, "days", "Days with flow"),
    ):
        trace.compute(
            f"water.{name}",
            function,
            unit=unit,
            title=f"{title}, simulated",
            daily_depth="water.depth_m_s",
        )
