# SPDX-License-Identifier: Apache-2.0
"""Sieve tests judged: accept, reject, void, and what a missing sieve leaves not known."""

from collections.abc import Mapping
from typing import Any

import pytest

from tests.digits import printed
from tilewater.basis.trace import Given, Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain.chips import (
    add_chips,
    sieve_masses,
    sieve_sizes,
    status_by_bounds,
    total_mass,
)
from tilewater.chain.chips_record import (
    FINES,
    MIDDLE,
    chips_findings,
    chips_record,
    clause_of,
    loads_of,
)
from tilewater.chain.verdict_of_chips import verdict_of_load
from tilewater.documents.field.chips_sheet import chips_pdf
from tilewater.documents.pages.chips_page import chips_page
from tilewater.documents.words import Words

INCH = 0.0254
SHEET = (
    (2 * INCH, 1.1),
    (1.5 * INCH, 6.4),
    (INCH, 18.9),
    (0.75 * INCH, 11.2),
    (0.5 * INCH, 9.3),
    (0.375 * INCH, 3.1),
    (0.25 * INCH, 2.2),
    (0.002, 1.0),
)
CLEAN = {"soil": "no", "leaves": "no", "nails": "no", "treated_wood": "no"}
GOOD: dict[str, Any] = {"retained": SHEET, "pan_kg": 0.6, "mass_before_kg": 54.0, **CLEAN}


def sieved(*loads: Mapping[str, Any], spec: Mapping[str, Any] | None = None) -> Trace:
    """A trace with loads named truck-1, truck-2 and so on."""
    trace = Trace()
    for key, value in (spec or {}).items():
        trace.give(Given(f"inputs.chips_spec.{key}", value, "", key))
    for number, load in enumerate(loads, start=1):
        for key, value in load.items():
            trace.give(Given(f"inputs.sieve_test.truck-{number}.{key}", value, "", key))
    add_chips(trace)
    return trace


def verdict(trace: Trace, truck: int = 1) -> Any:
    return trace.value(f"chips.tests.truck-{truck}.verdict")


def without(*sizes: float) -> tuple[tuple[float, float], ...]:
    """The sheet of a stack that lacks sieves: what stayed on them lies on the next."""
    rows, carried = [], 0.0
    for size, mass in SHEET:
        if size in sizes:
            carried += mass
        else:
            rows.append((size, mass + carried))
            carried = 0.0
    return tuple(rows)


@pytest.mark.by_hand(of=(add_chips,))
def test_a_clean_load_within_the_limits_is_accepted():
    trace = sieved(GOOD)
    here = "chips.tests.truck-1"
    assert verdict(trace) == "accept"
    assert printed("3.0") == 100 * trace.value(f"{here}.fines_share")
    assert printed("85.1") == 100 * trace.value(f"{here}.middle_share")
    assert printed("11.0") == 1000 * trace.value(f"{here}.d10_diameter_m")
    assert printed("25.1") == 1000 * trace.value(f"{here}.d50_diameter_m")
    assert printed("28.2") == 1000 * trace.value(f"{here}.d60_diameter_m")
    assert printed("2.56") == trace.value(f"{here}.uniformity")
    assert trace.value(f"{here}.loss_share") == pytest.approx((54.0 - 53.8) / 54.0)


@pytest.mark.by_hand(of=(add_chips,))
def test_fines_over_the_limit_reject_a_load():
    # fines from 1.6 to 5.56 kg of 57.76 is 9.6 %
    more = {**GOOD, "retained": (*SHEET[:7], (0.002, 3.0)), "pan_kg": 2.56}
    total = 53.8 - 1.0 - 0.6 + 3.0 + 2.56
    trace = sieved({**more, "mass_before_kg": total})
    assert trace.value("chips.tests.truck-1.fines_share") == pytest.approx(5.56 / total)
    assert printed("9.6") == 100 * trace.value("chips.tests.truck-1.fines_share")
    assert verdict(trace) == "reject"
    (load,) = loads_of(trace)
    assert load.reasons == (
        "9.6 % fines, over 5.0 % (common practice, no source)",
        "79.3 % of the middle sizes, under 80.0 % (common practice, no source)",
    )


@pytest.mark.practice(of=(add_chips, verdict_of_load))
@pytest.mark.parametrize("seen", list(CLEAN))
def test_what_an_eye_rejects_is_rejected_whatever_the_sieves_say(seen: str):
    trace = sieved({**GOOD, seen: "yes"})
    assert verdict(trace) == "reject"
    (load,) = loads_of(trace)
    assert load.reasons[0].endswith("seen in the load: rejected whatever the sieves say")


