# SPDX-License-Identifier: Apache-2.0
"""The screening of three farms: its numbers by hand, its answers, and the order of its reasons."""

from collections.abc import Mapping
from functools import cache

import numpy as np
import pytest

from tests.digits import printed
from tests.jobs import ACRE, CFS, FARM, FOOT, INCH, corbel_inputs, fitting_inputs
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.tables import read_table, slug_faults
from tilewater.basis.trace import Value
from tilewater.basis.units import from_si
from tilewater.basis.unknown import Unknown
from tilewater.chain.inputs import JobInputs
from tilewater.chain.screen import Screen, screen_job
from tilewater.chain.screen_answers import CANNOT, CLOSER_LOOK, NOT_KNOWN, answer_of
from tilewater.chain.screen_drawn import add_drawn
from tilewater.chain.screen_next import advice, measurements
from tilewater.chain.screen_parts import (
    flow_of_strip,
    higher_of,
    left_open,
    length_for_share,
    length_of_strip,
    lift_of_water,
    outside_usual,
    reach_share,
    share_of_days_above,
    shorter_side,
    strip_flow_per_length,
)
from tilewater.chain.screen_rows import Said, ScreenRow, judge_questions
from tilewater.documents.screen_words import drawn_words, in_words
from tilewater.documents.words import Words
from tilewater.practices.bed.capacity import share_of_flow
from tilewater.tasks.checking import check_job

DAY = 86400.0
US = Words("us")
BLANK = Unknown("nobody knows", "measure it")
TABLES = tuple(f"practice_screen_{name}" for name in ("questions", "measurements", "advice"))


@cache
def inputs_of(farm: str) -> JobInputs:
    return check_job(FARM.parent / farm).inputs


def screened(farm: str, changes: Mapping[str, Value] | None = None) -> Screen:
    changed = {f"inputs.{key}": value for key, value in (changes or {}).items()}
    return screen_job(inputs_of(farm).changed(changed))


@cache
def verling() -> Screen:
    return screened("verling-farm")


@cache
def merridew() -> Screen:
    return screened("merridew-farm")


def row_of(screen: Screen, practice: str, slug: str) -> ScreenRow:
    return next(row for row in screen.answer(practice).rows if row.slug == slug)


def reasons(screen: Screen, practice: str) -> list[str]:
    return [in_words(reason, US) for reason in screen.answer(practice).reasons]


@pytest.mark.by_hand(of=(strip_flow_per_length, flow_of_strip, share_of_flow))
@pytest.mark.parametrize(
    ("feet_per_day", "cubic_feet", "percent"), [(2.55, "1205", "2.2"), (9.0, "4253", "7.9")]
)
def test_strip_of_merridew_takes_what_its_conductivity_lets_it(feet_per_day, cubic_feet, percent):
    # K (7.5^2 - 3.0^2) / (2 55) = 0.4295 K per foot, 1,100 ft, of 0.620 cfs
    per_length = strip_flow_per_length(
        feet_per_day * FOOT / DAY, 7.5 * FOOT, 3.0 * FOOT, width=55 * FOOT
    )
    flow = flow_of_strip(per_length, 1100 * FOOT)
    assert printed(cubic_feet) == flow / CFS * DAY
    assert printed(percent) == 100 * share_of_flow(flow, 0.620 * CFS)


@pytest.mark.by_hand(of=(length_for_share,))
@pytest.mark.parametrize(("feet_per_day", "feet"), [(9.0, "692.8"), (2.55, "2445.3")])
def test_length_that_takes_five_percent(feet_per_day, feet):
    # 0.05 x 0.620 x 86400 / ((7.5^2 - 3.0^2) / 110 K) = 2678.4 / (0.429545 K)
    per_length = (7.5**2 - 3.0**2) / 110 * feet_per_day * FOOT**2 / DAY
    length = length_for_share(0.05, 0.620 * CFS, per_length)
    assert printed(feet) == length / FOOT


@pytest.mark.by_hand(of=(strip_flow_per_length, flow_of_strip, share_of_flow))
def test_strip_of_verling_takes_next_to_nothing():
    # 0.25 (3.8^2 - 2.4^2) / (2 15) = 0.07233 ft2/day, 600 ft: 43.4 ft3/day = 0.0005 cfs
    per_length = strip_flow_per_length(0.25 * FOOT / DAY, 3.8 * FOOT, 2.4 * FOOT, width=15 * FOOT)
    flow = flow_of_strip(per_length, 600 * FOOT)
    assert printed("0.0005") == flow / CFS
    assert printed("0.08") == 100 * share_of_flow(flow, 0.609 * CFS)


@pytest.mark.by_hand(of=(lift_of_water,))
def test_spring_water_lifts_the_empty_bed_of_merridew():
    # 741.0 - 737.5 = 3.5 ft of water at 62.4 lb/ft3: 218 lb/ft2
    assert printed("218") == from_si(lift_of_water(741.0 * FOOT, 737.5 * FOOT), "psf")
    assert lift_of_water(737.0 * FOOT, 737.5 * FOOT) == 0.0


