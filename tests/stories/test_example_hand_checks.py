# SPDX-License-Identifier: Apache-2.0
"""The stories of Merridew and Verling Farm in single formulas, worked by hand in feet and seconds.

Each is one simplified formula with its inputs beside it; the chain also takes losses, temperature
and seasons into account and moves a little from them.
"""

import tomllib

import pytest

from tests.digits import printed
from tests.jobs import ACRE, CFS, FOOT, INCH, POUND
from tilewater.basis.units import parse_quantity
from tilewater.economics.value import annual_cost
from tilewater.hydraulics.bed_flow import bed_flow_darcy
from tilewater.hydraulics.groundwater import buffer_flow_dupuit
from tilewater.hydraulics.hole_tests import auger_hole_conductivity_ernst
from tilewater.hydraulics.pipes import pipe_flow_full_manning
from tilewater.hydraulics.seepage_face import mean_gradient
from tilewater.hydraulics.weir_heads import weir_head_rectangular_francis
from tilewater.hydrology.drain_flow import (
    annual_volume,
    mean_flow_on_flow_days,
    treated_share_exponential,
)
from tilewater.practices.uplift import uplift_ratio
from tools.package import ROOT
from tools.sites.verling_farm import SITE as VERLING

DAY = 86400.0
FOOT_A_DAY = FOOT / DAY
INCH_ACRE_A_DAY = INCH * ACRE / DAY
POUND_A_VOLUME = POUND / 0.001  # mg/L are g/m3
HOURS = 3600.0


def full(diameter_in: float, slope: float, n: float) -> float:
    return float(pipe_flow_full_manning(diameter_in * INCH, slope, n=n)) / CFS


@pytest.mark.by_hand(of=pipe_flow_full_manning)
def test_the_mains_of_merridew_and_verling_control() -> None:
    # (1.486 / n) A R^(2/3) S^(1/2): 0.3491 ft2, 0.1667 ft; 0.7854 ft2, 0.25 ft
    assert printed("0.620") == full(8, 0.0035, 0.015)
    assert printed("0.798") == 0.5 * 38 * INCH_ACRE_A_DAY / CFS
    assert printed("0.609") == full(12, 0.0005, 0.017)
    assert printed("1.26") == 0.375 * 80 * INCH_ACRE_A_DAY / CFS


@pytest.mark.by_hand(of=weir_head_rectangular_francis)
def test_field_of_merridew_stays_clear_with_the_boards_in() -> None:
    head = weir_head_rectangular_francis(0.620 * CFS, crest_width=1.0 * FOOT) / FOOT
    assert printed("0.326") == head  # (0.620 / (3.33 x 1.0))^(2/3)
    assert printed("742.57") == 737.90 + 56 / 12
    # 742.6 was drawn; 0.35 % of 60 and 200 ft above the structure
    assert printed("3.26") == 746.4 - (742.6 + head + 0.0035 * 60)
    assert printed("5.17") == 748.8 - (742.6 + head + 0.0035 * 200)


@pytest.mark.by_hand(of=auger_hole_conductivity_ernst)
def test_three_bailed_holes_give_nine_feet_a_day() -> None:
    job = tomllib.loads((ROOT / "examples/merridew-farm/job.toml").read_text(encoding="utf-8"))
    found = []
    for hole in job["auger_hole"].values():
        metres = {
            key: parse_quantity(hole[key], "length")
            for key in ("radius", "depth", "water_table", "barrier")
        }
        found.append(
            auger_hole_conductivity_ernst(
                tuple(parse_quantity(depth, "length") for depth in hole["depths"]),
                tuple(parse_quantity(time, "time") for time in hole["times"]),
                table_depth=metres["water_table"],
                hole_depth=metres["depth"],
                barrier_depth=metres["barrier"],
                radius=metres["radius"],
            )
            / FOOT_A_DAY
        )
    assert sum(found) / 3 == pytest.approx(9.0, abs=0.1)
    for value, each in zip(("7.6", "10.3", "9.1"), found, strict=True):
        assert printed(value) == each


@pytest.mark.by_hand(of=buffer_flow_dupuit)
@pytest.mark.parametrize(
    ("conductivity", "daily", "flow", "percent"),
    [(2.55, "1205", "0.0139", "2.2"), (9.0, "4253", "0.0492", "7.9")],
)
def test_the_buffer_of_merridew_hinges_on_its_conductivity(
    conductivity: float, daily: str, flow: str, percent: str
) -> None:
    # K L (7.5^2 - 3.0^2) / (2 x 55) over 1,100 ft
    through = buffer_flow_dupuit(
        7.5 * FOOT,
        3.0 * FOOT,
        conductivity=conductivity * FOOT_A_DAY,
        length=1100 * FOOT,
        width=55 * FOOT,
    )
    assert abs(float(daily) - float(through) / CFS * DAY) < 1.0
    assert printed(flow) == float(through) / CFS
    assert printed(percent) == 100 * float(through) / CFS / 0.620


@pytest.mark.by_hand(of=buffer_flow_dupuit)
def test_spring_water_takes_more_than_half_of_it() -> None:
    through = buffer_flow_dupuit(
        7.5 * FOOT, 6.0 * FOOT, conductivity=9.0 * FOOT_A_DAY, length=1100 * FOOT, width=55 * FOOT
    )
    # (7.5^2 - 6.0^2) / (7.5^2 - 3.0^2) = 20.25 / 47.25 of 7.9 percent
    assert printed("3.4") == 100 * float(through) / CFS / 0.620


