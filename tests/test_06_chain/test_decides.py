# SPDX-License-Identifier: Apache-2.0
"""What decides a design, what to measure next, and what else it does."""

import numpy as np
import pytest

from tests.records import plain_design, recorded
from tilewater.basis.compiled import has_compiler
from tilewater.basis.errors import OutOfDomain, UnknownName
from tilewater.basis.trace import Trace
from tilewater.chain.advice import (
    add_advice,
    advice_in_order,
    margins_of,
    narrowing_of,
    ordered,
    settled_of,
    share_that_fits,
    worth_for_one_practice,
)
from tilewater.chain.decides import add_decides, can_decide, log_cost
from tilewater.chain.decides_numbers import (
    error_of_all,
    error_of_one,
    share_of_all,
    share_of_one,
    shares_of_single_years,
    told_of,
    total_error_of_one,
    total_of_one,
)
from tilewater.chain.design import design_bed
from tilewater.chain.explain import explain
from tilewater.chain.measurement_numbers import (
    chance_error_of,
    chance_of,
    settles_error_of,
    settles_of,
    spread_error_of,
    spread_of,
)
from tilewater.chain.measurements import (
    Measurement,
    Weighed,
    advice_words,
    cannot_tell,
    in_order,
    measurement_of,
    measurements_of,
    settled_by,
    spread_taken,
    unknown_names,
    weighed_of,
)
from tilewater.chain.measuring import Settled, Worth
from tilewater.chain.redrawn import redraw_one_by_one, total_shares
from tilewater.chain.result import result_record
from tilewater.chain.result_decides import (
    advice_record,
    decides_record,
    nitrate_record,
    side_effects_record,
    untold_pairs,
    updated_record,
)
from tilewater.chain.side_effects import (
    add_side_effects,
    days_of_setting,
    flow_of,
    flush_share,
    flush_volume,
    outlet_of,
    phosphorus_of_first_year,
    removed_of,
    retention_of,
)
from tilewater.chain.variance_shares import Share, VarianceShares, first_shares
from tilewater.nitrate.parameter_ranges import default_ranges, draws_of_ranges

pytestmark = pytest.mark.skipif(not has_compiler(), reason="64 draws are too few for shares")

DRAWN = draws_of_ranges({n: default_ranges()[n] for n in ("q10", "flush", "removal-rate")}, 256, 1)


def trace() -> Trace:
    return plain_design().trace


@pytest.mark.law(of=(add_decides, can_decide, told_of))
def test_shares_and_totals_of_a_design_hang_together():
    assert can_decide(trace())
    for output in ("long_run_removed_kg", "long_run_share", "usd_per_kg"):
        shares, totals = (trace().value(f"decides.{output}.{w}") for w in ("shares", "totals"))
        assert set(shares.first) == set(totals) == set(trace().value("days.drawn"))
        alone = sum(each.share for each in shares.first.values())
        assert alone == pytest.approx(shares.together.share, abs=0.1)
        for name, share in shares.first.items():
            total = totals[name]
            assert total.share > share.share - 3 * np.hypot(total.error, share.error) - 0.01
            if name in told_of(shares):
                assert trace().value(f"decides.{output}.{name}.share") == share.share
                assert trace().value(f"decides.{output}.{name}.total_error") == total.error
    by_rate = trace().value("decides.long_run_removed_kg.removal-rate.share")
    assert by_rate > 0.5
    assert "removal-rate" not in told_of(trace().value("decides.long_run_share.shares"))


@pytest.mark.by_hand(of=(shares_of_single_years,))
def test_single_years_have_the_weather_beside_the_parameters():
    """Removed = 3 x + year, both of known variance: shares 9 V_x and V_year of their sum."""
    x = DRAWN["q10"]
    years = np.array([-1.0, 0.0, 1.0, 2.0])
    sums = np.zeros((256, 4, 6))
    sums[:, :, 4] = np.add.outer(3 * x, years)
    found = shares_of_single_years(DRAWN, sums, np.ones(4, dtype=bool))
    whole = 9 * x.var() + years.var()
    assert found.first["q10"].share == pytest.approx(9 * x.var() / whole, abs=0.02)
    assert found.first["weather-year"].share == pytest.approx(years.var() / whole, abs=0.02)
    assert found.together.share == pytest.approx(1.0, abs=0.03)


