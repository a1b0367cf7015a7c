# SPDX-License-Identifier: Apache-2.0
"""Point files of a rover, in any order of columns, with or without a header.

Which column holds what is said once in `[survey.columns]` of the job file; nothing is guessed,
since north and east look alike. The foot of the grid and the vertical datum must be stated.
Coordinates are held in metres as 64-bit numbers: read back in the same foot they are the same to
a millionth of a foot. Shots without a fixed position are set aside, a point number used twice is
reported, and neither is dropped.
"""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from statistics import median

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.basis.findings import Finding
from tilewater.basis.unit_table import FOOT, US_SURVEY_FOOT
from tilewater.basis.units import Foot, did_you_mean, to_si
from tilewater.job.rows import cells_of, file_text, plain_number
from tilewater.job.shots import FEET, Shot, duplicates, exchanged, set_aside, strays

NEEDED = ("point", "north", "east", "height")
NUMBERS = ("north", "east", "height")
ALSO = ("note", "fix", "rms")
ROWS_SHOWN = 3
MOST_ROWS = 20_000
SEPARATORS = "\t;,"


@dataclass(frozen=True)
class PointFile:
    """What a point file holds.

    Attributes
    ----------
    file : str
    foot : str
        The foot in which it was written.
    vertical_datum : str
    shots : tuple of Shot
        All shots that are used, in the order of the file.
    set_aside : tuple of Shot
        Shots without a fixed position.
    findings : tuple of Finding
    """

    file: str
    foot: Foot
    vertical_datum: str
    shots: tuple[Shot, ...]
    set_aside: tuple[Shot, ...]
    findings: tuple[Finding, ...]

    def named(self, point: str) -> tuple[Shot, ...]:
        """The shots of a point number; several where it was used twice."""
        return tuple(shot for shot in self.shots if shot.point == point)

    def noted(self, words: str) -> tuple[Shot, ...]:
        """The shots whose note holds these words."""
        return tuple(shot for shot in self.shots if words.casefold() in shot.note.casefold())


@dataclass
class _Reading:
    """A point file on its way in."""

    file: str
    rows: list[tuple[int, list[str]]]
    by_space: bool
    places: dict[str, int] = field(default_factory=dict)
    head: list[str] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)

    def fault(self, line: int | None, where: str, message: str, file: str = "") -> None:
        self.faults.append(Fault(file or self.file, line, where, message))

    def cell(self, cells: list[str], column: str) -> str:
        place = self.places.get(column)
        if place is None or place >= len(cells):
            return ""
        if column == "note" and place == self.last_column():
            return (" " if self.by_space else ", ").join(cells[place:])
        return cells[place]

    def heads(self) -> tuple[str, str] | None:
        """Headers of the columns of north and east, where there is a header."""
        if not self.head:
            return None
        return self.head[self.places["north"]], self.head[self.places["east"]]

    def last_column(self) -> int:
        """Place of the last column, whose text may hold the separator."""
        return len(self.head) - 1 if self.head else max(self.places.values())


def read_points(
    path: Path,
    columns: Mapping[str, str] | None,
    *,
    foot: Foot | None,
    vertical_datum: str | None,
    drop_fix: Collection[str] = ("float",),
    near: tuple[float, float] | None = None,
) -> PointFile:
    """Points of a rover's file.

    Parameters
    ----------
    path : Path
        The file: cells parted by commas, semicolons, tabs or spaces.
    columns : mapping or None
        Header or number (from 1) of the columns `point`, `north`, `east`, `height`, and where there
        are such, `note`, `fix` and `rms`.
    foot : "international foot", "us survey foot" or None
        Foot of the coordinates; None where the job does not state it, which is a fault.
    vertical_datum : str or None
        Datum of the heights; None where the job does not state it, which is a fault.
    drop_fix : collection of str
        Words in the column `fix` whose shots are set aside.
    near : (float, float) or None
        North and east of a known point nearby, to notice swapped columns. [m]

    Returns
    -------
    PointFile
        Shots, shots set aside, and what the engineer must know.

    Raises
    ------
    BadInputFile
        With every fault of the file at once.
    """
    text = file_text(path)
    separator = _separator(text)
    reading = _Reading(path.name, _rows_of(text, separator), by_space=separator is None)
    if not reading.rows:
        reading.fault(None, "", "it holds no point. Export it again.")
    elif len(reading.rows) > MOST_ROWS:
        reading.fault(
            None,
            "",
            f"it holds {len(reading.rows):,} rows; at most {MOST_ROWS:,} are read as shots. "
            "Take the points of this outlet.",
        )
    else:
        _find_columns(reading, {k: v for k, v in (columns or {}).items() if v})
    raw = [] if reading.faults else list(_shots(reading))
    _require_grid(reading, foot, vertical_datum, raw)
    if reading.faults or foot is None or vertical_datum is None:
        raise BadInputFile(*reading.faults)
    shots = [_in_metres(shot, foot) for shot in raw]
    dropped = {word.strip().casefold() for word in drop_fix}
    used = tuple(shot for shot in shots if shot.fix.casefold() not in dropped)
    aside = tuple(shot for shot in shots if shot.fix.casefold() in dropped)
    findings = (
        *set_aside(aside),
        *duplicates(used, foot),
        *exchanged(used, reading.heads(), near),
        *strays(used),
    )
    return PointFile(path.name, foot, vertical_datum, used, aside, findings)


