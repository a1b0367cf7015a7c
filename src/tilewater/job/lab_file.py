# SPDX-License-Identifier: Apache-2.0
"""Nitrate in a file of a laboratory, as nitrogen, with what lies below detection kept as that.

A laboratory may count the nitrogen in nitrate or the whole ion, which is 4.43 times as much: where
neither the file nor the job says which, it is asked. A result below detection is never a zero, and
no number in its place is made up here. Places of the laboratory are mapped to those of the job. A
PDF is not read.
"""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.basis.unit_table import NITROGEN_IN_NITRATE
from tilewater.job.fields import Wrong
from tilewater.job.lab_columns import Columns, columns_of
from tilewater.job.lab_notes import lab_notes
from tilewater.job.lab_rows import LabResults, LabRow
from tilewater.job.logger_text import LoggerTable, read_table
from tilewater.job.logger_times import Place, read_clock
from tilewater.job.rows import plain_number
from tilewater.job.times import Zone, zone_of

NOON = "12:00"
NITROGEN_PER_MOLE = 14.007
"""Grams of nitrogen in a mole of nitrate."""
AS_ION = float(NITROGEN_IN_NITRATE)
UNITS = {
    **dict.fromkeys(("mg/l", "ppm", "g/m3", "mg l-1", "mg/liter"), 1.0),
    **dict.fromkeys(("ug/l", "ppb", "mg/m3"), 1e-3),
}
MOLES = {
    **dict.fromkeys(("umol/l", "um", "umol l-1", "mmol/m3"), NITROGEN_PER_MOLE / 1000),
    **dict.fromkeys(("mmol/l", "mm", "mol/m3"), NITROGEN_PER_MOLE),
}
NOT_DETECTED = frozenset(("nd", "n.d.", "bdl", "b.d.l.", "not detected", "non-detect", "u", "<dl"))
NOTHING = frozenset(("", "na", "n/a", "-", "--", "not analyzed", "not analysed", "ns", "broken"))
_RESULT = re.compile(r"(?P<sign>[<>≤]?)\s*(?P<number>[-+]?[\d.,]+(?:[eE][-+]?\d+)?)\s*(?P<mark>.*)")
MANY = 20


@dataclass(frozen=True)
class LabAsk:
    """What the job says of the file of its laboratory; None where it says nothing.

    Attributes
    ----------
    columns, places : mapping of str to str
        Headings by our names; names of the laboratory by place.
    species, unit, date_order, time_zone : str or None
    detection : float or None
        Limit where the file has none, as N. [mg/L]
    holding : float or None
        Longest time from taking to analysing. [s]
    """

    columns: Mapping[str, str] = field(default_factory=dict)
    places: Mapping[str, str] = field(default_factory=dict)
    species: str | None = None
    unit: str | None = None
    date_order: str | None = None
    time_zone: str | None = None
    detection: float | None = None
    holding: float | None = None


@dataclass
class _Lab:
    """A file that is read, and what is at fault in it."""

    table: LoggerTable
    ask: LabAsk
    columns: Columns
    zone: Zone
    faults: list[Fault] = field(default_factory=list)
    told: list[str] = field(default_factory=list)

    def fault(self, line: int, where: str, message: str) -> None:
        if len(self.faults) < MANY:
            self.faults.append(Fault(self.table.file, line, where, message))


def read_lab(path: Path, ask: LabAsk) -> LabResults:
    """Nitrate of a file of a laboratory.

    Parameters
    ----------
    path : Path
        The file.
    ask : LabAsk
        What the job says of it.

    Returns
    -------
    LabResults
        Results as nitrogen.

    Raises
    ------
    BadInputFile
        With every fault of the file.
    """
    _refuse_pdf(path)
    table = read_table(path)
    lab = _opened(table, ask)
    taken, has_hour = _times(lab, "date", "time")
    start, _ = _times(lab, "start", None)
    end, has_end_hour = _times(lab, "end", None)
    analysed, _ = _times(lab, "analysed", None)
    if taken is None:
        taken, has_hour = end, has_end_hour
    if taken is None:
        raise table.fault(
            table.head_line,
            "date",
            "no column says when samples were taken. Name it, like date = "
            f'"{table.heads[0]}", under [lab.columns].',
        )
    rows = []
    for i in range(len(table.lines)):
        at = end[i] if end is not None and end[i] is not None else taken[i]
        if at is None:
            lab.fault(table.lines[i], "date", "the sample has no date. Write when it was taken.")
            continue
        first = start[i] if start is not None else None
        held = analysed[i] if analysed is not None else None
        row = _row(lab, i, at, at if first is None else first, held)
        if row is not None:
            rows.append(replace(row, has_hour=has_hour[i]))
    if lab.faults:
        raise BadInputFile(*lab.faults)
    kept = _of_one_species(lab, rows)
    _refuse_none(lab, kept)
    return LabResults(table.file, tuple(kept), lab_notes(table, kept, ask.holding, lab.told))


