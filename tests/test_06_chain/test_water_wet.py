# SPDX-License-Identifier: Apache-2.0
"""Days too wet at the spots of a field, boards in and boards out, and what the limit does."""

import datetime
from functools import cache

import numpy as np
import pytest

from tests.jobs import corbel_inputs, with_givens
from tests.test_06_chain.test_water import with_weather
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.trace import Given, Origin, Trace
from tilewater.chain import water_wet as wet
from tilewater.chain.design import design_bed
from tilewater.chain.water_side import compute_water
from tilewater.hydrology.crops import crop_named
from tilewater.hydrology.field import FieldRun
from tilewater.hydrology.field_parts import FieldDrains


@cache
def farm() -> Trace:
    return compute_water(with_weather()).trace


def run() -> FieldRun:
    found: FieldRun = farm().value("water.run")
    return found


def days(*dates: str) -> np.ndarray:
    """Truth on these days of the record."""
    found = np.zeros(run().weather.days, dtype=bool)
    for date in dates:
        found[run().weather.number_of(datetime.date.fromisoformat(date))] = True
    return found


@pytest.mark.by_hand(of=(wet.crop_season,))
def test_crops_take_turns_from_the_first_year():
    """Corn from 1 May for 150 days, soybean from 15 May for 140; corn in 2002 and 2004."""
    rotation = (crop_named("corn"), crop_named("soybean"))
    season = wet.crop_season(run(), rotation, 2002)
    dates = run().weather.dates
    corn = dates[season & (run().weather.years == 2002)]
    assert (str(corn[0]), len(corn)) == ("2002-05-01", 150)
    beans = dates[season & (run().weather.years == 2003)]
    assert (str(beans[0]), len(beans)) == ("2003-05-15", 140)
    first = wet.crop_season(run(), rotation)
    assert str(dates[first & (run().weather.years == 2002)][0]) == "2002-05-15"


@pytest.mark.by_hand(of=(wet.longest_run, wet.usual_run, wet.days_a_year))
def test_runs_of_days_are_counted_within_a_year_and_a_season():
    """Two, three and one in 2003, 2004 and 2005, none in the four other calendar years."""
    season = np.ones(run().weather.days, dtype=bool)
    too_wet = days(
        "2003-06-01",
        "2003-06-02",
        "2004-06-01",
        "2004-06-02",
        "2004-06-03",
        "2004-07-01",
        "2005-06-01",
    )
    assert wet.longest_run(too_wet, run(), season) == 3
    assert wet.usual_run(too_wet, run(), season) == 0
    assert wet.longest_run(too_wet, run(), days("2004-06-01", "2004-06-03")) == 1
    expected = 365.25 * 7 / run().weather.days
    assert wet.days_a_year(too_wet, run()) == pytest.approx(expected)
    assert wet.days_a_year(too_wet, run(), days("2005-06-01")) == pytest.approx(expected / 7)


@pytest.mark.by_hand(of=(wet.usual_run,))
def test_usual_is_what_half_the_years_keep_to():
    """Of seven calendar years four have a run of one or none: half keep to one at most."""
    season = np.ones(run().weather.days, dtype=bool)
    one = ("2001-11-01", "2002-06-01", "2003-06-01", "2004-06-01")
    assert wet.usual_run(days(*one), run(), season) == 1
    assert wet.usual_run(days(*one[:3]), run(), season) == 0


@pytest.mark.by_hand(of=(wet.height_over_drain, wet.drains_at_spot))
def test_water_over_the_lateral_of_a_spot_and_its_depth():
    assert wet.height_over_drain(361.0, 360.6) == pytest.approx(0.4)
    assert wet.height_over_drain(360.0, 360.6) == 0
    assert wet.drains_at_spot(FieldDrains(), 361.8, 360.6).depth == pytest.approx(1.2)
    with pytest.raises(OutOfDomain):
        wet.drains_at_spot(FieldDrains(), 360.0, 360.6)


@pytest.mark.works(of=(wet.days_too_wet,))
def test_a_day_is_too_wet_with_less_clear_soil_than_the_limit():
    found = wet.days_too_wet(run(), 0.3)
    assert np.array_equal(found, run().table_depth < 0.3)


@pytest.mark.law(of=(wet.add_wet_days,))
def test_boards_never_make_a_spot_drier_and_do_nothing_above_the_pool():
    for spot in farm().names("water.spot"):
        here = f"water.spot.{spot}"
        for name in ("days_per_year", "longest_run_days", "usual_run_days"):
            within, without = (farm().value(f"{here}.boards_{s}.{name}") for s in ("in", "out"))
            assert within >= without
    for spot in ("junction-9", "junction-15"):
        here = f"water.spot.{spot}"
        assert farm().value(f"{here}.boards_in.run") is farm().value(f"{here}.boards_out.run")


@pytest.mark.works(of=(wet.add_wet_days,))
def test_a_spot_with_a_lateral_of_its_own_is_run_at_its_depth():
    drain = Given("inputs.spot.low-1.drain_m", 360.8, "m", "Lateral", Origin("job.toml"))
    trace = compute_water(with_givens(with_weather(), drain)).trace
    ground = trace.value("inputs.spot.low-1.ground_m")
    depth = trace.value("water.spot.low-1.boards_out.run").inputs.drains.depth
    assert depth == pytest.approx(ground - 360.8)


@pytest.mark.works(of=(wet.add_wet_days,))
def test_without_weather_no_day_is_counted():
    trace = compute_water(corbel_inputs()).trace
    assert trace.names("water.spot") == ()
    assert not any(r.key.endswith(".wet_days") for r in trace.requirements)


def limit(origin: Origin) -> Given:
    return Given("inputs.limits.wet_days", 0.0, "days", "Limit", origin)


@pytest.mark.practice(of=(wet.add_wet_days,))
def test_the_limit_binds_where_the_job_states_it_and_is_told_of_where_it_does_not():
    for origin, binds in ((Origin("job.toml", 9), True), (Origin(source="practice"), False)):
        design = design_bed(with_givens(with_weather(), limit(origin)), by_days=False)
        row = design.requirement("field.low-1.wet_days")
        assert row.binding is binds
        assert design.trace.value(f"{row.key}.status") == "short"
        assert (design.verdict == "does not fit") is binds
        assert "wet-days" in {finding.code for finding in design.findings}
