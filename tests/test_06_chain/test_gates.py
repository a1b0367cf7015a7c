# SPDX-License-Identifier: Apache-2.0
"""Approvals, locate ticket and gates: what is missing is named, what is not known keeps shut."""

from typing import Any

import pytest

from tilewater.basis.told import in_units
from tilewater.basis.trace import Given, Trace
from tilewater.chain.approval_numbers import add_approvals, full_flow_of_run, least_full_flow
from tilewater.chain.approvals import Approval, approvals, needs, open_approvals, state_on
from tilewater.chain.gates import Gate, Issue, gate_for_dig, gate_for_start
from tilewater.chain.locate import PRIVATE, add_locate, ticket_on
from tilewater.hydraulics._pipe_run import PipeRun
from tilewater.hydraulics.grade_lines import MainSegment

DAY = "2027-09-20"
ACRE = 4046.8564224
NOTHING = dict.fromkeys(("asked", "received", "expires", "not_needed"), "")


def trace_of(**inputs: Any) -> Trace:
    """A trace with values by key; two underscores stand for a dot."""
    trace = Trace()
    for key, value in inputs.items():
        trace.give(Given(key.replace("__", "."), value, "", key))
    return trace


def need_of(trace: Trace, name: str) -> tuple[str, str]:
    add_approvals(trace)
    (need,) = (each for each in needs(trace) if each.name == name)
    return need.wanted, in_units(need.why, "us")


def approval_of(trace: Trace, name: str, day: str = DAY) -> Approval:
    add_approvals(trace)
    (found,) = (each for each in approvals(trace, day) if each.name == name)
    return found


@pytest.mark.works(of=(needs,))
def test_consent_upstream_follows_from_the_pool_and_the_line():
    assert need_of(trace_of(property_line__reserve_m=30.48), "upstream-owner") == (
        "no",
        "the pool ends 100 ft below the property line",
    )
    assert need_of(trace_of(property_line__reserve_m=-3.048), "upstream-owner") == (
        "yes",
        "the pool passes the property line by 10 ft",
    )
    assert need_of(trace_of(), "upstream-owner")[0] == "ask"


@pytest.mark.works(of=(approvals,))
def test_consent_that_the_main_already_tells_of_counts():
    inputs = {"property_line__reserve_m": -3.0}
    given = trace_of(**inputs, inputs__main__consent_upstream="given, letter of 2026-04-11")
    found = approval_of(given, "upstream-owner")
    assert (found.state, found.document) == ("received", "given, letter of 2026-04-11")
    refused = trace_of(**inputs, inputs__main__consent_upstream="refused")
    assert approval_of(refused, "upstream-owner").state == "refused"


@pytest.mark.works(of=(needs,))
def test_the_right_of_way_is_asked_for_what_lies_in_it():
    trace = trace_of(**{"plan__right_of_way__pipe-return__length_m": 6.7})
    assert need_of(trace, "right-of-way") == ("yes", "in it lie: pipe return")
    beside = trace_of(plan__right_of_way__line=((0.0, 0.0), (1.0, 0.0)))
    assert need_of(beside, "right-of-way")[0] == "no"
    assert need_of(trace_of(), "right-of-way")[0] == "ask"


@pytest.mark.works(of=(needs,))
def test_a_district_is_asked_and_none_is_not():
    key = "inputs__people__drainage_district"
    assert need_of(trace_of(**{key: "Drainage District 14"}), "drainage-district")[0] == "yes"
    assert need_of(trace_of(**{key: "none"}), "drainage-district")[0] == "no"
    assert need_of(trace_of(), "drainage-district")[0] == "ask"


@pytest.mark.works(of=(needs,))
def test_others_who_drain_through_the_main_are_asked():
    key = "inputs__people__neighbour_upstream"
    assert need_of(trace_of(**{key: "none on this main"}), "shared-main")[0] == "no"
    assert need_of(trace_of(**{key: "A. Brandt, 40 acres"}), "shared-main") == (
        "yes",
        "A. Brandt, 40 acres; whether capacity is kept is not known",
    )
    assert need_of(trace_of(), "shared-main")[0] == "ask"


@pytest.mark.by_hand(of=(add_approvals,))
def test_disturbed_ground_is_held_to_one_acre_with_all_of_it_counted():
    works = {"quantities__seeding__quantity": 900.0}
    pieces = {
        "inputs__disturbed__spoil_m2": 1000.0,
        "inputs__disturbed__pad_m2": 500.0,
        "inputs__disturbed__access_m2": 500.0,
    }
    trace = trace_of(**works, **pieces)
    assert need_of(trace, "stormwater")[0] == "no"
    assert trace.value("approvals.disturbed.area_m2") == 900.0 + 1000.0 + 500.0 + 500.0
    over = {**pieces, "inputs__disturbed__spoil_m2": ACRE - 1900.0}
    assert need_of(trace_of(**works, **over), "stormwater")[0] == "yes"
    # under an acre, and not all of it counted: nobody knows
    assert need_of(trace_of(**works), "stormwater") == (
        "ask",
        "0.222 acres disturbed, without spoil that stays, the pad for chips, the way in",
    )


