# SPDX-License-Identifier: Apache-2.0
"""A computation that remembers the one before gives the same, and computes only what moved."""

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.findings import Finding
from tilewater.basis.memory import Call, Memory, Stopped, is_same
from tilewater.basis.trace import Given, Trace

CALLED: list[str] = []

PLAIN = st.one_of(st.integers(-3, 3), st.floats(), st.booleans(), st.text(max_size=2), st.none())


def doubled(value: float) -> float:
    CALLED.append("doubled")
    if value > 10:
        raise OutOfDomain("value is above 10 m. At most 10 m is allowed. Give less.")
    return 2 * value


def doubled_range(value: float) -> tuple[Finding, ...]:
    return (Finding("wide", "note", "value", "It is wide."),) if value > 5 else ()


def summed(first: float, second: float) -> float:
    CALLED.append("summed")
    return first + second


def computed(a: float, b: float, before: dict[str, Call] | None = None) -> tuple[Trace, Memory]:
    """Twice a, and that with b; what was called is in CALLED."""
    CALLED.clear()
    memory = Memory(before)
    inputs = (Given("inputs.a_m", a, "m", "A"), Given("inputs.b_m", b, "m", "B"))
    trace = Trace.start(inputs, memory=memory)
    trace.compute("twice_m", doubled, unit="m", title="Twice", value="inputs.a_m")
    trace.compute("sum_m", summed, unit="m", title="Sum", first="twice_m", second="inputs.b_m")
    return trace, memory


@pytest.mark.works(of=(Memory, Trace.compute))
def test_a_step_whose_arguments_are_the_same_is_taken_over():
    _, before = computed(1.0, 2.0)
    assert CALLED == ["doubled", "summed"]
    after, _ = computed(1.0, 3.0, before.calls)
    assert CALLED == ["summed"]
    assert after.value("sum_m") == 5.0


@pytest.mark.law(of=(Memory,))
@given(st.floats(-20, 20), st.floats(-20, 20), st.floats(-20, 20), st.floats(-20, 20))
def test_with_or_without_memory_every_step_and_finding_is_the_same(
    a: float, b: float, a2: float, b2: float
):
    _, before = computed(a, b)
    remembering, _ = computed(a2, b2, before.calls)
    anew, _ = computed(a2, b2)
    assert repr(remembering.steps) == repr(anew.steps)
    assert remembering.findings == anew.findings


@pytest.mark.works(of=(Memory,))
@pytest.mark.parametrize("a", [7.0, 11.0])
def test_findings_of_a_step_that_is_taken_over_are_told_again(a: float):
    first, before = computed(a, 2.0)
    second, _ = computed(a, 2.0, before.calls)
    assert "doubled" not in CALLED
    assert first.findings == second.findings != []


@pytest.mark.works(of=(Memory,))
def test_another_function_under_the_same_key_is_called():
    _, before = computed(1.0, 2.0)
    trace = Trace.start((Given("inputs.a_m", 1.0, "m", "A"),), memory=Memory(before.calls))
    trace.compute("twice_m", _tripled, unit="m", title="Twice", value="inputs.a_m")
    assert trace.value("twice_m") == 3.0


def _tripled(value: float) -> float:
    return 3 * value


@pytest.mark.works(of=(Memory, Stopped))
def test_nothing_is_computed_once_nobody_waits():
    trace = Trace.start((), memory=Memory(goes_on=lambda: False))
    with pytest.raises(Stopped):
        trace.compute("none", dict, unit="", title="None")
    trace.forget()
    assert trace.compute("none", dict, unit="", title="None") == {}


@pytest.mark.law(of=(is_same,))
@given(PLAIN, PLAIN)
def test_what_is_told_apart_in_print_is_not_the_same(a: object, b: object):
    if is_same(a, b):
        assert repr(a) == repr(b)
        assert is_same((a, (b,)), (b, (a,)))


@pytest.mark.works(of=(is_same,))
@pytest.mark.parametrize(
    ("old", "new"),
    [(0.0, -0.0), (1, 1.0), (1, True), (math.nan, float("nan")), ((1.0,), (1,)), ((1,), (1, 1))],
)
def test_values_that_only_look_alike_are_told_apart(old: object, new: object):
    assert not is_same(old, new)
    assert not is_same((old,), (new,))


@pytest.mark.works(of=(is_same,))
@pytest.mark.parametrize("made", [lambda: np.zeros(2), lambda: [1.0], dict])
def test_only_the_same_object_is_the_same_array_or_record(made: Callable[[], object]):
    one = made()
    assert is_same(one, one)
    assert not is_same(one, made())


@pytest.mark.works(of=(Trace.names, Trace.put))
def test_names_of_a_group_grow_with_the_steps():
    trace = Trace.start((Given("a.b.c", 1, "", "C"),))
    assert trace.names("a") == ("b",)
    trace.give(Given("a.d", 1, "", "D"))
    trace.give(Given("a.b.e", 1, "", "E"))
    trace.give(Given("ab.x", 1, "", "X"))
    assert trace.names("a") == ("b", "d")
    assert trace.names("a.b") == ("c", "e")
    assert trace.names("nothing") == ()


@pytest.mark.works(of=(Memory,))
def test_a_quick_twin_computes_what_is_recorded_under_the_function_that_can_be_read():
    memory = Memory(quick={doubled: _twice})
    trace = Trace.start((Given("inputs.a_m", 7.0, "m", "A"),), memory=memory)
    CALLED.clear()
    trace.compute("twice_m", doubled, unit="m", title="Twice", value="inputs.a_m")
    assert CALLED == []
    assert trace.value("twice_m") == 14.0
    assert trace.steps["twice_m"].function.endswith(".doubled")
    assert [finding.code for finding in trace.findings] == ["wide"]


def _twice(value: float) -> float:
    return value + value
