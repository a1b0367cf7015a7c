# SPDX-License-Identifier: Apache-2.0
"""The page of a comparison: what may be built, a table of all, who is ahead, what must be true."""

from collections.abc import Callable, Iterator

from tilewater.chain.compare import PracticeComparison
from tilewater.chain.compare_contenders import NONE, Contender
from tilewater.chain.compare_words import must_be_true, not_known
from tilewater.chain.verdict import SHORT
from tilewater.documents import comparing
from tilewater.documents.pages.said import Part, Said, block, dim, pairs, rows
from tilewater.documents.words import Words

EXAMPLE = "bed.owner.annual_usd"


def practices_page(title: str, comparison: PracticeComparison, words: Words) -> Iterator[Part]:
    """The page, part by part."""
    yield Said(title, "strong")
    yield Said(comparing.headline(comparison))
    yield _table(comparison, words)
    yield _ahead(comparison)
    yield _measure(comparison, words)
    for part in (
        _short(comparison),
        _said(comparison, "Must be true", must_be_true),
        _said(comparison, "Not known", not_known),
        _missing(comparison),
    ):
        if part is not None:
            yield part
    yield Said()
    yield dim(f"Where a number comes from:\n  tilewater compare JOB --explain {EXAMPLE}")


def _table(comparison: PracticeComparison, words: Words) -> Part:
    heads = ("", *(comparing.HEADS[c.name] for c in comparing.shown(comparison)))
    table = rows(
        heads,
        ((dim(line.label), *line.cells) for line in comparing.lines(comparison, words)),
        right=range(1, len(heads)),
        wide=range(1, len(heads)),
    )
    return block("Side by side", "ranges are P10 to P90, two figures", table)


def _ahead(comparison: PracticeComparison) -> Part:
    told: list[Part] = []
    for answer in comparison.answers:
        told.append(Said(comparing.ahead_words(comparison, answer)))
        told += [dim(f"  {words}") for words in comparing.settle_words(comparison, answer)]
    return block("Who is ahead", "of those that may be built; nine draws of ten count", *told)


def _measure(comparison: PracticeComparison, words: Words) -> Part:
    now = comparing.choice_words(comparison, pound=words.system == "us")
    told: list[Part] = [Said(now)] if now else []
    lines = comparing.measure_lines(comparison)
    if lines:
        told.append(rows(("what", "takes", "tells"), lines, wide=(0, 1, 2)))
    note = comparing.measure_note(comparison)
    return block(
        "Measure before you choose",
        "what changes the choice most for its price first",
        *told,
        *((dim(note),) if note else ()),
    )


def _short(comparison: PracticeComparison) -> Part | None:
    lines = [
        (comparing.HEADS[c.name], comparing.why_not(c))
        for c in comparison.contenders
        if c.verdict == SHORT
    ]
    return block("Does not fit", "", pairs(lines)) if lines else None


def _said(
    comparison: PracticeComparison, title: str, of: Callable[[Contender], tuple[str, ...]]
) -> Part | None:
    lines = [
        (comparing.HEADS[c.name] if number == 0 else "", words)
        for c in comparison.contenders
        if c.name != NONE
        for number, words in enumerate(of(c))
    ]
    return block(title, "", pairs(lines)) if lines else None


def _missing(comparison: PracticeComparison) -> Part | None:
    lines = [
        (comparing.HEADS[c.name], f"the job does not give {'; '.join(c.missing)}")
        for c in comparison.contenders
        if not c.is_described
    ]
    return block("Not compared", "", pairs(lines)) if lines else None
