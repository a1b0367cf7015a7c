# SPDX-License-Identifier: Apache-2.0
"""Ground water to drains and through a buffer.

D depth to the barrier, L spacing, r radius, d equivalent depth, H water table and E outlet above
the drain, K conductivity, q flux; h1 and h2 heads of a buffer, W its width, n porosity, t time.
"""

import math

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from tests.digits import printed
from tilewater.basis.errors import NoSolution, OutOfDomain
from tilewater.hydraulics.groundwater import (
    buffer_flow_dupuit,
    buffer_surface_head_dupuit,
    buffer_travel_time_dupuit,
    buffer_travel_time_mceachran,
    drain_flux_hooghoudt,
    drain_flux_kirkham_ponded,
    equivalent_depth_moody,
    equivalent_depth_range,
    equivalent_depth_series,
    friction_share_christiansen,
    radial_head_loss_ernst,
    water_height_hooghoudt,
)

DAY = 86400.0
FOOT = 0.3048
INCH_A_DAY = 0.0254 / DAY
MM_A_DAY = 1e-3 / DAY
M_A_DAY = 1.0 / DAY

MIDWEST_DEPTHS = [
    # D, L, r, d by Moody, d by the series
    (1.0, 10.0, 0.0051, ".4992", ".4872"),
    (2.0, 15.0, 0.0051, ".7758", ".7579"),
    (2.0, 25.0, 0.0051, "1.0300", "1.0084"),
    (2.0, 30.0, 0.0051, "1.1213", "1.0992"),
    (5.0, 25.0, 0.05, "1.8633", "1.8103"),
    (10.0, 20.0, 0.0051, "1.1024", "1.1005"),
]
SPACINGS = (10.0, 20.0, 30.0, 50.0, 75.0, 100.0)
DEPTHS_OF_TEN_CENTIMETRES = {
    # D: (series, Moody) at each of the spacings, r = 0.1 m
    1.0: (".772 .872 .911 .944 .962 .971", ".803 .893 .927 .955 .970 .977"),
    2.0: ("1.030 1.359 1.522 1.683 1.777 1.828", "1.073 1.407 1.564 1.716 1.802 1.848"),
    3.0: ("1.105 1.611 1.905 2.231 2.439 2.559", "1.144 1.670 1.967 2.287 2.486 2.598"),
    5.0: ("1.132 1.812 2.299 2.933 3.402 3.697", "1.137 1.871 2.377 3.021 3.487 3.775"),
    10.0: ("1.135 1.887 2.550 3.621 4.598 5.316", "1.137 1.893 2.587 3.727 4.730 5.459"),
}


@pytest.mark.by_hand(of=(equivalent_depth_moody,))
def test_moody_worked_once() -> None:
    alpha = 3.55 - 1.6 * 2 / 15 + 2 * (2 / 15) ** 2
    by_hand = 2 / (1 + 2 / 15 * (8 / math.pi * math.log(2 / 0.0051) - alpha))

    assert by_hand == pytest.approx(equivalent_depth_moody(2.0, 15.0, radius=0.0051), rel=1e-12)
    assert printed("2.60") == equivalent_depth_moody(5 * FOOT, 60 * FOOT, radius=0.0051) / FOOT


@pytest.mark.by_hand(of=(equivalent_depth_moody, equivalent_depth_series))
@pytest.mark.parametrize(("depth", "spacing", "radius", "moody", "series"), MIDWEST_DEPTHS)
def test_equivalent_depth_of_midwest_drains(
    depth: float, spacing: float, radius: float, moody: str, series: str
) -> None:
    assert printed(moody) == equivalent_depth_moody(depth, spacing, radius=radius)
    assert printed(series) == equivalent_depth_series(depth, spacing, radius=radius)


@pytest.mark.by_hand(of=(equivalent_depth_moody, equivalent_depth_series))
@pytest.mark.parametrize("depth", DEPTHS_OF_TEN_CENTIMETRES)
def test_equivalent_depth_of_a_wide_drain(depth: float) -> None:
    series, moody = DEPTHS_OF_TEN_CENTIMETRES[depth]
    for spacing, by_series, by_moody in zip(SPACINGS, series.split(), moody.split(), strict=True):
        assert printed(by_series) == equivalent_depth_series(depth, spacing, radius=0.1)
        assert printed(by_moody) == equivalent_depth_moody(depth, spacing, radius=0.1)


