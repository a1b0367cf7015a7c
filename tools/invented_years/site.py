# SPDX-License-Identifier: Apache-2.0
"""One invented site over its years: everything that happened, and the true loads of each year."""

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

import numpy as np

from tools.invented_years.bed import Divided, Works, divide, outlet_nitrate
from tools.invented_years.water import invent_water
from tools.invented_years.weather import HOURS, Floats, Random, Weather, invent_weather

STANDARD_S = 6 * 3600
"""Standard time lies so far behind universal time."""
STEP_S = 900
PER_HOUR = 3600 // STEP_S
BEFORE = 120
"""Days before the first that only warm the stores."""
YEAR_DAYS = 365.25
SEASONS = (
    ("03-25", 30.0, 24.0, "before field work, two weeks"),
    ("05-18", 36.0, 24.0, "planted"),
    ("06-24", 36.0, 10.0, "low flow"),
    ("09-12", 14.0, 10.0, "harvest"),
    ("11-27", 36.0, 24.0, "winter"),
)
"""Month and day, stack at the inlet and at the outlet in inches, why."""


@dataclass(frozen=True)
class Change:
    """Boards set on a day, by who happened to be there."""

    time_s: float
    inlet_in: float
    outlet_in: float
    why: str


@dataclass(frozen=True)
class YearLoads:
    """What a calendar year truly carried. [kg, m3]"""

    year: int
    bed_in_kg: float
    bed_out_kg: float
    bypass_kg: float
    treated_m3: float
    bypass_m3: float

    @property
    def removed_kg(self) -> float:
        """What the bed took out."""
        return self.bed_in_kg - self.bed_out_kg

    @property
    def site_percent(self) -> float:
        """Share of all that came."""
        return 100.0 * self.removed_kg / (self.bed_in_kg + self.bypass_kg)


@dataclass(frozen=True)
class Site:
    """Quarter hours of what truly happened; times in universal seconds."""

    seed: int
    first: date
    time_s: Floats
    divided: Divided
    nitrate_in: Floats
    nitrate_out: Floats
    water_c: Floats
    weather: Weather
    works: Works
    changes: tuple[Change, ...]
    years: tuple[YearLoads, ...]


def invent_site(seed: int, first: date = date(2028, 1, 1), years: int = 3) -> Site:
    """A site of its own for every seed."""
    random = np.random.default_rng(seed)
    last = date(first.year + years, first.month, first.day)
    days = (last - first).days
    offset = (first - date(first.year, 1, 1)).days - BEFORE
    weather = invent_weather(random, days + BEFORE, offset)
    drained = invent_water(random, weather, offset)
    works, changes = Works.drawn(random), _changes(random, first, last)
    kept = slice(BEFORE * HOURS, None)
    begin = _universal(datetime(first.year, first.month, first.day))
    hour_s: Floats = begin + 3600.0 * np.arange(days * HOURS, dtype=np.float64)
    time: Floats = begin + STEP_S * np.arange(days * HOURS * PER_HOUR, dtype=np.float64)
    flow = _finer(drained.flow[kept], hour_s, time)
    water = _finer(weather.water_c[kept], hour_s, time)
    nitrate = _finer(drained.nitrate[kept], hour_s, time)
    age = 0.25 + (time - begin) / (YEAR_DAYS * 86400.0)
    place = np.searchsorted([change.time_s for change in changes], time, "right") - 1
    stacks = np.array([(change.inlet_in, change.outlet_in) for change in changes])[place]
    divided = divide(works, flow, water, age, stacks[:, 0], stacks[:, 1])
    hourly = Divided(*(getattr(divided, name)[::PER_HOUR] for name in divided.__annotations__))
    out = outlet_nitrate(
        random,
        works,
        hourly,
        drained.nitrate[kept],
        weather.water_c[kept],
        age[::PER_HOUR],
    )
    leaving = np.minimum(_finer(out, hour_s, time), nitrate)
    rest = Weather(weather.rain_mm[kept], weather.air_c[kept], weather.water_c[kept])
    loads = _loads(first, years, time, divided, nitrate, leaving)
    return Site(seed, first, time, divided, nitrate, leaving, water, rest, works, changes, loads)


def standard(time_s: float) -> datetime:
    """Standard time of a universal second, without its zone."""
    return datetime.fromtimestamp(time_s - STANDARD_S, UTC).replace(tzinfo=None)


def _universal(local: datetime) -> float:
    return (local - datetime(1970, 1, 1)).total_seconds() + STANDARD_S


def _finer(hourly: Floats, hour_s: Floats, time: Floats) -> Floats:
    return np.interp(time, hour_s, hourly)


def _changes(random: Random, first: date, last: date) -> tuple[Change, ...]:
    """Boards as they are changed, some days about the day that was meant."""
    begin = datetime(first.year, first.month, first.day)
    found = [Change(_universal(begin), 36.0, 24.0, "as the year before")]
    for year in range(first.year, last.year):
        for day, inlet, outlet, why in SEASONS:
            month, number = (int(part) for part in day.split("-"))
            when = datetime(year, month, number, 8) + timedelta(
                days=int(random.integers(-4, 5)), minutes=int(random.integers(0, 540))
            )
            found.append(Change(_universal(when), inlet, outlet, why))
    return tuple(found)


def _loads(
    first: date,
    years: int,
    time: Floats,
    divided: Divided,
    nitrate: Floats,
    leaving: Floats,
) -> tuple[YearLoads, ...]:
    found = []
    for year in range(first.year, first.year + years):
        start, stop = (_universal(datetime(each, 1, 1)) for each in (year, year + 1))
        now = (time >= start) & (time < stop)
        bed, past = divided.bed[now] * STEP_S, divided.bypass[now] * STEP_S
        found.append(
            YearLoads(
                year,
                float(bed @ nitrate[now]) * 1e-3,
                float(bed @ leaving[now]) * 1e-3,
                float(past @ nitrate[now]) * 1e-3,
                float(bed.sum()),
                float(past.sum()),
            )
        )
    return tuple(found)