@pytest.mark.practice(of=(add_chips,))
def test_what_nobody_looked_for_is_never_taken_as_absent():
    trace = sieved({key: value for key, value in GOOD.items() if key != "nails"})
    assert verdict(trace) == "not known"
    (load,) = loads_of(trace)
    assert load.reasons == (
        "nobody said whether it was looked for nails, wire, plastic or pallet wood",
    )


@pytest.mark.practice(of=(add_chips,))
@pytest.mark.parametrize(
    ("before", "said"),
    [
        (53.9, "accept"),
        (54.34, "accept"),  # 0.54 of 54.34 is 0.99 %
        (54.35, "void"),  # 0.55 of 54.35 is 1.01 %
        (53.0, "void"),  # 0.8 kg too much is 1.5 %
    ],
)
def test_a_test_that_lost_or_gained_more_than_one_percent_is_void(before: float, said: str):
    assert verdict(sieved({**GOOD, "mass_before_kg": before})) == said


@pytest.mark.practice(of=(verdict_of_load,))
def test_a_void_test_says_nothing_of_the_gradation_but_an_eye_still_rejects():
    few = {**GOOD, "mass_before_kg": 60.0}
    (load,) = loads_of(sieved(few))
    assert load.verdict == "void"
    assert load.reasons == (
        "10.3 % was lost in sieving: void, sieve again (common practice, no source)",
    )
    assert verdict(sieved({**few, "soil": "yes"})) == "reject"


@pytest.mark.works(of=(chips_page, chips_record))
@pytest.mark.parametrize("soil", ["no", "yes"])
def test_a_void_test_shows_no_number_of_its_curve(soil: str):
    trace = sieved({**GOOD, "mass_before_kg": 60.0, "soil": soil})
    loads = loads_of(trace)
    blocks = {each.title: each for each in chips_page(trace, loads, Words("us"))}
    line = blocks["Loads"].body[0].lines[0]
    assert [str(cell.plain) for cell in line[1:6]] == ["void", "void", "void", "void", "10.3 %"]
    assert "Passing" not in blocks
    record = chips_record(trace, loads)["loads"]["truck-1"]
    assert record["fines_share"] is record["uniformity"] is record["d50_diameter_m"] is None


@pytest.mark.practice(of=(chips_findings,))
def test_a_mass_before_that_is_not_written_is_told():
    trace = sieved({key: value for key, value in GOOD.items() if key != "mass_before_kg"})
    assert verdict(trace) == "accept"
    (found,) = chips_findings(trace, loads_of(trace))
    assert found.code == "chips-loss-not-checked"
    assert found.severity == "caution"


@pytest.mark.by_hand(of=(add_chips, status_by_bounds))
def test_a_missing_sieve_decides_only_where_its_neighbours_do():
    # without 3/8 and 1/4 in the fines lie from 1.1 % (2 mm) to 12.8 % (1/2 in): undecided at 5 %
    trace = sieved({**GOOD, "retained": without(0.375 * INCH, 0.25 * INCH)})
    assert trace.value("chips.tests.truck-1.fines_share_least") == pytest.approx(0.6 / 53.8)
    assert trace.value("chips.tests.truck-1.fines_share_most") == pytest.approx(6.9 / 53.8)
    assert verdict(trace) == "not known"
    (load,) = loads_of(trace)
    assert load.reasons == (
        "fines: a sieve is missing that decides it: 0.25 in (6.35 mm) (common practice, no source)",
        "Cu is not known: " + trace.value("chips.tests.truck-1.d10_diameter_m").why,
    )
    # at a limit of 15 % both ends hold
    loose = sieved(
        {**GOOD, "retained": without(0.375 * INCH, 0.25 * INCH)}, spec={"fines_most": 0.15}
    )
    assert verdict(loose) == "accept"
    # at a limit of 1 % both ends are over
    tight = sieved(
        {**GOOD, "retained": without(0.375 * INCH, 0.25 * INCH)}, spec={"fines_most": 0.01}
    )
    assert verdict(tight) == "reject"
    assert loads_of(tight)[0].reasons[0] == (
        "fines: over 1.0 % whatever the missing sieve would show (typed in the job, no clause "
        "named)"
    )


