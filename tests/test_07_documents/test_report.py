# SPDX-License-Identifier: Apache-2.0
"""The report says what was computed and nothing else, and shows every step of it."""

import json
import re
from collections.abc import Callable, Iterator
from dataclasses import fields, is_dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from tests.digits import printed
from tests.jobs import corbel_inputs, fitting_inputs
from tests.pdf import Paper
from tilewater.basis.findings import Finding
from tilewater.basis.trace import Assumption, Overrule
from tilewater.basis.units import Style, System, format_quantity, to_si
from tilewater.basis.unknown import Unknown
from tilewater.chain.calculation import calculation
from tilewater.chain.calculation_groups import common_beginning
from tilewater.chain.changes import compare_results
from tilewater.chain.design import Design, design_bed
from tilewater.chain.explain import sources
from tilewater.chain.inputs import JobInputs
from tilewater.chain.result import result_record
from tilewater.chain.since_issued import SinceIssued, TypedChange
from tilewater.documents.drawing.metrics import FAMILY
from tilewater.documents.paper.blocks import Contents, Figure, Number, Paragraph, Run, Table
from tilewater.documents.paper.press import press
from tilewater.documents.paper.widths import PAGE, layout_of
from tilewater.documents.report import Drawn, ReportMaterial, owner_pdf, report_pdf
from tilewater.documents.report.owner import owner_document
from tilewater.documents.report.pages import report_document
from tilewater.documents.words import Words, kind_of
from tilewater.tasks.designing import design_job
from tilewater.tasks.reporting import report_material
from tilewater.tasks.starting import start

NUMBER = re.compile(r"\d+(?:,\d{3})*(?:\.\d+)?")
SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="20mm" viewBox="0 0 60 20" '
    f'font-family="{FAMILY}"><text x="2" y="9" font-size="3">bypass crest</text></svg>'
)
DRAWING = Drawn("Long section", "Along the way of the water.", SVG, 60.0, 20.0, "A long section")
STYLES: tuple[Style, ...] = ("plain", "two figures")


def material_of(job: JobInputs, **other: Any) -> ReportMaterial:
    design = design_bed(job)
    return ReportMaterial(
        title="Corbel Farm, outlet at the north ditch",
        design=design,
        record=result_record(design, (), "0.1.0"),
        findings=design.findings,
        alternatives=(),
        version="0.1.0",
        drawings=(DRAWING,),
        files=("job.toml: every input",),
        **other,
    )


@cache
def farm() -> ReportMaterial:
    """Corbel Farm with two years of daily flow."""
    return material_of(fitting_inputs())


@cache
def report() -> Paper:
    return Paper(report_pdf(farm()))


@cache
def owner() -> Paper:
    return Paper(owner_pdf(farm()))


def judged_inputs() -> JobInputs:
    """Corbel Farm with a number overruled and an unknown assumed."""
    return replace(
        corbel_inputs(),
        overrules=(
            Overrule("bed.media_volume_m3", 330.0, "R. Lindqvist", "2026-11-16", "as measured"),
        ),
        assumptions=(
            Assumption("inputs.site.utilities", "none", "R. Lindqvist", "2026-11-16", "walked it"),
        ),
    )


# ---- every number is one that was computed, typed or published ----


def numbers_of(text: str) -> set[str]:
    return set(NUMBER.findall(text))


def said_by(words: Words, design: Design) -> Iterator[str]:
    """Everything that a design says of itself, as text."""
    for step in design.trace:
        yield from (step.title, words.of_step(step))
        yield words.of_key(step.key, step.computed, step.unit)
        if step.origin is not None:
            yield from (str(step.origin), step.origin.text, step.origin.note)
        kind = kind_of(step.key, step.unit) or "number"
        if isinstance(step.value, float) and kind != "calendar":
            for style in STYLES:
                yield format_quantity(step.value, kind, system=words.system, style=style)
        if step.unit in ("%", "h") and isinstance(step.value, float):
            yield from (words.percent(step.value, two_figures=True), words.time(step.value))
        if step.overrule is not None:
            yield from (step.overrule.by, step.overrule.date, step.overrule.reason)
    for item in design.open_items:
        yield from (item.why, item.measure)


