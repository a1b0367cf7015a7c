# SPDX-License-Identifier: Apache-2.0
"""Where a number comes from: value, equation, inputs with their places, source and checks."""

from collections.abc import Iterator

from rich.console import RenderableType
from rich.text import Text

from tilewater.basis.trace import Origin, Step, Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain.explain import Explanation, Source, explain
from tilewater.cli.page import block, dim, pairs, rows
from tilewater.cli.words import Words


def explain_page(trace: Trace, key: str, words: Words) -> Iterator[RenderableType]:
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
    yield from _one(only, words)


def _group(found: tuple[Explanation, ...], key: str, words: Words) -> RenderableType:
    def line(one: Explanation) -> list[RenderableType]:
        rest = one.step.key.removeprefix("inputs.").removeprefix(key).lstrip("._")
        return [dim(rest), words.of_step(one.step), one.step.title]

    heads = ("key", "value", "what it is")
    return rows(heads, (line(one) for one in found), wide=(0, 1, 2))


def _one(found: Explanation, words: Words) -> Iterator[RenderableType]:
    step = found.step
    lines: list[tuple[str, RenderableType]] = [("value", _both_systems(step, words))]
    lines += _judged(step, words)
    if step.function:
        lines.append(("how", found.summary))
    if found.equation:
        lines.append(("equation", found.equation))
    if step.origin is not None and _is_told(step.origin):
        lines.append(("from", _origin(step.origin)))
    yield block(step.title, step.key, pairs(lines))
    if found.inputs:
        yield block("Inputs", "", _inputs(found, words))
    if found.sources:
        yield block("Source", "", *(_source(source) for source in found.sources))
    if step.function:
        yield block("Checks", "", *([_check(c) for c in found.checks] or [Text("not checked")]))


def _both_systems(step: Step, words: Words) -> Text:
    text = Text(words.of_step(step), "bold")
    other = Words("si" if words.system == "us" else "us", words.foot).of_step(step)
    if other != words.of_step(step):
        text.append(f"  {other}", "dim not bold")
    return text


def _judged(step: Step, words: Words) -> Iterator[tuple[str, RenderableType]]:
    if isinstance(step.value, Unknown):
        yield ("why", step.value.why)
        if step.value.measure:
            yield ("measure", step.value.measure)
    if step.overrule is not None:
        o = step.overrule
        yield ("computed", words.of_key(step.key, step.computed, step.unit))
        yield ("overruled", f"{o.by}, {o.date}: {o.reason}")
    if step.rests_on:
        yield ("assumed", ", ".join(sorted(step.rests_on)))


def _is_told(origin: Origin) -> bool:
    """Whether an origin says more than that nobody gave the value."""
    return bool(origin.file or origin.source or origin.text)


def _origin(origin: Origin) -> Text:
    text = Text(str(origin))
    if origin.text:
        text.append(f', "{origin.text}"')
    if origin.note:
        text.append(f"  {origin.note}", "dim")
    return text


def _inputs(found: Explanation, words: Words) -> RenderableType:
    """Each input with its value, the key to follow, and where it was typed."""

    def line(name: str, step: Step) -> list[RenderableType]:
        text = Text.assemble(words.of_step(step), (f"\n{step.key}", "dim"))
        if step.origin is not None and _is_told(step.origin):
            text.append("\n").append(_origin(step.origin))
        return [name, text]

    return rows(("", ""), (line(name, step) for name, step in found.inputs), wide=(1,))


def _check(check: str) -> Text:
    """A check as a sentence: its kind and source, what it says, its file."""
    *what, test = check.split(" · ")
    file, _, name = test.partition("::")
    says = name.removeprefix("test_").replace("_", " ")
    return Text.assemble(f"{', '.join(what)}: {says}", (f"  {file}", "dim"))


def _source(source: Source) -> Text:
    place = f", {source.place}" if source.place else ""
    return Text.assemble(f"{source.text}{place}", (f"  {source.honesty}", "dim"))


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