@pytest.mark.by_hand(of=(equivalent_depth_series, drain_flux_hooghoudt))
@pytest.mark.parametrize(
    ("conductivity", "spacing", "equivalent"),
    [(0.25, "19.3", ".880"), (0.5, "29.1", "1.085"), (1.0, "43.5", "1.278")],
)
def test_spacing_for_three_eighths_of_an_inch_a_day(
    conductivity: float, spacing: str, equivalent: str
) -> None:
    K = conductivity * M_A_DAY

    def surplus(L: float) -> float:  # noqa: N803
        d = equivalent_depth_series(2.0, L, radius=0.0051)
        flux = drain_flux_hooghoudt(
            1.2, spacing=L, equivalent_depth=d, conductivity_below=K, conductivity_above=K
        )
        return float(flux) / MM_A_DAY - 9.525

    found = brentq(surplus, 5.0, 100.0)

    assert printed(spacing) == found
    assert printed(equivalent) == equivalent_depth_series(2.0, found, radius=0.0051)


@pytest.mark.by_hand(of=(drain_flux_hooghoudt,))
@pytest.mark.parametrize(
    ("spacing", "equivalent", "mm", "inches"),
    [(15.24, ".7654", "28.22", "1.111"), (30.48, "1.1071", "8.82", "0.347")],
)
def test_drainage_intensity(spacing: float, equivalent: str, mm: str, inches: str) -> None:
    K = 0.5 * M_A_DAY
    d = equivalent_depth_series(2.0, spacing, radius=0.0051)
    flux = drain_flux_hooghoudt(
        1.2, spacing=spacing, equivalent_depth=d, conductivity_below=K, conductivity_above=K
    )

    assert printed(equivalent) == d
    assert printed(mm) == flux / MM_A_DAY
    assert printed(inches) == flux / INCH_A_DAY


@pytest.mark.by_hand(of=(drain_flux_hooghoudt, equivalent_depth_moody))
@pytest.mark.parametrize(
    ("spacing", "height", "mm"),
    [
        (15.0, 0.1, "1.468"),
        (15.0, 0.3, "4.938"),
        (15.0, 0.6, "11.475"),
        (15.0, 1.0, "22.681"),
        (15.0, 1.2, "29.351"),
        (30.0, 1.2, "9.180"),
    ],
)
def test_flux_of_a_water_table(spacing: float, height: float, mm: str) -> None:
    K = 0.5 * M_A_DAY
    d = equivalent_depth_moody(2.0, spacing, radius=0.0051)
    flux = drain_flux_hooghoudt(
        height, spacing=spacing, equivalent_depth=d, conductivity_below=K, conductivity_above=K
    )

    assert (8 * K * d * height + 4 * K * height**2) / spacing**2 == pytest.approx(flux, rel=1e-12)
    assert printed(mm) == flux / MM_A_DAY


@pytest.mark.by_hand(of=(drain_flux_hooghoudt,))
def test_flux_of_a_drain_on_the_barrier_and_ellipses_of_the_trade() -> None:
    """q = 4 K (b^2 - a^2) / S^2: K 1 in/h, 3/8 in/day, m 3 ft, a 4 ft -> S 91.9 ft."""
    for K_in_h, coefficient, m, a, spacing in (
        (1.0, 3 / 8, 3.0, 4.0, "91.9"),
        (0.6, 3 / 8, 3.0, 5.0, "77.4"),
        (1.2, 1 / 2, 2.5, 6.0, "91.4"),
    ):
        K = K_in_h * 0.0254 / 3600
        flux = drain_flux_hooghoudt(
            m, spacing=1.0, equivalent_depth=a, conductivity_below=K, conductivity_above=K
        )
        assert printed(spacing) == math.sqrt(flux / (coefficient * INCH_A_DAY))


@pytest.mark.by_hand(of=(water_height_hooghoudt,))
@pytest.mark.parametrize(("storm_clear", "midway_clear"), [("2.145", "1.09"), ("2.203", "1.14")])
def test_clear_soil_midway_between_laterals_in_a_storm(storm_clear: str, midway_clear: str) -> None:
    """Laterals 4 ft deep at 60 ft, soil 9 um/s, d 2.60 ft, main just full at 0.357 in/day."""
    E = (4.0 - float(storm_clear)) * FOOT
    K = 9e-6
    H = water_height_hooghoudt(
        0.357 * INCH_A_DAY,
        outlet_height=E,
        spacing=60 * FOOT,
        equivalent_depth=2.60 * FOOT,
        conductivity_below=K,
        conductivity_above=K,
    )

    assert printed(midway_clear) == 4.0 - H / FOOT