@pytest.mark.practice(of=(chips_findings,))
def test_a_share_read_between_two_sieves_near_each_other_says_so():
    trace = sieved({**GOOD, "retained": without(0.5 * INCH)})  # 3/4 and 3/8 in are 2 to 1
    (found,) = chips_findings(trace, loads_of(trace))
    assert found.message == (
        "No sieve of 12.7 mm was used. The share passing it is read between its neighbours; it "
        "lies from 7.1 % to 30.1 %."
    )


@pytest.mark.by_hand(of=(add_chips, total_mass))
def test_wet_masses_with_one_moisture_sample_give_the_dry_mass_and_the_same_shares():
    wet = {
        **GOOD,
        "retained": tuple((size, mass * 1.6) for size, mass in SHEET),
        "pan_kg": 0.6 * 1.6,
        "mass_before_kg": 54.0 * 1.6,
        "weighed": "wet",
        "moisture_wet_kg": 2.4,
        "moisture_dry_kg": 1.5,
    }
    trace = sieved(wet)
    assert trace.value("chips.tests.truck-1.weighed_kg") == pytest.approx(53.8 * 1.6)
    assert trace.value("chips.tests.truck-1.dry_kg") == pytest.approx(53.8)
    assert printed("3.0") == 100 * trace.value("chips.tests.truck-1.fines_share")
    (found,) = chips_findings(trace, loads_of(trace))
    assert (found.code, found.severity) == ("chips-wet", "note")
    bare = {key: value for key, value in wet.items() if not key.startswith("moisture")}
    trace = sieved(bare)
    assert not trace.known("chips.tests.truck-1.dry_kg")
    assert chips_findings(trace, loads_of(trace))[0].severity == "caution"


@pytest.mark.by_hand(of=(add_chips,))
def test_several_trucks_have_a_mean_and_a_worst_without_void_tests():
    fine = {**GOOD, "retained": (*SHEET[:7], (0.002, 3.0)), "pan_kg": 2.56, "mass_before_kg": 57.76}
    trace = sieved(GOOD, fine, {**fine, "mass_before_kg": 80.0})
    first, second = 1.6 / 53.8, 5.56 / 57.76
    assert trace.value("chips.trucks.mean_fines_share") == pytest.approx((first + second) / 2)
    assert trace.value("chips.trucks.worst_fines_share") == pytest.approx(second)
    assert "chips.accepted.mean_fines_share" not in trace  # one truck has no mean


@pytest.mark.works(of=(chips_record, clause_of))
def test_a_clause_stands_only_behind_limits_whose_numbers_the_job_types():
    assert clause_of(sieved(GOOD), *FINES).said == "common practice, no source"
    spec = {"clause": "special provision 7.2", "text_status": "read", "fines_most": 0.08}
    trace = sieved(GOOD, spec=spec)
    assert clause_of(trace, *FINES).said == "special provision 7.2 (read)"
    assert clause_of(trace, *MIDDLE).said == "common practice, no source"
    record = chips_record(trace, loads_of(trace))
    assert record["spec"]["fines_most"] == 0.08
    assert record["spec"]["clauses"]["loss"] == "common practice, no source"
    assert record["loads"]["truck-1"]["verdict"] == "accept"
    assert record["trucks"] is None


@pytest.mark.works(of=(loads_of, chips_record))
@pytest.mark.parametrize(
    ("retained", "why"),
    [
        (Unknown("answered unknown", "weigh it"), "not known: retained"),
        (
            ((0.05, 1.0), (0.05, 2.0)),
            "The openings do not fall from sieve to sieve. List each sieve once, from the largest "
            "down.",
        ),
    ],
)
def test_a_sheet_that_cannot_be_read_is_not_known_and_says_why(retained: Any, why: str):
    trace = sieved({**GOOD, "retained": retained, "mass_before_kg": 3.6})
    (load,) = loads_of(trace)
    assert (load.verdict, load.reasons) == ("not known", (why,))
    assert chips_record(trace, (load,))["loads"]["truck-1"]["passing"] is None
    assert len(chips_page(trace, (load,), Words())) == 3
    assert chips_pdf("A job", trace, (load,), Words()).startswith(b"%PDF")


@pytest.mark.works(of=(sieve_sizes, sieve_masses))
def test_sieves_are_sorted_from_the_largest_down():
    assert sieve_sizes(((0.01, 2.0), (0.05, 1.0))) == (0.05, 0.01)
    assert sieve_masses(((0.01, 2.0), (0.05, 1.0))) == (1.0, 2.0)