def _separator(text: str) -> str | None:
    first = next((line for line in text.splitlines() if _holds_something(line)), "")
    cells, separator = max((first.count(mark) + 1, mark) for mark in SEPARATORS)
    return separator if cells >= len(NEEDED) else None


def _rows_of(text: str, separator: str | None) -> list[tuple[int, list[str]]]:
    if separator is not None:
        return list(cells_of(text, separator))
    lines = enumerate(text.splitlines(), start=1)
    return [(number, line.split()) for number, line in lines if _holds_something(line)]


def _holds_something(line: str) -> bool:
    return bool(line.strip()) and not line.lstrip().startswith("#")


def _find_columns(reading: _Reading, columns: Mapping[str, str]) -> None:
    missing = [name for name in NEEDED if name not in columns]
    if missing:
        reading.fault(None, "survey.columns", _ask_for(missing, reading.rows))
        return
    head_line, head = reading.rows[0]
    by_number = {name: text for name, text in columns.items() if text.strip().isdigit()}
    reading.places = {name: int(text) - 1 for name, text in by_number.items()}
    known = [cell.casefold() for cell in head]
    for name, text in columns.items():
        if name in by_number or name not in (*NEEDED, *ALSO):
            continue
        if known.count(text.strip().casefold()) == 1:
            reading.places[name] = known.index(text.strip().casefold())
            continue
        shown = " | ".join(head)
        reading.fault(
            head_line,
            f"survey.columns.{name}",
            f"no single column is called '{text}'. Its first row is: {shown}. "
            f"Correct {name} in [survey.columns] of job.toml.{did_you_mean(text, head)}",
        )
    for name, place in reading.places.items():
        # a note that is blank throughout may be missing altogether
        if name == "note" or 0 <= place < len(head):
            continue
        reading.fault(
            head_line,
            f"survey.columns.{name}",
            f"there is no column {columns[name]}; the first row has {len(head)}. "
            f"Correct {name} in [survey.columns] of job.toml.",
        )
    if reading.faults:
        return
    named = len(by_number) < len(columns)
    if named or all(plain_number(reading.cell(head, name)) is None for name in NUMBERS):
        reading.head = head
        reading.rows = reading.rows[1:]


def _ask_for(missing: list[str], rows: list[tuple[int, list[str]]]) -> str:
    begin = "; ".join(f"line {line}: {' | '.join(cells)}" for line, cells in rows[:ROWS_SHOWN])
    *first, last = missing
    which = f"{', '.join(first)} and {last}" if first else last
    return (
        f"it is not said which column holds {which}. The file begins, {begin}. Name the columns in "
        f'[survey.columns] of job.toml by header or by number, like {last} = "2".'
    )


def _shots(reading: _Reading) -> Iterator[Shot]:
    """Shots with coordinates as they stand in the file; what cannot be read becomes a fault."""
    for line, cells in reading.rows:
        values: dict[str, float] = {}
        for name in NUMBERS:
            text = reading.cell(cells, name)
            value = plain_number(text)
            if value is None:
                reading.fault(
                    line,
                    f"survey.columns.{name}",
                    f"{name} '{text}' is not a number. "
                    "Write digits, with a point for decimals and nothing between thousands.",
                )
            else:
                values[name] = value
        point = reading.cell(cells, "point")
        if not point:
            reading.fault(line, "survey.columns.point", "the point has no number. Give it one.")
        if point and len(values) == len(NUMBERS):
            note, fix, rms = (reading.cell(cells, name) for name in ALSO)
            north, east, height = (values[name] for name in NUMBERS)
            yield Shot(point, north, east, height, note, fix, line, rms)


def _require_grid(
    reading: _Reading, foot: Foot | None, vertical_datum: str | None, raw: list[Shot]
) -> None:
    if foot is None:
        message = (
            "the foot of the grid is not stated. "
            'Write foot = "international foot" or "us survey foot".'
        )
        if raw:
            apart = float(US_SURVEY_FOOT / FOOT - 1)
            north, east = (abs(median(getattr(s, c) for s in raw)) * apart for c in NUMBERS[:2])
            message += (
                f" Read in the wrong one, {reading.file} would lie {north:.2f} ft off in north and "
                f"{east:.2f} ft off in east."
            )
        reading.fault(None, "site.foot", message, file="job.toml")
    if vertical_datum is None:
        message = (
            "the vertical datum is not stated. Write vertical_datum, the datum of the benchmark "
            "that the crew checked into."
        )
        reading.fault(None, "site.vertical_datum", message, file="job.toml")


def _in_metres(shot: Shot, foot: Foot) -> Shot:
    unit = FEET[foot]
    return replace(
        shot,
        north=to_si(shot.north, unit),
        east=to_si(shot.east, unit),
        height=to_si(shot.height, unit),
    )