@pytest.mark.by_hand(of=(drain_flux_kirkham_ponded,))
@pytest.mark.parametrize(
    ("spacing", "ponding", "radius", "mm"),
    [
        (15.0, 0.02, 0.0051, "40.52"),
        (15.0, 0.0, 0.0051, "39.86"),
        (30.0, 0.0, 0.0051, "19.93"),
        (15.0, 0.0, 0.05, "60.64"),
    ],
)
def test_flux_under_a_pond(spacing: float, ponding: float, radius: float, mm: str) -> None:
    flux = drain_flux_kirkham_ponded(
        ponding,
        drain_depth=1.2,
        barrier_depth=3.2,
        spacing=spacing,
        radius=radius,
        conductivity=0.5 * M_A_DAY,
    )

    assert printed(mm) == flux / MM_A_DAY


def flux_by_images(depth: float, spacing: float, radius: float) -> float:
    """Flux per conductivity and head into a row of drains under a pond, no barrier below.

    Each drain is a line sink with a mirror source as high above the ground; a row of sinks has the
    closed potential ln(cosh(2 pi y / L) - cos(2 pi x / L)) / 2.
    """

    def row(y: float) -> float:
        return 0.5 * math.log(math.cosh(2 * math.pi * y / spacing) - 1.0)

    return 2 * math.pi / ((row(2 * depth - radius) - row(radius)) * spacing)


@pytest.mark.oracle("rows of images, closed form", of=(drain_flux_kirkham_ponded,))
@pytest.mark.parametrize("spacing", [8.0, 15.0, 30.0])
def test_flux_over_a_very_deep_barrier_is_that_of_images(spacing: float) -> None:
    flux = drain_flux_kirkham_ponded(
        0.0, drain_depth=1.2, barrier_depth=200.0, spacing=spacing, radius=0.0051, conductivity=1.0
    )

    assert flux_by_images(1.2, spacing, 0.0051) * (1.2 - 0.0051) == pytest.approx(flux, rel=1e-3)


# The two forms of the series meet at x = 0.5, each cut there; both are right to this.
SERIES = 1e-3


@pytest.mark.oracle("series summed to 20,000 terms", of=(equivalent_depth_series,))
@pytest.mark.parametrize(
    ("depth", "spacing"), [(0.05, 20.0), (0.5, 20.0), (1.6, 20.0), (9.0, 20.0)]
)
def test_series_with_many_terms(depth: float, spacing: float) -> None:
    x = 2 * math.pi * depth / spacing
    n = np.arange(1, 40001, 2)
    terms = 4 * np.exp(-2 * n * x) / (n * (1 - np.exp(-2 * n * x)))
    expected = math.pi * spacing / 8 / (math.log(spacing / (math.pi * 0.01)) + terms.sum())

    assert expected == pytest.approx(
        equivalent_depth_series(depth, spacing, radius=0.01), rel=SERIES
    )


BUFFER = [
    # K m/day, W m, q' m2/day, L/s per 300 m, t exact, t linear, 1.11 t linear, days
    (0.5, 9.1, "0.0714", "0.248", "60.83", "57.97", "64.34"),
    (1.0, 9.1, "0.1429", "0.496", "30.41", "28.98", "32.17"),
    (1.0, 15.0, "0.0867", "0.301", "82.63", "78.75", "87.41"),
    (1.0, 30.0, "0.0433", "0.150", "330.5", "315.0", "349.7"),
    (5.0, 30.0, "0.2167", "0.752", "66.11", "63.00", "69.93"),
]


@pytest.mark.by_hand(of=(buffer_flow_dupuit,))
@pytest.mark.parametrize("row", BUFFER)
def test_flow_through_a_buffer(row: tuple[float, float, str, str, str, str, str]) -> None:
    K, W, per_metre, litres, *_ = row
    flow = buffer_flow_dupuit(1.8, 0.8, width=W, length=300.0, conductivity=K * M_A_DAY)

    assert printed(per_metre) == K * (1.8**2 - 0.8**2) / (2 * W)
    assert printed(per_metre) == flow / 300.0 * DAY
    assert printed(litres) == 1e3 * flow


