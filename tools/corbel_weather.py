# SPDX-License-Identifier: Apache-2.0
"""Write the weather of Corbel Farm anew: thirty invented years, the same every time.

python3 -m tools.corbel_weather

The figures of the climate lie in `hydrology/data/practice_fennick_*.csv`. They and the seed were
set before any field was run on the weather. The seed is the first, counted from 1, whose mean year
is within 0.3 in of the mean year of the figures.
"""

import datetime

from tilewater.basis.units import from_si
from tilewater.hydrology.weather import Weather
from tilewater.hydrology.weather_generator import fennick_climate, invented_weather
from tools.package import ROOT

FILE = ROOT / "examples" / "corbel-farm" / "weather.csv"
FIRST_DAY = datetime.date(1996, 1, 1)
END = datetime.date(2026, 1, 1)
SEED = 8
HEAD = """\
# INVENTED. Daily weather of Fennick County, which does not exist; nobody measured any of it.
# Made by tools/corbel_weather.py from the figures of practice_fennick_rain.csv and
# practice_fennick_temperature.csv. T is a trace, less than 0.005 in.
date,rain [in],tmax [degF],tmin [degF]
"""


def corbel_weather() -> Weather:
    """Weather as drawn, before it is rounded as an observer would write it."""
    days = (END - FIRST_DAY).days
    return invented_weather(fennick_climate(), first_day=FIRST_DAY, days=days, seed=SEED)


def weather_text(weather: Weather) -> str:
    """The file: rain to a hundredth of an inch, temperatures to a degree."""
    rows = (
        f"{weather.date(number)},{_rain(rain)},{_degrees(highest)},{_degrees(lowest)}\n"
        for number, (rain, highest, lowest) in enumerate(
            zip(
                weather.precipitation.tolist(),
                weather.temperature_max.tolist(),
                weather.temperature_min.tolist(),
                strict=True,
            )
        )
    )
    return HEAD + "".join(rows)


def _rain(depth: float) -> str:
    inches = f"{from_si(depth, 'in'):.2f}"
    if inches != "0.00":
        return inches
    return "T" if depth > 0.0 else "0"


def _degrees(temperature: float) -> str:
    degrees = round(from_si(temperature, "degF"))
    return f"{degrees}"


def main() -> None:
    """Write the file."""
    FILE.write_text(weather_text(corbel_weather()), encoding="utf-8")
    print(f"Wrote {FILE.relative_to(ROOT)}.")


if __name__ == "__main__":
    main()
