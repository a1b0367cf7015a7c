# SPDX-License-Identifier: Apache-2.0
"""Flow through a bed, the media it wets and the surface it makes.

K conductivity, b inertia, Q flow, h depth, A area; hand values in feet where they say so.
"""

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from tests.digits import printed
from tilewater.basis.compiled import compiled
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.roots import bracketed_root
from tilewater.hydraulics._bed_section import flow_forchheimer
from tilewater.hydraulics.bed_flow import (
    bed_flow_darcy,
    bed_flow_forchheimer,
    bed_surface_depth,
    bed_wet_volume,
)
from tilewater.hydraulics.media import (
    conductivity_at_temperature,
    forchheimer_inertia_ward,
    residence_time,
)

FOOT = 0.3048
HOUR = 3600.0
BED = {"length": 30.0, "width": 7.5, "side_slope": 0.0}
# Steps of the independent integration, and the search on top of it.
INTEGRATION = 1e-7


@pytest.mark.by_hand(of=(bed_flow_darcy,))
@pytest.mark.parametrize(
    ("k", "h1", "h2", "litres"),
    [(0.03, 1.0, 0.3, "3.412"), (0.05, 1.0, 0.3, "5.688"), (0.095, 1.0, 0.6, "7.600")],
)
def test_darcy_with_upright_sides(k: float, h1: float, h2: float, litres: str) -> None:
    flow = bed_flow_darcy(h1, h2, conductivity=k, **BED)

    assert k * 7.5 * (h1**2 - h2**2) / (2 * 30.0) == pytest.approx(flow, rel=1e-12)
    assert printed(litres) == 1e3 * flow


@pytest.mark.by_hand(of=(bed_flow_forchheimer, bed_wet_volume))
@pytest.mark.parametrize(
    ("k", "h1", "h2", "litres", "wet", "hours_at_70", "hours_at_61"),
    [
        (0.03, 1.0, 0.3, "3.343", "160.7", "9.35", "8.14"),
        (0.05, 1.0, 0.3, "5.450", "161.0", "5.74", "5.00"),
        (0.095, 1.0, 0.6, "7.141", "184.0", "5.01", "4.37"),
    ],
)
def test_flow_with_inertia_in_a_bed_with_upright_sides(
    k: float, h1: float, h2: float, litres: str, wet: str, hours_at_70: str, hours_at_61: str
) -> None:
    inertia = forchheimer_inertia_ward(k, ward_coefficient=0.55)
    flow = bed_flow_forchheimer(h1, h2, conductivity=k, inertia=inertia, **BED)
    volume = bed_wet_volume(h1, h2, conductivity=k, inertia=inertia, **BED)

    def fall(h: float) -> float:
        a, c = flow / 7.5 / k, inertia * (flow / 7.5) ** 2
        return h**2 / (2 * a) - c * h / a**2 + c**2 / a**3 * math.log(a * h + c)

    assert fall(h1) - fall(h2) == pytest.approx(30.0, rel=1e-9)
    assert printed(litres) == 1e3 * flow
    assert printed(wet) == volume
    assert printed(hours_at_70) == residence_time(volume, flow, porosity=0.70) / HOUR
    assert printed(hours_at_61) == residence_time(volume, flow, porosity=0.61) / HOUR


# The bed of corbel-farm: bottom 30 ft, sides 1:1, 3.5 ft of chips, 100 ft of flow, outlet boards
# at 2.0 ft under a sharp weir of 1.17 ft, Q = 3.33 L h^1.5 in feet.
CORBEL = {
    "length": 100 * FOOT,
    "width": 30 * FOOT,
    "side_slope": 1.0,
    "media_depth": 3.5 * FOOT,
}
OUTLET_BOARDS = 2.0 * FOOT
NEW, AT_YEAR_10 = 0.095, 0.0393


def over_outlet_boards(head: float) -> float:
    return 3.33 * 1.17 * (head / FOOT) ** 1.5 * FOOT**3


def in_balance(upstream: float, conductivity: float, inertia: float) -> tuple[float, float]:
    """Flow and wet volume where the outlet boards pass what the bed gives."""

    def surplus(head: float) -> float:
        depth = OUTLET_BOARDS + head
        flow = bed_flow_forchheimer(
            upstream, depth, conductivity=conductivity, inertia=inertia, **CORBEL
        )
        return flow - over_outlet_boards(head)

    head = bracketed_root(surplus, 0.0, upstream - OUTLET_BOARDS, (), 1e-12)
    volume = bed_wet_volume(
        upstream, OUTLET_BOARDS + head, conductivity=conductivity, inertia=inertia, **CORBEL
    )
    return over_outlet_boards(head), volume


