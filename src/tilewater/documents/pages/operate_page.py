# SPDX-License-Identifier: Apache-2.0
"""Running the boards: the periods of the card, other ways beside it, what stands by the log."""

from collections.abc import Iterator, Sequence
from datetime import date

from tilewater.basis.trace import Trace
from tilewater.basis.units import Style
from tilewater.chain.operate import Operation, Row, schedule_of
from tilewater.chain.operate_choices import Choice
from tilewater.chain.operate_compare import NOW, Compared
from tilewater.chain.operate_plan import SET_WORDS, Period, Stack, stack_key
from tilewater.chain.operate_record import EMPTY_LIMIT, LEAST_FLOW
from tilewater.chain.operate_rows import ROWS
from tilewater.chain.operate_settings import CHOICES, HERE
from tilewater.documents.pages.said import Cell, Part, Said, block, dim, pairs, rows
from tilewater.documents.words import NOT_KNOWN, Words

TWO: Style = "two figures"
NAME = 16
"""Letters that the name of a way keeps at least."""
BESIDE = (
    (EMPTY_LIMIT, "elevation", "do not empty the bed while ground water stands above"),
    (LEAST_FLOW, "flow", "below this flow water stays 1.7 days or longer"),
    (f"{HERE}.low_flow.outlet_height_m", "size", "outlet boards in a dry spell, above the sill"),
    (f"{HERE}.low_flow.used_up_days", "days", "days of a year with nitrate used up, with these"),
)
"""Numbers beside the boards: key, kind, what is said of them."""


def operate_page(
    title: str,
    trace: Trace,
    operation: Operation,
    periods: Sequence[Period],
    compared: Compared | None,
    words: Words,
) -> Iterator[Part]:
    """Blocks of the page in their order."""
    yield Said(title, "strong").append("  running the boards", "quiet")
    if not periods:
        yield Said(
            "No boards can be shown yet: a sill, a rim or the boards are not known.", "aside"
        )
        return
    yield periods_block(trace, periods, words)
    if operation.rows and operation.is_searched:
        yield _rows(trace, operation, words)
    yield _beside(trace, periods, words)
    if compared is not None:
        yield compared_block(trace, compared, words)


def day_said(day: str) -> str:
    """A day of the year as one says it: `12-01` is Dec 1."""
    month, _, number = day.partition("-")
    return f"{date(2000, int(month), int(number)):%b} {int(number)}"


def stack_said(boards: Sequence[float], words: Words) -> str:
    """A stack as it is built, from the sill up; equal boards are counted."""
    if not boards:
        return "none"
    told: list[list[str | int]] = []
    for board in boards:
        size = words.say(board, "size", unit=False)
        if told and told[-1][1] == size:
            told[-1][0] = int(told[-1][0]) + 1
        else:
            told.append([1, size])
    unit = words.say(boards[0], "size").rpartition(" ")[2]
    return " + ".join(f"{n} x {size}" if n != 1 else str(size) for n, size in told) + f" {unit}"


def set_said(board_set: str, stacks: Sequence[Stack]) -> str:
    """What a set is called; the boards alone where there is one set."""
    return "boards" if len(stacks) == 1 else f"{SET_WORDS[board_set]} boards"


def periods_block(trace: Trace, periods: Sequence[Period], words: Words) -> Part:
    """The periods of the year with their stacks, as the card shows them."""
    lines: list[list[Cell]] = []
    for period in periods:
        begins, what = "all year", ""
        if period.turn is not None:
            begins, what = f"from {day_said(period.turn.day)}", f"\n{period.why}"
        built, down = Said(), Said()
        for number, stack in enumerate(period.stacks):
            line = "\n" if number else ""
            name = set_said(stack.board_set, period.stacks).removesuffix(" boards")
            built.append(f"{line}{name}  ", "quiet")
            built.append(Said(stack_said(stack.boards, words), key=f"{stack.key}.stack_m"))
            down.append(line)
            down.append(
                Said(words.say(stack.rim_down, "size"), "strong", f"{stack.key}.rim_down_m")
            )
        lines.append([Said(begins, "strong").append(what, "quiet"), built, down])
    note = "measure from the rim down to the top board"
    table = rows(("", "stack from the sill up", "rim down"), lines, right=(2,), wide=(0, 1))
    return block("Boards through the year", note, table)