def told_of(material: ReportMaterial) -> set[str]:
    """Every number that the report may show."""
    words, trace = material.words, material.trace
    texts: list[str] = [*said_by(words, material.design), json.dumps(dict(material.record))]
    texts += [f"{f.subject} {f.message} {f.source}" for f in material.findings]
    found = calculation(trace)
    for method in found.methods:
        texts += [method.summary, *(line for line, _ in method.equations)]
        texts += [f"{key} {name}" for key, name in method.parameters]
        texts += [f"{source.key} {source.text} {source.place}" for source in method.sources]
    texts += [str(entry) for entry in sources().values()] + list(sources())
    texts += [*found.marks.values(), material.title, material.version]
    texts += [json.dumps(row.confirmed) for row in material.design.rows]
    texts += [r.title for r in trace.requirements] + [r.clause for r in material.design.rows]
    return set().union(*map(numbers_of, texts)) | set(told_in_pieces(material))


def told_in_pieces(material: ReportMaterial) -> Iterator[str]:
    """Numbers that stand in a list of the trace, in the unit of the trade, or count rows."""
    words, trace = material.words, material.trace
    for step in trace:
        kind = kind_of(step.key, step.unit)
        if isinstance(step.value, tuple) and kind and step.unit:
            numbers = [v for v in step.value if isinstance(v, float)]
            yield from (words.say(v, kind, unit=False) for v in numbers)
        if step.key.endswith(("month_depth_m", "month_share")) and not isinstance(
            step.value, Unknown
        ):
            yield from (words.say(float(v), kind or "", unit=False) for v in step.value)
        if step.key.startswith("quantities.") and isinstance(step.value, float | int):
            for unit in ("m3", "m2", "m", "ground", ""):
                yield words.quantity(step.value, unit)
            yield from numbers_of(words.concrete(float(step.value)))
        if step.key.startswith("flotation.") and isinstance(step.value, float):
            yield from numbers_of(words.concrete(step.value))
        if step.key.startswith("inputs.price.") and isinstance(step.value, float):
            for unit in ("m3", "m2", "m", "ground", ""):
                yield words.unit_price(step.value, unit).lstrip("$")
        if step.key in ABOUT and isinstance(step.value, float):
            yield from numbers_of(words.about(step.value))
    for rule in trace.requirements:
        value, limit = trace.steps[rule.value], trace.steps[rule.limit]
        if trace.known(value.key, limit.key):
            left = words.of_key(value.key, abs(value.value - limit.value), value.unit)
            yield from numbers_of(left)
    rules = [r for r in trace.requirements if r.binding]
    counts = [len(rules), len(material.design.open_items)]
    for word in ("holds", "short", "not known"):
        counts.append(sum(trace.value(f"{r.key}.status") == word for r in rules))
    groups = {r.key.partition("-")[0] for r in trace.requirements}
    counts += [sum(r.key.partition("-")[0] == g for r in trace.requirements) for g in groups]
    yield from map(str, counts)


ABOUT = ("pool_reach_m", "bed.length_bottom_m", "bed.width_bottom_m", "bed.media_depth_m")
FIXED = {
    *(str(n) for n in range(1, 11)),  # rows of the governing numbers
    *("5", "15", "30", "60", "100"),  # edges of the classes of flow, in percent
    *("50", "90", "95"),  # shares of a bed that empties
}


def pages_apart(paper: Paper) -> str:
    """Words without the head and foot of the pages."""
    total = len(paper.pages)
    return re.sub(rf"page\s*\d+\s*of\s*{total}", " ", paper.text)


def words_of(record: Any) -> Iterator[str]:
    """Words of a document as its pages will show them, numbers put together again."""
    if isinstance(record, Number):
        yield record.whole + record.rest
        yield from words_of(record.unit)
    elif is_dataclass(record) and not isinstance(record, Figure):
        for field in fields(record):
            yield from words_of(getattr(record, field.name))
    elif isinstance(record, tuple):
        for each in record:
            yield from words_of(each)
    elif isinstance(record, str):
        yield record


def unexplained(text: str, material: ReportMaterial) -> set[str]:
    """Numbers in a text that nothing of the design says."""
    return numbers_of(text) - told_of(material) - FIXED


@pytest.mark.works(of=(report_pdf,))
def test_no_number_is_in_the_report_that_is_not_in_the_design() -> None:
    assert set() == unexplained(pages_apart(report()), farm())


@pytest.mark.works(of=(report_document,))
def test_no_number_of_the_report_in_si_is_from_nowhere() -> None:
    material = replace(farm(), units="si")
    assert set() == unexplained(" ".join(words_of(report_document(material))), material)


@pytest.mark.works(of=(owner_pdf,))
def test_no_number_is_on_the_owners_pages_that_is_not_in_the_design() -> None:
    days = {str(day) for day in range(1, 32)}  # days of the seasons, in words
    assert unexplained(pages_apart(owner()), farm()) <= days


