# SPDX-License-Identifier: Apache-2.0
"""One day through a bed worked again by the readable twin, with every equation and its numbers.

A number of a routed day has no trace of its own; this is how it is explained. The steps are those
of `_route.route_at` in the same order, and end at the same numbers.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from tilewater.basis.domain import refuse
from tilewater.practices.bed import _route
from tilewater.practices.bed._route import DAY, BedState, BedYears, DaySeries, RoutedDay
from tilewater.practices.bed._split import (
    FlatTable,
    Place,
    SplitTable,
    between,
    flat,
    place_before,
    share_past,
)
from tilewater.practices.bed.route import RoutedRun, replay_day


@dataclass(frozen=True)
class RouteStep:
    """One value of a routed day.

    Attributes
    ----------
    part : str
        "brought", "chips", "divided", "nitrate" or "outcome".
    name : str
        Name of the value.
    title : str
        What it is, in words.
    equation : str
        How it follows from those before; "" where the day brings it.
    numbers : str
        The equation with its numbers, in SI.
    value : float
        The value.
    unit : str
        Its unit.
    """

    part: str
    name: str
    title: str
    equation: str
    numbers: str
    value: float
    unit: str


@dataclass(frozen=True)
class RouteReplay:
    """A day through a bed.

    Attributes
    ----------
    day : int
        Number of the day, from 0.
    steps : tuple of RouteStep
        In the order of the computation.
    routed : RoutedDay
        What the kernel's own source makes of the day.
    """

    day: int
    steps: tuple[RouteStep, ...]
    routed: RoutedDay

    def value(self, name: str) -> float:
        """Value of a step by its name."""
        return next(step.value for step in self.steps if step.name == name)

    def is_day_of(self, run: RoutedRun) -> bool:
        """Whether a run has the same numbers for the day, to twelve figures."""
        there = (
            run.bed_flow,
            run.bypass_flow,
            run.level,
            run.wet_volume,
            run.retention_days,
            run.outlet_nitrate_mg_per_l,
            1000.0 * run.removed_kg,
            run.limited,
            run.runs_back,
        )
        pairs = zip(there, self.routed, strict=True)
        return all(math.isclose(float(a[self.day]), float(b), rel_tol=1e-12) for a, b in pairs)


def replay_route(series: DaySeries, bed: BedYears, table: SplitTable, place: int) -> RouteReplay:
    """Work one day through a bed again, step by step.

    Parameters
    ----------
    series : DaySeries
        Flow, nitrate, temperature, ditch and setting by the day. [-]
    bed : BedYears
        Media and kinetics. [-]
    table : SplitTable
        How inflows divide. [-]
    place : int
        Number of the day, from 0. [-]

    Returns
    -------
    RouteReplay

    Raises
    ------
    OutOfDomain
        If the series has no such day.

    References
    ----------
    derived, the kernel's own source
    """
    days = series.inflow.size
    if not 0 <= place < days:
        raise refuse(
            "place", place, "", f"The series has days 0 to {days - 1}", "Choose one of them"
        )
    state = _route.first_state(bed)
    for _ in range(place):
        state = _route.next_state(state, bed)
    routed = replay_day(series, bed, table, place)
    steps = [*_brought(series, bed, place)]
    steps += _chips(series, bed, state, place)
    shown = steps[-1].value
    steps += _divided(series, bed, shown, flat(table), routed, place)
    if routed.bed_flow > 0.0:
        steps += _nitrate(series, bed, state, routed, place)
    steps += _outcome(bed, routed, float(series.nitrate[place]) * bed.nitrate_factor)
    return RouteReplay(place, tuple(steps), routed)


def _brought(series: DaySeries, bed: BedYears, day: int) -> Iterator[RouteStep]:
    inflow = _route.inflow_at(day, series, bed.flow_factor)
    lines = (
        ("inflow", "Drain flow at the diversion", inflow, "m3/s"),
        ("temperature", "Temperature of the drain water", float(series.temperature[day]), "degC"),
        ("stage", "Water in the ditch", float(series.stage[day]), "m"),
        ("setting", "Setting of the boards", float(series.setting[day]), "-"),
    )
    for name, title, value, unit in lines:
        yield RouteStep("brought", name, title, "", "", value, unit)
    stated, factor = float(series.nitrate[day]), bed.nitrate_factor
    yield RouteStep(
        "brought",
        "inlet_nitrate",
        "Nitrate of the drain water, as N",
        "C_in = C factor",
        f"{stated:.6g} x {factor:.6g}",
        stated * factor,
        "mg/L",
    )


def _chips(series: DaySeries, bed: BedYears, state: BedState, day: int) -> Iterator[RouteStep]:
    k, ratio = state.conductivity_20, float(series.viscosity_ratio[day])
    inertia = bed.inertia_scale / math.sqrt(k)
    here = k * ratio
    shown = _route.shown_conductivity(here, inertia, bed.gradient)
    yield RouteStep(
        "chips",
        "age",
        "Age of the chips",
        "n = days since they were new",
        f"renewed every {bed.renew_days:,} days",
        float(state.days),
        "days",
    )
    yield RouteStep(
        "chips",
        "conductivity_20",
        "Conductivity at that age, water of 20 degC",
        "K = K_0 f^n",
        f"{bed.conductivity_new:.6g} x {bed.decline_per_day:.9g}^{state.days}",
        k,
        "m/s",
    )
    yield RouteStep(
        "chips",
        "conductivity",
        "Conductivity in water as cold as that",
        "K_T = K viscosity ratio",
        f"{k:.6g} x {ratio:.6g}",
        here,
        "m/s",
    )
    yield RouteStep(
        "chips",
        "inertia",
        "Inertia of the chips",
        "b = s / K^(1/2)",
        f"{bed.inertia_scale:.6g} / {k:.6g}^(1/2)",
        inertia,
        "s2/m2",
    )
    yield RouteStep(
        "chips",
        "conductivity_shown",
        "Conductivity that they show at the gradient of the bed",
        "K' = 2 K_T / (1 + (1 + 4 K_T^2 b i)^(1/2))",
        f"2 x {here:.6g} / (1 + (1 + 4 x {here:.6g}^2 x {inertia:.6g} x {bed.gradient:.6g})^(1/2))",
        shown,
        "m/s",
    )


def _divided(
    series: DaySeries, bed: BedYears, shown: float, table: FlatTable, routed: RoutedDay, day: int
) -> Iterator[RouteStep]:
    inflow = _route.inflow_at(day, series, bed.flow_factor)
    stage = float(series.stage[day])
    capacity = _capacity(table, shown, stage, int(series.setting[day]))
    read = f"table of the setting at K' {shown:.6g}, ditch {stage:.3f}"
    takes_all = inflow <= capacity
    yield RouteStep(
        "divided",
        "capacity",
        "Most that goes through the bed whole",
        "Q_c = table(setting, K', ditch)",
        read,
        capacity,
        "m3/s",
    )
    yield RouteStep(
        "divided",
        "bed_flow",
        "Through the bed",
        "Q_b = Q, since Q <= Q_c" if takes_all else "Q_b = table(setting, K', ditch, Q), Q > Q_c",
        f"{inflow:.6g} <= {capacity:.6g}" if takes_all else f"{read}, Q {inflow:.6g}",
        float(routed.bed_flow),
        "m3/s",
    )
    yield RouteStep(
        "divided",
        "bypass_flow",
        "Over the bypass boards",
        "Q - Q_b",
        f"{inflow:.6g} - {routed.bed_flow:.6g}",
        float(routed.bypass_flow),
        "m3/s",
    )
    for name, title, value, unit in (
        ("level", "Water at the diversion", float(routed.level), "m"),
        ("wet_volume", "Chips under water", float(routed.wet_volume), "m3"),
    ):
        equation = "table(setting, K', ditch, Q)"
        yield RouteStep("divided", name, title, equation, f"{read}, Q {inflow:.6g}", value, unit)


def _capacity(table: FlatTable, shown: float, stage: float, setting: int) -> float:
    """Largest inflow that goes through whole, read as `divide` reads it."""
    first = setting * table.stages
    i = place_before(table.conductivity, 0, table.media, shown)
    j = place_before(table.stage, first, table.stages, stage)
    past_medium = share_past(table.conductivity, i, shown)
    past_stage = share_past(table.stage, first + j, stage)
    corner = (setting * table.media + i) * table.stages + j
    place = Place(i, j, past_medium, past_stage)
    return between(table.capacity, corner, place, 1, table.stages)


def _nitrate(
    series: DaySeries, bed: BedYears, state: BedState, routed: RoutedDay, day: int
) -> Iterator[RouteStep]:
    live = bed.porosity * (1.0 - bed.dead_share)
    water = routed.bed_flow * DAY
    days = float(live * routed.wet_volume / water)
    warmth = float(series.temperature[day])
    warm = math.exp(bed.log_q10 * 0.1 * (warmth - bed.reference))
    rate = state.rate * (1.0 + state.flush) * warm / live
    yield from _rates(bed, state)
    yield RouteStep(
        "nitrate",
        "retention",
        "Time of the water in the live pores",
        "t = phi (1 - dead) V / (86400 Q_b)",
        f"{bed.porosity:.6g} x (1 - {bed.dead_share:.6g}) x {routed.wet_volume:.6g} / {water:.6g}",
        days,
        "days",
    )
    yield RouteStep(
        "nitrate",
        "warmth",
        "Rate at that temperature over that of the reference",
        "w = Q10^((T - T_0) / 10)",
        f"{math.exp(bed.log_q10):.6g}^(({warmth:.6g} - {bed.reference:.6g}) / 10)",
        warm,
        "-",
    )
    yield RouteStep(
        "nitrate",
        "rate",
        "Removal where nitrate abounds, by volume of pore water",
        "r = R (1 + F) w / (phi (1 - dead))",
        f"{state.rate:.6g} x (1 + {state.flush:.6g}) x {warm:.6g} / {live:.6g}",
        rate,
        "g/m3/day",
    )
    yield from _tanks(bed, float(series.nitrate[day]) * bed.nitrate_factor, days, rate)


def _rates(bed: BedYears, state: BedState) -> Iterator[RouteStep]:
    """What age has left of the rate of the chips and of the flush of new ones."""
    for name, title, symbol, new, left, value, unit in (
        (
            "rate_of_chips",
            "Removal of chips as old, by volume of media",
            "R = R_0 g^n",
            bed.rate_g_per_m3_day,
            bed.rate_decline_per_day,
            state.rate,
            "g/m3/day",
        ),
        (
            "flush",
            "What is left of the flush of new chips, as a share",
            "F = F_0 h^n",
            bed.flush,
            bed.flush_left_per_day,
            state.flush,
            "-",
        ),
    ):
        numbers = f"{new:.6g} x {left:.9g}^{state.days}"
        yield RouteStep("nitrate", name, title, symbol, numbers, value, unit)


def _tanks(bed: BedYears, inlet: float, days: float, rate: float) -> Iterator[RouteStep]:
    """Nitrate from tank to tank, or at the outlet of a law without tanks."""
    half = bed.half_saturation_mg_per_l
    last = "Nitrate at the outlet, as N"
    if half <= 0.0 or math.isinf(half):
        left = _route.nitrate_left(inlet, days, rate, half, bed.tanks)
        zero = half <= 0.0
        yield RouteStep(
            "nitrate",
            "outlet_nitrate",
            last,
            "C = max(0, C_in - r t)" if zero else "C = C_in exp(-r t / 10)",
            f"{inlet:.6g} - {rate:.6g} x {days:.6g}"
            if zero
            else f"{inlet:.6g} x exp(-{rate:.6g} x {days:.6g} / 10)",
            left,
            "mg/L",
        )
        return
    step, left = rate * days / bed.tanks, inlet
    for tank in range(1, bed.tanks + 1):
        b, before = half - left + step, left
        left = 0.5 * (math.sqrt(b * b + 4.0 * half * left) - b)
        is_last = tank == bed.tanks
        yield RouteStep(
            "nitrate",
            "outlet_nitrate" if is_last else f"tank_{tank}_nitrate",
            last if is_last else f"Nitrate after tank {tank} of {bed.tanks}, as N",
            "C' = ((B^2 + 4 K_s C)^(1/2) - B) / 2,  B = K_s - C + r t / N",
            f"K_s {half:.6g}, C {before:.6g}, r t / N {step:.6g}",
            left,
            "mg/L",
        )


def _outcome(bed: BedYears, routed: RoutedDay, inlet: float) -> Iterator[RouteStep]:
    inflow = routed.bed_flow + routed.bypass_flow
    live = bed.porosity * (1.0 - bed.dead_share)
    through, past = routed.bed_flow * DAY, routed.bypass_flow * DAY
    share = routed.bed_flow / inflow if inflow > 0.0 else 0.0
    yield _end("through", "Water through the bed", "86400 Q_b", through, "m3")
    yield _end("past", "Water over the bypass boards", "86400 (Q - Q_b)", past, "m3")
    yield _end("share", "Share of the day's water that is treated", "Q_b / Q", share, "-")
    held = live * routed.wet_volume
    yield _end("held", "Water in the live pores", "phi (1 - dead) V", held, "m3")
    yield _end("carried", "Carried over to the next day", "0, each day is steady", 0.0, "m3")
    yield RouteStep(
        "outcome",
        "removed",
        "Nitrate nitrogen taken out",
        "M = 86400 Q_b (C_in - C_out) / 1000",
        f"{through:.6g} x ({inlet:.6g} - {routed.outlet_nitrate:.6g}) / 1000",
        routed.removed / 1000.0,
        "kg",
    )
    limited = "C_out < 0.5 mg/L <= C_in"
    yield _end("limited", "Nitrate, not the chips, set that", limited, routed.limited, "-")
    back = "Q = 0 and the ditch over the outlet boards"
    yield _end("runs_back", "Ditch water runs back into the bed", back, routed.runs_back, "-")


def _end(name: str, title: str, equation: str, value: float, unit: str) -> RouteStep:
    return RouteStep("outcome", name, title, equation, "", float(value), unit)