@pytest.mark.by_hand(of=(share_of_days_above,))
def test_days_without_flow_or_level_do_not_count():
    # of four days two count, and on one of them the ditch stands above 1.0
    depth = np.array([0.0, 1.0, 2.0, 3.0])
    stage = np.array([9.0, 9.0, 0.5, np.nan])
    assert share_of_days_above(depth, stage, crest=1.0) == 1 / 2
    with pytest.raises(OutOfDomain, match="Log both"):
        share_of_days_above(np.zeros(4), stage, crest=1.0)


@pytest.mark.by_hand(of=(higher_of, shorter_side, outside_usual, length_of_strip, reach_share))
def test_small_sums():
    assert higher_of(717.25, 718.05) == 718.05
    assert shorter_side(190.0, 62.0) == 62.0
    assert [outside_usual(x, 30.0, 100.0) for x in (25.0, 62.0, 130.0)] == [5.0, 0.0, 30.0]
    assert length_of_strip(1100.0, trees=140.0) == 960.0
    assert reach_share(1667.0, upper_end=2400.0, start=140.0) == 1667 / 2260
    assert reach_share(5000.0, upper_end=2400.0, start=140.0) == 1.0


@pytest.mark.works(of=(left_open,))
def test_answers_that_are_there_leave_nothing_open():
    assert left_open(owner="J. Corbel", tenant="same as owner") == 0.0


@pytest.mark.by_hand(of=(screen_job, judge_questions))
def test_rows_of_corbel_farm():
    screen = screen_job(corbel_inputs({"season.spring.ditch_stage_m": 1179.6 * FOOT}))
    # ordinary ditch water 1179.60 in winter and, for this check, in spring
    assert printed("1.35") == float(row_of(screen, "bed", "outlet").value) / FOOT  # 1180.95
    assert printed("5.30") == float(row_of(screen, "bed", "cut").value) / FOOT  # 1186.0 - 1180.70
    assert printed("31") == float(row_of(screen, "bed", "right-of-way").value) / FOOT
    assert printed("14.2") == float(row_of(screen, "bed", "nitrate").value)
    assert printed("62") == float(row_of(screen, "bed", "acres").shown) / ACRE
    assert printed("10") == float(row_of(screen, "bed", "size").shown) / INCH
    assert row_of(screen, "bed", "shoring").status == "short"  # 5.3 ft is deeper than 5 ft
    for slug in ("outlet", "cut", "right-of-way", "nitrate", "acres", "size", "head"):
        assert row_of(screen, "bed", slug).status == "holds"


@pytest.mark.works(of=(screen_job, answer_of))
def test_corbel_farm_is_never_called_feasible_while_utilities_are_not_located():
    bed = screen_job(corbel_inputs()).answer("bed")
    assert bed.answer == CLOSER_LOOK
    assert {row.slug for row in bed.open} == {"rights", "utilities"}
    assert bed.reasons == ()


@pytest.mark.works(of=(screen_job, answer_of))
def test_a_job_that_fits_could_hold_a_bed():
    screen = screen_job(fitting_inputs())
    assert screen.answer("bed").answer == "could hold a bed"
    assert screen.answer("buffer").answer == NOT_KNOWN  # nobody looked at its strip
    assert not screen.nothing


@pytest.mark.by_hand(of=(screen_job,))
def test_levels_of_verling_farm():
    screen = verling()
    # 721.3 - 2.0 - 0.290 - 0.575, the main just full and the low spot 1,150 ft up
    crest = float(screen.trace.value("highest_crest_m"))
    assert printed("718.43") == from_si(crest, "survey ft")
    ordinary = float(screen.trace.value("ditch.ordinary_m"))
    floor = row_of(screen, "bed", "floor")
    assert float(floor.value) == pytest.approx(
        float(screen.trace.value("inputs.main.invert_diversion_m")) - ordinary
    )


@pytest.mark.works(of=(screen_job, answer_of))
def test_verling_farm_can_hold_nothing_and_its_reasons_come_worst_first():
    screen = verling()
    assert screen.nothing
    assert [answer.answer for answer in screen.answers] == [CANNOT] * 3
    first, second, third = reasons(screen, "bed")[:3]
    assert "under the ordinary water of the ditch" in first
    assert "of the days with drain flow the ditch stands over" in second
    assert "maintenance strip along the ditch" in third
    assert 0.3 < float(screen.trace.value("screen.days_without_head")) < 0.45


@pytest.mark.works(of=(add_drawn, drawn_words))
def test_the_short_wide_bed_is_shown_and_refused():
    screen = verling()
    assert screen.drawn is not None
    assert screen.drawn.passes_on_paper
    assert screen.drawn.short
    words = drawn_words(screen.drawn, US, refused=True)
    assert "40 ft by 57 ft" in words
    assert "on paper that is enough. It is refused" in words