@pytest.mark.by_hand(of=(buffer_travel_time_dupuit, buffer_travel_time_mceachran))
@pytest.mark.parametrize("row", BUFFER)
def test_travel_time_through_a_buffer(row: tuple[float, float, str, str, str, str, str]) -> None:
    K, W, _, _, exact, linear, corrected = row
    buffer = {"width": W, "conductivity": K * M_A_DAY, "porosity": 0.35}

    assert printed(exact) == buffer_travel_time_dupuit(1.8, 0.8, **buffer) / DAY
    assert printed(linear) == buffer_travel_time_mceachran(1.8, 0.8, factor=1.0, **buffer) / DAY
    assert printed(corrected) == buffer_travel_time_mceachran(1.8, 0.8, **buffer) / DAY
    assert printed("1.0493") == (
        buffer_travel_time_dupuit(1.8, 0.8, **buffer)
        / buffer_travel_time_mceachran(1.8, 0.8, factor=1.0, **buffer)
    )


@pytest.mark.by_hand(of=(buffer_flow_dupuit,))
@pytest.mark.parametrize(
    ("inches_an_hour", "width", "square_feet", "feet"),
    [(3.0, 30.0, "1.200", "2836"), (1.0, 30.0, "0.400", "8508"), (3.0, 50.0, "0.720", "4727")],
)
def test_length_of_line_for_five_percent_of_fifty_acres(
    inches_an_hour: float, width: float, square_feet: str, feet: str
) -> None:
    K = inches_an_hour * 0.0254 / 3600
    per_metre = buffer_flow_dupuit(
        4.0 * FOOT, 2.0 * FOOT, width=width * FOOT, length=1.0, conductivity=K
    )
    wanted = 0.05 * 50 * 43560 * (3 / 8 / 12)

    assert printed("3403") == wanted
    assert printed(square_feet) == per_metre * DAY / FOOT**2
    assert printed(feet) == wanted / (per_metre * DAY / FOOT**2)


@pytest.mark.by_hand(of=(buffer_flow_dupuit,))
@pytest.mark.parametrize(
    ("feet_a_day", "cubic_feet", "cfs"), [(2.55, "1205", "0.0139"), (9.0, "4253", "0.0492")]
)
def test_a_line_of_1100_feet(feet_a_day: float, cubic_feet: str, cfs: str) -> None:
    flow = buffer_flow_dupuit(
        7.5 * FOOT,
        3.0 * FOOT,
        width=55 * FOOT,
        length=1100 * FOOT,
        conductivity=feet_a_day * FOOT / DAY,
    )

    # The hand value carries the quotient 47.25 / 110 with four digits.
    assert float(cubic_feet.replace(",", "")) == pytest.approx(flow / FOOT**3 * DAY, abs=1.0)
    assert printed(cfs) == flow / FOOT**3


@pytest.mark.oracle(
    "scipy.integrate.quad", of=(buffer_travel_time_dupuit, buffer_surface_head_dupuit)
)
@pytest.mark.parametrize(("h1", "h2"), [(1.8, 0.8), (2.0, 1.99), (1.5, 0.0)])
def test_travel_time_is_the_integral_over_the_way(h1: float, h2: float) -> None:
    W, K, n = 15.0, 1e-5, 0.35
    flow = buffer_flow_dupuit(h1, h2, width=W, length=1.0, conductivity=K)

    def slowness(x: float) -> float:
        return n * float(buffer_surface_head_dupuit(x, h1, h2, width=W)) / float(flow)

    assert quad(slowness, 0.0, W)[0] == pytest.approx(
        buffer_travel_time_dupuit(h1, h2, width=W, conductivity=K, porosity=n), rel=1e-7
    )


@pytest.mark.by_hand(of=(radial_head_loss_ernst,))
def test_radial_loss_at_a_pipe() -> None:
    resistance = math.log(1.5 / 0.3) / math.pi
    loss = radial_head_loss_ernst(
        0.0867 * M_A_DAY, conductivity=M_A_DAY, thickness=1.5, wetted_perimeter=0.3
    )

    assert printed("0.5123") == resistance
    assert 0.0867 * resistance == pytest.approx(loss, rel=1e-12)
    assert printed("0.0444") == loss
    assert 2 * loss == radial_head_loss_ernst(
        0.0867 * M_A_DAY, conductivity=M_A_DAY, thickness=1.5, wetted_perimeter=0.3, sides=1
    )


