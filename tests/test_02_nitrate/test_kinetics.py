# SPDX-License-Identifier: Apache-2.0
"""Four laws of nitrate in pores, and temperature.

C0 inlet, C outlet in mg/L as N; t days; r rate per volume of pore water; Km half saturation.
The bed of the hand values removes 10 g per m3 of media and day, has porosity 0.7, C0 is 15.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.special import lambertw

from tests.digits import printed
from tilewater.basis.errors import OutOfDomain
from tilewater.nitrate.kinetics import (
    outlet_nitrate_first_order,
    outlet_nitrate_michaelis_menten,
    outlet_nitrate_tanks,
    outlet_nitrate_zero_order,
    rate_at_temperature,
)

C0 = 15.0
RATE = 10.0 / 0.7
HOURS = (3, 6, 12, 24)


@pytest.mark.by_hand(of=(outlet_nitrate_zero_order,))
@pytest.mark.parametrize(("hours", "outlet"), [(6, "11.4"), (12, "7.9"), (24, "0.7")])
def test_zero_order(hours: int, outlet: str) -> None:
    nitrate = outlet_nitrate_zero_order(C0, hours / 24, rate_mg_per_l_day=RATE)

    assert 15 - 10 / 0.7 * hours / 24 == pytest.approx(nitrate, rel=1e-12)
    assert printed(outlet) == nitrate


@pytest.mark.by_hand(of=(outlet_nitrate_first_order,))
def test_first_order() -> None:
    assert 15 * math.exp(-0.1 * 16) == pytest.approx(
        outlet_nitrate_first_order(15.0, 16.0, rate_per_day=0.1), rel=1e-12
    )
    assert printed("0.80") == 1 - outlet_nitrate_first_order(1.0, 16.0, rate_per_day=0.1)


@pytest.mark.by_hand(of=(outlet_nitrate_michaelis_menten,))
@pytest.mark.parametrize(
    ("hours", "outlet"), [(3, "13.43"), (6, "11.89"), (12, "8.90"), (24, "3.58")]
)
def test_plug_flow_with_half_saturation_two(hours: int, outlet: str) -> None:
    C = outlet_nitrate_michaelis_menten(
        C0, hours / 24, max_rate_mg_per_l_day=RATE, half_saturation_mg_per_l=2.0
    )

    assert (C0 - C) + 2 * math.log(C0 / C) == pytest.approx(RATE * hours / 24, rel=1e-12)
    assert printed(outlet) == C


@pytest.mark.by_hand(of=(outlet_nitrate_michaelis_menten,))
@pytest.mark.parametrize(("hours", "outlet"), [(6, "11.6"), (12, "8.5"), (24, "3.8")])
def test_half_saturation_seven_scaled_to_the_same_first_rate(hours: int, outlet: str) -> None:
    scaled = RATE * (7.2 + C0) / C0

    assert printed(outlet) == outlet_nitrate_michaelis_menten(
        C0, hours / 24, max_rate_mg_per_l_day=scaled, half_saturation_mg_per_l=7.2
    )


@pytest.mark.by_hand(of=(outlet_nitrate_tanks,))
@pytest.mark.parametrize(
    ("tanks", "outlets"),
    [
        (10, ("13.44", "11.90", "8.92", "3.73")),
        (3, ("13.44", "11.91", "8.98", "4.05")),
        (2, ("13.44", "11.92", "9.02", "4.27")),
    ],
)
def test_tanks_in_a_row(tanks: int, outlets: tuple[str, ...]) -> None:
    for hours, outlet in zip(HOURS, outlets, strict=True):
        assert printed(outlet) == outlet_nitrate_tanks(
            C0,
            hours / 24,
            max_rate_mg_per_l_day=RATE,
            half_saturation_mg_per_l=2.0,
            tanks=tanks,
        )


@pytest.mark.by_hand(of=(outlet_nitrate_tanks,))
def test_one_tank_balances() -> None:
    C = outlet_nitrate_tanks(
        C0, 0.5, max_rate_mg_per_l_day=RATE, half_saturation_mg_per_l=2.0, tanks=1
    )

    assert C0 - C == pytest.approx(RATE * 0.5 * C / (2.0 + C), rel=1e-12)


@pytest.mark.by_hand(of=(rate_at_temperature,))
@pytest.mark.parametrize(
    ("temperature", "factor"),
    [
        (2.0, ".37"),
        (5.0, ".47"),
        (8.0, ".59"),
        (10.0, ".68"),
        (12.0, ".79"),
        (15.0, "1.00"),
        (18.0, "1.26"),
        (20.0, "1.47"),
    ],
)
def test_rate_relative_to_fifteen_degrees(temperature: float, factor: str) -> None:
    rate = rate_at_temperature(1.0, temperature, q10=2.15, reference=15.0)

    assert 2.15 ** ((temperature - 15) / 10) == pytest.approx(rate, rel=1e-12)
    assert printed(factor) == rate


@pytest.mark.by_hand(of=(rate_at_temperature,))
def test_rates_about_ten_degrees_with_a_factor_of_two() -> None:
    for temperature, rate in ((5.0, "2.1"), (10.0, "3.0"), (15.0, "4.2")):
        assert printed(rate) == rate_at_temperature(3.0, temperature, q10=2.0, reference=10.0)


@pytest.mark.oracle("scipy.special.lambertw", of=(outlet_nitrate_michaelis_menten,))
@pytest.mark.parametrize("inlet", [1e-4, 0.5, 15.0, 120.0])
@pytest.mark.parametrize("half_saturation", [0.1, 2.0, 7.2])
def test_plug_flow_by_the_lambert_function(inlet: float, half_saturation: float) -> None:
    for time in (0.0, 0.1, 1.0, 3.0):
        u = inlet / half_saturation
        argument = u * math.exp(u - RATE * time / half_saturation) if u < 500 else math.inf
        if argument == math.inf:
            continue
        expected = half_saturation * lambertw(argument).real
        assert expected == pytest.approx(
            outlet_nitrate_michaelis_menten(
                inlet,
                time,
                max_rate_mg_per_l_day=RATE,
                half_saturation_mg_per_l=half_saturation,
            ),
            rel=1e-9,
        )


@pytest.mark.oracle("scipy.integrate.solve_ivp", of=(outlet_nitrate_michaelis_menten,))
def test_plug_flow_integrated_in_time() -> None:
    step_by_step = solve_ivp(
        lambda _, c: -RATE * c / (2.0 + c), (0.0, 1.0), [C0], rtol=1e-10, atol=1e-12
    )

    assert step_by_step.y[0, -1] == pytest.approx(
        outlet_nitrate_michaelis_menten(
            C0, 1.0, max_rate_mg_per_l_day=RATE, half_saturation_mg_per_l=2.0
        ),
        rel=1e-8,
    )


inlets = st.floats(0.0, 200.0)
times = st.floats(0.0, 30.0)
rates = st.floats(0.0, 100.0)
saturations = st.floats(0.05, 20.0)


@pytest.mark.law(of=(outlet_nitrate_michaelis_menten, outlet_nitrate_zero_order))
@given(inlet=inlets, time=times, rate=rates, half_saturation=saturations)
def test_outlet_lies_between_zero_order_and_inlet(
    inlet: float, time: float, rate: float, half_saturation: float
) -> None:
    outlet = outlet_nitrate_michaelis_menten(
        inlet, time, max_rate_mg_per_l_day=rate, half_saturation_mg_per_l=half_saturation
    )
    least = outlet_nitrate_zero_order(inlet, time, rate_mg_per_l_day=rate)
    rounding = 1e-9 * (inlet + 1.0)

    assert least - rounding <= outlet <= inlet + rounding


@pytest.mark.law(of=(outlet_nitrate_michaelis_menten, outlet_nitrate_tanks))
@given(inlet=inlets, time=st.floats(0.0, 3.0), rate=rates, half_saturation=saturations)
def test_mixing_never_helps(inlet: float, time: float, rate: float, half_saturation: float) -> None:
    law = {"max_rate_mg_per_l_day": rate, "half_saturation_mg_per_l": half_saturation}
    plug = outlet_nitrate_michaelis_menten(inlet, time, **law)
    ten = outlet_nitrate_tanks(inlet, time, tanks=10, **law)
    two = outlet_nitrate_tanks(inlet, time, tanks=2, **law)
    rounding = 1e-9 * (inlet + 1.0)

    assert plug <= ten + rounding
    assert ten <= two + rounding


@pytest.mark.law(of=(outlet_nitrate_tanks, outlet_nitrate_michaelis_menten))
def test_many_tanks_are_plug_flow() -> None:
    law = {"max_rate_mg_per_l_day": RATE, "half_saturation_mg_per_l": 2.0}

    assert outlet_nitrate_michaelis_menten(C0, 1.0, **law) == pytest.approx(
        outlet_nitrate_tanks(C0, 1.0, tanks=20000, **law), rel=1e-4
    )


@pytest.mark.law(of=(outlet_nitrate_michaelis_menten,))
@given(inlet=inlets, first=st.floats(0.0, 2.0), second=st.floats(0.0, 2.0))
def test_two_beds_in_a_row_are_one(inlet: float, first: float, second: float) -> None:
    law = {"max_rate_mg_per_l_day": RATE, "half_saturation_mg_per_l": 2.0}
    between = float(outlet_nitrate_michaelis_menten(inlet, first, **law))

    assert outlet_nitrate_michaelis_menten(inlet, first + second, **law) == pytest.approx(
        outlet_nitrate_michaelis_menten(between, second, **law), rel=1e-8, abs=1e-300
    )


@pytest.mark.law(of=(outlet_nitrate_michaelis_menten, outlet_nitrate_first_order))
def test_little_nitrate_falls_by_first_order() -> None:
    plug = outlet_nitrate_michaelis_menten(
        1e-6, 0.5, max_rate_mg_per_l_day=RATE, half_saturation_mg_per_l=2.0
    )

    assert outlet_nitrate_first_order(1e-6, 0.5, rate_per_day=RATE / 2.0) == pytest.approx(
        plug, rel=1e-6
    )


@pytest.mark.law(of=(outlet_nitrate_michaelis_menten, outlet_nitrate_tanks))
def test_nothing_in_nothing_out_and_no_time_no_change() -> None:
    law = {"max_rate_mg_per_l_day": RATE, "half_saturation_mg_per_l": 2.0}

    assert outlet_nitrate_michaelis_menten(0.0, 1.0, **law) == 0.0
    assert outlet_nitrate_tanks(0.0, 1.0, tanks=3, **law) == 0.0
    assert outlet_nitrate_michaelis_menten(C0, 0.0, **law) == pytest.approx(C0, rel=1e-12)
    assert outlet_nitrate_tanks(C0, 0.0, tanks=3, **law) == pytest.approx(C0, rel=1e-12)


@pytest.mark.law(
    of=(
        outlet_nitrate_zero_order,
        outlet_nitrate_first_order,
        outlet_nitrate_michaelis_menten,
        outlet_nitrate_tanks,
        rate_at_temperature,
    )
)
def test_many_at_once_are_each_alone() -> None:
    inlets_, times_ = np.array([0.0, 3.0, 15.0]), np.array([0.5, 0.0, 1.0])
    law = {"max_rate_mg_per_l_day": RATE, "half_saturation_mg_per_l": 2.0}
    for function, more in (
        (outlet_nitrate_zero_order, {"rate_mg_per_l_day": RATE}),
        (outlet_nitrate_first_order, {"rate_per_day": 0.3}),
        (outlet_nitrate_michaelis_menten, law),
        (outlet_nitrate_tanks, {**law, "tanks": 3}),
    ):
        alone = [float(function(c, t, **more)) for c, t in zip(inlets_, times_, strict=True)]
        assert alone == pytest.approx(list(function(inlets_, times_, **more)), rel=1e-14)
    warm = rate_at_temperature(np.array([1.0, 2.0]), 15.0, q10=2.0, reference=15.0)
    assert [1.0, 2.0] == list(warm)


@pytest.mark.works(of=(outlet_nitrate_michaelis_menten, outlet_nitrate_tanks, rate_at_temperature))
def test_messages_name_value_rule_and_remedy() -> None:
    law = {"max_rate_mg_per_l_day": RATE, "half_saturation_mg_per_l": 2.0}
    with pytest.raises(OutOfDomain) as negative:
        outlet_nitrate_michaelis_menten(-1.0, 1.0, **law)
    with pytest.raises(OutOfDomain) as saturation:
        outlet_nitrate_michaelis_menten(1.0, 1.0, **{**law, "half_saturation_mg_per_l": 0.0})
    with pytest.raises(OutOfDomain) as tanks:
        outlet_nitrate_tanks(1.0, 1.0, tanks=2.5, **law)  # type: ignore[arg-type]
    with pytest.raises(OutOfDomain) as q10:
        rate_at_temperature(1.0, 8.0, q10=0.0, reference=15.0)

    assert str(negative.value) == (
        "inlet_mg_per_l is -1 mg/L. It cannot be negative. Use 0 for a trace."
    )
    assert str(saturation.value) == (
        "half_saturation_mg_per_l is 0 mg/L. It must be above zero. Use the zero-order law where "
        "nothing fades."
    )
    assert str(tanks.value) == (
        "tanks is 2.5. A whole number from 1 up is needed. Round tau^2/s^2."
    )
    assert str(q10.value) == "q10 is 0. It must be above zero. Use 2.15 if in doubt."
