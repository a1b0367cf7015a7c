# SPDX-License-Identifier: Apache-2.0
"""How much water the drains bring, against the arithmetic of Corbel Farm. US units."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.digits import printed
from tests.jobs import ACRE, CFS, FOOT, INCH, POUND
from tilewater.basis.errors import NoSolution, OutOfDomain
from tilewater.hydraulics.groundwater import drain_flux_hooghoudt, equivalent_depth_moody
from tilewater.hydraulics.pipes import (
    drainage_flow,
    pipe_flow_full_manning,
    pipe_slope_for_flow_full_manning,
)
from tilewater.hydraulics.weirs import weir_head_rectangular_francis
from tilewater.hydrology.drain_flow import (
    annual_volume,
    flow_control,
    flux_from_flow,
    least_of,
    main_flow_surcharged_boards,
    main_flow_surcharged_free,
    mean_flow_on_flow_days,
    peak_for_share,
    treated_share_exponential,
)
from tilewater.nitrate.removal import nitrate_load

AREA = 62 * ACRE
DAY = 86400
CANDIDATES = {"main_full": 0.930, "coefficient": 0.977, "laterals": 1.7}


@pytest.mark.by_hand(of=(flow_control, peak_for_share, flux_from_flow, drainage_flow))
def test_main_controls_at_corbel_farm():
    main = float(pipe_flow_full_manning(10 * INCH, 0.0018, n=0.013))
    demand = drainage_flow(AREA, drainage_coefficient=0.375 * INCH / DAY)
    depth = equivalent_depth_moody(5 * FOOT, spacing=60 * FOOT, radius=0.0051)
    flux = drain_flux_hooghoudt(
        2.5 * FOOT,
        outlet_height=0.0,
        spacing=60 * FOOT,
        equivalent_depth=float(depth),
        conductivity_below=9e-6,
        conductivity_above=9e-6,
    )
    assert printed("0.930") == main / CFS
    assert printed("0.977") == demand / CFS == pytest.approx(0.375 * 62 * 0.04201, rel=1e-3)
    assert printed("0.65") == flux * DAY / INCH
    assert printed("1.7") == drainage_flow(AREA, drainage_coefficient=flux) / CFS
    have = {"main_full": main, "coefficient": demand}
    assert (
        flow_control(**have, laterals=float(drainage_flow(AREA, drainage_coefficient=flux)))
        == "main"
    )
    assert peak_for_share("smaller of main and coefficient", **have) == main
    assert flux_from_flow(main, AREA) * AREA == pytest.approx(main)


@pytest.mark.by_hand(of=(drain_flux_hooghoudt,))
def test_laterals_with_round_numbers_by_hand():
    # K 2 ft/day, equivalent depth 4 ft, 2.5 ft of head, 60 ft apart
    flux = drain_flux_hooghoudt(
        2.5 * FOOT,
        outlet_height=0.0,
        spacing=60 * FOOT,
        equivalent_depth=4 * FOOT,
        conductivity_below=2 * FOOT / DAY,
        conductivity_above=2 * FOOT / DAY,
    )
    feet_per_day = (8 * 2 * 4 * 2.5 + 4 * 2 * 2.5**2) / 60**2
    assert printed("0.0583") == feet_per_day
    assert flux * DAY / FOOT == pytest.approx(feet_per_day)
    assert printed("0.70") == flux * DAY / INCH


@pytest.mark.by_hand(of=(annual_volume, nitrate_load, mean_flow_on_flow_days))
def test_water_and_nitrate_of_a_mean_year():
    volume = annual_volume(10.5 * INCH, AREA)
    load = nitrate_load(volume, nitrate_mg_per_l=14.2) / POUND
    assert printed("2,095") == load == pytest.approx(10.5 * 62 * 14.2 * 0.22662, rel=1e-4)
    assert printed("33.8") == load / 62
    mean = mean_flow_on_flow_days(volume, 200) / CFS
    assert printed("0.1368") == mean == pytest.approx(10.5 / 200 * 62 * 0.04201, rel=1e-3)


@pytest.mark.by_hand(of=(treated_share_exponential,))
@pytest.mark.parametrize(("capacity", "share"), [(0.1478, "0.661"), (0.3343, "0.913")])
def test_screening_share_of_the_water(capacity, share):
    found = treated_share_exponential(capacity, 0.1368)
    assert printed(share) == found == pytest.approx(1 - math.exp(-capacity / 0.1368))


@pytest.mark.by_hand(of=(pipe_flow_full_manning,))
@pytest.mark.parametrize(
    ("n", "flow", "velocity"),
    [(0.011, "1.099", "2.01"), (0.013, "0.930", "1.70"), (0.015, "0.806", "1.48")],
)
def test_full_main_by_roughness(n, flow, velocity):
    area = math.pi / 4 * (10 / 12) ** 2
    speed = 1.486 / n * (10 / 12 / 4) ** (2 / 3) * 0.0018**0.5
    assert printed(flow) == speed * area
    assert printed(velocity) == speed
    assert printed(flow) == pipe_flow_full_manning(10 * INCH, 0.0018, n=n) / CFS


@pytest.mark.by_hand(of=(main_flow_surcharged_free,))
def test_surcharged_main_follows_the_grade_line_that_is_there():
    # junction 15: ground 1190.30 at 1530 ft, crown of the outlet 1180.95 + 10/12
    fall = 1190.30 - 1180.95 - 10 / 12
    flow = (
        1.486 / 0.013 * (10 / 48) ** (2 / 3) * (fall / 1530) ** 0.5 * math.pi / 4 * (10 / 12) ** 2
    )
    found = main_flow_surcharged_free(
        1190.30 * FOOT, 1530 * FOOT, (1180.95 + 10 / 12) * FOOT, 10 * INCH, 0.013
    )
    assert found / CFS == pytest.approx(flow, rel=1e-3)
    assert main_flow_surcharged_free(10.0, 100.0, 10.5, 0.25, 0.013) == 0


@pytest.mark.law(of=(main_flow_surcharged_boards, main_flow_surcharged_free))
@given(room=st.floats(0.05, 3), distance=st.floats(10, 1000), diameter=st.floats(0.1, 0.6))
def test_boards_and_pipe_use_up_the_room_to_the_ground(room, distance, diameter):
    flow = main_flow_surcharged_boards(room, distance, 0.0, 0.36, diameter, 0.013)
    head = weir_head_rectangular_francis(flow, crest_width=0.36)
    slope = pipe_slope_for_flow_full_manning(flow, diameter, n=0.013)
    assert head + slope * distance == pytest.approx(room, abs=1e-5)
    assert flow < main_flow_surcharged_free(room, distance, 0.0, diameter, 0.013)
    assert main_flow_surcharged_boards(-room, distance, 0.0, 0.36, diameter, 0.013) == 0


@pytest.mark.works(of=(peak_for_share, flow_control, least_of))
def test_peak_follows_its_rule_and_no_pump_is_outrun():
    have = {"main_full": 0.93, "coefficient": 0.977}
    assert peak_for_share("main full", **have) == 0.93
    assert peak_for_share("coefficient", **have) == 0.977
    assert peak_for_share("coefficient", **have, pump=0.5) == 0.5
    assert peak_for_share("measured", **have, measured=0.4) == 0.4
    with pytest.raises(NoSolution, match="has no flow 'measured'"):
        peak_for_share("measured", **have)
    assert flow_control(**CANDIDATES) == "main"
    assert flow_control(**CANDIDATES, pump=0.5) == "pump"
    assert flow_control(**CANDIDATES | {"laterals": 0.4}) == "laterals"
    assert flow_control(**CANDIDATES | {"coefficient": 0.4}) == "drainage coefficient"
    assert least_of(a=2.0, b=1.0) == 1.0


@pytest.mark.law(of=(treated_share_exponential,))
@given(mean=st.floats(1e-5, 0.1), capacity=st.floats(0, 0.2))
def test_screening_share_is_the_mean_of_capped_exponential_flows(mean, capacity):
    flows = -mean * np.log((np.arange(20000) + 0.5) / 20000)
    capped = np.minimum(flows, capacity).mean() / mean
    assert treated_share_exponential(capacity, mean) == pytest.approx(capped, abs=1e-3)


@pytest.mark.works(of=(flux_from_flow, mean_flow_on_flow_days))
def test_no_area_and_no_flow_days_are_refused():
    with pytest.raises(OutOfDomain, match="Check the drained area"):
        flux_from_flow(0.1, 0.0)
    with pytest.raises(OutOfDomain, match="Give the days with flow"):
        mean_flow_on_flow_days(100.0, 0.0)
    with pytest.raises(OutOfDomain, match="Give the drainage of a mean year"):
        treated_share_exponential(0.1, 0.0)


@pytest.mark.works(of=(main_flow_surcharged_free, main_flow_surcharged_boards))
def test_a_spot_must_lie_up_the_main():
    with pytest.raises(OutOfDomain, match="Check the station of the spot"):
        main_flow_surcharged_free(10.0, 0.0, 8.0, 0.25, 0.013)
    with pytest.raises(OutOfDomain, match="raise no water below their structure"):
        main_flow_surcharged_boards(10.0, -1.0, 8.0, 0.36, 0.25, 0.013)
    # at the structure itself only the boards hold the water up
    at_boards = main_flow_surcharged_boards(10.0, 0.0, 9.5, 0.36, 0.25, 0.013)
    assert weir_head_rectangular_francis(at_boards, crest_width=0.36) == pytest.approx(0.5)


@pytest.mark.law(of=(annual_volume, drainage_flow, nitrate_load))
@given(area=st.floats(1e3, 1e6), depth=st.floats(0.01, 1), share=st.floats(0.01, 0.99))
def test_parts_of_a_field_add_up_to_the_field(area, depth, share):
    parts = (share * area, (1 - share) * area)
    assert sum(annual_volume(depth, part) for part in parts) == pytest.approx(
        annual_volume(depth, area)
    )
    assert sum(drainage_flow(part, drainage_coefficient=depth) for part in parts) == pytest.approx(
        drainage_flow(area, drainage_coefficient=depth)
    )
    assert sum(nitrate_load(part, nitrate_mg_per_l=12.0) for part in parts) == pytest.approx(
        nitrate_load(area, nitrate_mg_per_l=12.0)
    )
