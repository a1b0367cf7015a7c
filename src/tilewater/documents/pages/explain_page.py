# SPDX-License-Identifier: Apache-2.0
"""Where a number comes from: value, equation, inputs with their places, source and checks."""

from collections.abc import Iterator

from tilewater.basis.trace import Origin, Step, Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain.explain import Explanation, Source, explain, requirements_on
from tilewater.documents.pages.said import Cell, Part, Said, block, dim, pairs, rows
from tilewater.documents.words import IN_SI, Words

LISTED = "not known: "
"""How a reason begins that only lists the inputs behind it."""
CHECKS = "Checks"
"""Heading of the tests that check a number."""
NARROW = 24
"""Longest key that leaves room for value and words beside it."""


def explain_page(trace: Trace, key: str, words: Words) -> Iterator[Part]:
    """One number in full, or all numbers of a group in brief.

    Raises
    ------
    UnknownName
        If no number has that key.
    """
    found = explain(trace, key)
    if len(found) > 1:
        yield block(key, f"{len(found)} numbers", _group(found, key, words))
        return
    (only,) = found
    yield from _one(trace, only, words)


def _group(found: tuple[Explanation, ...], key: str, words: Words) -> Part:
    """Keys in a column of their own where they are short, else under the words; never broken."""

    def rest(one: Explanation) -> str:
        return one.step.key.removeprefix("inputs.").removeprefix(key).lstrip("._")

    def line(one: Explanation) -> list[Cell]:
        value = Said(words.of_step(one.step), key=one.step.key)
        if is_narrow:
            return [dim(rest(one)), value, one.step.title]
        return [value, Said.assemble(one.step.title, (f"\n{rest(one)}", "quiet"))]

    longest = max(len(rest(one)) for one in found)
    is_narrow = longest <= NARROW
    heads = ("key", "value", "what it is") if is_narrow else ("value", "what it is, and its key")
    table = rows(heads, (line(one) for one in found), wide=range(len(heads)))
    table.least[0 if is_narrow else 1] = longest
    return table


def _one(trace: Trace, found: Explanation, words: Words) -> Iterator[Part]:
    step = found.step
    lines: list[tuple[str, Cell]] = [("value", _both_systems(step, words))]
    lines += _judged(trace, step, words)
    if step.function:
        lines.append(("how", found.summary))
    if found.equation:
        lines.append(("equation", found.equation))
    if step.origin is not None and _is_told(step.origin):
        lines.append(("from", _origin(step.origin)))
    yield block(step.title, step.key, pairs(lines))
    if found.inputs:
        yield block("Inputs", "", _inputs(found, words))
    if fed := _feeds(trace, step):
        yield fed
    if found.sources:
        yield block("Source", "", *(_source(source) for source in found.sources))
    if step.function:
        yield block(CHECKS, "", *([_check(c) for c in found.checks] or [Said("not checked")]))


def _both_systems(step: Step, words: Words) -> Said:
    text = Said(words.of_step(step), "strong")
    other = Words("si" if words.system == "us" else "us", words.foot).of_step(step)
    if other.removeprefix(IN_SI) != words.of_step(step).removeprefix(IN_SI):
        text.append(f"  {other}", "quiet")
    return text


def _judged(trace: Trace, step: Step, words: Words) -> Iterator[tuple[str, Cell]]:
    if isinstance(step.value, Unknown) and step.value.why.startswith(LISTED):
        yield ("why", _causes(trace, step.value))
    elif isinstance(step.value, Unknown):
        yield ("why", step.value.why)
        if step.value.measure:
            yield ("measure", step.value.measure)
    if step.overrule is not None:
        o = step.overrule
        yield ("computed", words.of_key(step.key, step.computed, step.unit))
        yield ("overruled", f"{o.by}, {o.date}: {o.reason}")
    if step.rests_on:
        yield ("assumed", ", ".join(sorted(step.rests_on)))


def _causes(trace: Trace, unknown: Unknown) -> Said:
    """The inputs behind what is not known, one to a line, with what would make each known."""
    text = Said("these are not known:")
    for key in unknown.causes:
        title = Said(trace.steps[key].title, key=key) if key in trace else Said(key)
        text.append("\n").append(title)
        value = trace.value(key) if key in trace else None
        if isinstance(value, Unknown) and value.measure:
            text.append(f"  {value.measure}", "quiet")
    return text


def _is_told(origin: Origin) -> bool:
    """Whether an origin says more than that nobody gave the value."""
    return bool(origin.file or origin.source or origin.text)


def _origin(origin: Origin) -> Said:
    text = Said(str(origin))
    if origin.text:
        text.append(f', "{origin.text}"')
    if origin.note:
        text.append(f"  {origin.note}", "quiet")
    return text


def _inputs(found: Explanation, words: Words) -> Part:
    """Each input with its value, the key to follow, and where it was typed."""

    def line(name: str, step: Step) -> list[Cell]:
        text = Said(words.of_step(step)).append("\n").append(Said(step.key, "quiet", step.key))
        if step.origin is not None and _is_told(step.origin):
            text.append("\n").append(_origin(step.origin))
        return [name, text]

    return rows(("", ""), (line(name, step) for name, step in found.inputs), wide=(1,))


FED = 3
"""Requirements that are named; of more only how many they are."""


def _feeds(trace: Trace, step: Step) -> Part | None:
    """Which requirements rest on a number."""
    fed = requirements_on(trace, step.key)
    if not fed:
        return None
    text = Said()
    for number, requirement in enumerate(fed[:FED]):
        key = f"{requirement.key}.status"
        text.append("\n" if number else "").append(Said(requirement.title, key=key))
        text.append(f"  {trace.value(key)}", "quiet")
    if len(fed) > FED:
        text.append(f"\nand {len(fed) - FED} more", "quiet")
    return block("Judged by", "requirements that rest on it", text)


def _check(check: str) -> Said:
    """A check as a sentence: its kind and source, what it says, its file."""
    *what, test = check.split(" · ")
    file, _, name = test.partition("::")
    says = name.removeprefix("test_").replace("_", " ")
    return Said.assemble(f"{', '.join(what)}: {says}", (f"  {file}", "quiet"))


def _source(source: Source) -> Said:
    place = f", {source.place}" if source.place else ""
    return Said.assemble(f"{source.text}{place}", (f"  {source.honesty}", "quiet"))


def explained_record(trace: Trace, key: str) -> list[dict[str, object]]:
    """What a key leads to, for other programs; values as text in SI."""
    words = Words("si")
    return [
        {
            "key": found.step.key,
            "title": found.step.title,
            "value": words.of_step(found.step),
            "function": found.step.function,
            "summary": found.summary,
            "equation": found.equation,
            "inputs": {name: step.key for name, step in found.inputs},
            "origin": "" if found.step.origin is None else _origin(found.step.origin).plain,
            "sources": [
                {"key": s.key, "text": s.text, "place": s.place, "honesty": s.honesty}
                for s in found.sources
            ],
            "checks": list(found.checks),
        }
        for found in explain(trace, key)
    ]