@pytest.mark.works(of=(report_pdf, press))
def test_a_number_from_nowhere_would_be_found() -> None:
    document = owner_document(farm())
    strange = replace(document, blocks=(*document.blocks, Paragraph("Flow 7,654.321 cfs")))
    assert "7,654.321" in unexplained(pages_apart(Paper(press(strange))), farm())


GOVERNING = (
    (r"counted against ([\d.]+) cfs", "cfs", ("drain_flow", "peak_for_share_m3_s")),
    (r"bed, criterion line ([\d.]+) cfs", "cfs", ("capacity", "criterion", "flow_m3_s")),
    (r"bed, spring line ([\d.]+) cfs", "cfs", ("capacity", "spring", "flow_m3_s")),
    (r"in the bed, criterion line ([\d.]+) h", "h", ("capacity", "criterion", "retention_h")),
    (r"field allows up to ([\d.]+) ft", "ft", ("highest_crest_m",)),
    (r"keeps the bed full ([\d.]+) ft", "ft", ("uplift", "finished", "groundwater_limit_m")),
    (r"Engineer's estimate \$([\d,]+)", "USD", ("cost", "total_usd")),
)


@pytest.mark.works(of=(report_pdf,))
@pytest.mark.parametrize(("pattern", "unit", "path"), GOVERNING)
def test_a_number_read_from_the_paper_is_that_of_the_result(
    pattern: str, unit: str, path: tuple[str, ...]
) -> None:
    match = re.search(pattern, report().text)
    assert match is not None, pattern
    value: Any = farm().record
    for key in path:
        value = value[key]
    digits = match[1].replace(",", "")
    assert printed(digits) == (value if unit in ("h", "USD") else value / to_si(1.0, unit))


# ---- every step is on paper ----


def squeezed(words: str) -> str:
    return "".join(words.split())


@pytest.mark.works(of=(report_pdf, calculation))
def test_every_step_of_the_trace_is_in_the_report() -> None:
    letters = report().letters
    found = calculation(farm().trace)
    for step in farm().trace:
        assert found.marks[step.key] in letters, step.key
    for entry in (*found.inputs, *found.fixed):
        assert squeezed(entry.step.title) in letters, entry.step.title
    for group in (group for chapter in found.chapters for group in chapter.groups):
        begin = common_beginning([words for words, _ in group.rows])
        for words, _ in group.rows:
            beginnings = [begin[:place] for place in range(len(begin) + 1)]
            assert any(
                squeezed(b) in letters and squeezed(words.removeprefix(b)) in letters
                for b in reversed(beginnings)
            ), words
        for head in group.heads:
            assert squeezed(head) in letters
    for rule in farm().trace.requirements:
        assert squeezed(rule.title) in letters


@pytest.mark.works(of=(report_pdf,))
def test_every_equation_and_its_source_is_in_the_report() -> None:
    letters = report().letters
    for method in calculation(farm().trace).methods:
        for line, source in method.equations:
            assert squeezed(line.replace("`", "")) in letters, line
            assert not source or source in letters


@pytest.mark.works(of=(report_pdf,))
def test_every_input_says_where_it_came_from() -> None:
    letters = report().letters
    for step in farm().trace:
        if step.key.startswith("inputs.") and step.origin is not None and step.origin.file:
            assert "".join(str(step.origin).split()) in letters, step.key


# ---- the file ----


@pytest.mark.works(of=(report_pdf, owner_pdf))
def test_a_report_made_twice_is_the_same_file() -> None:
    assert report_pdf(farm()) == report_pdf(farm())
    assert owner_pdf(farm()) == owner_pdf(farm())


@pytest.mark.works(of=(report_pdf, owner_pdf))
@pytest.mark.parametrize("which", [report, owner])
def test_a_report_is_tagged_and_holds_its_fonts(which: Any) -> None:
    paper: Paper = which()
    assert "/StructTreeRoot" in paper.root
    fonts = dict(paper.fonts())
    assert fonts
    assert all(fonts.values())


@pytest.mark.works(of=(report_pdf,))
def test_the_outline_leads_through_the_report() -> None:
    wanted = (
        "The bed",
        "Inputs",
        "Calculation",
        "Rules",
        "The field",
        "Water",
        "Quantities and estimate",
        "What is not known",
        "Sources",
    )
    found = [title for title in report().outline if title in wanted]
    assert list(wanted) == found
    chapters = [chapter.title for chapter in calculation(farm().trace).chapters]
    assert set(chapters) < set(report().outline)


