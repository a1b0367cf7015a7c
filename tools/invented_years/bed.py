# SPDX-License-Identifier: Apache-2.0
"""The bed as it is in truth: how it divides the water, and what it takes out of it.

Flow goes with a power of the head below one, the weirs have coefficients of their own, and removal
follows a spread of first orders with an S-shaped answer to temperature. None of it is the
program's.
"""

from dataclasses import dataclass

import numpy as np

from tools.invented_years.weather import HOURS, Floats, Random, wandering

FOOT, INCH = 0.3048, 0.0254
SILL_INLET, SILL_OUTLET, FLOOR = 1181.20 * FOOT, 1180.70 * FOOT, 1180.70 * FOOT
CREST_WIDTH = 1.17 * FOOT
WEIR = 1.838
"""Of a sharp crest, metres and seconds; each weir here has its own beside it."""
PORES_M3_PER_M = 185.0
POWER = 0.88
RATING_SPREAD = 0.12
"""How far the coefficient of one weir lies from that of the books."""
BELOW = 0.004
"""Water stands so far below its boards while none flows. [m]"""


@dataclass(frozen=True)
class Works:
    """What is drawn once for a site: weirs, chips and how fast they work."""

    weir_inlet: float
    weir_outlet: float
    passing: float
    decline_per_year: float
    fastest_per_day: float
    spread: float

    @classmethod
    def drawn(cls, random: Random) -> "Works":
        return cls(
            weir_inlet=WEIR * np.exp(random.normal(0.0, RATING_SPREAD)),
            weir_outlet=WEIR * np.exp(random.normal(0.0, RATING_SPREAD)),
            passing=0.0215 * np.exp(random.normal(0.0, 0.22)),
            decline_per_year=max(0.01, random.normal(0.075, 0.025)),
            fastest_per_day=2.3 * np.exp(random.normal(0.0, 0.25)),
            spread=random.uniform(1.5, 4.0),
        )


@dataclass(frozen=True)
class Divided:
    """Flows [m3/s] and water levels [m]."""

    bed: Floats
    bypass: Floats
    level_inlet: Floats
    level_outlet: Floats


def divide(
    works: Works, flow: Floats, water_c: Floats, years: Floats, inlet_in: Floats, outlet_in: Floats
) -> Divided:
    """How drain flow divides between the bed and the bypass boards, stacks in inches."""
    crest_in, crest_out = SILL_INLET + inlet_in * INCH, SILL_OUTLET + outlet_in * INCH
    bed, level = np.zeros_like(flow), crest_out - BELOW
    out, runs = crest_out - BELOW, flow > 0.0
    thick = 1.0 + 0.029 * (water_c[runs] - 20.0)  # cold water is thicker
    passing = works.passing * np.exp(-works.decline_per_year * years[runs])
    passing = passing * np.maximum(thick, 0.4)
    edge_in, edge_out, comes = crest_in[runs], crest_out[runs], flow[runs]

    def below(through: Floats) -> Floats:
        """Water in the outlet structure."""
        return edge_out + (through / (works.weir_outlet * CREST_WIDTH)) ** (2.0 / 3.0)

    def above(through: Floats) -> Floats:
        """Water in the diversion that sends a flow through the bed."""
        foot = below(through) - FLOOR
        wanted = through / passing
        drop = (wanted / foot) ** (1.0 / POWER)
        for _ in range(4):
            now = (foot + 0.5 * drop) * drop**POWER - wanted
            slope = 0.5 * drop**POWER + (foot + 0.5 * drop) * POWER * drop ** (POWER - 1.0)
            drop = np.maximum(drop - now / slope, 1e-9)
        return foot + FLOOR + drop

    low, high = np.full_like(comes, 1e-12), comes.copy()
    for _ in range(30):
        middle = 0.5 * (low + high)
        past = ((comes - middle) / (works.weir_inlet * CREST_WIDTH)) ** (2.0 / 3.0)
        fits = above(middle) < edge_in + past
        low, high = np.where(fits, middle, low), np.where(fits, high, middle)
    whole = above(comes) <= edge_in
    bed[runs] = np.where(whole, comes, 0.5 * (low + high))
    level[runs], out[runs] = above(bed[runs]), below(bed[runs])
    return Divided(bed, flow - bed, level, out)


def outlet_nitrate(
    random: Random, works: Works, divided: Divided, nitrate: Floats, water_c: Floats, years: Floats
) -> Floats:
    """Nitrate that leaves the bed, hour by hour. [mg/L]"""
    depth = 0.5 * (divided.level_inlet + divided.level_outlet) - FLOOR
    flow = np.maximum(divided.bed, 2e-5)
    stay_hours = np.minimum(PORES_M3_PER_M * depth / flow / 3600.0, 240.0)
    fresh = 1.0 + 0.9 * np.exp(-years / 0.6)
    weekly = np.repeat(wandering(random, nitrate.size // HOURS, 0.9, 0.12), HOURS)
    warm = 1.0 / (1.0 + np.exp(-(water_c - 13.0) / 4.0))
    rate = works.fastest_per_day * warm * fresh * np.exp(weekly)
    left = (1.0 + rate * stay_hours / 24.0 / works.spread) ** -works.spread
    value, out = float(nitrate[0]), np.empty(nitrate.size)
    for hour in range(nitrate.size):
        value += (nitrate[hour] - value) * min(1.0, 1.4 / (0.4 + stay_hours[hour]))
        out[hour] = value * left[hour]
    return np.maximum(out, 0.0)
