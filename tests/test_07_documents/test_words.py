# SPDX-License-Identifier: Apache-2.0
"""Values reach the reader in the units of the trade, and one colour marks one thing."""

import io
import re
from dataclasses import dataclass
from functools import cache

import numpy as np
import pytest

from tests.pages import Console
from tilewater.basis.unknown import Unknown
from tilewater.documents.pages.said import SHAPES, status
from tilewater.documents.pages.summary import summary
from tilewater.documents.words import Words, folded, kind_of, together, unit_of_key
from tilewater.tasks.designing import Outcome, design_job
from tools.package import ROOT

PLUM = "38;2;163;40;92"

pytestmark = pytest.mark.works(of=(Words, kind_of, unit_of_key, status, summary))


@cache
def farm() -> Outcome:
    return design_job(ROOT / "examples" / "corbel-farm")


def page(words: Words, width: int = 110) -> str:
    console = Console(
        width=width, force_terminal=True, color_system="truecolor", file=io.StringIO(), record=True
    )
    for part in summary(farm().job.title, farm().design, farm().alternatives, words):
        console.print(part)
    return console.export_text(styles=True)


@pytest.mark.parametrize(
    ("key", "value", "unit", "us", "si"),
    [
        ("capacity.criterion.flow_m3_s", 0.0283168, "m3/s", "1.00 cfs", "28.3 L/s"),
        ("boards.inlet-design.rim_down_m", 0.85344, "m", "33.6 in", "853 mm"),
        ("boards.inlet-design.crest_m", 360.94416, "m", "1184.20 ft", "360.944 m"),
        ("inputs.spot.low-1.station_m", 88.392, "m", "2+90", "88.39 m"),
        ("inputs.media.conductivity_new_m_s", 0.095, "m/s", "9.5 cm/s", "9.5 cm/s"),
        ("inputs.drainage.area_m2", 250905.1, "m2", "62.0 acre", "25.09 ha"),
        ("capacity.criterion.share_of_peak", 0.1736, "-", "17.4 %", "17.4 %"),
        ("removal.site_percent.p50", 19.79, "%", "19.8 %", "19.8 %"),
        ("capacity.criterion.retention_h", 9.93, "h", "9.9 h", "9.9 h"),
        ("inputs.bed.lining", "plastic", "", "plastic", "plastic"),
        ("removal.removed_kg.p50", Unknown("no load"), "kg", "not known", "not known"),
    ],
)
def test_value_is_spoken_as_in_the_trade(
    key: str, value: object, unit: str, us: str, si: str
) -> None:
    assert (us, si) == (
        Words("us").of_key(key, value, unit),
        Words("si").of_key(key, value, unit),
    )


def test_elevation_keeps_the_foot_of_its_grid() -> None:
    survey = Words("us", "us survey foot")
    assert "1184.20 ft" == Words("us").say(360.94416, "elevation")
    assert "1184.20 ft" == survey.say(1184.20 * 1200 / 3937, "elevation")


def test_name_of_a_key_says_its_unit() -> None:
    assert ["m3/s", "m", "kg", "USD", "%", "-"] == [
        unit_of_key(key)
        for key in (
            "drain_flow.candidates_m3_s.main_full",
            "field.low-1.limits_m.storm",
            "removal.removed_kg.p10",
            "cost.usd_per_kg.p10",
            "removal.site_percent.p50",
            "capacity.criterion.share_of_peak",
        )
    ]


def test_status_is_a_word_with_a_shape() -> None:
    assert ["+ holds", "! short", "? not known"] == [status(word).plain for word in SHAPES]


def test_one_colour_marks_what_binds_and_nothing_else() -> None:
    coloured = re.findall(r"\x1b\[([0-9;]*)m([^\x1b]*)", page(Words()))
    colours = [codes for codes, _ in coloured if re.search(r"(^|;)(3[0-8]|9[0-7])(;|$)", codes)]
    assert colours
    assert {f"1;{PLUM}"} == set(colours)
    marked = [text for codes, text in coloured if PLUM in codes]
    assert marked[0].startswith("Tightest: ")
    assert "Share of the peak flow that the bed takes" in {text.strip() for text in marked}