@pytest.mark.law(of=(redraw_one_by_one, total_shares))
def test_one_parameter_at_a_time_is_drawn_anew():
    ranges = {name: default_ranges()[name] for name in DRAWN}
    again = redraw_one_by_one(ranges, DRAWN, 64, 1)
    for turn, name in enumerate(DRAWN):
        block = slice(64 * turn, 64 * turn + 64)
        for other in DRAWN:
            same = np.array_equal(again[other][block], DRAWN[other][:64])
            assert same == (other != name)
    output = DRAWN["q10"] * 2
    totals = total_shares(DRAWN, output, again["q10"] * 2)
    assert totals["q10"].share == pytest.approx(1, abs=3 * totals["q10"].error)
    assert totals["flush"].share == totals["removal-rate"].share == 0
    with pytest.raises(OutOfDomain, match="As many for each"):
        total_shares(DRAWN, output, np.ones(7))


@pytest.mark.law(of=(add_decides, add_advice))
def test_shares_and_advice_are_the_same_again():
    again = design_bed(recorded()).trace
    for key in ("decides.removed_kg.shares", "decides.long_run_removed_kg.totals", "advice.order"):
        assert again.value(key) == trace().value(key)


@pytest.mark.law(of=(add_advice, advice_in_order, in_order))
def test_advice_stands_in_the_order_of_what_it_changes_for_its_price():
    order = advice_in_order(trace())
    assert len(order) == 11
    changes = [e.changes.share / e.usd if e.changes.is_told else 0.0 for e in order]
    assert changes == sorted(changes, reverse=True)
    (note,) = [f for f in plain_design().findings if f.code == "measure-next"]
    assert note.message == advice_words(order[0], "woodchip bed")
    dear = design_bed(recorded({f"measure.{order[0].measurement.slug}.cost_usd": 1e6})).trace
    assert advice_in_order(dear)[0].measurement != order[0].measurement
    strange = design_bed(recorded({"measure.soil-nails.cost_usd": 5.0}))
    assert "measure-of-no-name" in {f.code for f in strange.findings}


@pytest.mark.law(of=(add_advice, worth_for_one_practice))
def test_a_low_price_of_nitrate_leaves_the_bed_and_nothing_can_change_it():
    cheap = design_bed(recorded({"money.most_usd_per_kg": 0.01})).trace
    for each in advice_in_order(cheap):
        assert each.worth is not None
        assert (each.worth.choice, each.chance.share) == ("leave", 0.0)
        assert each.worth.saving == 0.0


@pytest.mark.by_hand(of=(margins_of, share_that_fits, log_cost))
def test_rules_of_draws():
    value = np.array([0.1, 0.2, 0.3])
    first, second = margins_of(
        value_share=value, limit_share=0.15, value_life=np.array([12.0, 8.0, 11.0]), limit_life=10.0
    )
    assert first.tolist() == pytest.approx([-0.05, 0.05, 0.15])
    assert second.tolist() == [2.0, -2.0, 1.0]
    assert share_that_fits((first, second)) == pytest.approx(1 / 3)
    assert share_that_fits(()) == 1.0
    assert log_cost(100.0, np.array([10.0]))[0] == pytest.approx(np.log(10))