def _rows(trace: Trace, operation: Operation, words: Words) -> Part:
    lines = [_row(trace, row, operation, words) for row in operation.rows]
    note = (
        "nitrate nitrogen a year, the middle and 10 to 90 percent of draws and years; days of a "
        "year with nitrate used up; days in a row too wet midway in half the years"
    )
    heads = ("", "removed", "over set once", "treated", "used up", "too wet")
    table = rows(heads, lines, right=(1, 2, 3, 4, 5), wide=(0,))
    table.least[0] = NAME
    told = pairs((row.words, dim(_settings(trace, row, words))) for row in operation.rows)
    return block("Ways to run them", note, table, told)


def _row(trace: Trace, row: Row, operation: Operation, words: Words) -> list[Cell]:
    here = f"{ROWS}.{row.name}"
    name = Said(row.words, "strong" if row.name == operation.chosen else "")
    if row.name == operation.chosen:
        name.append("\non the card", "quiet")
    short = trace.value(f"{here}.short") if f"{here}.short" in trace else ()
    if short:
        kept = ", ".join(each.replace("_", "-") for each in short)
        name.append(f"\n! short: {kept}", "strong")
    return [
        name,
        _range(trace, f"{here}.removed_kg", "mass", words),
        _range(trace, f"{here}.gain_kg", "mass", words),
        _share(trace, f"{here}.treated_share.p50", words),
        _days(trace, f"{here}.used_up_days", words),
        _wettest(trace, here, words),
    ]


def _settings(trace: Trace, row: Row, words: Words) -> str:
    schedule = schedule_of(trace, row.name)
    choices: tuple[Choice, ...] = trace.value(CHOICES)
    told = [
        " and ".join(words.say(h, "size", unit=False) for _, h in choices[place].heights)
        for place in schedule.choices
    ]
    unit = words.say(0.0, "size").rpartition(" ")[2]
    if not schedule.turns:
        return f"{told[0]} {unit}"
    return ", ".join(
        f"{day_said(turn.day)} {each}" for turn, each in zip(schedule.turns, told, strict=True)
    )


def _range(trace: Trace, here: str, kind: str, words: Words) -> Cell:
    if f"{here}.p50" not in trace or not trace.known(f"{here}.p50"):
        return ""
    low, mid, high = (trace.value(f"{here}.{p}") for p in ("p10", "p50", "p90"))
    middle = Said(words.say(mid, kind, style=TWO), key=f"{here}.p50")
    ends = (words.say(each, kind, style=TWO, unit=False) for each in (low, high))
    return middle.append(f"\n{' to '.join(ends)}", "quiet")


def _share(trace: Trace, key: str, words: Words) -> Cell:
    if not trace.known(key):
        return ""
    return Said(words.say(trace.value(key), "ratio", style=TWO), key=key)


def _days(trace: Trace, key: str, words: Words) -> Cell:
    if not trace.known(key):
        return ""
    return Said(words.say(trace.value(key), "days", style=TWO, unit=False), key=key)


def _wettest(trace: Trace, here: str, words: Words) -> Cell:
    """Days in a row at the spot that is worst against its limit."""
    spots = trace.names(f"{here}.spot")
    if not spots:
        return ""
    run = {s: float(trace.value(f"{here}.spot.{s}.usual_run_days")) for s in spots}
    over = {s: run[s] - float(trace.value(f"{HERE}.limit.{s}_days")) for s in spots}
    worst = max(spots, key=lambda spot: (over[spot], run[spot]))
    limit = words.say(trace.value(f"{HERE}.limit.{worst}_days"), "days", unit=False)
    key = f"{here}.spot.{worst}.usual_run_days"
    said = Said(words.say(run[worst], "days", unit=False), key=key)
    return said.append(f"\n{worst} of {limit}", "quiet")


