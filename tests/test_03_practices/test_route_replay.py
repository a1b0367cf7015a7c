# SPDX-License-Identifier: Apache-2.0
"""A routed day worked again: its steps end at the numbers of the compiled run."""

import math

import numpy as np
import pytest

from tests.test_03_practices.test_route import DAYS, bed, series
from tests.test_03_practices.test_split import table as one_setting
from tilewater.basis.errors import OutOfDomain
from tilewater.practices.bed.route import BedYears, route_days
from tilewater.practices.bed.route_replay import RouteReplay, replay_route

LAWS = {
    "zero order": {},
    "first order": {"half_saturation_mg_per_l": math.inf},
    "tanks": {"half_saturation_mg_per_l": 2.5, "tanks": 4},
    "worn": {
        "half_saturation_mg_per_l": 4.0,
        "tanks": 3,
        "dead_share": 0.2,
        "flush": 0.8,
        "rate_decline_per_year": 0.05,
        "renewed_years": 1.5,
        "nitrate_factor": 1.3,
    },
}
STEPS = {
    "bed_flow": "bed_flow",
    "bypass_flow": "bypass_flow",
    "level": "level",
    "wet_volume": "wet_volume",
    "retention": "retention_days",
    "outlet_nitrate": "outlet_nitrate_mg_per_l",
    "removed": "removed_kg",
    "limited": "limited",
    "runs_back": "runs_back",
}
"""Steps and the series of a run that they are a day of."""


def replay(chips: BedYears, day: int) -> RouteReplay:
    return replay_route(series(), chips, one_setting("design"), day)


def some_days() -> list[int]:
    """Days with the largest flow, with some, with none, and of each year."""
    flow = series().inflow
    wettest = np.argsort(flow)[-3:]
    return [*map(int, wettest), *range(0, DAYS, 97), *map(int, np.flatnonzero(flow == 0)[:2])]


@pytest.mark.law(of=(replay_route, route_days))
@pytest.mark.parametrize("law", LAWS)
def test_every_step_is_the_number_of_the_compiled_run(law: str):
    chips = bed(**LAWS[law])
    run = route_days(series(), chips, one_setting("design"))
    flowing = 0
    for day in some_days():
        found = replay(chips, day)
        assert found.is_day_of(run)
        for name, of_run in STEPS.items():
            if name in {step.name for step in found.steps}:
                assert found.value(name) == getattr(run, of_run)[day], (name, day)
        if run.bed_flow[day] > 0:
            flowing += 1
            assert {step.name for step in found.steps} > STEPS.keys()
        else:
            assert not any(step.part == "nitrate" for step in found.steps)
            assert found.value("removed") == 0.0
    assert flowing > 5
    other = route_days(series(), bed(porosity=0.5), one_setting("design"))
    assert not replay(chips, int(np.argmax(series().inflow))).is_day_of(other)


@pytest.mark.by_hand(of=(replay_route,))
def test_equations_of_a_day_hold_between_its_numbers():
    chips = bed(half_saturation_mg_per_l=2.5, tanks=2, flush=0.5, dead_share=0.1)
    day = int(np.argmax(series().inflow))
    found = replay(chips, day)
    age = found.value("age")
    assert age == day
    assert found.value("conductivity_20") == pytest.approx(
        0.095 * (0.042 / 0.095) ** (age / 365.25 / 9.25)
    )
    cold = found.value("conductivity_20") * series().viscosity_ratio[day]
    assert found.value("conductivity") == pytest.approx(cold)
    shown = found.value("conductivity_shown")
    # q = K' i obeys i = q / K + b q^2
    q = shown * chips.gradient
    assert q / cold + found.value("inertia") * q**2 == pytest.approx(chips.gradient)
    inflow = found.value("inflow")
    assert inflow > found.value("capacity") > 0
    assert found.value("bed_flow") + found.value("bypass_flow") == pytest.approx(inflow)
    assert found.value("through") == pytest.approx(86400 * found.value("bed_flow"))
    assert found.value("share") == pytest.approx(found.value("bed_flow") / inflow)
    pores = 0.61 * 0.9 * found.value("wet_volume")
    assert found.value("held") == pytest.approx(pores)
    assert found.value("retention") == pytest.approx(pores / found.value("through"))
    assert found.value("warmth") == pytest.approx(2.15 ** ((found.value("temperature") - 15) / 10))
    rate = 6.0 * (1 + found.value("flush")) * found.value("warmth") / (0.61 * 0.9)
    assert found.value("rate") == pytest.approx(rate)
    for before, after in (
        ("inlet_nitrate", "tank_1_nitrate"),
        ("tank_1_nitrate", "outlet_nitrate"),
    ):
        c_0, c = found.value(before), found.value(after)
        # a tank is in balance: what comes less what goes is what it takes out
        assert c_0 - c == pytest.approx(rate * found.value("retention") / 2 * c / (2.5 + c))
    taken = found.value("inlet_nitrate") - found.value("outlet_nitrate")
    assert found.value("removed") == pytest.approx(found.value("through") * taken / 1000)
    assert found.value("carried") == 0.0


@pytest.mark.by_hand(of=(replay_route,))
def test_the_capacity_parts_days_that_go_through_whole_from_the_others():
    chips = bed()
    whole = [replay(chips, day) for day in np.flatnonzero(series().inflow > 0)[::11]]
    under = [one for one in whole if one.value("inflow") <= one.value("capacity")]
    assert 3 < len(under) < len(whole)
    for one in whole:
        takes_all = one.value("bypass_flow") == 0.0
        assert takes_all == (one in under)
        (step,) = (step for step in one.steps if step.name == "bed_flow")
        assert step.equation.startswith("Q_b = Q, since") == takes_all


@pytest.mark.works(of=(replay_route,))
@pytest.mark.parametrize("day", [-1, DAYS])
def test_a_day_beyond_the_series_is_refused(day: int):
    with pytest.raises(OutOfDomain, match=f"The series has days 0 to {DAYS - 1}"):
        replay(bed(), day)
