# SPDX-License-Identifier: Apache-2.0
"""What a form that was sent means: edits of the job file, or what is wrong at which box.

Only boxes that say something else than the file become edits. The name of a box is its path in the
job file; `take-out` names an entry to take out; `unknown` names boxes answered with "not known";
names that begin with `+` belong to an entry that is to be added.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from tilewater.basis.units import System
from tilewater.desk.forms import NEW, ROWS, at
from tilewater.desk.forms_paste import read_rows
from tilewater.desk.forms_typed import edit_of, is_not_known, shown_of
from tilewater.job.edits import Edit
from tilewater.job.fields import UNKNOWN, Ask, Wrong
from tilewater.job.schema import JUDGEMENTS, JobFile, member_at
from tilewater.job.tables import Member

TAKE_OUT = "take-out"
RESERVED = ("version", "units", "question", "number", TAKE_OUT, "unknown")
NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


@dataclass(frozen=True)
class Sent:
    """A form as it was sent.

    Attributes
    ----------
    edits : dict of str to Edit
    faults : dict of str to str
        What is wrong, by path of a box.
    typed : dict of str to str
        What was typed, by path.
    unknown : frozenset of str
    """

    edits: dict[str, Edit] = field(default_factory=dict)
    faults: dict[str, str] = field(default_factory=dict)
    typed: dict[str, str] = field(default_factory=dict)
    unknown: frozenset[str] = frozenset()


def read_form(fields: Iterable[tuple[str, str]], data: Mapping[str, Any], system: System) -> Sent:
    """Edits of a form.

    Parameters
    ----------
    fields : iterable of (name, text)
        As sent; other names than those of boxes are left out.
    data : mapping
        The job file as TOML gives it.
    system : "us" or "si"
        Units in which the form was shown.

    Returns
    -------
    Sent
        Edits, and faults that already the texts have.
    """
    pairs = list(fields)
    remove = [text for name, text in pairs if name == TAKE_OUT and text]
    if remove:
        return Sent(edits=dict.fromkeys(remove))
    unknown = frozenset(text for name, text in pairs if name == "unknown")
    texts = {name: text for name, text in pairs if name not in RESERVED}
    sent = Sent(typed=texts, unknown=unknown)
    for path, text in texts.items():
        if path.startswith(ROWS):
            _read_rows(sent, path.removeprefix(ROWS), text, data, system)
        elif not path.startswith(NEW):
            _read_box(sent, path, text, data, system)
    for group in dict.fromkeys(n[1:].partition(".")[0] for n in texts if n.startswith(NEW)):
        _read_new(sent, group, data, system)
    return sent


def group_of(key: str) -> Member | None:
    """The group of entries under names that a table of the job file is."""
    return next((m for m in JobFile.members() if m.key == key and m.is_named), None)


def _read_rows(sent: Sent, group: str, text: str, data: Mapping[str, Any], system: System) -> None:
    member = group_of(group)
    if member is None or not text.strip():
        return
    pasted = read_rows(member, text, data, system)
    if pasted.told:
        sent.faults[f"{ROWS}{group}"] = pasted.told
        return
    sent.edits.update(pasted.edits)


def _read_box(sent: Sent, path: str, text: str, data: Mapping[str, Any], system: System) -> None:
    member = member_at(tuple(path.split(".")))
    if member is None or member.ask is None:
        sent.faults[path] = f"The job file has no place for '{path}'. Nothing was kept of it."
        return
    raw = at(data, path)
    shown = shown_of(member.ask, raw, system)
    is_same = _plain(text) == _plain(shown.text)
    if path in sent.unknown and (is_same or not text.strip()):
        if not is_not_known(raw):
            sent.edits[path] = UNKNOWN
        return
    if is_same and not is_not_known(raw):
        return
    try:
        edit = edit_of(member.ask, text, shown.unit)
    except Wrong as wrong:
        sent.faults[path] = str(wrong)
        return
    if edit is None and member.is_required():
        if not is_not_known(raw):
            sent.faults[path] = "It is blank. Type a value, or say that it is not known."
        return
    if edit != raw:
        sent.edits[path] = edit


def _read_new(sent: Sent, group: str, data: Mapping[str, Any], system: System) -> None:
    """An entry that is to be added, where anything of it was typed."""
    begin = f"{NEW}{group}"
    member = group_of(group)
    name = sent.typed.get(begin, "").strip()
    inside = {
        path.removeprefix(f"{begin}."): text
        for path, text in sent.typed.items()
        if path.startswith(f"{begin}.")
    }
    ticked = any(path.startswith(f"{begin}.") for path in sent.unknown)
    if member is None or not (name or ticked or any(text.strip() for text in inside.values())):
        return
    fault = _fault_of_name(name, at(data, group))
    if fault:
        sent.faults[begin] = fault
        return
    edits, faults = entry_edits(member, name, inside, sent.unknown, system)
    sent.edits.update(edits)
    sent.faults.update(faults)


def entry_edits(
    member: Member,
    name: str,
    texts: Mapping[str, str],
    unknown: frozenset[str] = frozenset(),
    system: System = "us",
) -> tuple[dict[str, Edit], dict[str, str]]:
    """Edits that add an entry under a name; what must be answered and is not, is not known.

    Parameters
    ----------
    member : Member
        The group.
    name : str
        Name of the entry.
    texts : mapping of str to str
        By key of its fields.
    unknown : frozenset of str
        Paths of boxes answered with "not known".
    system : "us" or "si"
        Units of the reader.

    Returns
    -------
    tuple
        Edits by path of the file; faults by path of the box.
    """
    edits: dict[str, Edit] = {}
    faults: dict[str, str] = {}
    for inner in member.model.members():
        box = f"{NEW}{member.key}.{inner.key}"
        ask = _ask(inner)
        shown = shown_of(ask, None, system)
        try:
            edit = edit_of(ask, texts.get(inner.key, ""), shown.unit)
        except Wrong as wrong:
            faults[box] = str(wrong)
            continue
        if edit is None and inner.is_required() and member.key in JUDGEMENTS:
            faults[box] = "It is blank. A judgement counts only when it is whole."
            continue
        if edit is None and (inner.is_required() or box in unknown):
            edit = UNKNOWN
        if edit is not None:
            edits[f"{member.key}.{name}.{inner.key}"] = edit
    return edits, faults


def _ask(member: Member) -> Ask:
    if member.ask is None:
        raise TypeError(f"{member.key} is a table in an entry, which no form can add")
    return member.ask


def _fault_of_name(name: str, there: Any) -> str:
    if not name:
        return "It has no name. Write small letters, digits and hyphens, like low-1."
    if not NAME.fullmatch(name):
        better = re.sub(r"[^a-z0-9]+", "-", name.casefold()).strip("-") or "low-1"
        return f"'{name}' cannot be a name. Write small letters, digits and hyphens, like {better}."
    if isinstance(there, Mapping) and name in there:
        return f"There is a '{name}' already. Choose another name, or change that one."
    return ""


def _plain(text: str) -> str:
    return " ".join(text.split())