@pytest.mark.by_hand(of=(settled_by, spread_taken, settled_of, narrowing_of, measurement_of))
def test_what_a_measurement_takes_away():
    """ln of a lognormal rate has the variance s^2; with e the share taken is S s^2/(s^2 + e^2)."""
    ranges = default_ranges()
    settled = settled_of(DRAWN, ranges, "neighbour-bed")
    assert settled.error == pytest.approx(np.sqrt(np.log1p(0.3**2)))
    assert settled.values == pytest.approx(np.log(DRAWN["removal-rate"]))
    assert settled_by(DRAWN["flush"], ranges["flush-years"], 0.1).error == 0.1
    shares = VarianceShares({"removal-rate": Share(0.8, 0.04)}, Share(0.8, 0.04))
    part = settled.values.var() / (settled.values.var() + settled.error**2)
    taken = spread_taken(shares, "removal-rate", settled)
    assert (taken.share, taken.error) == pytest.approx((0.8 * part, 0.04 * part))
    assert narrowing_of(shares, settled, "neighbour-bed") == taken
    with pytest.raises(UnknownName, match="No measurement is called"):
        measurement_of("soil-nails")


def one(
    usd: float, chance: Share, settles: Share, narrows: Share, *, clear: bool = False
) -> Weighed:
    measurement = Measurement("a", "bed", "q10", 0.1, usd, "a week", "three holes", "how it is")
    return weighed_of(measurement, usd, Worth("leave", chance, clear, settles, 1.0, 0.1), narrows)


@pytest.mark.by_hand(
    of=(in_order, cannot_tell, advice_words, ordered, chance_of, settles_of, spread_of, weighed_of)
)
def test_words_and_order_of_measurements():
    none, some = Share(0.0, 0.0), Share(0.4, 0.05)
    sure = one(200, Share(0.3, 0.05), Share(0.7, 0.05), none)
    half = one(200, Share(0.3, 0.05), Share(0.2, 0.05), some)
    idle = one(100, Share(0.02, 0.02), none, Share(0.01, 0.02), clear=True)
    assert ordered(a=idle, b=half, c=sure) == in_order((sure, half, idle)) == (sure, half, idle)
    assert advice_words(sure, "bed") == (
        "Three holes: about 200 USD, a week. Settles whether the bed fits and pays."
    )
    assert advice_words(half, "bed").endswith(
        "Tells how it is: settles whether the bed fits and pays in 20 of 100 cases, changes the "
        "choice in 30 of 100 cases, takes away 40 percent of the spread of what is removed."
    )
    assert advice_words(idle, "bed").endswith("Tells how it is, which changes little here.")
    assert cannot_tell(half, one(200, Share(0.25, 0.05), none, Share(0.35, 0.05)))
    assert not cannot_tell(sure, half)
    assert (chance_of(half), settles_of(half), spread_of(half)) == (0.3, 0.2, 0.4)
    errors = [of(half) for of in (chance_error_of, settles_error_of, spread_error_of)]
    assert errors == [0.05, 0.05, 0.05]
    with pytest.raises(OutOfDomain, match="At least one"):
        ordered()


@pytest.mark.practice(of=(measurements_of, unknown_names))
def test_the_list_has_measurements_for_every_practice():
    bed = measurements_of("bed", tuple(default_ranges()))
    buffer = measurements_of("buffer", ("buffer-conductivity", "nitrate-factor"))
    assert {each.settles for each in bed} <= set(default_ranges())
    assert [each.slug for each in buffer] == [
        "nitrate-samples", "nitrate-season", "auger-holes", "auger-holes-many",
    ]  # fmt: skip
    assert all(each.usd > 0 and each.error > 0 for each in (*bed, *buffer))
    assert unknown_names(("auger-holes", "soil-nails")) == ("soil-nails",)


@pytest.mark.by_hand(of=(share_of_one, error_of_one, total_of_one, total_error_of_one))
def test_one_of_many():
    shares = VarianceShares({"q10": Share(0.3, 0.02), "flush": Share(0.1, 0.06)}, Share(0.4, 0.01))
    assert (share_of_one(shares, "q10"), error_of_one(shares, "q10")) == (0.3, 0.02)
    assert (total_of_one(shares.first, "q10"), total_error_of_one(shares.first, "q10")) == (
        0.3,
        0.02,
    )
    assert (share_of_all(shares), error_of_all(shares)) == (0.4, 0.01)
    assert told_of(shares) == ("q10",)