@pytest.mark.works(of=(report_pdf,))
def test_no_words_begin_outside_the_page() -> None:
    paper = report()
    width, height = paper.size
    for piece in paper.placed:
        assert 30 < piece.x < width - 30, piece
        assert 30 < piece.y < height - 30, piece


@pytest.mark.works(of=(report_pdf,))
def test_pages_are_letter_in_the_states_and_a4_elsewhere() -> None:
    assert (612.0, 792.0) == pytest.approx(owner().size, abs=0.5)
    elsewhere = Paper(owner_pdf(replace(farm(), units="si")))
    assert (595.3, 841.9) == pytest.approx(elsewhere.size, abs=0.5)


@pytest.mark.works(of=(layout_of, report_document))
@pytest.mark.parametrize("units", ["us", "si"])
def test_no_table_is_wider_than_its_page(units: System) -> None:
    document = report_document(replace(farm(), units=units))
    for table in (block for block in document.blocks if isinstance(block, Table)):
        widths = layout_of(table, document.paper).widths
        taken = sum(width for width in widths if width is not None)
        assert taken + 40.0 * widths.count(None) <= PAGE[document.paper], table.columns


# ---- what stands first ----


@pytest.mark.works(of=(report_pdf,))
def test_the_signer_finds_verdict_numbers_and_seal_on_two_pages() -> None:
    first, second = report().pages[:2]
    assert "What binds" not in first
    assert "Binds:" in first
    assert "Engineer's estimate" in first
    assert "Left empty for the seal" in second
    assert "does not seal a design" in " ".join(second.split())
    assert "First copy" in second


@pytest.mark.works(of=(report_pdf,))
def test_the_signer_reads_ranges_draws_and_what_is_thin() -> None:
    first = " ".join(report().pages[0].split())
    assert re.search(r"water treated [\d.]+ % middle; how far it ranges is not known", first)
    assert re.search(r"removed in a year [\d.]+ to [\d.]+ lb", first)
    assert "one in ten lies below, one in ten above" in first
    assert re.search(r"Binds: .* points to spare", first)
    assert "Least in reserve besides" in first
    assert "limit 3.0 h, confirmed" in first


@pytest.mark.works(of=(report_pdf,))
def test_a_remembered_limit_says_so_beside_its_number() -> None:
    first = " ".join(first_pages(material_of(corbel_inputs())).page(1).split())
    assert "limit 3.0 h, remembered, check your state's edition" in first


@pytest.mark.works(of=(report_document,))
def test_every_kinetic_number_of_a_year_is_a_range() -> None:
    table = next(
        b
        for b in report_document(farm()).blocks
        if isinstance(b, Table) and "low" in [column.head for column in b.columns]
    )
    assert ["in a year", "low", "middle", "high"] == [column.head for column in table.columns]
    for _, low, middle, high in table.rows:
        assert isinstance(middle, Number)
        assert isinstance(low, Number) == isinstance(high, Number)
        assert isinstance(low, Number) or "not known" in " ".join(words_of(low))


@pytest.mark.works(of=(report_pdf,))
def test_a_report_goes_by_mail() -> None:
    assert len(report_pdf(farm())) < 1_500_000


@pytest.mark.works(of=(report_document,))
def test_no_record_is_dumped_into_a_cell() -> None:
    longest = max(words_of(report_document(farm())), key=len)
    assert len(longest) < 2500, longest[:200]


@pytest.mark.works(of=(report_pdf,))
def test_overrules_and_assumptions_are_told_to_the_signer() -> None:
    second = " ".join(first_pages(with_judgement()).page(2).split())
    assert "overruled" in second
    assert "R. Lindqvist, 2026-11-16: as measured" in second
    assert "assumed" in second
    assert "walked it" in second


@pytest.mark.works(of=(report_pdf,))
def test_changes_since_the_last_issue_are_told_to_the_signer() -> None:
    after = farm().record
    before = json.loads(json.dumps(after))
    before["bed"]["width_bottom_m"] = 6.096
    before["verdict"] = "does not fit"
    typed = TypedChange("bed.width_bottom", "Width", "20 ft", "30 ft", "job.toml", 221)
    since = SinceIssued(
        "2026-03-02-draft",
        "draft",
        "R. L.",
        "2026-03-02",
        (typed,),
        (),
        compare_results(before, after),
    )
    second = " ".join(first_pages(replace(farm(), since=since)).page(2).split())
    assert "2026-03-02-draft" in second
    assert "does not fit" in second
    assert "job.toml line 221" in second
    assert "20 ft 30 ft" in second
    assert "20.00 ft 30.00 ft" in second
    assert "First copy" not in second


