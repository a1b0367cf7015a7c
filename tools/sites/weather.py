# SPDX-License-Identifier: Apache-2.0
"""Write the weather of the examples anew: thirty invented years each, the same every time.

python3 -m tools.sites.weather

The figures of a climate lie in `hydrology/data/practice_COUNTY_*.csv`. They and the seed were set
before any field was run on the weather. The seed is the first, counted from 1, whose mean year is
within 0.3 in of the mean year of the figures.
"""

import datetime
from dataclasses import dataclass
from pathlib import Path

from tilewater.basis.units import from_si
from tilewater.hydrology.weather import Weather
from tilewater.hydrology.weather_generator import invented_climate, invented_weather
from tools.package import ROOT

FIRST_DAY = datetime.date(1996, 1, 1)
END = datetime.date(2026, 1, 1)
HEAD = """\
# INVENTED. Daily weather of {County} County, which does not exist; nobody measured any of it.
# Made by {tool} from the figures of practice_{county}_rain.csv and
# practice_{county}_temperature.csv. T is a trace, less than 0.005 in.
date,rain [in],tmax [degF],tmin [degF]
"""


@dataclass(frozen=True)
class Place:
    """An example with weather: its folder, its county, its seed, the tool that its file names."""

    example: str
    county: str
    seed: int
    tool: str = "tools/sites/weather.py"

    @property
    def file(self) -> Path:
        """Where its weather is written."""
        return ROOT / "examples" / self.example / "weather.csv"


CORBEL = Place("corbel-farm", "fennick", 8, "tools/corbel_weather.py")
MERRIDEW = Place("merridew-farm", "anselm", 8)
VERLING = Place("verling-farm", "odell", 10)
SORREL = Place("sorrel-farm", "brandreth", 8)
PLACES = (CORBEL, MERRIDEW, VERLING, SORREL)


def drawn(place: Place) -> Weather:
    """Weather as drawn, before it is rounded as an observer would write it."""
    days = (END - FIRST_DAY).days
    climate = invented_climate(place.county)
    return invented_weather(climate, first_day=FIRST_DAY, days=days, seed=place.seed)


def written(place: Place, weather: Weather) -> str:
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
    county = place.county
    head = HEAD.format(County=county.capitalize(), county=county, tool=place.tool)
    return head + "".join(rows)


def _rain(depth: float) -> str:
    inches = f"{from_si(depth, 'in'):.2f}"
    if inches != "0.00":
        return inches
    return "T" if depth > 0.0 else "0"


def _degrees(temperature: float) -> str:
    degrees = round(from_si(temperature, "degF"))
    return f"{degrees}"


def write(place: Place) -> None:
    """Write the file of one example."""
    place.file.parent.mkdir(parents=True, exist_ok=True)
    place.file.write_text(written(place, drawn(place)), encoding="utf-8")
    print(f"Wrote {place.file.relative_to(ROOT)}.")


def main() -> None:
    """Write all files."""
    for place in PLACES:
        write(place)


if __name__ == "__main__":
    main()
