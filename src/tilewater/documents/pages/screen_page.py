# SPDX-License-Identifier: Apache-2.0
"""A screening on one page: answers first, why, what is not known, what to measure next."""

from collections.abc import Iterable, Iterator

from tilewater.chain.measurements import LITTLE, cannot_tell
from tilewater.chain.screen import Screen
from tilewater.chain.screen_answers import CANNOT, RULE, WORDS, Answer
from tilewater.chain.screen_next import Advice, Measurement, is_worth_telling
from tilewater.documents.pages.said import Cell, Part, Said, block, dim, rows, status
from tilewater.documents.screen_words import drawn_words, held, in_words
from tilewater.documents.words import Words

MOST_REASONS = 4
MOST_ADVICE = 4
MOST_OPEN = 4
MOST_MEASURED = 5
CAUTION = (
    "For a desk: no design, satisfies no rule, and nothing is dug on it. Have utilities located, "
    "and let a licensed engineer decide."
)


def screen_page(title: str, screen: Screen, words: Words, *, every: bool) -> Iterator[Part]:
    """The page, part by part; with `every` all rows of every practice stand at its end."""
    yield Said(title, "strong").append("  what could lie here", "quiet")
    for answer in screen.answers:
        yield _answer(answer, screen, words)
    yield _measure(screen)
    yield from _advised("What else could help", screen.helps, words)
    yield from _advised("When to look again", screen.again, words)
    if every:
        yield from (_every(answer, words) for answer in screen.answers)
    yield Said()
    yield dim(RULE)
    yield dim(CAUTION)
    yield dim("Where a number comes from:\n  tilewater screen JOB --explain screen.head_m")


def _answer(answer: Answer, screen: Screen, words: Words) -> Part:
    lines: list[tuple[Cell, Cell]] = []
    for place, reason in enumerate(answer.reasons[:MOST_REASONS], 1):
        lines.append((dim(f"{place}"), in_words(reason, words)))
    left = max(0, len(answer.reasons) - MOST_REASONS) + len(answer.also)
    if left:
        lines.append(("", dim(f"and {left} more that fall short; --rows shows them")))
    if answer.answer != CANNOT:
        lines += _open(answer)
    if answer.practice == "bed" and screen.drawn is not None:
        refused = answer.answer == CANNOT
        lines.append((dim("drawn"), drawn_words(screen.drawn, words, refused=refused)))
    lines += [(dim("so far"), told) for each in answer.told if (told := in_words(each, words))]
    lines += [(dim("note"), in_words(note, words)) for note in answer.notes]
    holds = [row.ask for row in answer.rows if row.status == "holds"]
    if holds:
        lines.append((dim("holds"), dim(f"{len(holds)} of {len(answer.rows)} rows")))
    head = Said(answer.answer, "binds" if answer.answer == CANNOT else "strong")
    body = rows(("", ""), lines, wide=(1,))
    return block(WORDS[answer.practice].capitalize(), "", head, body)


def _open(answer: Answer) -> Iterator[tuple[Cell, Cell]]:
    for row in answer.open[:MOST_OPEN]:
        why = row.why if row.hangs else "not known"
        yield dim("?"), Said.assemble(row.ask, (f"  {why}", "quiet"))
    if len(answer.open) > MOST_OPEN:
        yield "", dim(f"and {len(answer.open) - MOST_OPEN} more that are not known")


def _measure(screen: Screen) -> Part:
    if not screen.measure:
        words = "Nothing that is asked of what could lie here is unknown."
        return block("Measure next", "", words)
    lines = [
        (
            dim(f"{place}"),
            Said.assemble(each.what, (f"\n{each.how}", "quiet"), _worth(each)),
            Said.assemble(", ".join(each.practices), (f"\n{_count(each.questions)}", "quiet")),
            f"{each.hours:g} h",
            f"${each.usd:.0f}",
        )
        for place, each in enumerate(screen.measure[:MOST_MEASURED], 1)
    ]
    left = len(screen.measure) - MOST_MEASURED
    note = "what settles most for its price first; hours and money by judgement"
    note += _tied(screen)
    note += f"; {left} more in --json" if left > 0 else ""
    heads = ("", "what, and how", "settles for", "takes", "")
    return block("Measure next", note, rows(heads, lines, right=(3, 4), wide=(1, 2)))


def _worth(each: Measurement) -> str:
    """What it could change, where a range is known before it is made."""
    if each.weighed is None or not is_worth_telling(each.weighed):
        return ""
    chance, clear = each.weighed.chance, each.weighed.settles
    parts = []
    if chance.is_told and chance.share >= LITTLE:
        parts.append(f"changes the answer in {100 * chance.share:.0f} of 100 cases")
    if clear.is_told and clear.share >= LITTLE:
        parts.append(f"makes it clear in {100 * clear.share:.0f} of 100")
    told = " and ".join(parts)
    return f"\n{told[0].upper()}{told[1:]}."


def _tied(screen: Screen) -> str:
    """That the first two cannot be told apart, where both were weighed."""
    first = [each.weighed for each in screen.measure[:2] if each.weighed is not None]
    tied = len(first) == 2 and cannot_tell(*first)
    return "; the first two cannot be told apart" if tied else ""


def _count(questions: tuple[str, ...]) -> str:
    if not questions:
        return "a closer range"
    return "1 question" if len(questions) == 1 else f"{len(questions)} questions"


def _advised(title: str, advice: Iterable[Advice], words: Words) -> Iterator[Part]:
    told = tuple(advice)
    lines = [(in_words(each.said, words), dim(each.honesty)) for each in told[:MOST_ADVICE]]
    more = len(told) - MOST_ADVICE
    if lines:
        note = f"{more} more in --json" if more > 0 else ""
        yield block(title, note, rows(("", ""), lines, wide=(0,)))


def _every(answer: Answer, words: Words) -> Part:
    lines = []
    for row in answer.rows:
        value, limit = held(row, words)
        lines.append(
            (row.ask, value, limit, status(row.status), dim(f"{row.honesty}, {row.weight}"))
        )
    heads = ("question", "value", "limit", "status", "limit known by, and weight")
    title = f"Rows: {WORDS[answer.practice]}"
    return block(title, "", rows(heads, lines, right=(1,), wide=(0, 4)))