@pytest.mark.by_hand(of=(untold_pairs, share_of_all, error_of_all))
def test_neighbours_that_cannot_be_told_apart_are_named():
    first = {
        "a": Share(0.5, 0.03),
        "b": Share(0.45, 0.03),
        "c": Share(0.1, 0.01),
        "d": Share(0, 0.1),
    }
    assert untold_pairs(VarianceShares(first, Share(1, 0))) == [("a", "b")]


@pytest.mark.law(
    of=(add_side_effects, flow_of, outlet_of, retention_of, removed_of, days_of_setting)
)
def test_counted_days_are_those_of_the_run():
    run = trace().value("days.run")
    used = (run.bed_flow > 0) & (run.outlet_nitrate_mg_per_l < 0.5)
    days = float(trace().value("side_effects.used_up_days"))
    assert days == pytest.approx(365.25 * used.mean())
    assert trace().value("side_effects.sulfide_days") <= days
    seasons = trace().names("side_effects.season")
    by_season = [trace().value(f"side_effects.season.{s}.used_up_days") for s in seasons]
    assert sum(by_season) <= days + 1e-9
    low, mid, high = (
        trace().value(f"side_effects.nitrous_oxide_kg.{p}") for p in ("low", "mid", "high")
    )
    assert 0 < low < mid < high < 0.06 * run.removed_kg.mean() * 365.25 + 1e-9
    assert days_of_setting(
        np.array([True, True, False]), np.array([1, 2, 2]), 2.0
    ) == pytest.approx(365.25 / 3)


@pytest.mark.by_hand(of=(flush_volume, flush_share, phosphorus_of_first_year))
def test_flush_of_new_chips():
    """10 pore volumes of 200 m3 over 365.25 days of 0.001 m3/s; 0.3 g on 100 m3 every day."""
    assert flush_volume(200.0, 10.0) == 2000.0
    flow = np.full(10, 0.001)
    assert flush_share(2000.0, flow) == pytest.approx(2000 / (365.25 * 86.4))
    assert flush_share(2000.0, np.zeros(3)) == 0.0
    assert phosphorus_of_first_year(0.3, 100.0, flow) == pytest.approx(0.3 * 100 * 365.25 / 1000)


@pytest.mark.works(
    of=(decides_record, advice_record, side_effects_record, nitrate_record, updated_record)
)
def test_every_number_of_the_record_is_explained():
    record = result_record(plain_design(), (), "0")
    assert record["nitrate"] == {"pattern": "same every day"}
    assert record["updated"] == []
    rate = record["decides"]["long_run_removed_kg"]["removal-rate"]
    assert set(rate) == {"share", "share_error", "total", "total_error"}
    assert record["advice"][0]["words"]
    assert record["side_effects"]["used_up_days"] >= 0
    for key in (
        *(f"decides.long_run_removed_kg.removal-rate.{name}" for name in rate),
        "decides.removed_kg.removal-rate.share",
        "decides.removed_kg.together.share_error",
        *(f"advice.nitrate-samples.{name}" for name in record["advice"][0] if name != "name"),
        "side_effects.nitrous_oxide_kg.mid",
        "side_effects.season.spring.used_up_days",
    ):
        assert explain(trace(), key)
    narrowed = design_bed(recorded({"measured.porosity": 0.6, "measured.porosity_error": 0.05}))
    (entry,) = result_record(narrowed, (), "0")["updated"]
    assert entry["name"] == "porosity-effective"
    assert entry["prior"]["low"] < entry["posterior"]["low"]


@pytest.mark.works(of=(first_shares, Settled))
def test_few_draws_say_nothing():
    with pytest.raises(OutOfDomain, match="At least 88"):
        first_shares({f"x{i}": np.arange(70.0) for i in range(11)}, np.arange(70.0))
