# SPDX-License-Identifier: Apache-2.0
"""Whether a report finds what invented years truly carried, and how often bottles are needed.

For many seeds the loads of a calendar year are worked out from the faulty readings by the same
functions that the verb uses, and held against the truth: how often it lies within the stated P10
to P90. The second study thins the bottles. `python3 -m tools.recovery_study` prints
the rows of the tables in docs/recovery.md.
"""

import argparse
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from multiprocessing import Pool

import numpy as np

from tilewater.basis.errors import TilewaterError
from tilewater.chain.monitor import Measured, analyse
from tilewater.hydraulics.board_crests import board_set_sharp_francis
from tilewater.monitoring.concentration import Nitrate, concentration_linear
from tilewater.monitoring.loads import load_of
from tilewater.monitoring.sensors import (
    between_times,
    drift_of_checks,
    may_be_ice,
    stands_still,
)
from tilewater.monitoring.series import FROZEN, OUT_OF_WATER, Flags, Floats, Samples, Series
from tilewater.monitoring.stage_flow import BoardSetting, FlowRecord, stage_flow
from tools.invented_years.bed import CREST_WIDTH, INCH, SILL_INLET, SILL_OUTLET
from tools.invented_years.instruments import RANGE_M, Instruments, Stage, invent_instruments
from tools.invented_years.laboratory import DETECTION, Bottle, invent_bottles
from tools.invented_years.site import STANDARD_S, STEP_S, Site, YearLoads, invent_site

SEEDS, FIRST_SEED, PROCESSES = 200, 1000, 2
EVERY_DAYS = (2.0, 3.5, 7.0, 10.0, 14.0, 21.0, 28.0)
WORDS = {
    "removed_kg": "nitrogen removed",
    "bed_in_kg": "load into the bed",
    "bypass_kg": "load past it",
    "site_percent": "site percent",
    "bed_percent": "bed percent",
    "treated_share": "treated share",
}
NAMES = tuple(WORDS)
STATED = 0.80
DAY, HOUR = 86400.0, 3600.0
WITHIN = 0.10
"""Error of an annual load that the published interval of sampling stands for."""


@dataclass(frozen=True)
class Found:
    """One number of one year: truth, value, and the range that was stated."""

    seed: int
    year: int
    name: str
    truth: float
    value: float
    p10: float
    p50: float
    p90: float

    @property
    def is_within(self) -> bool:
        """Whether the truth lies in the stated range."""
        return self.p10 <= self.truth <= self.p90

    @property
    def error(self) -> float:
        """Middle over truth, less one."""
        return self.p50 / self.truth - 1.0 if self.truth else math.nan


def found_of_seed(
    seed: int, every_days: float = 7.0, years: int = 3, faults: bool = True
) -> list[Found]:
    """Every number of every year of a site, found and true; loggers with faults or without."""
    site = invent_site(seed, years=years)
    flows = flows_of(site, invent_instruments(site, faults=faults), ends=faults)
    samples = samples_of(invent_bottles(site, every_days=every_days))
    found: list[Found] = []
    for year in site.years:
        start, end = (_new_year(each) for each in (year.year, year.year + 1))
        try:
            measured = analyse(flows, samples, start_s=start, end_s=end)
        except TilewaterError:
            continue  # too few bottles in a year without water
        found += _held(seed, year, measured)
    return found


def _held(seed: int, year: YearLoads, measured: Measured) -> Iterator[Found]:
    came = year.bed_in_kg + year.bypass_kg
    truth = {
        "removed_kg": year.removed_kg,
        "bed_in_kg": year.bed_in_kg,
        "bypass_kg": year.bypass_kg,
        "site_percent": 100.0 * year.removed_kg / came,
        "bed_percent": 100.0 * year.removed_kg / year.bed_in_kg,
        "treated_share": year.treated_m3 / (year.treated_m3 + year.bypass_m3),
    }
    for name in NAMES:
        one = getattr(measured, name)
        yield Found(seed, year.year, name, truth[name], one.value, one.p10, one.p50, one.p90)


