# SPDX-License-Identifier: Apache-2.0
"""Write the ditch record of Verling Farm anew: a level logger that nobody ever set.

python3 -m tools.sites.stage

Each day's level is the ordinary water, plus a wave of the year that is highest in spring, plus what
is left of the rain of the days before, which runs off over days in so flat a country, plus scatter.
Rain is that of the invented weather of the same days; more of it reaches the ditch in winter and
spring, and of a great storm some stays on the fields. Scatter is drawn from a fixed seed. What a
logger does in the field is put in on purpose: it was dead for twelve days, and its readings count
from its own zero.

The figures were set so that the level lies above 718.4 ft on 38 percent of the days on which the
drains of this farm run by the program's own series, as the site states; no other number of the
design was looked at.
"""

import datetime
import math
import random
from dataclasses import dataclass

from tilewater.basis.units import from_si
from tools.package import ROOT
from tools.sites.verling_farm import SITE
from tools.sites.weather import VERLING, drawn

FILE = ROOT / "examples" / SITE.name / "stage.csv"
FIRST = datetime.date(2022, 10, 1)
LAST = datetime.date(2025, 9, 30)
SEED = 1849
ZERO = 714.50
DEAD = (datetime.date(2024, 1, 14), datetime.date(2024, 1, 25))
HEAD = f"""\
# INVENTED. Level logger in a ditch of Odell County, which does not exist; nobody read it.
# Made by tools/sites/stage.py from the weather of this example. Daily means; the zero of the logger
# is at {ZERO:.2f} ft. NA: the battery was empty.
date,stage [ft]
"""


@dataclass(frozen=True)
class Response:
    """How the ditch answers the rain: shares of an inch that become feet, and how they fade."""

    base: float
    wave: float
    peak_day: float
    winter: float
    summer: float
    kept: float
    most: float
    scatter: float


RESPONSE = Response(
    base=717.70,
    wave=0.48,
    peak_day=95.0,
    winter=1.2,
    summer=0.45,
    kept=0.78,
    most=1.5,
    scatter=0.05,
)


def levels(response: Response = RESPONSE) -> list[tuple[datetime.date, float]]:
    """Elevation of the ditch water on each day, in feet."""
    weather = drawn(VERLING)
    scatter = random.Random(SEED)
    rise = 0.0
    found: list[tuple[datetime.date, float]] = []
    for number, rain in enumerate(weather.precipitation.tolist()):
        day = weather.date(number)
        angle = 2.0 * math.pi * (day.timetuple().tm_yday - response.peak_day) / 365.25
        season = 0.5 + 0.5 * math.cos(angle)
        share = response.summer + (response.winter - response.summer) * season
        rise = response.kept * rise + share * min(from_si(rain, "in"), response.most)
        if FIRST <= day <= LAST:
            level = response.base + response.wave * math.cos(angle) + rise
            found.append((day, level + scatter.gauss(0.0, response.scatter)))
    return found


def stage_text() -> str:
    """The file of the logger."""
    lines = []
    for day, level in levels():
        reading = "NA" if DEAD[0] <= day <= DEAD[1] else f"{level - ZERO:.2f}"
        lines.append(f"{day},{reading}\n")
    return HEAD + "".join(lines)


def main() -> None:
    """Write the file."""
    FILE.write_text(stage_text(), encoding="utf-8")
    print(f"Wrote {FILE.relative_to(ROOT)}.")


if __name__ == "__main__":
    main()
