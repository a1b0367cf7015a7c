# SPDX-License-Identifier: Apache-2.0
"""From the job file to what the chain computes with: inputs with their origin, and judgements.

An overrule or an assumption is taken only when it is whole: key, value, name, date and reason. One
with an open part is not applied, and a finding says so.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from tilewater.basis.errors import Fault, UnitMismatch
from tilewater.basis.findings import Finding
from tilewater.basis.trace import Assumption, Given, Origin, Overrule
from tilewater.basis.units import did_you_mean, from_si, parse_quantity
from tilewater.job.fields import UNKNOWN, Ask, Setting, Wrong
from tilewater.job.lines import Path, nearest_line
from tilewater.job.schema import JOB_FILE, JUDGEMENTS, JobFile, asks, trace_key
from tilewater.job.tables import Table

# key in the file -> the field whose value it takes when it is not given
SAME_WHEN_ABSENT = {("drainage", "conductivity_above"): ("drainage", "conductivity")}

# What the end of a key says about its value; the first that fits is taken.
_ENDINGS = (
    ("_g_per_m3_day", "rate", "g/m3/day"),
    ("_mg_per_l", "concentration", "mg/L"),
    ("_kg_per_m3", "density", "kg/m3"),
    ("_kg_per_year", "load", "kg/yr"),
    ("_usd_per_year", "yearly_cost", "USD/yr"),
    ("_usd_per_kg", "unit_price", "USD/kg"),
    ("_m3_s", "flow", "m3/s"),
    ("_m_s", "depth_rate", "m/s"),
    ("_m2", "plan_area", "m2"),
    ("_m3", "volume", "m3"),
    ("_mm", "depth", "mm"),
    ("_in", "size", "in"),
    ("_m", "elevation", "m"),
    ("_h", "time", "h"),
    ("_s", "time", "s"),
    ("_days", "days", "days"),
    ("_years", "years", "years"),
    ("_c", "temperature", "degC"),
    ("_kg", "mass", "kg"),
    ("_usd", "money", "USD"),
    ("_pa", "pressure", "Pa"),
)


_PARTS = {
    "confirm": ("row", "by", "date", "edition"),
    "overrule": ("key", "value", "by", "date", "reason"),
    "assume": ("key", "value", "by", "date", "reason"),
}


@dataclass(frozen=True)
class Document:
    """A job file as read: its data, the lines of its keys, what its reading depends on."""

    data: Mapping[str, Any]
    lines: dict[Path, int]
    setting: Setting

    def origin(self, path: tuple[str, ...], note: str = "") -> Origin:
        """Where a value stands; the text is as typed."""
        return Origin(JOB_FILE, nearest_line(self.lines, path), _as_typed(self.at(path)), note=note)

    def fault(self, path: tuple[str, ...], message: str) -> Fault:
        """A fault at a key, or at the nearest table above it."""
        return Fault(JOB_FILE, nearest_line(self.lines, path), ".".join(path), message)

    def at(self, path: tuple[str, ...]) -> Any:
        """Value at a path, or None."""
        value: Any = self.data
        for key in path:
            if not isinstance(value, Mapping) or key not in value:
                return None
            value = value[key]
        return value


@dataclass(frozen=True)
class Judgements:
    """What the engineer put in the place of computed and of unknown values."""

    overrules: tuple[Overrule, ...] = ()
    assumptions: tuple[Assumption, ...] = ()
    notes: tuple[Finding, ...] = ()
    faults: tuple[Fault, ...] = ()


def givens(
    file: JobFile, document: Document, *, left_out: tuple[tuple[str, ...], ...] = ()
) -> tuple[Given, ...]:
    """Every input of the job in the order of the schema, with origin and key of the trace.

    Parts that the file leaves out and need not have are none.
    """
    found = {
        path: Given(trace_key(path, ask), value, ask.unit, title, _origin(document, path, ask))
        for path, ask, title, value in _values(file, ())
        if not any(path[: len(part)] == part for part in left_out)
    }
    for path, source in SAME_WHEN_ABSENT.items():
        if document.at(path) is None:
            note = f"not given; taken as {found[source].title.lower()}"
            origin = replace(found[source].origin, note=note)
            found[path] = replace(found[path], value=found[source].value, origin=origin)
    return tuple(found.values())


def judgements(document: Document) -> Judgements:
    """Overrules and assumptions of a document, whatever faults it has elsewhere."""
    overrules: list[Overrule] = []
    assumptions: list[Assumption] = []
    notes: list[Finding] = []
    faults: list[Fault] = []
    for sort, name, entry in _entries(document):
        path = (sort, name)
        try:
            if _is_open(sort, entry):
                notes.append(_not_whole(document, path))
            elif sort == "overrule":
                overrules.append(_overrule(document, path, entry))
            elif sort == "assume":
                at, ask = _input_at(document, str(entry["key"]))
                assumptions += _assumptions(document, path, entry, at, ask)
                if not _is_unknown_in(document, at, ask):
                    notes.append(_not_needed(document, path, at))
        except _WrongKey as wrong:
            faults.append(document.fault((*path, "key"), f"{sort}.{name}.key: {wrong}"))
        except (Wrong, UnitMismatch) as wrong:
            faults.append(document.fault((*path, "value"), f"{sort}.{name}.value: {wrong}"))
    return Judgements(tuple(overrules), tuple(assumptions), tuple(notes), tuple(faults))


def value_of_key(key: str, raw: Any, setting: Setting) -> Any:
    """Value typed for a key of the trace, in the unit that the key ends with.

    A key without a unit takes a number, a share or a word.
    """
    text = str(raw)
    for ending, kind, unit in _ENDINGS:
        if key.endswith(ending):
            if kind == "depth_rate" and "conductivity" in key:
                kind = "media_conductivity"  # only the wording of messages depends on it
            value = parse_quantity(text, kind, foot=setting.foot)
            return from_si(value, unit) if unit in ("mm", "in", "h") else value
    if isinstance(raw, (bool, int, float)):
        return raw
    if text.lstrip("+-.")[:1].isdigit():
        return parse_quantity(text, "ratio", bare=True)
    return text


class _WrongKey(Exception):
    """The key of a judgement names nothing that it could stand for."""


def _values(
    table: Table, above: tuple[str, ...]
) -> Iterator[tuple[tuple[str, ...], Ask, str, Any]]:
    for member in type(table).members():
        path = (*above, member.key)
        value = getattr(table, member.attribute)
        if member.ask is not None:
            if value is not None:
                yield path, member.ask, _title(path, member.ask), value
        elif path[0] in JUDGEMENTS:
            continue
        elif member.is_named:
            for name, named in value.items():
                yield from _values(named, (*path, name))
        else:
            yield from _values(value, path)


def _title(path: tuple[str, ...], ask: Ask) -> str:
    """Title of an input; members of a group, and the two structures, say which they are."""
    return f"{ask.title}, {path[-2]}" if len(path) > 2 else ask.title


def _origin(document: Document, path: tuple[str, ...], ask: Ask) -> Origin:
    if document.at(path) is not None:
        return document.origin(path)
    if ask.default:
        return Origin(text=ask.default, source=ask.source)
    return Origin(JOB_FILE, note="not given")


def _as_typed(raw: Any) -> str:
    return ", ".join(map(_as_typed, raw)) if isinstance(raw, list) else str(raw)


def _entries(document: Document) -> Iterator[tuple[str, str, Mapping[str, Any]]]:
    for sort in JUDGEMENTS:
        tables = document.data.get(sort)
        for name, entry in tables.items() if isinstance(tables, Mapping) else ():
            if isinstance(entry, Mapping):
                yield sort, name, entry


def _is_open(sort: str, entry: Mapping[str, Any]) -> bool:
    parts = (str(entry.get(part, UNKNOWN)).strip().casefold() for part in _PARTS[sort])
    return any(part in ("", UNKNOWN) for part in parts)


def _overrule(document: Document, path: tuple[str, ...], entry: Mapping[str, Any]) -> Overrule:
    key = _computed_key(str(entry["key"]))
    value = value_of_key(key, entry["value"], document.setting)
    by, date, reason = _signed(entry)
    return Overrule(key, value, by, date, reason, document.origin((*path, "value")))


def _assumptions(
    document: Document,
    path: tuple[str, ...],
    entry: Mapping[str, Any],
    at: tuple[str, ...],
    ask: Ask,
) -> list[Assumption]:
    """The assumption, and the same for each field that takes this one's value when absent."""
    value = ask.read(entry["value"], document.setting)
    by, date, reason = _signed(entry)
    origin = document.origin((*path, "value"))
    copies = [
        key for key, source in SAME_WHEN_ABSENT.items() if source == at and document.at(key) is None
    ]
    return [
        Assumption(trace_key(key, ask), value, by, date, reason, origin) for key in (at, *copies)
    ]