def flows_of(site: Site, instruments: Instruments, *, ends: bool = True) -> dict[str, FlowRecord]:
    """Flow through the bed and over the bypass boards, from the loggers as they were read."""
    inlet = level_of(instruments.inlet, instruments.water_c, ends=ends)
    outlet = level_of(instruments.outlet, instruments.water_c)
    return {
        "treated": stage_flow(outlet, _settings(site, "outlet", SILL_OUTLET)),
        "bypass": stage_flow(inlet, _settings(site, "inlet", SILL_INLET)),
    }


def level_of(stage: Stage, water_c: Floats, *, ends: bool = True) -> Series:
    """Elevation of the water by a logger, put right by the readings by hand.

    `ends` marks where the sensor at the inlet was at its end.
    """
    time, over = stage.time_s, stage.over_sensor_m
    read = np.isfinite(over)
    checks = [
        (at, level - stage.sensor_m - float(shown))
        for at, level in stage.checks
        for shown in between_times(np.array([at]), time[read], over[read], longest_span=HOUR)
        if np.isfinite(shown)
    ]
    at, added = (np.array(each) for each in zip(*checks, strict=True))
    flag: Flags = np.zeros(time.size, np.uint8)
    # where it failed it tells no temperature either
    warm = np.where(read, water_c, np.nan)
    icy = np.zeros(time.size, bool)
    icy[read] = may_be_ice(time[read], stands_still(time[read], over[read]), warm[read])
    flag[icy] |= FROZEN
    if ends and stage.place == "inlet":
        flag[read & (over >= RANGE_M - 1e-3)] |= OUT_OF_WATER
    level = over + stage.sensor_m + drift_of_checks(time, at, added)
    return Series(stage.place, time, level, flag)


def samples_of(bottles: Sequence[Bottle]) -> dict[str, Samples]:
    """Bottles as the laboratory reports them, by place."""
    return {place: _samples(bottles, place) for place in ("inlet", "outlet")}


def _samples(bottles: Sequence[Bottle], place: str) -> Samples:
    here = [one for one in bottles if one.place == place]
    numbers = [one.number for one in here]
    time = np.array([one.time_s for one in here])
    below = np.array([one.is_below for one in here])
    return Samples(
        place,
        time,
        np.array([math.nan if one.is_below else one.nitrate for one in here]),
        np.full(time.size, DETECTION),
        below,
        ("grab",) * time.size,
        time,
        np.array([numbers.index(one.double_of) if one.double_of else -1 for one in here]),
    )


def _settings(site: Site, structure: str, sill: float) -> tuple[BoardSetting, ...]:
    return tuple(
        BoardSetting(
            change.time_s if number else -math.inf,
            board_set_sharp_francis(
                sill + getattr(change, f"{structure}_in") * INCH, sill, crest_width=CREST_WIDTH
            ),
        )
        for number, change in enumerate(site.changes)
    )


def _new_year(year: int) -> float:
    return datetime(year, 1, 1, tzinfo=UTC).timestamp() + STANDARD_S


def one_year_each(found: Sequence[Found]) -> list[Found]:
    """One year of every seed, since the years of a site share their weirs and laboratory."""
    return [each for each in found if each.year % 3 == each.seed % 3]


def interval_of(hits: int, tries: int) -> tuple[float, float]:
    """Interval of 95 percent for a rate, Wilson's."""
    rate, z = hits / tries, 1.96
    middle = (rate + z * z / (2 * tries)) / (1 + z * z / tries)
    half = z / (1 + z * z / tries)
    half *= math.sqrt(rate * (1 - rate) / tries + z * z / (4 * tries * tries))
    return middle - half, middle + half


def study(seeds: Sequence[int], every_days: float = 7.0, *, faults: bool = True) -> list[Found]:
    """What was found for many seeds, on both cores."""
    with Pool(PROCESSES) as pool:
        parts = pool.starmap(found_of_seed, [(seed, every_days, 3, faults) for seed in seeds])
    return [each for part in parts for each in part]


@dataclass(frozen=True)
class Thinned:
    """Error of a year's loads with bottles so many days apart and everything else known."""

    seed: int
    year: int
    every_days: float
    came: float
    removed: float