def test_bid_quantities_wear_the_units_in_which_they_are_bid() -> None:
    words = Words("us")
    assert ("435", "CY", "$36.00") == (
        words.quantity(332.4197, "m3"),
        words.bid_unit("m3"),
        words.unit_price(36 / 0.9144**3, "m3"),
    )
    assert ("332", "m3") == (Words("si").quantity(332.4197, "m3"), Words("si").bid_unit("m3"))


def test_concrete_that_is_needed_is_never_rounded_down() -> None:
    cubic_foot = 0.3048**3
    assert ("7.5 ft3", "7.5 ft3", "7.0 ft3") == (
        Words("us").concrete(7.45 * cubic_foot),
        Words("us").concrete(7.41 * cubic_foot),
        Words("us").concrete(7 * cubic_foot),
    )
    assert ("0.22 m3", "not known") == (
        Words("si").concrete(0.211),
        Words("si").concrete(Unknown("no weight")),
    )


def test_quantities_have_three_figures_and_lose_no_whole_unit() -> None:
    words = Words("si")
    quantities = (1234.4, 80.52, 0.2222, 500.0, 6.401, 0.0)
    assert ["1,234", "80.5", "0.222", "500", "6.40", "0"] == [
        words.quantity(value, "m3") for value in quantities
    ]
    assert ("4", "not known") == (words.quantity(4, ""), words.quantity(Unknown("no bed"), "m"))


def test_not_known_is_said_once() -> None:
    assert "not known" == together(("a", "not known"), ("b", folded("{} deep", "not known")))
    assert "3 ft by not known" == folded("{} by {}", "3 ft", "not known")
    assert "3 ft; slope, load not known" == together(
        ("depth", "3 ft"), ("slope", "not known"), ("load", "not known")
    )


def test_items_of_which_there_is_one_are_bid_by_the_lump_sum() -> None:
    lines = re.sub(r"\x1b\[[0-9;]*m", "", page(Words())).splitlines()
    for item, unit in (("Mobilization", "LS"), ("Locate support", "HR"), ("Lid locks", "each")):
        (line,) = [line for line in lines if line.strip().startswith(item)]
        assert f"  {unit}  " in line


def test_seasons_stand_after_the_bed_with_their_share() -> None:
    text = re.sub(r"\x1b\[[0-9;]*m", "", page(Words()))
    assert "By season  aged chips, water at that season's bypass crest" in text
    assert text.index("\nThrough the bed") < text.index("\nBy season") < text.index("\nBoards")
    block = text.partition("\nBy season")[2].partition("\nBoards")[0]
    (spring,) = [line for line in block.splitlines() if line.strip().startswith("spring")]
    share = farm().design.trace.value("seasons.spring.share_of_peak")
    assert spring.rstrip().endswith(Words().say(share, "ratio"))


@dataclass(frozen=True)
class Range:
    low: float
    mid: float
    high: float
    unit: str = "m/s"
    source: str = "practice"
    honesty: str = "practice"


def test_many_records_are_told_by_their_number() -> None:
    draws = tuple(Range(0.1, 0.2, 0.3) for _ in range(1024))
    assert "1,024 records of 6 values each" == Words().of_key("days.beds", draws, "")


def test_a_range_is_told_with_what_it_rests_on() -> None:
    said = Words("si").of_key("days.ranges", {"q10": Range(1.8, 2.0, 3.1)}, "")
    assert "q10: 1.8 to 3.1, middle 2 m/s (practice, practice)" == said


def test_series_by_name_are_told_by_their_length() -> None:
    drawn = {"a": np.zeros(1024), "b": np.zeros(1024)}
    assert "2 series of 1,024 values each" == Words("si").of_key("days.drawn", drawn, "")


def test_a_share_of_a_cost_is_no_cost() -> None:
    assert "43.0 %" == Words().of_key("decides.usd_per_kg.q10.share", 0.43, "-")