def _refuse_pdf(path: Path) -> None:
    try:
        with path.open("rb") as file:
            is_pdf = file.read(5) == b"%PDF-"
    except OSError:
        return
    if is_pdf:
        message = "a PDF is not read. Ask the laboratory for the results as CSV, or type them."
        raise BadInputFile(Fault(path.name, None, "", message))


def _opened(table: LoggerTable, ask: LabAsk) -> _Lab:
    try:
        columns = columns_of(table, ask.columns)
        if ask.time_zone is None:
            raise Wrong(
                "nothing says in which time zone samples were taken. Write time_zone under "
                '[monitor] or [lab], like "America/Chicago".'
            )
        zone = zone_of(ask.time_zone)
    except Wrong as wrong:
        raise table.fault(table.head_line, "lab", f"lab: {wrong}") from None
    return _Lab(table, ask, columns, zone, told=list(table.told))


_Times = list[float | None]


def _times(lab: _Lab, day: str, hour: str | None) -> tuple[_Times | None, list[bool]]:
    """Times of a column in universal time, noon where it has none of day; None for a blank."""
    at = lab.columns.number(day)
    if at is None:
        return None, []
    cells = lab.table.column(at)
    hours = lab.table.column(lab.columns.number(hour) or 0) if lab.columns.has(hour) else None
    filled = [i for i, cell in enumerate(cells) if cell]
    lines = [lab.table.lines[i] for i in filled]
    days = [cells[i] for i in filled]
    is_timed = [":" in cell for cell in days]
    if hours is not None:
        given = [hours[i] for i in filled]
        is_timed = [bool(hour) for hour in given]
        place = Place(lab.table.file, lines, "lab")
        noon = [hour or NOON for hour in given]
        clock = read_clock(noon, place, dates=days, order=lab.ask.date_order)
    else:
        place = Place(lab.table.file, lines, "lab")
        whole = [cell if ":" in cell else f"{cell} {NOON}" for cell in days]
        clock = read_clock(whole, place, order=lab.ask.date_order)
    lab.told += [words for words in clock.told if words not in lab.told]
    found: _Times = [None] * len(cells)
    has_hour = [False] * len(cells)
    for i, local, timed in zip(filled, clock.local_s, is_timed, strict=True):
        found[i] = lab.zone.utc_of_seconds(float(local))
        has_hour[i] = timed
    return found, has_hour


def _row(lab: _Lab, i: int, at: float, start: float, analysed: float | None) -> LabRow | None:
    table, columns = lab.table, lab.columns
    cell: Callable[[str], str] = lambda name: columns.cell(table.row(i), name)  # noqa: E731
    line, words = table.lines[i], cell("place")
    if not _is_nitrate(cell("analyte"), cell("result"), columns.has("analyte")):
        return None
    species = _species(lab, line, cell)
    factor = None if species is None else _factor(lab, line, cell, species)
    read = _result(lab, line, cell)
    if species is None or factor is None or read is None:
        return None
    value, limit, mark = read
    if value is None and limit is None:
        if lab.ask.detection is None:
            lab.fault(
                line,
                "result",
                f"'{cell('result') or mark}' is below a limit that is not given. Write detection, "
                'like "0.05 mg/L", under [lab], or the limit in the file.',
            )
            return None
        limit_n: float | None = lab.ask.detection
    else:
        limit_n = None if limit is None else limit * factor
    if start > at:
        lab.fault(line, "start", "the composite starts after its end. Correct one of them.")
    place, is_duplicate = _place(lab, words, cell("sample"), cell("remark"))
    return LabRow(
        line,
        cell("sample"),
        words,
        place,
        at,
        start,
        None if value is None else value * factor,
        limit_n,
        species,
        mark,
        is_duplicate,
        None if analysed is None else analysed - at,
        True,
    )


def _is_nitrate(analyte: str, result: str, has_analyte: bool) -> bool:
    if result.casefold() in NOTHING and not has_analyte:
        return True
    words = analyte.casefold()
    if not has_analyte:
        return True
    is_organic = "organic" in words and "inorganic" not in words
    if "total" in words or "mixed" in words or is_organic:
        return False
    return "nitrate" in words or "no3" in words or "nox" in words


def _species(lab: _Lab, line: int, cell: Callable[[str], str]) -> str | None:
    """What a row counts, in the words of the job file."""
    own = " ".join((cell("analyte"), cell("species"), cell("unit"), lab.columns.head("result")))
    words = own.casefold()
    if any(said in words for said in ("nitrite", "no2", "nox")):
        return "nitrate and nitrite as N"
    said = _counted(words)
    if said is None:
        said = lab.ask.species
    if said is None and _is_molar(cell("unit") or lab.ask.unit or lab.columns.unit):
        said = "nitrate as N"
    if said is None:
        lab.fault(
            line,
            "species",
            "nothing says whether nitrate is counted as nitrogen or as the ion, which is 4.43 "
            'times as much. Ask the laboratory, then write species = "nitrate as N" or '
            '"nitrate as ion" under [lab].',
        )
    return said