def thinned_of_seed(seed: int, intervals: Sequence[float] = EVERY_DAYS) -> list[Thinned]:
    """Errors that the time between bottles alone makes: true flow, exact bottles."""
    site = invent_site(seed)
    total = site.divided.bed + site.divided.bypass
    steps = np.full(site.time_s.size, float(STEP_S))
    found: list[Thinned] = []
    for every in intervals:
        at = _bottle_times(site, every)
        ends = (site.nitrate_in, site.nitrate_out)
        known = [
            concentration_linear(
                Nitrate(place, at, np.interp(at, site.time_s, truth), at, at), site.time_s
            )
            for place, truth in zip(("inlet", "outlet"), ends, strict=True)
        ]
        for year in site.years:
            now = (site.time_s >= _new_year(year.year)) & (site.time_s < _new_year(year.year + 1))
            came = load_of(total, known[0], steps, now)
            removed = load_of(site.divided.bed, known[0] - known[1], steps, now)
            true_came = year.bed_in_kg + year.bypass_kg
            found.append(
                Thinned(
                    seed, year.year, every, came / true_came - 1.0, removed / year.removed_kg - 1.0
                )
            )
    return found


def _bottle_times(site: Site, every_days: float) -> Floats:
    """Every so many days from a day that is drawn, at ten in the morning, while water runs."""
    random = np.random.default_rng((site.seed, 13))
    days = np.arange(random.uniform(0.0, every_days), site.time_s[-1] / DAY, every_days)
    at = np.floor(site.time_s[0] / DAY + days) * DAY + STANDARD_S + 10.0 * HOUR
    at = np.unique(at[at < site.time_s[-1]])
    runs = np.interp(at, site.time_s, site.divided.bed) > 0.0
    kept: Floats = at[runs]
    return kept


def summary_lines(found: Sequence[Found]) -> list[str]:
    """One line of a table for each number: how often the truth lay in the stated range."""
    lines = []
    for name in NAMES:
        each = [one for one in one_year_each(found) if one.name == name]
        hits = sum(one.is_within for one in each)
        low, high = interval_of(hits, len(each))
        below = sum(one.truth < one.p10 for one in each)
        errors = np.array([one.error for one in each])
        lines.append(
            f"| {WORDS[name]} | {hits} of {len(each)} | {hits / len(each):.0%} | "
            f"{low:.0%} to {high:.0%} | {below} | {len(each) - hits - below} | "
            f"{np.median(errors):+.0%} | {np.median(np.abs(errors)):.0%} |"
        )
    return lines


def interval_lines(found: Sequence[Thinned]) -> list[str]:
    """One line of a table for each time between bottles."""
    lines = []
    for every in EVERY_DAYS:
        each = [one for one in found if one.every_days == every]
        came, removed = (np.abs([getattr(o, name) for o in each]) for name in ("came", "removed"))
        bias = float(np.median([one.came for one in each]))
        lines.append(
            f"| {every:g} | {len(each)} | {bias:+.1%} | {np.mean(came <= WITHIN):.0%} | "
            f"{np.quantile(came, 0.9):.0%} | {np.mean(removed <= WITHIN):.0%} | "
            f"{np.quantile(removed, 0.9):.0%} |"
        )
    return lines


def thin(seeds: Sequence[int]) -> list[Thinned]:
    """The study of the time between bottles, on both cores."""
    with Pool(PROCESSES) as pool:
        return [each for part in pool.map(thinned_of_seed, seeds) for each in part]


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seeds", type=int, default=SEEDS)
    parser.add_argument("--every", type=float, default=7.0)
    parser.add_argument("--thinned", action="store_true", help="the time between bottles instead")
    parser.add_argument("--clean", action="store_true", help="loggers without their faults")
    asked = parser.parse_args()
    seeds = range(FIRST_SEED, FIRST_SEED + asked.seeds)
    lines = (
        interval_lines(thin(seeds))
        if asked.thinned
        else summary_lines(study(seeds, asked.every, faults=not asked.clean))
    )
    print("\n".join(lines))
