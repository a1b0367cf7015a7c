# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: the field of a job for the daily model, and its run with the boards in.

Each value comes from the job, else it is the default of the model with its label. The field is run
as one: the water that the boards hold over its laterals is that over their mean. They hold it at
their crest on every day of a season; on days on which the bed takes all, it stands lower.
"""

from collections.abc import Callable, Iterator
from typing import Any

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Given, Origin, Trace, argument_name
from tilewater.basis.unknown import Unknown
from tilewater.chain import water_parts as parts
from tilewater.chain import water_pool
from tilewater.chain.areas import AREA_ABOVE
from tilewater.chain.field_crest import field_crest
from tilewater.chain.inlets import inlets_bring_water
from tilewater.chain.pumping import has_pump
from tilewater.hydrology.daily_weather import SERIES
from tilewater.hydrology.ditch_stage import SeasonValue, year_table
from tilewater.hydrology.drain_flow import flux_from_flow, least_of
from tilewater.hydrology.field_defaults import field_default_words
from tilewater.hydrology.field_parts import (
    SLUGS,
    FieldCold,
    FieldDrains,
    FieldSoil,
    field_default,
)
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.rules import same
from tilewater.practices.wetness import drain_elevation_at_spot

WEATHER = "inputs.weather"
FIELD = "inputs.field"
RUN = "water.run"
"""Key of the field day by day, boards in; nothing where the weather is not given."""
FIRST_CROP_YEAR = f"{FIELD}.first_crop_year"
"""Key of a year with the first crop; absent where the record begins with it."""
CROPS = ("corn", "soybean")
ENDINGS = {"degC": "_c", "m": "_m", "m/s": "_m_s"}


def add_field_run(trace: Trace) -> None:
    """Record weather, soil, drains, crops and boards, and the field day by day."""
    _add_weather(trace)
    _add_parts(trace)
    _add_outlet(trace)
    add_run(trace, RUN, "water.outlet_height_m", "The field day by day, boards in")


def add_run(
    trace: Trace,
    key: str,
    outlet: str,
    title: str,
    *,
    drains: str = "water.drains",
    function: Callable[..., Any] = parts.field_run,
) -> None:
    """Record a run of the field with water held above its drains."""
    first = FIRST_CROP_YEAR
    trace.compute(
        key,
        function,
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
    for setting in (DESIGN, *trace.names("inputs.season")):
        for name, function, unit, words in (
            (
                "pool_share",
                water_pool.pool_share,
                "-",
                "Share of the laterals that the boards reach",
            ),
            ("outlet_height_m", water_pool.pool_height, "m", title),
        ):
            trace.compute(
                f"water.setting.{setting}.{name}",
                function,
                unit=unit,
                title=f"{words}, {setting} setting",
                crest=field_crest(trace, setting),
                start="inputs.main.station_diversion_m",
                end="inputs.main.upstream_station_m",
                slope="inputs.main.slope",
                **places,
            )
    add_outlet_by_day(trace, "water", title)


def add_outlet_by_day(trace: Trace, here: str, title: str) -> str:
    """Record the heights of the settings of a group day by day; return the key."""
    key, design = f"{here}.outlet_height_m", f"{here}.setting.{DESIGN}.outlet_height_m"
    names = trace.names("inputs.season")
    if not names:
        trace.compute(key, same, unit="m", title=title, value=design)
        return key
    for name in names:
        trace.compute(
            f"{here}.setting.{name}.days",
            SeasonValue,
            unit="",
            title=f"{title}, with its days, {name}",
            first=f"inputs.season.{name}.from",
            last=f"inputs.season.{name}.to",
            value=f"{here}.setting.{name}.outlet_height_m",
        )
    trace.compute(
        f"{here}.outlet_table_m",
        year_table,
        unit="m",
        title=f"{title}, by the day of the year",
        **{argument_name(name): f"{here}.setting.{name}.days" for name in names},
    )
    trace.compute(
        key,
        water_pool.outlet_by_day,
        unit="m",
        title=f"{title}, day by day",
        weather="water.weather",
        table=f"{here}.outlet_table_m",
        otherwise=design,
    )
    return key


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
        trace.findings.append(
            Finding(
                "laterals-not-shot",
                "caution",
                "Daily drain flow",
                "No spot of the field is shot, so the laterals are taken to lie as low as the main "
                "itself, and the boards hold more water over them than they do. Shoot the low "
                "spots and junctions along the main.",
                source="practice",
            )
        )
    found = {}
    for name, (station, drain_key) in places.items():
        key = f"water.lateral.{name}.place_m"
        title = f"Station and elevation of the lateral at {name}"
        trace.compute(
            key, water_pool.lateral_at_spot, unit="m", title=title, station=station, drain=drain_key
        )
        found[f"lateral_{name.replace('-', '_')}"] = key
    return found