@pytest.mark.works(of=(report_pdf,))
def test_a_review_copy_says_so_on_every_page() -> None:
    assert all("Review copy, not issued" in page for page in report().pages)
    issued = Paper(owner_pdf(replace(farm(), status="Issued copy, 2026-12-01")))
    assert all("Issued copy, 2026-12-01" in page for page in issued.pages)


# ---- odd jobs ----


def with_long_title() -> ReportMaterial:
    return replace(farm(), title="A very long title of a job " * 9)


def with_odd_title() -> ReportMaterial:
    return replace(farm(), title='#let x = $1$ "*" \\ 漢')


def with_judgement() -> ReportMaterial:
    return material_of(judged_inputs())


def with_many_findings() -> ReportMaterial:
    many = tuple(Finding(f"c-{n}", "caution", f"Subject {n}", "Words. " * 30) for n in range(60))
    return replace(farm(), findings=many)


@pytest.mark.works(of=(report_pdf, owner_pdf))
@pytest.mark.parametrize(
    "make", [farm, with_long_title, with_odd_title, with_judgement, with_many_findings]
)
def test_two_pages_are_two_pages_whatever_the_job(make: Callable[[], ReportMaterial]) -> None:
    material = make()
    assert "Left empty for the seal" in first_pages(material).page(2)
    assert 2 == Paper(owner_pdf(material)).length


def first_pages(material: ReportMaterial) -> Paper:
    """The signer's pages alone, with the page after them."""
    document = report_document(material)
    ends = next(i for i, b in enumerate(document.blocks) if isinstance(b, Contents))
    return Paper(press(replace(document, blocks=without_links(document.blocks[: ends - 1]))))


def without_links(record: Any) -> Any:
    """Words that lead nowhere, since the pages that they lead to are left out."""
    if isinstance(record, Run):
        return replace(record, to="")
    if is_dataclass(record) and not isinstance(record, type):
        return replace(
            record, **{f.name: without_links(getattr(record, f.name)) for f in fields(record)}
        )
    return tuple(map(without_links, record)) if isinstance(record, tuple) else record


@pytest.mark.works(of=(report_pdf, owner_pdf, report_material))
def test_a_job_of_which_nothing_is_known_has_its_papers(tmp_path: Path) -> None:
    start(tmp_path / "new")
    material = report_material(design_job(tmp_path / "new"))
    paper = Paper(report_pdf(material))
    assert "not known" in paper.page(1)
    assert "Left empty for the seal" in paper.page(2)
    told = Paper(owner_pdf(material))
    assert "We cannot say yet whether a woodchip bed fits here." in told.text
    assert 2 == told.length


@pytest.mark.works(of=(report_pdf,))
def test_words_of_the_user_are_shown_as_typed() -> None:
    odd = '#name *x* $y$ "z" \\ @home'
    material = material_of(corbel_inputs({"people.owner": odd, "job.outlet": odd}))
    letters = first_pages(material).letters
    assert 2 <= letters.count("".join(odd.split()))


# ---- the owner ----


@pytest.mark.works(of=(owner_document,))
def test_the_owner_is_told_no_first_and_why() -> None:
    material = material_of(corbel_inputs({"bed.width_bottom_m": 1.5}))
    text = Paper(owner_pdf(material)).text
    assert "As planned, a woodchip bed does not fit here." in text
    assert "What falls short:" in text
    assert "to build; your share" not in text


@pytest.mark.works(of=(owner_document,))
def test_the_owner_reads_of_boards_wet_days_money_and_safety() -> None:
    text = owner().text
    for words in (
        "to build; your share of that is not known yet",
        "how it stands at the spots that were surveyed",
        "Measure from the rim",
        "winter December 1 March 19",
        "The engineer's estimate for the whole is",
        "Never climb into a structure",
        "Whom to call",
        "does not seal a design",
    ):
        assert words in text, words


@pytest.mark.works(of=(owner_document,))
def test_the_owners_drawing_is_told_to_who_cannot_see_it() -> None:
    raw = owner_pdf(farm())
    assert b"Soil columns" in raw or "Soil columns" in _alternatives(Paper(raw))


def _alternatives(paper: Paper) -> str:
    found: list[str] = []

    def walk(node: Any) -> None:
        node = node.get_object()
        if isinstance(node, list):
            for each in node:
                walk(each)
        elif hasattr(node, "get"):
            if "/Alt" in node:
                found.append(str(node["/Alt"]))
            if "/K" in node and not isinstance(node["/K"], int):
                walk(node["/K"])

    walk(paper.root["/StructTreeRoot"])
    return " ".join(found)