@pytest.mark.by_hand(of=(bed_flow_forchheimer, bed_wet_volume))
def test_criterion_line_of_corbel_farm() -> None:
    inertia = forchheimer_inertia_ward(AT_YEAR_10, ward_coefficient=0.55)
    flow, volume = in_balance(3.5 * FOOT, AT_YEAR_10, inertia)

    assert printed("0.1614") == flow / FOOT**3
    assert printed("9457") == volume / FOOT**3
    assert printed("17.4") == 100 * flow / FOOT**3 / 0.930
    assert printed("0.12") == (flow / FOOT**3 / (3.33 * 1.17)) ** (2 / 3)


@pytest.mark.by_hand(of=(bed_flow_forchheimer, conductivity_at_temperature))
def test_spring_line_of_corbel_farm() -> None:
    """Water stands above the chips: head, no area; cold water, inertia as at 20 degrees."""
    inertia = forchheimer_inertia_ward(AT_YEAR_10, ward_coefficient=0.55)
    cold = conductivity_at_temperature(AT_YEAR_10, 8.0)
    flow, _ = in_balance((3.5 + 0.341) * FOOT, cold, inertia)

    assert printed("0.1547") == flow / FOOT**3
    assert printed("16.6") == 100 * flow / FOOT**3 / 0.930
    assert printed("0.341") == ((0.930 - flow / FOOT**3) / (3.33 * 1.17)) ** (2 / 3)


@pytest.mark.by_hand(of=(bed_flow_forchheimer, bed_wet_volume, residence_time))
def test_new_chips_of_corbel_farm() -> None:
    inertia = forchheimer_inertia_ward(NEW, ward_coefficient=0.55)
    flow, volume = in_balance(3.5 * FOOT, NEW, inertia)

    assert printed("0.357") == flow / FOOT**3
    assert printed("9584") == volume / FOOT**3
    for porosity, hours in ((0.45, "3.4"), (0.61, "4.6"), (0.70, "5.2")):
        assert printed(hours) == residence_time(volume, flow, porosity=porosity) / HOUR


CASES = [
    # h1, h2, width, side slope, K, inertia, media depth
    (1.0, 0.3, 7.5, 0.0, 0.05, 784.0, math.inf),
    (1.07, 0.64, 9.14, 1.0, 0.0393, 884.0, 1.07),
    (1.3, 0.6, 9.14, 1.0, 0.0285, 884.0, 1.07),  # above the chips at the inlet
    (1.6, 1.2, 6.0, 1.5, 0.095, 569.0, 1.0),  # above the chips all along
    (0.9, 0.05, 3.0, 2.0, 0.14, 468.0, math.inf),  # nearly empty at the outlet
    (1.0, 0.2, 0.0, 1.0, 0.05, 784.0, 0.8),  # a V without a floor
]


def surface_by_integration(
    flow: float, case: tuple[float, ...], length: float
) -> tuple[float, float]:
    """Depth at the outlet end and wet volume, from the slope of the surface step by step."""
    h1, _, width, z, K, b, media_depth = case

    def slope(_: float, state: np.ndarray) -> list[float]:
        h = min(max(state[0], 1e-6), media_depth)
        A = h * (width + z * h)
        return [-(flow / (K * A) + b * (flow / A) ** 2), A]

    end = solve_ivp(slope, (0.0, length), [h1, 0.0], rtol=1e-10, atol=1e-12, max_step=length / 50)
    return float(end.y[0, -1]), float(end.y[1, -1])


@pytest.mark.oracle("scipy.integrate.solve_ivp", of=(bed_flow_forchheimer, bed_wet_volume))
@pytest.mark.parametrize("case", CASES)
def test_surface_integrated_step_by_step_ends_at_the_outlet(case: tuple[float, ...]) -> None:
    h1, h2, width, z, K, b, media_depth = case
    bed = {
        "length": 30.0,
        "width": width,
        "side_slope": z,
        "conductivity": K,
        "inertia": b,
        "media_depth": media_depth,
    }
    flow = bed_flow_forchheimer(h1, h2, **bed)
    depth, volume = surface_by_integration(flow, case, 30.0)

    assert depth == pytest.approx(h2, rel=1e-5)  # the surface is steep there
    assert volume == pytest.approx(bed_wet_volume(h1, h2, **bed), rel=INTEGRATION)


@pytest.mark.oracle("scipy.integrate.solve_ivp", of=(bed_flow_darcy,))
@pytest.mark.parametrize("case", CASES)
def test_darcy_integrated_step_by_step(case: tuple[float, ...]) -> None:
    h1, h2, width, z, K, _, media_depth = case
    without = (h1, h2, width, z, K, 0.0, media_depth)
    flow = bed_flow_darcy(
        h1, h2, length=30.0, width=width, side_slope=z, conductivity=K, media_depth=media_depth
    )

    assert surface_by_integration(float(flow), without, 30.0)[0] == pytest.approx(h2, rel=1e-5)