@pytest.mark.works(of=(advice,))
def test_verling_farm_is_told_what_else_and_when_again():
    screen = verling()
    helps = " ".join(in_words(each.said, US) for each in screen.helps)
    again = " ".join(in_words(each.said, US) for each in screen.again)
    for words in ("in the field", "phosphorus", "wetland"):
        assert words in helps
    assert "re-graded so that its ordinary water stands" in again
    assert {each.honesty for each in (*screen.helps, *screen.again)} == {"practice"}
    assert screen.measure == ()


@pytest.mark.works(of=(screen_job, answer_of))
def test_merridew_farm_cannot_hold_a_bed_for_four_reasons():
    screen = merridew()
    assert screen.answer("bed").answer == CANNOT
    floor, easement, water, cut = reasons(screen, "bed")
    assert "under the ordinary water of the ditch" in floor
    assert "No cut wider than 3.00 ft" in easement
    assert "218.4 psf" in water
    assert "8.10 ft deep" in cut


@pytest.mark.works(of=(screen_job, answer_of, measurements))
def test_the_buffer_of_merridew_hinges_on_conductivity():
    by_holes = merridew()
    assert by_holes.answer("buffer").answer == "could hold a buffer"
    by_survey = screened("merridew-farm", {"buffer_soil.conductivity_from": "soil survey"})
    buffer = by_survey.answer("buffer")
    assert buffer.answer == CLOSER_LOOK
    (share,) = buffer.open
    assert share.hangs
    assert share.why == "the decision hinges on conductivity: measure it"
    assert by_survey.measure[0].slug == "holes"
    (told,) = (in_words(each, US) for each in buffer.told)
    assert "By the auger holes it is" in told
    assert "By the soil survey it is" in told


@pytest.mark.works(of=(screen_job,))
def test_a_strip_that_is_too_narrow_stops_a_buffer():
    screen = screened("merridew-farm", {"buffer.width_m": 29 * FOOT})
    assert screen.answer("buffer").answer == CANNOT
    assert reasons(screen, "buffer")[0] == "The strip is 29.00 ft wide. 30.00 ft is asked."


@pytest.mark.works(of=(screen_job,))
def test_low_ground_known_alone_can_rule_a_bed_out_but_never_in():
    blank = {"drainage.conductivity_m_s": BLANK}
    high = screen_job(corbel_inputs(blank))
    assert row_of(high, "bed", "head").status == "not known"
    assert high.answer("bed").answer == NOT_KNOWN
    drowned = blank | {"spot.low-1.ground_m": 1182.5 * FOOT}
    low = screen_job(corbel_inputs(drowned))
    assert row_of(low, "bed", "head").status == "short"  # 1182.5 - 2.0 - 1180.1 is under 1.0
    assert low.answer("bed").answer == CANNOT


@pytest.mark.works(of=(screen_job,))
def test_a_crest_known_only_to_be_no_higher_lets_no_row_hold():
    blind = screened("verling-farm", {"drainage.conductivity_m_s": BLANK})
    assert blind.answer("bed").answer == CANNOT  # its floor lies under the ditch all the same
    assert row_of(verling(), "bed", "board").status == "short"
    assert row_of(blind, "bed", "board").status == "not known"
    assert row_of(blind, "bed", "no-head").status == "not known"


@pytest.mark.works(of=(measurements,))
def test_what_settles_most_of_what_could_stop_it_is_measured_first():
    screen = screen_job(corbel_inputs({"ditch.stage": BLANK}))
    assert screen.measure[0].practices
    stops = [any(row.weight == "stops" for row in each.settles) for each in screen.measure]
    assert stops == sorted(stops, reverse=True)
    waiting = {row.slug for answer in screen.answers for row in answer.open}
    assert {row.slug for each in screen.measure for row in each.settles} == waiting


@pytest.mark.works(of=(in_words, Said))
def test_a_sentence_with_an_unknown_value_is_left_out():
    said = Said("It is {a}. It is not {b}. It ends.", {"a": (0.3048, "length"), "b": (BLANK, "m")})
    assert in_words(said, US) == "It is 1.00 ft. It ends."


@pytest.mark.works(of=(read_table, judge_questions))
def test_tables_of_the_screening_agree():
    questions, measured, advised = (read_table("tilewater.chain", name) for name in TABLES)
    assert [slug_faults(table) for table in (questions, measured, advised)] == [()] * 3
    assert set(questions.texts("measure")) <= set(measured.texts("slug"))
    assert set(advised.texts("row")) <= set(questions.texts("slug"))
    assert set(questions.texts("weight")) == {"stops", "closer", "aside"}
    assert set(advised.texts("sort")) == {"else", "again"}