@pytest.mark.by_hand(of=(friction_share_christiansen,))
def test_friction_of_a_line_that_gives_off_its_flow() -> None:
    """Full flow of 1 L/s loses 4.584e-4 per metre in 4-in pipe, 150 m lose a third: 22.9 mm."""
    assert 1 / 3 == pytest.approx(friction_share_christiansen(2.0), rel=1e-15)
    assert printed("22.9") == 1e3 * 4.126e-5 / 0.3**2 * 150 * friction_share_christiansen(2.0)
    assert 1 / 3 + 1 / 20 + 1 / 600 == pytest.approx(
        friction_share_christiansen(2.0, outlets=10.0), rel=1e-12
    )


@pytest.mark.oracle("sum over outlets", of=(friction_share_christiansen,))
@pytest.mark.parametrize("outlets", [1, 2, 5, 20, 400])
def test_friction_summed_from_outlet_to_outlet(outlets: int) -> None:
    flows = np.arange(1, outlets + 1) / outlets

    assert np.mean(flows**2) == pytest.approx(
        friction_share_christiansen(2.0, outlets=float(outlets)), rel=1e-12
    )


@pytest.mark.works(of=(equivalent_depth_range,))
def test_a_barrier_at_the_drain_is_reported() -> None:
    (finding,) = equivalent_depth_range(0.12, 20.0, radius=0.1)

    assert ("equivalent-depth-barrier-near", "caution", 0.12) == (
        finding.code,
        finding.severity,
        finding.value,
    )
    assert () == equivalent_depth_range(2.0, 20.0, radius=0.1)


@pytest.mark.works(of=(drain_flux_hooghoudt, equivalent_depth_moody, drain_flux_kirkham_ponded))
def test_messages_name_value_rule_and_remedy() -> None:
    soil = {
        "spacing": 15.0,
        "equivalent_depth": 0.8,
        "conductivity_below": 1e-6,
        "conductivity_above": 1e-6,
    }
    with pytest.raises(OutOfDomain) as below:
        drain_flux_hooghoudt(-0.1, **soil)
    with pytest.raises(OutOfDomain) as close:
        equivalent_depth_moody(2.0, 0.2, radius=0.1)
    with pytest.raises(OutOfDomain) as deep:
        drain_flux_kirkham_ponded(
            0.0, drain_depth=3.0, barrier_depth=2.0, spacing=15.0, radius=0.01, conductivity=1e-6
        )

    assert str(below.value) == (
        "water_height is -0.1 m. It cannot be negative. No water reaches a drain from below it."
    )
    assert str(close.value) == (
        "spacing is 0.2 m. Drains lie farther apart than four radii. Check the units of both."
    )
    assert str(deep.value) == (
        "barrier_depth - drain_depth is -1 m. It cannot be negative. Count both from the ground."
    )


@pytest.mark.works(of=(water_height_hooghoudt, buffer_travel_time_dupuit))
def test_what_has_no_answer_is_said_so() -> None:
    soil = {
        "spacing": 15.0,
        "equivalent_depth": 0.8,
        "conductivity_below": 1e-6,
        "conductivity_above": 1e-6,
    }
    with pytest.raises(NoSolution) as back:
        water_height_hooghoudt(-1e-6, outlet_height=0.1, **soil)
    with pytest.raises(NoSolution) as still:
        buffer_travel_time_dupuit(1.0, 1.5, width=15.0, conductivity=1e-5, porosity=0.35)

    assert str(back.value) == (
        "flux is -1e-06 m/s. The outlet at this height cannot drive so much water back into the "
        "field. Raise the outlet or lower the flux."
    )
    assert str(still.value) == (
        "The stream stands 0.5 m above the line. No water reaches the stream. Raise the head at "
        "the line or take a lower stage."
    )


@pytest.mark.works(of=(radial_head_loss_ernst, friction_share_christiansen))
def test_losses_refuse_what_they_cannot_mean() -> None:
    pipe = {"conductivity": 1e-5, "thickness": 1.5, "wetted_perimeter": 0.3}
    with pytest.raises(OutOfDomain, match=r"^2 - sides is -1\. .* Use 1 or 2\.$"):
        radial_head_loss_ernst(1e-6, sides=3, **pipe)
    with pytest.raises(OutOfDomain, match=r"^thickness - wetted_perimeter is -0\.2 m\."):
        radial_head_loss_ernst(1e-6, **{**pipe, "thickness": 0.1})
    with pytest.raises(OutOfDomain, match=r"^outlets - 1 is -1\."):
        friction_share_christiansen(2.0, outlets=0.0)