OF_PERIOD = (
    ("change_s", "time", "moved in"),
    ("drain_s", "time", "bed drains in"),
    ("clear_soil_m", "length", "clear soil"),
)
"""What is told of a period beside its boards; only a bed drains."""


def _beside(trace: Trace, periods: Sequence[Period], words: Words) -> Part:
    has_bed = any(f"{period.key}.drain_s" in trace for period in periods)
    shown = [each for each in OF_PERIOD if has_bed or each[0] != "drain_s"]
    lines: list[list[Cell]] = []
    for period in periods:
        begins = "all year" if period.turn is None else day_said(period.turn.day)
        cells: list[Cell] = [begins]
        for name, kind, _ in shown:
            cells.append(_known(trace, f"{period.key}.{name}", kind, words))
        lines.append(cells)
    heads = ("", *(head for _, _, head in shown))
    told: list[tuple[Cell, Cell]] = [
        (dim(label), _known(trace, key, kind, words))
        for key, kind, label in BESIDE
        if trace.known(key)
    ]
    drains = "90 percent of what stands above lowered boards, feed shut; " if has_bed else ""
    note = f"one board in 12 hours; {drains}over standing water at the lowest spot"
    table = rows(heads, lines, right=tuple(range(1, len(heads))), wide=(0,))
    told += _start(trace, words)
    return block("Beside the boards", note, table, rows(("", ""), told, right=(1,), wide=(0,)))


def _known(trace: Trace, key: str, kind: str, words: Words) -> Cell:
    return Said(words.say(trace.value(key), kind), key=key) if trace.known(key) else ""


def _start(trace: Trace, words: Words) -> list[tuple[Cell, Cell]]:
    season = trace.value("start_up.season") if trace.known("start_up.season") else ""
    keys = [f"start_up.seasons.{season}.days_{end}" for end in ("first", "last")]
    if not season or not trace.known(*keys):
        return []
    first = words.say(trace.value(keys[0]), "days", style=TWO, unit=False)
    last = words.say(trace.value(keys[1]), "days", style=TWO)
    label = f"new chips: flush before the boards go in, best in {season}"
    return [(dim(label), Said(f"{first} to {last}", key=keys[1]))]


def compared_block(trace: Trace, compared: Compared, words: Words) -> Part:
    """What stands by the log beside what the card asks for."""
    lines: list[list[Cell]] = []
    for name, _ in compared.standing.heights:
        label = "boards" if len(compared.standing.heights) == 1 else f"{SET_WORDS[name]} boards"
        cells = []
        for choice in (compared.standing, compared.asked):
            key = f"{stack_key(choice, name)}.crest_m"
            height = words.say(choice.height(name), "size")
            cells.append(
                Said(height).append(Said(f"\ncrest {_crest(trace, key, words)}", "quiet", key))
            )
        lines.append([label, *cells])
    for name, kind, label in (
        ("clear_soil_m", "length", "clear soil at the lowest spot"),
        ("treated_share", "ratio", "share of the period's water that is treated"),
    ):
        keys = [f"{NOW}.{side}.{name}" for side in ("standing", "asked")]
        if trace.known(*keys):
            style: Style = TWO if kind == "ratio" else "plain"
            shown = [Said(words.say(trace.value(k), kind, style=style), key=k) for k in keys]
            lines.append([label, *shown])
    same = "as the card has them" if not compared.differing else "not as the card has them"
    note = f"{day_said(compared.day)}: {same}"
    return block("What stands by the log", note, rows(("", "stands", "card"), lines, wide=(0,)))


def _crest(trace: Trace, key: str, words: Words) -> str:
    return words.say(trace.value(key), "elevation") if trace.known(key) else NOT_KNOWN
