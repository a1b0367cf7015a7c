# SPDX-License-Identifier: Apache-2.0
"""Laid pipes on a page: each shot against the design, then what shows along the pipe."""

from collections.abc import Iterator, Sequence

from tilewater.basis.trace import Trace
from tilewater.chain.built_grade import LaidRun, shot_key, status_of_run
from tilewater.chain.built_shots import Matched
from tilewater.documents.pages.said import Cell, Part, Said, block, dim, pairs, rows, status
from tilewater.documents.words import NOT_KNOWN, Words, step_value


def grade_page(
    trace: Trace, laid: Sequence[LaidRun], unmatched: Sequence[Matched], words: Words
) -> Iterator[Part]:
    """Blocks of the page in their order: pipes, those not shot, shots that are of nothing."""
    shot = [each for each in laid if each.shots]
    for each in shot:
        yield _pipe(trace, each, words)
    missing = [each.run.name for each in laid if not each.shots]
    if missing:
        yield block("Not shot", "nothing is known of these", ", ".join(missing))
    if unmatched:
        yield unmatched_block(unmatched, words)


def unmatched_block(unmatched: Sequence[Matched], words: Words) -> Part:
    """Shots that are of nothing that is known."""
    lines: list[list[Cell]] = [
        [
            m.shot.point,
            m.shot.note or dim("none"),
            words.say(m.shot.height, "elevation", unit=False),
            m.match.why,
        ]
        for m in unmatched
    ]
    table = rows(("point", "code", "level", "why"), lines, right=(2,), wide=(3,))
    return block("Shots of nothing", "listed, used nowhere", table)


def _pipe(trace: Trace, laid: LaidRun, words: Words) -> Part:
    word = status_of_run(trace, laid)
    lines = [_shot(trace, laid, m, words) for m in laid.shots]
    unit = words.say(0.0, "length").rpartition(" ")[2]
    heads = ("point", "along", "invert", "designed", "off", "")
    table = rows(heads, lines, right=(1, 2, 3, 4))
    title = laid.run.name
    title = f"{title[0].upper()}{title[1:]}"
    about = f"{laid.run.use}, in {unit}, along from its lower end"
    return block(title, about, status(word), table, pairs(_along(trace, laid, words)))


def _shot(trace: Trace, laid: LaidRun, m: Matched, words: Words) -> list[Cell]:
    own = shot_key(laid, m)

    def say(end: str, kind: str) -> str:
        found = words.say(step_value(trace, f"{own}.{end}"), kind, unit=False)
        return "" if found == NOT_KNOWN else found

    off = say("off_m", "length")
    if off.strip("-0.") and not off.startswith("-"):
        off = f"+{off}"
    elif not off.strip("-0."):
        off = off.removeprefix("-")
    key = f"{own}.status"
    word = str(trace.value(key)) if trace.known(key) else NOT_KNOWN
    told: Cell = "" if word == "holds" else status(word)
    return [
        m.shot.point,
        say("along_m", "length"),
        say("invert_m", "elevation"),
        say("design_invert_m", "elevation"),
        off,
        told,
    ]


def _along(trace: Trace, laid: LaidRun, words: Words) -> Iterator[tuple[str, Cell]]:
    """What shows only between the shots of a pipe."""

    def say(end: str, kind: str) -> str:
        return words.say(step_value(trace, f"{laid.key}.{end}"), kind)

    if f"{laid.key}.design.slope" in trace and f"{laid.key}.range_m" not in trace:
        yield "designed grade", say("design.slope", "slope")
    if f"{laid.key}.over_m" in trace:
        yield from _local(trace, laid, words)
    if f"{laid.key}.standing_m" in trace:
        deep = say("standing_m", "length")
        at = words.about(trace.value(f"{laid.key}.standing_at_m"))
        noise = say("by_noise_m", "length")
        told = Said.assemble(
            f"{deep} deep at most, {at} from its lower end",
            (f"; noise alone may show {noise}", "quiet"),
        )
        if float(trace.value(f"{laid.key}.standing_m")) <= 0.0:
            told = Said("none")
        yield "water that will stand", _with(trace, f"{laid.key}.standing.status", told)
    if f"{laid.key}.range_m" in trace:
        told = Said(f"{say('range_m', 'length')} from lowest to highest invert")
        yield "level", _with(trace, f"{laid.key}.range.status", told)
    if f"{laid.key}.noise_m" in trace:
        yield "noise of its shots", f"{say('noise_m', 'length')}, one standard deviation"


def _local(trace: Trace, laid: LaidRun, words: Words) -> Iterator[tuple[str, Cell]]:
    over = words.about(trace.value(f"{laid.key}.over_m"))
    if not trace.known(f"{laid.key}.flattest"):
        words_of = f"not known: its shots scatter, so a grade shows over {over} only"
        yield "flattest reach", Said(words_of, "aside")
        return
    reach = trace.value(f"{laid.key}.flattest")
    low, high = (words.about(end) for end in (reach.low, reach.high))
    grade = words.say(reach.grade, "slope")
    told = Said.assemble(f"{grade} from {low} to {high}", (f", taken over {over} or more", "quiet"))
    yield "flattest reach", _with(trace, f"{laid.key}.local.status", told)


def _with(trace: Trace, key: str, told: Said) -> Said:
    """Words with their status, where it does not hold."""
    word = str(trace.value(key)) if trace.known(key) else NOT_KNOWN
    return told if word == "holds" else Said.assemble(told, "  ", status(word))
