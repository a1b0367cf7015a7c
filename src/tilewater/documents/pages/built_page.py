# SPDX-License-Identifier: Apache-2.0
"""Finished work on a page: whether it conforms, levels, what it changes, lid card, payment."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import isinf

from tilewater.basis.trace import Trace
from tilewater.basis.units import to_si
from tilewater.basis.unknown import is_unknown
from tilewater.chain.built_conforms import (
    CONFORMS,
    DOES_NOT,
    NOT_KNOWN,
    NOT_SHOT,
    WITHIN,
    Conformance,
    level_status,
)
from tilewater.chain.built_elements import Level, structure_name
from tilewater.chain.built_grade import LaidRun
from tilewater.chain.built_judged import PARTS, part_key, slug_of
from tilewater.chain.built_lid import BoardSet, NearStack, Reading
from tilewater.chain.built_paid import PaidItem
from tilewater.chain.built_rerun import INSTEAD, Effect
from tilewater.chain.built_shots import Matched
from tilewater.documents.pages.grade_page import unmatched_block
from tilewater.documents.pages.said import (
    Cell,
    Part,
    Said,
    Tone,
    block,
    dim,
    pairs,
    rows,
    status,
)
from tilewater.documents.words import Words, kind_of, step_value

AS_FOUND = "as found"
SHAPES = {CONFORMS: "+", DOES_NOT: "!", NOT_KNOWN: "?"}
TONES: dict[str, Tone] = {CONFORMS: "", DOES_NOT: "strong", NOT_KNOWN: "aside"}


@dataclass(frozen=True)
class Picture:
    """A picture of the work in the index: its file, what it shows, when, where. [m]"""

    name: str
    file: str
    what: str
    when: str
    station: float | None
    is_there: bool


@dataclass(frozen=True)
class Built:
    """Finished work, as its page and its papers show it.

    Attributes
    ----------
    trace : Trace
        Of the design, with the work as built.
    levels : tuple of Level
    laid : tuple of LaidRun
    unmatched : tuple of Matched
    parts : tuple of Conformance
        Empty where a practice was found without a design.
    in_all : str
    effect : Effect
    sets : tuple of BoardSet
    stacks : tuple of NearStack
    pictures : tuple of Picture
    paid : tuple of PaidItem
    by_days : bool
        Whether rules that rest on daily flow were judged anew.
    """

    trace: Trace
    levels: tuple[Level, ...]
    laid: tuple[LaidRun, ...]
    unmatched: tuple[Matched, ...]
    parts: tuple[Conformance, ...]
    in_all: str
    effect: Effect
    sets: tuple[BoardSet, ...]
    stacks: tuple[NearStack, ...]
    pictures: tuple[Picture, ...]
    paid: tuple[PaidItem, ...]
    by_days: bool = True

    @property
    def is_found(self) -> bool:
        """Whether others built it and no design is at hand."""
        return self.in_all == AS_FOUND

    @property
    def is_rerun(self) -> bool:
        """Whether something that was shot stands in for a value of the design."""
        return bool(self.trace.names(INSTEAD))

    def is_sill_shot(self, each: BoardSet) -> bool:
        """Whether the sill under a board set was shot, so that its line is as built."""
        structure = each.name.rpartition("-")[0]
        return f"{PARTS}.{slug_of(structure_name(structure))}.sill_m" in self.trace


def built_page(built: Built, words: Words) -> Iterator[Part]:
    """Blocks of the page in their order."""
    if not built.is_found:
        yield _in_all(built)
    if any(_is_shot(built.trace, level) for level in built.levels):
        yield _levels(built, words)
    if statistics := tuple(_floor(built, words)):
        yield block("Floor of the bed", "from all its shots", pairs(statistics))
    if built.sets:
        yield _lid_card(built, words)
    yield _numbers(built, words)
    if not built.is_found and any(each.measured is not None for each in built.paid):
        yield _paid(built, words)
    if built.unmatched:
        yield unmatched_block(built.unmatched, words)
    if built.pictures:
        yield _pictures(built, words)
    if built.is_found:
        yield _open(built)


def _word(word: str) -> Said:
    return Said(f"{SHAPES.get(word, '~')} {word}", TONES.get(word, "strong"))


def _in_all(built: Built) -> Part:
    lines = [(part.element, _with_why(part)) for part in built.parts]
    table = rows(("part", "answer"), lines, wide=(1,))
    told: list[Part] = [Said.assemble("In all: ", _word(built.in_all)), table]
    return block("Conforms", "each part alone, then all together", *told)


def _with_why(part: Conformance) -> Said:
    """The answer on a part, with why where it is more than conforming as a whole."""
    if part.why == NOT_SHOT:
        return Said.assemble(_word(part.word), (f", {NOT_SHOT}", "aside"))
    if part.why == WITHIN:
        return _word(part.word)
    return Said.assemble(_word(part.word), (f"\n{part.why}", "quiet"))


def _levels(built: Built, words: Words) -> Part:
    trace = built.trace
    lines = [row for level in built.levels if (row := _level(trace, level, words, built.is_found))]
    heads: tuple[str, ...] = ("", "built")
    if not built.is_found:
        heads = (*heads, "designed", "off", "tolerance", "")
    right = range(1, 5)
    return block("Levels and lengths", f"in {_unit(words)}", rows(heads, lines, right=right))


def _is_shot(trace: Trace, level: Level) -> bool:
    here = part_key(level)
    return f"{here}_m" in trace or f"{here}.off_m" in trace


def _unit(words: Words) -> str:
    return words.say(0.0, "length").rpartition(" ")[2]


def _level(trace: Trace, level: Level, words: Words, is_found: bool) -> list[Cell]:
    here = part_key(level)
    off = f"{here}.off_m"
    if not _is_shot(trace, level):
        return []
    kind = kind_of(f"{here}_m", "m") or "length"
    built = words.say(step_value(trace, f"{here}_m"), kind, unit=False)
    name = Said.assemble(level.what, (f", {level.element}", "quiet"))
    line: list[Cell] = [name, "" if f"{here}_m" not in trace else built]
    if is_found:
        return line
    design = words.say(trace.value(level.design), kind, unit=False) if level.design else ""
    word = level_status(trace, level)
    told: Cell = "" if word == "holds" else status(word)
    return [*line, design, signed(trace, off, words), tolerance(trace, level, words), told]


def signed(trace: Trace, key: str, words: Words) -> str:
    """A deviation with its sign; "" where there is none."""
    if not trace.known(key):
        return ""
    text = words.say(trace.value(key), "length", unit=False)
    is_none = not text.strip("-0.")
    return text.removeprefix("-") if is_none else text if text.startswith("-") else f"+{text}"


def tolerance(trace: Trace, level: Level, words: Words) -> str:
    """How far a level may lie off."""
    below, above = (float(trace.value(key)) for key in (level.below, level.above))

    def say(value: float) -> str:
        return words.say(value, "length", unit=False)

    if below == above:
        return f"±{say(below)}"
    return f"-{say(below)}" if isinf(above) else f"-{say(below)} +{say(above)}"


def _floor(built: Built, words: Words) -> Iterator[tuple[str, Cell]]:
    trace, own = built.trace, "built.parts.bed"
    for label, key, kind in (
        ("mean", f"{own}.floor_m", "elevation"),
        ("worst shot, off the design", f"{own}.floor-worst-shot.off_m", "length"),
        ("standard deviation", f"{own}.floor.spread_m", "length"),
        ("slope up the main", f"{own}.floor.slope", "slope"),
    ):
        if key in trace:
            yield label, words.say(trace.value(key), kind)


def _lid_card(built: Built, words: Words) -> Part:
    lines = [_set(built, each, words) for each in built.sets]
    inches = words.say(0.0, "size").rpartition(" ")[2]
    note = "the same boards on the sills as built; ~ changes the card inside the lid"
    if not any(built.is_sill_shot(each) for each in built.sets):
        note = "as designed: no sill was shot"
    if built.is_found:
        note = "the boards as they stand"
        heads: tuple[str, ...] = ("set", "boards", "crest", f"down, {inches}")
        table = rows(heads, lines, right=(2, 3))
    else:
        heads = ("set", "boards", "crest", "designed", f"down, {inches}", "designed", "")
        table = rows(heads, lines, right=(2, 3, 4, 5))
    told: list[Part] = [table]
    told += [_stack(each, words) for each in built.stacks]
    return block("Lid card", note, *told)


def season_words(name: str) -> str:
    """A board set and its season."""
    structure, _, season = name.rpartition("-")
    return f"{structure.replace('-', ' ')}, {season}"


def _set(built: Built, each: BoardSet, words: Words) -> list[Cell]:
    reading = each.after or each.before
    stack = boards(reading, words)
    crest = [_crest(one, words) for one in (each.after, each.before)]
    down = [_down(one, words) for one in (each.after, each.before)]
    name = season_words(each.name)
    if built.is_found:
        return [name, stack, crest[0], down[0]]
    shot: Cell = "" if built.is_sill_shot(each) else Said(NOT_SHOT, "aside")
    changed: Cell = Said("~", "strong") if each.is_changed else shot
    return [name, stack, *crest, *down, changed]


def boards(reading: Reading | None, words: Words) -> str:
    """A stack from the sill up: `8 8 8 8 4`."""
    if reading is None:
        return "not known"
    said = [words.say(board, "size", unit=False) for board in reading.stack]
    return " ".join(said) or "none"


def _crest(reading: Reading | None, words: Words) -> str:
    return words.say(None if reading is None else reading.crest, "elevation", unit=False)


def _down(reading: Reading | None, words: Words) -> str:
    return down_words(None if reading is None else reading.rim_down, words)


def down_words(down: float | None, words: Words) -> str:
    """A distance down from a rim to the tenth of an inch, or to the millimetre."""
    if down is None:
        return "not known"
    if words.system == "us":
        return f"{down / to_si(1.0, 'in'):.1f}"
    return words.say(down, "size", unit=False)


def _stack(each: NearStack, words: Words) -> Part:
    crest = words.say(each.crest, "elevation")
    designed = words.say(each.designed, "elevation")
    stack = boards(Reading(each.stack, each.crest, None), words)
    text = (
        f"To come nearest the designed crest of {designed} at the {each.structure} without passing "
        f"it: {stack}, crest {crest}."
    )
    return Said(text)


def _numbers(built: Built, words: Words) -> Part:
    effect = built.effect
    if not built.is_found and not built.is_rerun:
        return block(
            "The design was not run again",
            "",
            dim("No shot stands in for a value of the design, so nothing is said of the work."),
        )
    lines: list[list[Cell]] = []
    for one in effect.numbers:
        trace = effect.after.trace if one.key in effect.after.trace else effect.before.trace
        unit = trace.steps[one.key].unit
        before, after = (words.of_key(one.key, each, unit) for each in (one.before, one.after))
        lines.append([one.title, after] if built.is_found else [one.title, before, after])
    if not built.is_found:
        lines.append(["Verdict", effect.before.verdict, effect.after.verdict])
    heads = ("", "as found") if built.is_found else ("", "designed", "as built")
    table = rows(heads, lines, right=range(1, len(heads)), wide=(0,))
    if built.is_found:
        return block("What it can do", "reckoned from what was found", table)
    told = [table, *_newly_short(effect)]
    if not built.by_days:
        told.append(dim("Rules that rest on daily flow were not judged anew."))
    return block("The design run again", "with the work as built", *told)


def _newly_short(effect: Effect) -> Iterator[Part]:
    if not effect.newly_short:
        yield dim("No rule falls short that held as designed.")
        return
    for one in effect.newly_short:
        yield Said.assemble(status("short", binds=True), f"  {one.title}")


def _paid(built: Built, words: Words) -> Part:
    lines = [paid_row(built, each, words) for each in built.paid if each.measured is not None]
    heads = ("item", "", "designed", "measured", "paid neat in place")
    note = "measured where shots give the geometry; all other items as designed"
    return block("Final payment", note, rows(heads, lines, right=(2, 3, 4), wide=(0,)))


def paid_row(built: Built, each: PaidItem, words: Words) -> list[Cell]:
    """A line of the payment."""
    key = f"quantities.{each.item}.quantity"
    steps = built.trace.steps if key in built.trace else built.effect.after.trace.steps
    unit = words.bid_unit(each.unit) if each.unit else ""
    told = [
        "not measured" if value is None else words.quantity(value, each.unit)
        for value in (each.designed, each.measured, each.paid)
    ]
    return [steps[key].title, unit, *told]


def _pictures(built: Built, words: Words) -> Part:
    lines: list[list[Cell]] = [
        [
            each.file,
            each.what,
            each.when or dim("no day"),
            "" if each.station is None else words.say(each.station, "station"),
            "" if each.is_there else Said("not in the folder", "aside"),
        ]
        for each in built.pictures
    ]
    table = rows(("file", "shows", "taken", "station", ""), lines, wide=(1,))
    return block("Pictures", "liner, fabric, pipes before they are covered", table)


def _open(built: Built) -> Part:
    """What keeps the numbers above unknown, with what to measure."""
    trace = built.effect.after.trace
    values = [trace.value(one.key) for one in built.effect.numbers if one.key in trace]
    causes = dict.fromkeys(c for value in values if is_unknown(value) for c in value.causes)
    measures = {item.key: item.measure or item.why for item in built.effect.after.open_items}
    lines: list[Sequence[Cell]] = [
        (trace.steps[key].title if key in trace else key, _measure(trace, key, measures))
        for key in causes
    ]
    rest = len([key for key in measures if key not in causes])
    told: list[Part] = []
    if lines:
        told.append(rows(("not known", "what to measure"), lines, wide=(0, 1)))
    if rest:
        told.append(dim(f"{rest} more are open and keep none of these numbers: tilewater check"))
    return block("Not known", "what keeps the numbers above unknown", *told)


def _measure(trace: Trace, key: str, measures: Mapping[str, str]) -> str:
    """What makes a cause known: as the job asks for it, else why it is not."""
    if key in measures:
        return measures[key]
    value = trace.value(key) if key in trace else None
    return (value.measure or value.why) if is_unknown(value) else "give it in the job file"