@pytest.mark.by_hand(of=(buffer_flow_dupuit, mean_gradient))
def test_length_for_five_percent_and_gradient() -> None:
    per_foot = {k: k * (7.5**2 - 3.0**2) / (2 * 55) / DAY for k in (2.55, 9.0)}
    for conductivity, feet in ((9.0, 692), (2.55, 2444)):
        through = buffer_flow_dupuit(
            7.5 * FOOT,
            3.0 * FOOT,
            conductivity=conductivity * FOOT_A_DAY,
            length=FOOT,
            width=55 * FOOT,
        )
        assert float(through) / CFS == pytest.approx(per_foot[conductivity])
        assert abs(0.05 * 0.620 / per_foot[conductivity] - feet) < 3
    assert printed("0.082") == mean_gradient(742.5 * FOOT, 738.0 * FOOT, width=55 * FOOT)


@pytest.mark.by_hand(of=(annual_volume, mean_flow_on_flow_days, treated_share_exponential))
def test_load_and_removal_of_merridew_on_the_screen() -> None:
    volume = annual_volume(9.5 * INCH, 38 * ACRE)
    load = 11.8 * volume / POUND_A_VOLUME
    assert printed("965") == load
    mean = mean_flow_on_flow_days(volume, 190)
    assert printed("0.0798") == mean / CFS
    share = treated_share_exponential(0.0492 * CFS, mean)
    assert printed("0.460") == share  # 1 - exp(-0.0492 / 0.0798)
    assert abs(share * 0.85 * load - 378) < 1.0


@pytest.mark.by_hand(of=annual_cost)
def test_a_pound_of_merridew_costs_a_dollar_and_a_half() -> None:
    # 6,900 x 0.07358 + 60 a year, over 378 lb
    yearly = float(annual_cost(6900.0, rate=0.04, years=20, upkeep_per_year=60.0))
    assert printed("568") == yearly
    assert printed("1.50") == yearly / 378


@pytest.mark.by_hand(of=uplift_ratio)
def test_spring_water_lifts_the_lining_of_a_bed_at_merridew() -> None:
    uplift = (741.0 - 737.5) * 62.4
    assert printed("218") == uplift
    # chips 5.1 ft at 25 lb/ft3 and soil 3.0 ft at 105 hold it down, once they lie on it
    load = (5.1 * 25 + 3.0 * 105) * POUND / FOOT**2
    ratio = uplift_ratio(load, 741.0 * FOOT, 737.5 * FOOT)
    assert ratio == pytest.approx((5.1 * 25 + 3.0 * 105) / uplift, rel=0.002)
    assert uplift_ratio(0.0, 741.0 * FOOT, 737.5 * FOOT) == 0.0


@pytest.mark.by_hand(of=weir_head_rectangular_francis)
def test_highest_crest_of_verling_leaves_less_head_than_a_board() -> None:
    head = weir_head_rectangular_francis(0.609 * CFS, crest_width=1.17 * FOOT) / FOOT
    assert printed("0.290") == head
    crest = 721.3 - 2.0 - head - 0.0005 * 1150
    assert abs(crest - 718.435) < 0.001
    assert 0.0 < crest - VERLING.inlet.crest < 0.02  # 8 and 6 in of boards reach just under it
    assert crest - 718.05 < 6 / 12


@pytest.mark.by_hand(of=bed_flow_darcy)
@pytest.mark.parametrize(
    ("width", "length", "percent"), [(30.0, 100.0, "3.2"), (57.0, 40.0, "15.4")]
)
def test_a_short_wide_bed_passes_on_paper(width: float, length: float, percent: str) -> None:
    # K W (1.45^2 - 1.07^2) / (2 L), K 4.2 cm/s, floor 716.98, straight sides
    flow = bed_flow_darcy(
        (718.43 - 716.98) * FOOT,
        (718.05 - 716.98) * FOOT,
        conductivity=0.042,
        length=length * FOOT,
        width=width * FOOT,
        side_slope=0.0,
        media_depth=1.5 * FOOT,
    )
    assert abs(float(percent) - 100 * float(flow) / CFS / 0.609) < 0.15
    if length == 40.0:
        wet = width * length * (1.45 + 1.07) / 2
        hours = 0.70 * wet / (float(flow) / CFS) / HOURS
        assert abs(hours - 5.9) < 0.06


@pytest.mark.by_hand(of=buffer_flow_dupuit)
def test_the_buffer_of_verling_takes_next_to_nothing() -> None:
    through = buffer_flow_dupuit(
        3.8 * FOOT, 2.4 * FOOT, conductivity=0.25 * FOOT_A_DAY, length=600 * FOOT, width=15 * FOOT
    )
    assert printed("0.0005") == float(through) / CFS
    assert printed("0.08") == 100 * float(through) / CFS / 0.609


@pytest.mark.by_hand(of=annual_volume)
def test_load_of_verling() -> None:
    load = 4.6 * annual_volume(11 * INCH, 80 * ACRE) / POUND_A_VOLUME
    assert printed("917") == load
    assert printed("11.5") == load / 80
