# SPDX-License-Identifier: Apache-2.0
"""Every number of the result can be followed to an equation, a source or a line of a file."""

import io
from functools import cache
from typing import Any

import pytest

from tests.pages import Console
from tilewater.basis.errors import UnknownName
from tilewater.basis.trace import Step
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.chain.changes import flatten
from tilewater.chain.design import design_bed
from tilewater.chain.explain import explain, keys_of
from tilewater.documents.pages.explain_page import explain_page
from tilewater.documents.words import Words
from tilewater.tasks.designing import Outcome, design_job
from tools.package import ROOT

NOT_OF_THE_TRACE = ("findings", "unknown", "alternatives", "overrules")
STATUS = ("holds", "short", "not known")

pytestmark = pytest.mark.works(of=(explain, keys_of, explain_page))


@cache
def farm() -> Outcome:
    return design_job(ROOT / "examples" / "corbel-farm")


def is_judged(value: Any) -> bool:
    number = isinstance(value, int | float) and not isinstance(value, bool)
    return number or value in STATUS


def leaves() -> dict[str, Any]:
    record = {k: v for k, v in farm().record.items() if k not in NOT_OF_THE_TRACE}
    return {key: value for key, value in flatten(record).items() if is_judged(value)}


def shown(key: str, width: int = 80) -> str:
    console = Console(width=width, record=True, file=io.StringIO())
    for part in explain_page(farm().design.trace, key, Words()):
        console.print(part)
    return console.export_text()


def test_every_number_and_status_of_the_result_is_explained() -> None:
    trace, lost = farm().design.trace, []
    assert len(leaves()) > 300
    for key in leaves():
        try:
            found = explain(trace, key)
        except UnknownName:
            lost.append(key)
        else:
            lost += [key for one in found if not (one.equation or one.step.origin)]
    assert [] == lost


def test_explained_number_is_the_number_of_the_result() -> None:
    trace = farm().design.trace
    wrong = []
    for key, value in leaves().items():
        keys = keys_of(trace, key)
        if len(keys) > 1 or isinstance(value, str) or key.endswith(("_mm", "_in")):
            continue
        if trace.value(keys[0]) != value:
            wrong.append(key)
    assert [] == wrong


def test_every_input_leads_to_something_typed_or_sourced() -> None:
    trace = farm().design.trace

    def orphans(step: Step, seen: set[str]) -> list[str]:
        if step.key in seen:
            return []
        seen.add(step.key)
        if not step.function:
            origin = step.origin
            led = origin is not None and (origin.file or origin.source)
            return [] if led or is_unknown(step.value) else [step.key]
        return [key for _, name in step.inputs for key in orphans(trace.steps[name], seen)]

    seen: set[str] = set()
    assert [] == [key for step in trace for key in orphans(step, seen)]
    assert len(seen) == len(trace.steps)


def test_page_of_a_number_shows_equation_inputs_source_and_checks() -> None:
    page = shown("field.low-1.midway_m", width=110)
    assert "1.09 ft  0.333 m" in page
    assert "clear = ground - drain - H" in page
    assert 'job.toml line 172, "1187.00 ft"' in page
    assert "from memory, not checked against the text" in page
    assert "by hand: " in page


def test_page_of_an_input_shows_the_line_and_the_text_typed() -> None:
    page = shown("nitrate.mean_mg_per_l")
    assert 'job.toml line 293, "14.2 mg/L"' in page


def test_page_of_a_group_lists_its_numbers() -> None:
    page = shown("capacity.criterion")
    assert "flow_m3_s" in page
    assert "0.152 cfs" in page


def test_unknown_key_is_answered_with_a_near_one() -> None:
    with pytest.raises(UnknownName) as caught:
        shown("capacity.criterion.flwo_m3_s")
    assert "Did you mean capacity.criterion.flow_m3_s?" in str(caught.value)


def test_record_and_uncommon_unit_say_that_they_are_in_si() -> None:
    assert "SI: length 30.48, width 9.144" in shown("bed.shape")
    assert "length 30.48" in Words("si").of_step(farm().design.trace.steps["bed.shape"])
    assert "SI" not in Words("si").of_step(farm().design.trace.steps["bed.shape"])


def test_prices_stand_per_unit_of_the_bid() -> None:
    words, si = Words("us"), Words("si")
    key = "inputs.price.excavation.usd"
    assert ("$6.25/CY", "$8.17/m3") == tuple(
        w.of_step(farm().design.trace.steps[key]) for w in (words, si)
    )
    assert ("$1,500.00 lump sum", "$140.00 an hour", "$35.00 each") == tuple(
        words.priced(item, price)
        for item, price in (("mobilization", 1500), ("potholing", 140), ("corner-post", 35))
    )


@pytest.mark.parametrize("group", ["inputs.price", "inputs", "capacity", "removal", "field"])
def test_keys_of_a_group_are_never_broken(group: str) -> None:
    page = shown(group)
    assert max(map(len, page.splitlines())) <= 80
    words = set(page.split())
    keys = keys_of(farm().design.trace, group)
    rest = {k.removeprefix("inputs.").removeprefix(group).lstrip("._") for k in keys}
    assert set() == rest - words


def test_inputs_behind_what_is_not_known_stand_one_to_a_line() -> None:
    unknown = Unknown("nobody has measured it", "dig up the old bed")
    key = "inputs.media.conductivity_aged_m_s"
    trace = design_bed(farm().design.job.changed({key: unknown})).trace
    console = Console(width=80, record=True, file=io.StringIO())
    for part in explain_page(trace, "capacity.criterion.flow_m3_s", Words()):
        console.print(part)
    page = console.export_text()
    assert "why       these are not known:" in page
    causes = trace.value("capacity.criterion.flow_m3_s").causes
    assert key in causes
    lines = page.splitlines()
    for cause in causes:
        assert any(line.strip().startswith(trace.steps[cause].title) for line in lines), cause
    assert "dig up the old bed" in " ".join(page.split())
