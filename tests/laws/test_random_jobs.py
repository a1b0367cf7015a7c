# SPDX-License-Identifier: Apache-2.0
"""What must hold of any job: jobs made from Corbel Farm with random numbers."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.jobs import ACRE, INCH, corbel_inputs, fitting_inputs
from tilewater.basis.requirement import Requirement, slack_of, status_of
from tilewater.basis.trace import Assumption, Overrule, Trace
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.chain.alternatives import runners_up
from tilewater.chain.design import Design, design_bed
from tilewater.chain.inputs import JobInputs
from tilewater.chain.result import result_record
from tilewater.chain.verdict import UNDER_THE_DITCH, verdict_of

SPOTS = ("low-1", "low-2", "junction-9", "junction-15")
KINDS = ("standing", "storm", "midway")
BLANK = Unknown("nobody knows", "measure it")
DESIGN_CREST = "boards.inlet-design.crest_m"
FEW = settings(max_examples=25, deadline=None)
NAMES = [given.key.removeprefix("inputs.") for given in corbel_inputs().givens]
KNOWN = [given.key for given in corbel_inputs().givens if not is_unknown(given.value)]

sizes = st.sampled_from([6, 8, 10, 12, 15]).map(lambda size: size * INCH)
changes = st.fixed_dictionaries(
    {
        "drainage.area_m2": st.floats(10, 200).map(lambda acres: acres * ACRE),
        "drainage.lateral_spacing_m": st.floats(8, 35),
        "drainage.depth_to_barrier_m": st.floats(0.3, 5),
        "drainage.conductivity_m_s": st.floats(5e-7, 5e-5),
        "main.diameter_m": sizes,
        "segment.field-lower.diameter_m": sizes,
        "segment.field-upper.diameter_m": sizes,
        "main.slope": st.floats(0.0005, 0.01),
        "boards.inlet_m": st.floats(0.3, 1.3),
        "boards.outlet_m": st.floats(0.0, 0.9),
        "bed.length_bottom_m": st.floats(8, 60),
        "bed.width_bottom_m": st.floats(2, 15),
        "bed.side_slope": st.floats(0, 1.5),
        "bed.media_depth_m": st.floats(0.6, 1.4),
        "media.conductivity_new_m_s": st.floats(0.05, 0.2),
        "media.conductivity_aged_m_s": st.floats(0.01, 0.05),
        "spot.low-1.ground_m": st.floats(361.2, 362.2),
        "spot.low-2.ground_m": st.floats(361.3, 362.6),
    }
)


def with_crest(job: JobInputs, crest: float) -> Design:
    """The design with the crest of the inlet boards put where no boards would put it."""
    word = Overrule(DESIGN_CREST, crest, "R. Lindqvist", "2026-11-16", "what if")
    return design_bed(replace(job, overrules=(word,)))


def clear_soils(design: Design) -> list[float]:
    return [float(design.trace.value(f"field.{spot}.{kind}_m")) for spot in SPOTS for kind in KINDS]


def statuses(design: Design) -> dict[str, str]:
    return {r.key: str(design.trace.value(f"{r.key}.status")) for r in design.trace.requirements}


@pytest.mark.law(of=(design_bed,))
@FEW
@given(changed=changes, crest=st.floats(360.2, 361.6), lower=st.floats(0, 0.6))
def test_a_lower_crest_never_wets_the_field(changed, crest, lower):
    job = corbel_inputs(changed)
    sill = next(g.value for g in job.givens if g.key == "inputs.structure.inlet.sill_m")
    high, low = with_crest(job, crest), with_crest(job, max(crest - lower, sill))
    for wetter, drier in zip(clear_soils(high), clear_soils(low), strict=True):
        assert drier >= wetter - 1e-9
    assert low.trace.value("highest_crest_m") == high.trace.value("highest_crest_m")


@pytest.mark.law(of=(design_bed,))
@FEW
@given(changed=changes, times=st.floats(1, 4))
def test_higher_conductivity_never_lowers_the_share(changed, times):
    names = ("media.conductivity_new_m_s", "media.conductivity_aged_m_s")
    faster = changed | {name: changed[name] * times for name in names}
    slow, fast = (design_bed(corbel_inputs(c)).trace for c in (changed, faster))
    for line in ("criterion", "new"):
        key = f"capacity.{line}.share_of_peak"
        if slow.known(key):
            assert fast.value(key) >= slow.value(key) * (1 - 1e-6) - 1e-9


@pytest.mark.law(of=(design_bed,))
@settings(max_examples=4, deadline=None)
@given(changed=changes, start=st.floats(360.5, 361.3))
def test_a_crest_swept_by_the_millimetre_jumps_nowhere(changed, start):
    job = corbel_inputs(changed)
    sweep = [with_crest(job, start + i / 1000) for i in range(20)]
    for low, high in pairwise(sweep):
        for before, after in zip(clear_soils(low), clear_soils(high), strict=True):
            assert -1e-9 <= before - after <= 0.001 + 1e-9
        both = [d.trace.value("capacity.spring.bypass_head_m") for d in (low, high)]
        if not any(map(is_unknown, both)):
            assert abs(both[1] - both[0]) <= 0.001 + 1e-6
        flows = [d.trace.value("capacity.criterion.flow_m3_s") for d in (low, high)]
        if not any(map(is_unknown, flows)):
            width = changed["bed.width_bottom_m"] + 2 * changed["bed.side_slope"] * 1.4
            # by Darcy no more than K W (d / L) a millimetre; depths stay below 2 m
            most = (
                changed["media.conductivity_new_m_s"] * width * 2 / changed["bed.length_bottom_m"]
            )
            assert -1e-8 <= flows[1] - flows[0] <= 0.001 * 2 * most + 1e-8


@pytest.mark.works(of=(design_bed, verdict_of))
def test_a_job_that_simply_fits_exists():
    design = design_bed(fitting_inputs())
    assert design.verdict == "fits"
    assert design.open_items == ()


@pytest.mark.law(of=(design_bed, verdict_of))
@pytest.mark.parametrize("key", KNOWN)
def test_blanking_any_input_never_leaves_a_fit(key):
    fit = design_bed(fitting_inputs())
    blank = design_bed(fitting_inputs().changed({key: BLANK}))
    assert blank.verdict == "fits with open items"
    assert key in {item.key for item in blank.open_items}
    assert set(statuses(fit)) <= set(statuses(blank))
    assert "short" not in statuses(blank).values()
    result_record(blank, runners_up(blank), "0")


@pytest.mark.law(of=(design_bed, verdict_of))
@settings(max_examples=40, deadline=None)
@given(changed=changes, key=st.sampled_from(KNOWN))
def test_blanking_an_input_never_hides_what_fell_short(changed, key):
    job = corbel_inputs(changed)
    before, after = design_bed(job), design_bed(job.changed({key: BLANK}))
    binding = {r.key: r.binding for r in after.trace.requirements}
    turned = statuses(after)
    for requirement in before.trace.requirements:
        assert requirement.key in turned
        if requirement.binding:
            assert binding[requirement.key]
        if statuses(before)[requirement.key] == "short":
            assert turned[requirement.key] in ("short", "not known")
    assert after.verdict != "fits"


@pytest.mark.law(of=(design_bed,))
@FEW
@given(changed=changes)
def test_two_half_fields_bring_the_water_of_one(changed):
    whole = design_bed(corbel_inputs(changed)).trace
    half = design_bed(
        corbel_inputs(changed | {"drainage.area_m2": changed["drainage.area_m2"] / 2})
    ).trace
    for key in (
        "drain_flow.mean_annual_volume_m3",
        "drain_flow.annual_load_kg",
        "drain_flow.mean_flow_m3_s",
        "drain_flow.candidates_m3_s.drainage_coefficient",
        "drain_flow.candidates_m3_s.laterals",
        "drain_flow.candidates_m3_s.laterals_at_surface",
    ):
        assert 2 * half.value(key) == pytest.approx(whole.value(key))
    for key in ("drain_flow.laterals_flux_m_s", "drain_flow.mean_annual_depth_m", "pool_reach_m"):
        assert half.value(key) == whole.value(key)


@pytest.mark.law(of=(status_of, slack_of, design_bed))
@FEW
@given(changed=changes)
def test_what_governs_has_the_least_in_reserve(changed):
    design = design_bed(corbel_inputs(changed))
    governs = design.governs
    assert governs is not None
    judged = [
        (r, float(design.trace.value(f"{r.key}.slack")))
        for r in design.trace.requirements
        if r.binding and design.trace.known(f"{r.key}.slack")
    ]
    short = [slack for r, slack in judged if statuses(design)[r.key] == "short"]
    assert (design.verdict == "does not fit") == bool(short)
    under = [
        slack
        for r, slack in judged
        if r.key.startswith(UNDER_THE_DITCH) and statuses(design)[r.key] == "short"
    ]
    least = min(slack for r, slack in judged if not r.exact)
    assert governs.slack == (min(under or short) if short else least)


@pytest.mark.law(of=(Trace, design_bed))
@FEW
@given(changed=changes, crest=st.floats(360.3, 361.2))
def test_an_overrule_takes_its_place_downstream_and_is_listed(changed, crest):
    job = corbel_inputs(changed)
    computed = design_bed(job).trace.value(DESIGN_CREST)
    design = with_crest(job, crest)
    assert design.trace.value("elevations.inlet_crest.elevation_m") == crest
    floor = design.trace.value("bed.floor_m")
    assert design.trace.value("bed.depth_inlet_crest_m") == pytest.approx(crest - floor)
    (listed,) = result_record(design, (), "0")["overrules"]
    assert (listed["key"], listed["value"], listed["computed"]) == (DESIGN_CREST, crest, computed)
    assert listed["by"] == "R. Lindqvist"


def is_same(one: object, other: object) -> bool:
    """Whether two values of a trace are the same; series and tables day by day."""
    if isinstance(one, tuple) and isinstance(other, tuple):
        return len(one) == len(other) and all(map(is_same, one, other))
    if isinstance(one, np.ndarray):
        return np.array_equal(one, other, equal_nan=True)
    return one == other


@pytest.mark.law(of=(Trace, design_bed))
@FEW
@given(changed=changes, key=st.sampled_from(sorted(changes.wrapped_strategy.mapping)))
def test_an_assumption_marks_what_rests_on_it(changed, key):
    name = f"inputs.{key}"
    job = corbel_inputs(changed)
    word = Assumption(name, changed[key], "R. Lindqvist", "2026-11-16", "until it is measured")
    design = design_bed(replace(job.changed({name: BLANK}), assumptions=(word,)))
    known = design_bed(job)
    assert name in {item.key for item in design.open_items}
    assert design.verdict != "fits"
    for step in design.trace:
        used = {source for _, source in step.inputs}
        if name in used:
            assert name in step.rests_on
        same = known.trace.value(step.key)
        assert is_unknown(step.value) or is_unknown(same) or is_same(step.value, same)


@pytest.mark.law(of=(Trace,))
@FEW
@given(changed=changes, key=st.sampled_from(sorted(changes.wrapped_strategy.mapping)))
def test_unknown_travels_with_its_cause(changed, key):
    name = f"inputs.{key}"
    trace = design_bed(corbel_inputs(changed).changed({name: BLANK})).trace
    using = [
        step
        for step in trace
        if name in {source for _, source in step.inputs} and not step.key.endswith(".status")
    ]
    assume(using)
    for step in using:
        assert isinstance(step.value, Unknown)
        assert name in step.value.causes


@pytest.mark.works(of=(Requirement, status_of))
def test_requirements_speak_three_words():
    seen = {word for design in (design_bed(corbel_inputs()),) for word in statuses(design).values()}
    assert seen <= {"holds", "short", "not known"}
    assert "not known" in seen


@pytest.mark.works(of=(design_bed, runners_up, result_record))
@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("main.slope", 0.0),
        ("spot.low-1.station_m", 0.0),
        ("spot.low-1.station_m", 30.48),
        ("spot.low-1.station_m", 42.672),
        ("bed.width_bottom_m", 0.0),
        ("bed.length_bottom_m", 0.2),
        ("boards.inlet_m", 0.0),
        ("boards.outlet_m", 1.5),
        ("drainage.mean_annual_depth_m", 0.0),
        ("drainage.flow_days", 0.0),
        ("nitrate.mean_mg_per_l", 0.0),
        ("media.design_year", 0.0),
        ("drainage.depth_to_barrier_m", 0.0),
        ("money.rate", 0.0),
    ],
)
def test_a_value_at_the_edge_is_computed_or_said_not_to_be(key, value):
    for size in ("as given", "smallest that passes"):
        design = design_bed(corbel_inputs({key: value, "bed.size": size}))
        assert design.verdict != "fits"
        assert result_record(design, runners_up(design), "0")["verdict"] == design.verdict