@pytest.mark.by_hand(of=(full_flow_of_run, least_full_flow))
def test_capacity_past_the_practice_is_set_against_that_of_before():
    segment = MainSegment("past", 0.0, 40.0, 10.0, 10.08, 0.25, 0.013)
    above = MainSegment("above", 40.0, 100.0, 10.08, 10.1, 0.25, 0.013)
    full = 3.141592653589793 * 0.25**2 / 4 * (0.25 / 4) ** (2 / 3) * (0.08 / 40.0) ** 0.5 / 0.013
    assert least_full_flow((segment, above), 40.0) == pytest.approx(full)
    pipe = PipeRun(10.08, 10.0, 0.2, 40.0, 0.013, 0.5)
    small = full * (0.2 / 0.25) ** (8 / 3)
    assert full_flow_of_run(pipe) == pytest.approx(small)
    trace = trace_of(
        main__line=(segment, above),
        inputs__main__station_diversion_m=40.0,
        system__bypass__pipe=pipe,
    )
    add_approvals(trace)
    assert trace.value("approvals.capacity.status") == "short"


@pytest.mark.works(of=(state_on,))
@pytest.mark.parametrize(
    ("entry", "wanted", "state"),
    [
        ({}, "yes", "not asked"),
        ({}, "ask", "not known"),
        ({}, "no", "not needed"),
        ({"asked": "2027-09-01"}, "yes", "asked, waiting"),
        ({"asked": "2027-10-01"}, "yes", "not asked"),
        ({"received": "2027-09-01"}, "yes", "received"),
        ({"received": "2027-10-01", "asked": "2027-09-01"}, "yes", "asked, waiting"),
        ({"received": "2027-01-01", "expires": "2027-09-19"}, "yes", "expired"),
        ({"received": "2027-01-01", "expires": "2027-09-20"}, "yes", "received"),
        ({"not_needed": "letter of the office"}, "yes", "not needed"),
    ],
)
def test_an_approval_stands_as_its_days_say(entry: dict[str, str], wanted: Any, state: str):
    assert state_on(DAY, wanted, NOTHING | entry) == state


@pytest.mark.works(of=(approvals, open_approvals))
def test_each_open_approval_says_what_to_do_next_and_others_of_the_register_stand_too():
    trace = trace_of(
        inputs__approval__floodplain__asked="2027-09-01",
        **{"inputs__approval__gas-line__who": "the gas company"},
    )
    add_approvals(trace)
    found = {each.name: each for each in approvals(trace, DAY)}
    assert found["floodplain"].next == (
        "asked on 2027-09-01: ask the county or the state again, and note the day it comes"
    )
    assert found["gas-line"].state == "not asked"
    assert found["gas-line"].next == "ask the gas company, and note the day"
    assert all(each.next for each in open_approvals(tuple(found.values())))


def dig(day: str = DAY, **inputs: Any) -> Gate:
    trace = trace_of(**{f"inputs__locate__{key}": value for key, value in inputs.items()})
    add_locate(trace, ("2027-09-06",))
    return gate_for_dig(ticket_on(trace, day), day)


WHOLE: dict[str, Any] = {
    "filed": "2027-09-02 15:00",
    "ticket": "272450118",
    "answered": "yes",
    "expires": "2027-10-15",
    **dict.fromkeys(PRIVATE, "no"),
}


@pytest.mark.works(of=(gate_for_dig, ticket_on))
def test_the_gate_for_dig_opens_when_nothing_is_missing():
    gate = dig(**WHOLE)
    assert gate.is_open
    assert gate.sentence == "Gate for dig: open."


@pytest.mark.works(of=(gate_for_dig, ticket_on))
@pytest.mark.parametrize(
    ("change", "day", "missing"),
    [
        ({"ticket": None}, DAY, ["locate ticket"]),
        ({"answered": "no"}, DAY, ["answers of the owners of lines"]),
        ({"answered": None}, DAY, ["answers of the owners of lines"]),
        ({"expires": None}, DAY, ["ticket still good"]),
        ({}, "2027-09-06", ["waiting time of the locate request"]),
        ({}, "2027-10-16", ["ticket still good"]),
        ({"septic": "not known"}, DAY, ["private lines asked about"]),
        ({"fiber": "yes"}, DAY, ["private lines marked"]),
    ],
)
def test_the_gate_for_dig_names_what_is_missing(
    change: dict[str, Any], day: str, missing: list[str]
):
    inputs = {key: value for key, value in (WHOLE | change).items() if value is not None}
    gate = dig(day, **inputs)
    assert [row.what for row in gate.missing] == missing
    assert all(row.next for row in gate.missing)


