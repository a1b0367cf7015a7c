# SPDX-License-Identifier: Apache-2.0
"""Write what the loggers and the laboratory of the built example measured: invented, and dirty.

Four weeks of March 2028 at both structures, with the faults that such files have: lines about the
instrument, two sorts of clocks over the start of summer time, a sensor that drifts, a day without
readings, absolute pressure. The water follows from one invented flow, so that what is read can
be held against it.
"""

from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

FOLDER = Path(__file__).parents[1] / "examples/corbel-built"
FOOT = 0.3048
SITE = ZoneInfo("America/Chicago")
FIRST = datetime(2028, 3, 1, 6, 0, tzinfo=UTC)
LAST = datetime(2028, 3, 29, 5, 0, tzinfo=UTC)
QUARTER = timedelta(minutes=15)
OUTLET_CREST, BYPASS_CREST = 1182.70 * FOOT, 1184.20 * FOOT
INLET_ZERO, OUTLET_ZERO = 1181.60 * FOOT, 1181.10 * FOOT
WEIR = 1.838 * 1.17 * FOOT
"""Flow over the boards by the head to 3/2: sharp, 1.17 ft wide. [m3/s at 1 m]"""
RESISTANCE = 0.54 * FOOT / (0.150 * FOOT**3)
"""Head that the bed takes by its flow, as it was read in April 2028. [s/m2]"""
WATER = 9.80665
STORMS = {date(2028, 3, 4): 0.85, date(2028, 3, 12): 1.60, date(2028, 3, 21): 0.62}
"""Rain of the days before the three storms of the flow. [in]"""

Floats = NDArray[np.float64]
Times = list[datetime]


def times_of(step: timedelta) -> Times:
    """Times from the first to the last, in universal time."""
    return [FIRST + i * step for i in range(int((LAST - FIRST) / step))]


def drain_flow(hours: Floats) -> Floats:
    """Flow of the main: a base and three storms. [m3/s]"""
    flow = 0.0022 + 0.0006 * np.sin(hours / 160)
    for start, peak, rise, fall in (
        (96, 0.0085, 9, 40),
        (290, 0.0205, 7, 46),
        (500, 0.006, 12, 50),
    ):
        since = np.clip(hours - start, 0.0, None)
        flow = flow + peak * (1 - np.exp(-since / rise)) * np.exp(-since / fall) * 1.6
    return np.asarray(flow)


def water_of(flow: Floats) -> tuple[Floats, Floats]:
    """Water in the inlet and in the outlet structure. [m]"""
    inlet, outlet = np.empty(flow.size), np.empty(flow.size)
    for i, total in enumerate(flow):
        low, high = 0.0, float(total)
        for _ in range(50):
            treated = (low + high) / 2
            below = OUTLET_CREST + (treated / WEIR) ** (2 / 3)
            pool = below + RESISTANCE * treated
            over = WEIR * max(pool - BYPASS_CREST, 0.0) ** 1.5
            low, high = (treated, high) if treated + over < total else (low, treated)
        inlet[i], outlet[i] = pool, below
    return inlet, outlet


def hours_of(times: Times) -> Floats:
    """Hours since the first time."""
    return np.array([(time - FIRST).total_seconds() / 3600 for time in times])


def air_of(hours: Floats) -> Floats:
    """Pressure of the air. [kPa]"""
    return np.asarray(97.8 + 0.9 * np.sin(hours / 41) + 0.3 * np.sin(hours / 9.5))


def warmth_of(hours: Floats) -> Floats:
    """Temperature of the drain water. [degC]"""
    return np.asarray(4.2 + 2.0 * hours / 672 + 0.25 * np.sin(hours * 2 * np.pi / 24))


def write_inlet(noise: np.random.Generator) -> None:
    """Feet over the sensor, by a clock that is moved with those of the site; it drifts."""
    times = times_of(QUARTER)
    hours = hours_of(times)
    pool, _ = water_of(drain_flow(hours))
    drift = -0.010 - 0.035 * hours / hours[-1]
    shown = (pool - INLET_ZERO) / FOOT + drift + noise.normal(0.0, 0.002, hours.size)
    shown[1500] += 0.9
    lines = [
        "Level recorder, serial 20417",
        "Site: Corbel Farm, inlet structure",
        "Read out 2028-03-29 by T. Hale",
        "",
        "No.,Date,Time,Level (ft),Battery (V)",
    ]
    for i, (time, level) in enumerate(zip(times, shown, strict=True), start=1):
        local = time.astimezone(SITE)
        hour = local.strftime("%I:%M %p").lstrip("0")
        lines.append(f"{i},{local:%-m/%-d/%Y},{hour},{level:.3f},3.6")
    write("inlet.csv", lines)
    for day in (
        datetime(2028, 3, 2, 15, 30),
        datetime(2028, 3, 15, 15, 0),
        datetime(2028, 3, 28, 14),
    ):
        at = hours_of([day.replace(tzinfo=UTC)])
        level = water_of(drain_flow(at))[0][0] / FOOT
        print(f"by hand {day.replace(tzinfo=UTC).astimezone(SITE):%Y-%m-%d %H:%M}: {level:.2f} ft")


