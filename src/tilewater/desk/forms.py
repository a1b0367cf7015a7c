# SPDX-License-Identifier: Apache-2.0
"""Boxes for every value that the job file asks for, by the question to which it belongs.

A box shows what is typed in the file, or what is taken in its place and from where. Nothing is
read into the chain here and nothing is written: what comes of a form is in `forms_posted`.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from tilewater.chain.explain import HONESTY, sources
from tilewater.desk.boxes import Box, Entry, Filled, Option, Section
from tilewater.desk.forms_typed import is_not_known, shown_of, split
from tilewater.desk.table_titles import table_title
from tilewater.job.fields import Ask, Quantity
from tilewater.job.pairs import Pairs
from tilewater.job.schema import JUDGEMENTS, JobFile, trace_key
from tilewater.job.tables import Member, Table
from tilewater.job.template import SAMPLE_NAMES
from tilewater.job.words import Choice, Choices, FileName

TABLES: Mapping[str, tuple[str, ...]] = {
    "tile": (
        *(
            "main",
            "segment",
            "submain",
            "survey",
            "terrain",
            "benchmark",
            "baseline",
            "bend",
            "line",
        ),
        *("stake", "hub", "traverse", "leg"),
    ),
    "water": ("drainage", "weather", "field", "pump"),
    "practice": (
        "practice",
        "site",
        "people",
        "bed",
        "cell",
        "buffer",
        "buffer_soil",
        "auger_hole",
        "slug_test",
        "soil_layer",
        "raised",
        "pipe",
        "place",
        "borings",
        "criteria",
    ),
    "height": (
        "boards",
        "structure",
        "rating",
        "season",
        "ditch",
        "ditch_flow",
        "mark",
        "groundwater",
        "weights",
        "frost",
    ),
    "field": ("spot", "limits"),
    "removal": ("nitrate", "media", "measured"),
    "cost": (
        *("estimate", "money", "funding", "alternate", "bid_item", "bid", "bidder"),
        *("compare", "measure"),
    ),
    "built": (
        *("approval", "locate", "disturbed", "before", "hold"),
        *("chips_spec", "sieve_test", "supply", "chips_placed"),
        *("as_built", "built_pipe", "photo"),
    ),
    "years": (
        *("operate", "board_log", "monitor", "logger", "zero_check", "lab"),
        *("tracer", "renew", "signs", "observed"),
    ),
    "unknown": ("assume", "overrule", "confirm", "job"),
}
"""Tables of the job file under the question to which their values belong."""

NEW = "+"
"""How the name of a field of an entry that is not in the file yet begins."""
ROWS = "rows."
"""How the name of a field of pasted rows begins."""


def sections_of(slug: str, filled: Filled) -> tuple[Section, ...]:
    """The sections of a form that belong to a question."""
    members = {member.key: member for member in JobFile.members()}
    return tuple(_section(members[key], filled) for key in TABLES[slug])


def entry_of(table: str, filled: Filled) -> Entry:
    """Boxes of an entry that is new, for a table whose entries stand under names."""
    member = next(member for member in JobFile.members() if member.key == table)
    path = f"{NEW}{table}"
    name = Box(
        path,
        "Name",
        f"Small letters, digits and hyphens, like {SAMPLE_NAMES[table]}.",
        "line",
        text=filled.typed.get(path, ""),
        was="",
        may_be_unknown=False,
        fault=filled.faults.get(path, ""),
    )
    return Entry(path, SAMPLE_NAMES[table], (name, *_boxes(member.model, (path,), filled)))


def question_of(path: str) -> str:
    """Slug of the question to which a path of the job file, or a key of an input, belongs."""
    table = path.removeprefix("inputs.").removeprefix(NEW).partition(".")[0]
    return next((slug for slug, tables in TABLES.items() if table in tables), "")


def at(data: Mapping[str, Any], path: str) -> Any:
    """What the file says at a path; None where it says nothing."""
    found: Any = data
    for key in path.split("."):
        found = found.get(key) if isinstance(found, Mapping) else None
    return found


def _section(member: Member, filled: Filled) -> Section:
    group = at(filled.data, member.key)
    group = group if isinstance(group, Mapping) else {}
    new = None
    if member.is_named:
        entries = tuple(
            Entry(
                f"{member.key}.{name}",
                name,
                tuple(_boxes(member.model, (member.key, name), filled)),
                is_named=True,
            )
            for name in group
        )
        new = entry_of(member.key, filled)
    else:
        entries = tuple(_entries(member.model, (member.key,), filled))
    section = Section(
        member.key,
        table_title(member.key),
        member.model.about(),
        _state(entries, is_named=member.is_named),
        entries,
        new,
        _rows(member, new, filled) if new else None,
    )
    looked_for = filled.looked_for.partition(".")[0] == member.key
    is_open = any(box.fault or filled.typed.get(box.path) for box in section.boxes)
    return replace(section, is_open=looked_for or is_open)


def _rows(member: Member, new: Entry, filled: Filled) -> Box:
    path = f"{ROWS}{member.key}"
    heads = [
        f"{b.path.rpartition('.')[2]}{f' [{b.unit}]' if b.unit else ''}" for b in new.boxes[1:]
    ]
    return Box(
        path,
        "Rows, the first with the names of the columns",
        f"Columns: {', '.join(('name', *heads))}. Another unit stands in the brackets or the cell.",
        "lines",
        text=filled.typed.get(path, ""),
        was="",
        may_be_unknown=False,
        fault=filled.faults.get(path, ""),
    )


def _entries(table: type[Table], path: tuple[str, ...], filled: Filled) -> Iterator[Entry]:
    """Fields of a table, then of the tables in it."""
    boxes = tuple(_boxes(table, path, filled))
    if boxes:
        title = "" if len(path) == 1 else table_title(path[-1])
        yield Entry(".".join(path), title, boxes)
    for member in table.members():
        if member.ask is None:
            yield from _entries(member.model, (*path, member.key), filled)


def _boxes(table: type[Table], path: tuple[str, ...], filled: Filled) -> Iterator[Box]:
    for member in table.members():
        if member.ask is not None:
            yield _box(member.ask, (*path, member.key), filled)


def _box(ask: Ask, parts: tuple[str, ...], filled: Filled) -> Box:
    path = ".".join(parts)
    is_new = path.startswith(NEW)
    raw = None if is_new else at(filled.data, path)
    shown = shown_of(ask, raw, filled.system)
    was_unknown = is_not_known(raw)
    is_typed = path in filled.typed
    is_judged = is_new and parts[0].removeprefix(NEW) in JUDGEMENTS
    text = filled.typed[path] if is_typed else shown.text
    options = _options(ask, raw)
    if options and was_unknown and not is_typed:
        text = "unknown"
    return Box(
        path=path,
        title=ask.title,
        about=_about(ask),
        sort="choice" if options else "lines" if isinstance(ask, Pairs) else "line",
        text=text,
        was="unknown" if options and was_unknown else shown.text,
        unit=shown.unit,
        options=options,
        is_unknown=path in filled.unknown if is_typed else was_unknown,
        was_unknown=was_unknown,
        may_be_unknown=not options and not is_judged,
        taken="" if is_judged else _taken(ask, raw, is_new=is_new),
        shadow=_shadow(ask),
        fault=filled.faults.get(path, ""),
        key=trace_key(parts, ask),
        is_seldom=ask.need == "leave" and raw is None and not is_typed and not is_new,
        is_file=isinstance(ask, FileName),
        is_looked_for=path == filled.looked_for,
    )


def _options(ask: Ask, raw: Any) -> tuple[Option, ...]:
    """Answers of a choice: the one that is taken without, the words, and that nobody knows."""
    if not isinstance(ask, Choice):
        return ()
    none = f"{ask.default}, as long as nothing is chosen" if ask.default else "not given"
    words = [Option(choice, choice) for choice in ask.choices]
    if isinstance(ask, Choices):
        rows = [(a, b) for a in ask.listed for b in ask.listed if a != b]
        words += [Option(f"{a}, {b}", f"{a}, then {b}") for a, b in rows]
    held = "" if raw is None or is_not_known(raw) else shown_of(ask, raw, "us").text
    if held and held not in [option.value for option in words]:
        folded = next((o.value for o in words if o.value.casefold() == held.casefold()), None)
        words.append(Option(held, held if folded is None else f"{held}, as it stands"))
    return (Option("", none), *words, Option("unknown", "not known"))


def _about(ask: Ask) -> str:
    how = f"To find out: {ask.how}." if ask.how else ""
    is_told = isinstance(ask, (Choice, Quantity)) or not ask.allowed
    asked = "" if is_told else f"Write {ask.allowed}, like {ask.example}."
    several = ""
    if isinstance(ask, Pairs):
        pair = f"{ask.first.title.lower()}, {ask.second.title.lower()}"
        several = f"One pair to a line: {pair}."
    return " ".join(words for words in (ask.help, several, asked, how) if words)


def _taken(ask: Ask, raw: Any, *, is_new: bool) -> str:
    """What stands in the place of an answer that is not given."""
    if raw is not None:
        return ""
    if ask.default:
        seen = sources().get(ask.source, {}).get("seen", "practice")
        return f"taken as {ask.default}: {HONESTY[seen]}"
    if is_new and ask.need == "must":
        return "left blank it is written as not known"
    return {"must": "not answered yet", "may": "not given, so not known"}.get(ask.need, "")


def _shadow(ask: Ask) -> str:
    if isinstance(ask, Choice):
        return ""
    if isinstance(ask, Pairs):
        return "\n".join(
            each.strip().replace(":", ",", 1).replace(" ,", ",") for each in ask.example.split(",")
        )
    return split(ask.default)[0] if ask.default else ""


def _state(entries: tuple[Entry, ...], *, is_named: bool) -> str:
    """How a table is answered, in words."""
    boxes = [box for entry in entries for box in entry.boxes]
    given = sum(bool(box.was) and not box.was_unknown for box in boxes)
    unknown = sum(box.was_unknown for box in boxes)
    faults = sum(bool(box.fault) for box in boxes)
    assumed = sum(box.taken.startswith("taken as") for box in boxes)
    if is_named:
        words = [", ".join(entry.title for entry in entries) or "none"]
    else:
        words = [f"{given} given" if given else "nothing given"]
        words += [f"{assumed} taken"] if assumed else []
    words += [f"{unknown} not known"] if unknown else []
    words += [f"{faults} to mend"] if faults else []
    return ", ".join(words)