def _counted(words: str) -> str | None:
    if re.search(r"as no3\b|as nitrate\b|as (the )?ion\b", words):
        return "nitrate as ion"
    if re.search(
        r"\bas n\b|as nitrogen|no3[-\s_]*n\b|nitrate[-\s]n\b|-n\b|\(n\)|mg n|\bn/l", words
    ):
        return "nitrate as N"
    return None


def _is_molar(unit: str) -> bool:
    return _plain(unit) in MOLES


def _plain(unit: str) -> str:
    words = unit.casefold().replace("µ", "u").replace("μ", "u")
    words = re.sub(r"\s*(as n(o3|itrogen|itrate)?|no3-?n|n)\s*$", "", words)
    return words.replace("mg n/l", "mg/l").strip()


def _factor(lab: _Lab, line: int, cell: Callable[[str], str], species: str) -> float | None:
    unit = cell("unit") or lab.ask.unit or lab.columns.unit
    plain = _plain(unit)
    if plain in MOLES:
        return MOLES[plain]
    if plain in UNITS:
        return UNITS[plain] * (AS_ION if species == "nitrate as ion" else 1.0)
    said = f"'{unit}' is no unit of a concentration that is known" if unit else "it has no unit"
    lab.fault(line, "unit", f"{said}. Write mg/L, ug/L or umol/L, or unit under [lab].")
    return None


_Read = tuple[float | None, float | None, str]


def _result(lab: _Lab, line: int, cell: Callable[[str], str]) -> _Read | None:
    """Value, limit and mark of a cell; None where nothing was analysed or it is at fault."""
    text, mark = cell("result"), cell("qualifier")
    stated = plain_number(cell("detection").lstrip("<"))
    condition = cell("condition").casefold()
    if text.casefold() in NOT_DETECTED or (not text and condition in NOT_DETECTED):
        return None, stated, mark or text
    if text.casefold() in NOTHING:
        if not mark or mark.casefold() not in NOT_DETECTED:
            return None
        return None, stated, mark
    match = _RESULT.fullmatch(text)
    value = None if match is None else plain_number(_point(match["number"]))
    if match is None or value is None:
        lab.fault(line, "result", f"'{text}' is no result. Write it like 12.6, <0.05 or ND.")
        return None
    if value < 0:
        lab.fault(line, "result", f"'{text}' is below zero. Write < and the limit of detection.")
        return None
    mark = mark or match["mark"].strip(" ()*,")
    if match["sign"] in ("<", "≤") or mark.casefold() in NOT_DETECTED:
        return None, value, mark
    if match["sign"] == ">":
        mark = f"> {mark}".strip()
    return value, stated, mark


def _point(number: str) -> str:
    return number.replace(",", ".") if "," in number and "." not in number else number


def _place(lab: _Lab, words: str, sample: str, remark: str) -> tuple[str, bool]:
    """Place of the job that a laboratory means, and whether the sample doubles another."""
    said = f"{words} {sample} {remark}".casefold()
    is_duplicate = re.search(r"\bdup(licate)?\b|[-_ ]dup?$|[-_ ]d$", said.strip()) is not None
    plain = re.sub(r"[-_ ]*(dup(licate)?|d)$", "", words.casefold()).strip()
    own = {name.casefold(): place for place, name in lab.ask.places.items()}
    own |= {place: place for place in ("inlet", "outlet", "bypass", "ditch", "field", "blank")}
    own.setdefault("field blank", "blank")
    place = own.get(words.casefold()) or own.get(plain, "")
    return place, is_duplicate


def _of_one_species(lab: _Lab, rows: Sequence[LabRow]) -> list[LabRow]:
    """Rows of one way to count, where a file has the same sample in several."""
    found = list(dict.fromkeys(row.species for row in rows))
    if len(found) < 2:
        return list(rows)
    wanted = lab.ask.species
    if wanted not in found:
        wanted = "nitrate as N" if "nitrate as N" in found else found[0]
    seen = {(row.place_words, row.time_s) for row in rows if row.species == wanted}
    kept = [r for r in rows if r.species == wanted or (r.place_words, r.time_s) not in seen]
    if len(kept) < len(rows):
        lab.told.append(
            f"Of samples that stand in it in several ways {wanted} is taken; "
            f"{len(rows) - len(kept)} other rows of them are left out."
        )
    return kept


def _refuse_none(lab: _Lab, rows: Sequence[LabRow]) -> None:
    if not rows:
        message = "it holds no result of nitrate. Check which column names what was looked for."
        raise lab.table.fault(lab.table.head_line, "result", message)
    if not any(row.place for row in rows):
        words = ", ".join(f"'{name}'" for name in dict.fromkeys(r.place_words for r in rows))
        message = (
            f"none of its places is one of the job: {words}. Write what the laboratory calls each "
            "under [lab.places], like inlet = "
            f'"{rows[0].place_words}".'
        )
        raise lab.table.fault(rows[0].line, "place", message)