@pytest.mark.oracle("scipy.optimize.brentq over solve_ivp", of=(bed_flow_forchheimer,))
def test_flow_found_without_the_closed_form() -> None:
    case = CASES[1]
    h1, h2, width, z, K, b, media_depth = case
    expected = brentq(lambda Q: surface_by_integration(Q, case, 30.0)[0] - h2, 1e-4, 6e-3)  # noqa: N803

    assert expected == pytest.approx(
        bed_flow_forchheimer(
            h1,
            h2,
            length=30.0,
            width=width,
            side_slope=z,
            conductivity=K,
            inertia=b,
            media_depth=media_depth,
        ),
        rel=INTEGRATION,
    )


@pytest.mark.oracle("scipy.integrate.solve_ivp", of=(bed_surface_depth,))
@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize("share", [0.1, 0.5, 0.95])
def test_surface_between_the_ends(case: tuple[float, ...], share: float) -> None:
    h1, h2, width, z, K, b, media_depth = case
    bed = {
        "length": 30.0,
        "width": width,
        "side_slope": z,
        "conductivity": K,
        "inertia": b,
        "media_depth": media_depth,
    }
    flow = bed_flow_forchheimer(h1, h2, **bed)
    expected, _ = surface_by_integration(flow, case, share * 30.0)

    assert expected == pytest.approx(bed_surface_depth(share * 30.0, h1, h2, **bed), rel=1e-6)


@pytest.mark.by_hand(of=(bed_surface_depth,))
def test_surface_of_darcy_is_a_parabola() -> None:
    by_hand = math.sqrt(1.0**2 - (1.0**2 - 0.3**2) * 12.0 / 30.0)

    assert by_hand == pytest.approx(
        bed_surface_depth(12.0, 1.0, 0.3, conductivity=0.05, inertia=0.0, **BED), rel=1e-9
    )


MESSAGES = [
    (
        {"depth_upstream": -0.1},
        "depth_upstream is -0.1 m. It cannot be negative. Count from the floor of the bed.",
    ),
    (
        {"depth_downstream": math.nan},
        "depth_downstream is nan m. It cannot be negative. Count from the floor of the bed.",
    ),
    (
        {"length": 0.0},
        "length is 0 m. It must be above zero. Give the way of the water through the media.",
    ),
    ({"width": 0.0}, "width + side_slope is 0. It must be above zero. Give the bed a section."),
    (
        {"side_slope": -1.0},
        "side_slope is -1 m/m. It cannot be negative. Give horizontal per vertical.",
    ),
    (
        {"conductivity": 0.0},
        "conductivity is 0 m/s. It must be above zero. Give it at the water's temperature.",
    ),
    ({"inertia": -1.0}, "inertia is -1 s2/m2. It cannot be negative. Use 0 for Darcy's law."),
    (
        {"media_depth": 0.0},
        "media_depth is 0 m. It must be above zero. Leave it out where chips stand higher.",
    ),
]


@pytest.mark.works(of=(bed_flow_forchheimer, bed_wet_volume))
@pytest.mark.parametrize(("wrong", "message"), MESSAGES)
def test_messages_name_value_rule_and_remedy(wrong: dict[str, float], message: str) -> None:
    bed = {
        "depth_upstream": 1.0,
        "depth_downstream": 0.3,
        "conductivity": 0.05,
        "inertia": 784.0,
        **BED,
    }
    for function in (bed_flow_forchheimer, bed_wet_volume):
        with pytest.raises(OutOfDomain) as refused:
            function(**{**bed, **wrong})
        assert message == str(refused.value)


@pytest.mark.works(of=(bed_surface_depth,))
def test_a_place_outside_the_bed_is_refused() -> None:
    with pytest.raises(OutOfDomain) as refused:
        bed_surface_depth(31.0, 1.0, 0.3, conductivity=0.05, inertia=784.0, **BED)

    assert str(refused.value) == (
        "distance is 31 m. The bed is 30 m long. Count from the inlet end."
    )


@pytest.mark.slow
@pytest.mark.works(of=(bed_flow_forchheimer,))
def test_bare_arithmetic_compiles_and_gives_the_same_bits() -> None:
    pytest.importorskip("numba")
    bed = (0.64, 1.2, 30.0, 9.14, 1.0, 0.0393, 884.0, 1.07)

    assert flow_forchheimer(*bed) == compiled(flow_forchheimer)(*bed)
