# SPDX-License-Identifier: Apache-2.0
"""Time zones and what a logger's clock did in summer, with zoneinfo as the oracle."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewater.job.fields import Setting, Wrong
from tilewater.job.logger_clock import universal_times, usual_step
from tilewater.job.times import Moment, TimeZone, turns, utc_text, zone_in_heading, zone_of

QUARTER = 900.0
HOUR = 3600.0
ZONES = ("America/Chicago", "America/New_York", "Europe/Berlin", "Australia/Sydney")
QUESTION = "nothing in the file tells whether its clock keeps summer time in America/Chicago."


def utc(*parts: int) -> float:
    return datetime(*parts, tzinfo=UTC).timestamp()


def clock_of(times: np.ndarray, zone: str, *, stays: bool = False) -> np.ndarray:
    """What a clock of a zone shows at times, as a person would read it off."""
    if stays:
        ahead = datetime(2028, 1, 15, tzinfo=ZoneInfo(zone)).utcoffset()
        return times + ahead.total_seconds()
    shown = [datetime.fromtimestamp(t, UTC).astimezone(ZoneInfo(zone)) for t in times]
    return np.array([t.replace(tzinfo=UTC).timestamp() for t in shown])


@pytest.mark.works(of=(zone_of,))
def test_a_zone_is_a_distance_or_a_name():
    assert [zone_of(text).offset_s(0.0) / HOUR for text in ("-6 h", "UTC-06:00", "+5:30", "z")] == [
        -6.0,
        -6.0,
        5.5,
        0.0,
    ]
    assert zone_of("America/Chicago").offset_s(utc(2028, 7, 1)) == -5 * HOUR
    assert zone_of("America/Chicago").standard_offset_s(utc(2028, 7, 1)) == -6 * HOUR


@pytest.mark.works(of=(zone_of,))
@pytest.mark.parametrize(
    "text", ["CST", "", "-25 h", "../../etc/passwd", "America/Nowhere", "a/" * 50]
)
def test_what_is_no_zone_is_answered_with_two_examples(text: str):
    with pytest.raises(Wrong, match=r'like "-6 h".*or like "America/Chicago"'):
        zone_of(text)


@pytest.mark.works(of=(zone_in_heading,))
def test_a_heading_may_name_the_zone():
    assert zone_in_heading("Date Time, GMT-06:00").offset_s(0.0) == -6 * HOUR
    assert zone_in_heading("Time (UTC)").offset_s(0.0) == 0.0
    assert zone_in_heading("Time") is None


@pytest.mark.works(of=(Moment, TimeZone))
def test_a_moment_is_typed_with_day_and_time():
    moment = Moment("When", example="2028-03-04 10:15")
    assert moment.read("2028-03-04 10:15", Setting()) == "2028-03-04 10:15:00"
    with pytest.raises(Wrong) as wrong:
        moment.read("3/4/2028", Setting())
    assert str(wrong.value) == (
        "'3/4/2028' is not a day with a time. Write year-month-day hours:minutes, like "
        '"2028-03-04 10:15".'
    )
    assert TimeZone("Zone").read("America/Chicago", Setting()) == "America/Chicago"
    with pytest.raises(Wrong):
        TimeZone("Zone").read(-6, Setting())


@pytest.mark.oracle("zoneinfo of CPython", of=(turns,))
@pytest.mark.parametrize("name", ZONES)
def test_the_clocks_are_moved_when_the_database_moves_them(name: str):
    found = turns(zone_of(name), utc(2028, 1, 1), utc(2031, 1, 1))
    assert len(found) == 6
    for turn in found:
        before = datetime.fromtimestamp(turn.utc_s - 1, UTC).astimezone(ZoneInfo(name)).utcoffset()
        after = datetime.fromtimestamp(turn.utc_s, UTC).astimezone(ZoneInfo(name)).utcoffset()
        assert before == timedelta(seconds=turn.before_s)
        assert after == timedelta(seconds=turn.after_s)
        assert before != after


@pytest.mark.oracle("zoneinfo of CPython", of=(universal_times,))
@pytest.mark.parametrize("name", ZONES)
@pytest.mark.parametrize("step", [QUARTER, HOUR])
@pytest.mark.parametrize("stays", [False, True])
def test_a_year_of_a_clock_comes_back_in_universal_time(name: str, step: float, stays: bool):
    times = np.arange(utc(2028, 1, 1), utc(2029, 1, 1), step)
    shown = clock_of(times, name, stays=stays)
    zone = zone_of(name)
    if stays:
        shown = times + zone.standard_offset_s(times[0])
    timed = universal_times(shown, zone, None, "inlet")
    assert np.array_equal(timed.time_s, times)
    assert not timed.doubtful.any()
    assert [note.code for note in timed.notes] == ["logger-clock-told"]
    assert ("stayed on" if stays else "was moved with") in timed.notes[0].message


@pytest.mark.law(of=(universal_times,))
@given(
    start=st.integers(0, 3 * 365 * 24),
    hours=st.integers(24, 24 * 300),
    name=st.sampled_from(ZONES),
)
def test_a_clock_that_is_said_to_switch_comes_back_whatever_the_span(
    start: int, hours: int, name: str
):
    times = utc(2028, 1, 1) + (start + np.arange(hours)) * HOUR
    timed = universal_times(clock_of(times, name), zone_of(name), "switches", "inlet")
    wrong = timed.time_s != times
    assert not np.any(wrong & ~timed.doubtful)  # a series that begins inside the doubled hour


@pytest.mark.works(of=(universal_times,))
def test_a_summer_alone_tells_nothing_and_is_asked():
    times = np.arange(utc(2028, 6, 1), utc(2028, 6, 20), QUARTER)
    zone = zone_of("America/Chicago")
    with pytest.raises(Wrong) as wrong:
        universal_times(clock_of(times, "America/Chicago"), zone, None, "inlet")
    assert str(wrong.value).startswith(QUESTION)
    winter = np.arange(utc(2028, 1, 10), utc(2028, 1, 20), QUARTER)
    timed = universal_times(clock_of(winter, "America/Chicago"), zone, None, "inlet")
    assert np.array_equal(timed.time_s, winter)
    assert timed.notes == ()


@pytest.mark.works(of=(universal_times,))
def test_the_word_of_the_job_governs_and_the_readings_are_held_against_it():
    times = np.arange(utc(2028, 3, 1), utc(2028, 3, 25), QUARTER)
    zone = zone_of("America/Chicago")
    timed = universal_times(times - 6 * HOUR, zone, "switches", "inlet")
    assert [note.code for note in timed.notes] == ["logger-clock-against", "logger-hour-doubtful"]
    assert timed.notes[0].message == (
        'The job says clock = "switches" of inlet, but its readings around 2028-03-12 02:00 look '
        "as if it was not moved. The word of the job is kept. Look at the rows of that night."
    )
    assert timed.doubtful.sum() == 4


@pytest.mark.works(of=(universal_times,))
def test_a_clock_that_was_moved_once_and_not_again_is_asked():
    first = np.arange(utc(2028, 3, 1), utc(2028, 3, 25), QUARTER)
    second = np.arange(utc(2028, 10, 25), utc(2028, 11, 20), QUARTER)
    shown = np.concatenate((clock_of(first, "America/Chicago"), second - 6 * HOUR))
    with pytest.raises(Wrong, match="was moved around 2028-03-12 02:00 and not around 2028-11-05"):
        universal_times(shown, zone_of("America/Chicago"), None, "inlet")


@pytest.mark.works(of=(universal_times,))
def test_a_fixed_zone_and_a_clock_that_went_back_an_hour_do_not_agree():
    times = np.arange(utc(2028, 11, 1), utc(2028, 11, 10), QUARTER)
    with pytest.raises(Wrong, match="its clock went back one hour at 2028-11-05 01:00, and -6 h"):
        universal_times(clock_of(times, "America/Chicago"), zone_of("-6 h"), None, "inlet")
    steady = universal_times(times - 6 * HOUR, zone_of("-6 h"), None, "inlet")
    assert np.array_equal(steady.time_s, times)


@pytest.mark.works(of=(universal_times,))
def test_rows_in_disorder_tell_nothing_of_the_clock():
    times = np.arange(utc(2028, 11, 1), utc(2028, 11, 10), QUARTER)
    shown = clock_of(times, "America/Chicago")
    order = np.random.default_rng(3).permutation(times.size)
    zone = zone_of("America/Chicago")
    with pytest.raises(Wrong, match="nothing in the file tells"):
        universal_times(shown[order], zone, None, "inlet")
    timed = universal_times(shown[order], zone, "switches", "inlet")
    assert timed.doubtful.sum() == 8
    assert np.array_equal(timed.time_s[~timed.doubtful], times[order][~timed.doubtful])


@pytest.mark.works(of=(usual_step, utc_text))
def test_the_usual_step_is_the_middle_one_and_times_are_written_in_full():
    assert usual_step(np.array([0.0, 900, 1800, 9000, 9900])) == 900.0
    assert usual_step(np.array([5.0])) == HOUR
    assert utc_text(np.array([0.0, 900.4])).tolist() == [
        "1970-01-01T00:00:00Z",
        "1970-01-01T00:15:00Z",
    ]