def write_outlet(noise: np.random.Generator) -> None:
    """Absolute pressure, by a clock that stays on standard time; half a day is missing."""
    times = times_of(QUARTER)
    hours = hours_of(times)
    _, below = water_of(drain_flow(hours))
    pressure = air_of(hours) + WATER * (below - OUTLET_ZERO) + noise.normal(0.0, 0.004, hours.size)
    warmth = warmth_of(hours)
    lines = [
        '"Recorder 7, outlet structure"',
        '"Time, UTC-06:00";"Abs pressure (kPa)";"Temperature (°C)"',
    ]
    for i, time in enumerate(times):
        if 1752 <= i < 1796:
            continue  # the reader was left plugged in
        local = time - timedelta(hours=6)
        lines.append(f"{local:%Y-%m-%d %H:%M};{pressure[i]:.3f};{warmth[i]:.2f}")
    write("outlet.csv", lines, encoding="cp1252")


def write_air() -> None:
    """Pressure of the air every hour, by universal time."""
    times = times_of(timedelta(hours=1))
    lines = ["Time (UTC),Air pressure [hPa]"]
    for time, pressure in zip(times, air_of(hours_of(times)), strict=True):
        lines.append(f"{time:%Y-%m-%dT%H:%M:%SZ},{10 * pressure:.1f}")
    write("air.csv", lines)


def write_rain(noise: np.random.Generator) -> None:
    """Rain of each day of three years; the second is dry."""
    lines = ["Date,Rain [in]"]
    day = date(2028, 1, 1)
    while day.year < 2031:
        warm = 0.5 - 0.5 * np.cos(2 * np.pi * (day.timetuple().tm_yday - 15) / 365)
        is_wet = noise.random() < 0.22 + 0.12 * warm
        size = noise.gamma(0.75, 0.29 + 0.31 * warm) * (0.78 if day.year == 2029 else 1.0)
        fallen = STORMS.get(day, size if is_wet else 0.0)
        lines.append(f"{day:%Y-%m-%d},{fallen:.2f}")
        day += timedelta(days=1)
    write("rain.csv", lines)


def write_laboratory(noise: np.random.Generator) -> None:
    """Bottles of both structures: weekly in the first spring, then every three weeks of flow."""
    days = [date(2028, 3, 1) + timedelta(days=7 * i) for i in range(5)]
    for year in (2028, 2029, 2030):
        start = date(year, 4, 12) if year == 2028 else date(year, 3, 7)
        days += [start + timedelta(days=21 * i) for i in range(6)]
        days.append(date(year, 11, 14))
    lines = ["Lab ID,Client sample,Collected,Nitrate-N [mg/L],Analyzed,Comment"]
    number = 3101
    for day in days:
        warm = np.clip((day - date(day.year, 3, 1)).days / 110, 0.0, 1.0) if day.month < 9 else 0.4
        above = 14.2 + noise.normal(0.0, 1.4)
        left = float(np.clip(0.72 - 0.74 * warm + noise.normal(0.0, 0.05), 0.0, 0.95))
        below = above * left
        shown = f"{below:.1f}" if below >= 0.2 else "<0.2"
        done = day + timedelta(days=2)
        for place, hour, result in (("CF-IN", "09:10", f"{above:.1f}"), ("CF-OUT", "09:25", shown)):
            lines.append(f"{number},{place},{day:%m/%d/%Y} {hour},{result},{done:%m/%d/%Y} 10:00,")
            number += 1
        if day == date(2028, 3, 15):
            text = f"{day:%m/%d/%Y} 09:12,{above - 0.3:.1f},{done:%m/%d/%Y} 10:00,second bottle"
            lines.append(f"{number},CF-IN DUP,{text}")
            lines.append(f"{number + 1},CF-BLANK,{day:%m/%d/%Y} 09:40,<0.2,{done:%m/%d/%Y} 10:00,")
            number += 2
    write("lab.csv", lines)


def write(name: str, lines: list[str], *, encoding: str = "utf-8") -> None:
    """Write a file of the example."""
    path = FOLDER / "loggers" / name
    path.parent.mkdir(exist_ok=True)
    path.write_text("\n".join(lines) + "\n", encoding=encoding)


def main() -> None:
    """Write all of them."""
    noise = np.random.default_rng(2028)
    write_inlet(noise)
    write_outlet(noise)
    write_air()
    write_rain(noise)
    write_laboratory(noise)


if __name__ == "__main__":
    main()