def _signed(entry: Mapping[str, Any]) -> tuple[str, str, str]:
    return str(entry["by"]), str(entry["date"]), str(entry["reason"])


def _computed_key(key: str) -> str:
    if key.startswith("inputs."):
        raise _WrongKey(
            f"'{key}' is an input. Correct it where it is given; an unknown one can be assumed."
        )
    return key


def _input_at(document: Document, key: str) -> tuple[tuple[str, ...], Ask]:
    """The field that a key names, as written in the file or as in the trace."""
    known: dict[str, tuple[tuple[str, ...], Ask]] = {}
    for path, _, ask in asks(JobFile, document.data):
        if path[0] not in JUDGEMENTS and (ask.need != "leave" or document.at(path) is not None):
            known[".".join(path)] = known[trace_key(path, ask)] = (path, ask)
    if key not in known:
        names = [name for name in known if not name.startswith("inputs.")]
        raise _WrongKey(
            f"no input called '{key}'. Write it as in this file, table and key, like "
            f"drainage.conductivity.{did_you_mean(key, names)}"
        )
    return known[key]


def _is_unknown_in(document: Document, path: tuple[str, ...], ask: Ask) -> bool:
    raw = document.at(path)
    if raw is None:
        return not ask.default
    return isinstance(raw, str) and raw.strip().casefold() == UNKNOWN


def _not_whole(document: Document, path: tuple[str, ...]) -> Finding:
    name, line = ".".join(path), nearest_line(document.lines, path)
    *first, last = _PARTS[path[0]]
    return Finding(
        "judgement-not-whole",
        "caution",
        name,
        f"{JOB_FILE} line {line}: {name} is not applied, since a part of it is unknown. "
        f"It needs {', '.join(first)} and {last}.",
    )


def _not_needed(document: Document, path: tuple[str, ...], at: tuple[str, ...]) -> Finding:
    name, known = ".".join(path), ".".join(at)
    line = nearest_line(document.lines, path)
    return Finding(
        "assumption-not-needed",
        "note",
        name,
        f"{JOB_FILE} line {line}: {name} is not used, since {known} is given. Remove one of them.",
    )