@pytest.mark.works(of=(gate_for_dig, add_locate))
def test_an_empty_job_keeps_the_gate_for_dig_shut():
    gate = dig()
    assert [row.what for row in gate.missing] == [
        "locate ticket",
        "waiting time of the locate request",
        "ticket still good",
        "answers of the owners of lines",
        "private lines asked about",
    ]
    assert gate.rows[-1].next.startswith("ask the owner about: a water line to a yard hydrant, ")


@pytest.mark.by_hand(of=(add_locate,))
def test_the_earliest_dig_and_the_last_day_follow_from_the_rule_of_the_job():
    trace = trace_of(inputs__locate__filed="2027-09-02 15:00", inputs__locate__valid_days=20.0)
    add_locate(trace, ("2027-09-06",))
    assert trace.value("locate.earliest") == "2027-09-07 15:00"
    assert trace.value("locate.last_day") == "2027-09-22"
    longer = trace_of(
        inputs__locate__filed="2027-09-02 15:00", inputs__locate__waiting_s=72 * 3600.0
    )
    add_locate(longer, ("2027-09-06",))
    assert longer.value("locate.earliest") == "2027-09-08 15:00"


def start(issues: tuple[Issue, ...] = (), **inputs: Any) -> Gate:
    return gate_for_start(trace_of(**inputs), (), issues, DAY)


@pytest.mark.works(of=(gate_for_start,))
def test_the_gate_for_start_wants_contract_issue_and_record():
    good = Issue("2027-08-01", "for construction", "R. Lindqvist", is_sound=True)
    before = {"inputs__before__signed_on": "2027-08-28", "inputs__before__signed_by": "J. Corbel"}
    signed = {"inputs__funding__county__contract_signed": "2027-02-26"}
    assert start((good,), **before, **signed).is_open
    assert [row.what for row in start().missing] == [
        "design issued for construction",
        "contract before start",
        "owner's record of the ground before",
    ]
    none = {"inputs__approval__contract__not_needed": "the owner pays alone"}
    assert start((good,), **before, **none).is_open
    late = {"inputs__funding__county__contract_signed": "2027-10-01"}
    (row,) = start((good,), **before, **late).missing
    assert (row.what, row.state) == ("contract before start, county", "missing")
    silent = {"inputs__funding__county__share": 0.5}
    (row,) = start((good,), **before, **silent).missing
    assert row.state == "not known"


@pytest.mark.works(of=(gate_for_start,))
@pytest.mark.parametrize(
    "issue",
    [
        Issue("2027-08-01", "review copy", "R. Lindqvist", is_sound=True),
        Issue("2027-08-01", "for construction", "R. Lindqvist", is_sound=False),
        Issue("2027-12-01", "for construction", "R. Lindqvist", is_sound=True),
    ],
)
def test_a_copy_for_review_an_altered_one_and_a_later_one_open_nothing(issue: Issue):
    assert start((issue,)).missing[0].what == "design issued for construction"


@pytest.mark.works(of=(gate_for_dig,))
def test_words_of_a_ticket_are_told_with_what_is_missing():
    stated = {"inputs__site__utilities": "ticket 260410-117, nothing near"}
    first, second = gate_for_dig(ticket_on(trace_of(**stated), DAY), DAY).rows[:2]
    assert (first.state, first.said) == (
        "missing",
        "[site] utilities says 'ticket 260410-117, nothing near'",
    )
    assert first.next == "put ticket and time filed under [locate]"
    assert second.next.startswith("put the time filed under [locate]")
    plain = gate_for_dig(ticket_on(trace_of(), DAY), DAY).rows[0]
    assert plain.said == "no ticket"


@pytest.mark.works(of=(ticket_on,))
def test_a_ticket_that_is_given_goes_before_words():
    given = trace_of(
        inputs__site__utilities="ticket 1, old",
        inputs__locate__ticket="272450118",
        inputs__locate__expires="2027-10-15",
    )
    words = ticket_on(given, DAY).words
    assert words == "Ticket 272450118, time filed not given, good to 2027-10-15."
    stated = ticket_on(trace_of(inputs__site__utilities="ticket 1, old"), DAY)
    assert "ticket 1, old" in stated.words
    assert ticket_on(trace_of(), DAY).words == "No locate ticket is given."
