# SPDX-License-Identifier: Apache-2.0
"""Grab samples on working days, and what a laboratory says of them."""

from dataclasses import dataclass
from datetime import timedelta

import numpy as np

from tools.invented_years.site import Site, standard
from tools.invented_years.weather import Random

DAY_S = 86400.0
DETECTION = 0.2
EACH, COMMON, KEPT = 0.05, 0.03, 0.03
"""Spread of a single result, of all of them alike, and of all of one place by their keeping."""
MISSED, DOUBLED = 0.07, 0.12
LEAST_FLOW = 3e-5
"""Less than this is no water to dip a bottle in. [m3/s]"""


@dataclass(frozen=True)
class Bottle:
    """One result; `double_of` is its sister's number, "" where it has none."""

    number: str
    place: str
    time_s: float
    nitrate: float
    double_of: str

    @property
    def is_below(self) -> bool:
        """Whether the laboratory only says less than its limit."""
        return self.nitrate < DETECTION


def invent_bottles(site: Site, *, every_days: float = 7.0) -> tuple[Bottle, ...]:
    """Bottles of both ends of the bed, about every so many days while water runs."""
    random = np.random.default_rng((site.seed, 11, round(10 * every_days)))
    alike = random.normal(0.0, COMMON)
    common = {
        place: float(np.exp(alike + random.normal(0.0, KEPT))) for place in ("inlet", "outlet")
    }
    found: list[Bottle] = []
    at = float(site.time_s[0]) + DAY_S * random.uniform(0.0, every_days)
    flow = site.divided.bed + site.divided.bypass
    while at < site.time_s[-1] - 2.0 * DAY_S:
        when = _working_hour(random, at)
        at += every_days * DAY_S
        place = int(np.searchsorted(site.time_s, when))
        if place >= flow.size or flow[place] < LEAST_FLOW or random.uniform() < MISSED:
            continue
        for name, truth in (("inlet", site.nitrate_in), ("outlet", site.nitrate_out)):
            if name == "outlet" and site.divided.bed[place] < LEAST_FLOW:
                continue
            number = f"CF-{len(found) + 1:04d}"
            found.append(_analysed(random, number, name, when, truth[place] * common[name], ""))
            if random.uniform() < DOUBLED:
                twin = f"CF-{len(found) + 1:04d}"
                found.append(
                    _analysed(random, twin, name, when, truth[place] * common[name], number)
                )
    return tuple(found)


def _analysed(
    random: Random, number: str, place: str, when: float, truth: float, double_of: str
) -> Bottle:
    seen = truth * np.exp(random.normal(0.0, EACH)) + random.normal(0.0, 0.03)
    return Bottle(number, place, when, float(round(max(seen, 0.0), 2)), double_of)


def _working_hour(random: Random, at: float) -> float:
    """The next working day between half past eight and half past three."""
    day = standard(at).replace(hour=8, minute=30, second=0, microsecond=0)
    while day.weekday() > 4:
        day += timedelta(days=1)
    shift = (day - standard(at)).total_seconds()
    return at + shift + 900.0 * float(random.integers(0, 29))
