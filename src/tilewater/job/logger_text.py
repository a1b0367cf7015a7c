# SPDX-License-Identifier: Apache-2.0
"""The table in a file of a logger: letters, separator, heading, and the rows with their lines.

Loggers write lines about themselves above the readings, in the letters and with the separator of
the computer that read them out. The table is found by its rows: lines that hold a date and have
all one number of cells. What the cells mean is for `logger_times` and `logger_values`.
"""

import csv
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.job.rows import LONGEST_LINE, MOST_BYTES

SEPARATORS = {"\t": "tab", ";": "semicolon", "|": "bar", ",": "comma", " ": "space"}
"""What may stand between cells, the likelier first where several fit; a comma is in numbers too."""
SAMPLE = 60
"""Lines by which the separator is told."""
AGREE = 0.8
"""Share of them that have one number of cells."""
IN_A_ROW = 3
"""Rows that follow each other below a heading."""
LAST_WORDS = 5
"""Lines without a date that may end a file."""
DATE = re.compile(r"\d{1,4}[-/.]\d{1,2}[-/.]\d{1,4}|\d{1,2}[-/. ][A-Za-z]{3,9}[-/. ,]+\d{2,4}")
_NUMBER = re.compile(r"[-+]?(\d+[.,]?\d*|[.,]\d+)([eE][-+]?\d+)?")
BYTE_MARKS = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))


@dataclass(frozen=True)
class LoggerTable:
    """The rows of a file.

    Attributes
    ----------
    file : str
    heads : tuple of str
        Headings, a unit below them taken in; made of numbers where there are none.
    head_line : int or None
        Line of the heading.
    columns : tuple of list of str
        Cells of each column, in the order of the file.
    lines : list of int
        Line of each row.
    separator : str
    told : tuple of str
        What was made of the file, in sentences.
    """

    file: str
    heads: tuple[str, ...]
    head_line: int | None
    columns: tuple[list[str], ...]
    lines: list[int]
    separator: str
    told: tuple[str, ...]

    def column(self, number: int) -> list[str]:
        """Cells of a column, in the order of the file."""
        return self.columns[number]

    def row(self, number: int) -> list[str]:
        """Cells of a row, counted from 0."""
        return [column[number] for column in self.columns]

    def fault(self, line: int | None, where: str, message: str) -> BadInputFile:
        """A fault of this file."""
        return BadInputFile(Fault(self.file, line, where, message))


def read_table(path: Path) -> LoggerTable:
    """The rows of a file of a logger or of a laboratory.

    Parameters
    ----------
    path : Path
        The file.

    Returns
    -------
    LoggerTable
        Heading and rows.

    Raises
    ------
    BadInputFile
        If it cannot be read, is no text or holds no table.
    """
    text, told = _text(path)
    return table_of(text, path.name, told)


def table_of(text: str, file: str, told: tuple[str, ...] = ()) -> LoggerTable:
    """The rows of a text; see `read_table`."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    for number, line in enumerate(lines, start=1):
        if len(line) > LONGEST_LINE:
            message = f"the line is longer than {LONGEST_LINE:,} letters. Export the file again."
            raise BadInputFile(Fault(file, number, "", message))
    dated = _sample(lines)
    if not dated:
        message = (
            "no line holds a date. A logger's file has one row for each reading, with its date "
            "and time. Export the readings as text with times."
        )
        raise BadInputFile(Fault(file, None, "", message))
    return _found(lines, file, _shape(dated, file), told)


def name_and_unit(head: str) -> tuple[str, str]:
    """A heading in its name and what stands in brackets, or behind a comma, as its unit."""
    match = re.search(r"[\[(](?P<unit>[^\])]*)[\])]", head)
    if match is not None:
        return head[: match.start()].strip(" ,;:_"), match["unit"].strip()
    name, comma, rest = head.partition(",")
    return (name.strip(), rest.strip()) if comma else (head.strip(), "")


def _text(path: Path) -> tuple[str, tuple[str, ...]]:
    try:
        if path.stat().st_size > MOST_BYTES:
            message = f"it is larger than {MOST_BYTES // 2**20} MB. Take the years you need of it."
            raise BadInputFile(Fault(path.name, None, "", message))
        content = path.read_bytes()
    except OSError:
        message = (
            "it cannot be read. Put the file into the job folder, or correct its name in job.toml."
        )
        raise BadInputFile(Fault(path.name, None, "", message)) from None
    try:
        text, told = _decoded(content)
    except UnicodeDecodeError:
        text, told = "\x00", ()
    if "\x00" in text:
        message = "it is not text. Read the logger out again, or export its readings as CSV."
        raise BadInputFile(Fault(path.name, None, "", message))
    return text, told


def _decoded(content: bytes) -> tuple[str, tuple[str, ...]]:
    for mark, encoding in BYTE_MARKS:
        if content.startswith(mark):
            return content.decode(encoding), ()
    try:
        return content.decode("utf-8"), ()
    except UnicodeDecodeError:
        told = "Its letters are those of an older computer (Windows-1252), and are read so."
        return content.decode("cp1252", errors="replace"), (told,)


def _cells(line: str, separator: str) -> list[str]:
    if separator == " ":
        return line.split()
    if '"' not in line:
        return [cell.strip() for cell in line.split(separator)]
    try:
        rows = list(csv.reader([line], delimiter=separator, skipinitialspace=True))
    except csv.Error:
        return [line]
    return [cell.strip() for cell in rows[0]] if rows else []


def _sample(lines: Sequence[str]) -> list[str]:
    """Lines with a date around the middle of a file; of all of it where those are few."""
    middle = len(lines) // 2
    near = [line for line in lines[max(0, middle - SAMPLE) : middle + SAMPLE] if DATE.search(line)]
    if len(near) >= SAMPLE:
        return near
    dated = [line for line in lines if DATE.search(line)]
    start = max(0, len(dated) // 2 - SAMPLE // 2)
    return dated[start : start + SAMPLE]


@dataclass(frozen=True)
class _Shape:
    """What the rows of a file have in common: separator, cells, and which cell is the date."""

    separator: str
    width: int
    dated: int

    def is_row(self, cells: list[str]) -> bool:
        return len(cells) >= self.width and DATE.match(cells[self.dated]) is not None


def _shape(sample: Sequence[str], file: str) -> _Shape:
    for separator in SEPARATORS:
        rows = [_cells(line, separator) for line in sample]
        width, times = Counter(map(len, rows)).most_common(1)[0]
        least = 3 if separator == " " else 2
        if width < least or times < AGREE * len(sample):
            continue
        places = Counter(
            i for row in rows if len(row) == width for i, cell in enumerate(row) if DATE.match(cell)
        )
        if places:
            return _Shape(separator, width, min(places, key=lambda i: (-places[i], i)))
    message = (
        "its rows have no number of cells in common. Cells are parted by a comma, a semicolon, a "
        "tab or a bar all through, and decimals by a comma only where cells are not. Export it "
        "again as CSV."
    )
    raise BadInputFile(Fault(file, None, "", message))


def _found(lines: list[str], file: str, shape: _Shape, told: tuple[str, ...]) -> LoggerTable:
    numbers = [number for number, line in enumerate(lines, start=1) if line.strip()]
    filled = [lines[number - 1] for number in numbers]
    at = _first_row(filled, shape)
    if at is None:
        line = next(n for n, text in zip(numbers, filled, strict=True) if DATE.search(text))
        message = f"there are no {IN_A_ROW} rows that follow each other from here on. Add rows."
        raise BadInputFile(Fault(file, line, "", message))
    above = [_cells(text, shape.separator) for text in filled[max(0, at - 2) : at]]
    heads, up = _heads(above, shape.width)
    head_line = numbers[at - up] if up else None
    body = _Body(filled[at:], numbers[at:], shape, heads, file)
    columns, kept, repeats = _columns_of(body)
    more = list(told)
    if head_line is None:
        more.append("It has no heading; columns are counted from 1.")
    elif head_line > 1:
        more.append(f"Its heading is line {head_line}; {head_line - 1} lines stand above it.")
    if repeats:
        more.append(f"Its heading comes {repeats} more times and is left out there.")
    return LoggerTable(file, heads, head_line, columns, kept, shape.separator, tuple(more))


@dataclass(frozen=True)
class _Body:
    """Lines from the first row on, with their numbers."""

    lines: list[str]
    numbers: list[int]
    shape: _Shape
    heads: tuple[str, ...]
    file: str


def _first_row(lines: list[str], shape: _Shape) -> int | None:
    """Where rows begin: below a heading, or where they follow each other."""
    for i, line in enumerate(lines):
        if not DATE.search(line) or not shape.is_row(_cells(line, shape.separator)):
            continue
        above = _cells(lines[i - 1], shape.separator) if i else []
        ahead = [_cells(each, shape.separator) for each in lines[i : i + IN_A_ROW]]
        if _is_heading(above, shape.width) or all(map(shape.is_row, ahead)):
            return i
    return None


def _is_text(cell: str) -> bool:
    return bool(cell) and _NUMBER.fullmatch(cell) is None and DATE.match(cell) is None


def _heads(above: list[list[str]], width: int) -> tuple[tuple[str, ...], int]:
    """Headings from the two lines above the rows, and how many lines above them they stand."""
    numbered = tuple(str(number) for number in range(1, width + 1))
    if not above or not _is_heading(above[-1], width):
        return numbered, 0
    heads, up = above[-1], 1
    if len(above) > 1 and _is_heading(above[-2], width) and _are_units(heads):
        units = (*heads, *[""] * width)
        heads, up = (
            [
                f"{name} [{unit.strip('[]()')}]" if unit else name
                for name, unit in zip(above[-2], units, strict=False)
            ],
            2,
        )
    return tuple(head or str(place) for place, head in enumerate(heads, start=1)), up


def _is_heading(cells: list[str], width: int) -> bool:
    texts = [cell for cell in cells if cell]
    return len(cells) >= width - 1 and len(texts) >= 2 and all(map(_is_text, texts))


def _are_units(cells: list[str]) -> bool:
    """Whether a line below the names holds only units: short, and none names a time."""
    words = [cell.strip("[]() ").casefold() for cell in cells if cell]
    return bool(words) and all(word in _UNIT_WORDS or _is_pattern(word) for word in words)


def _is_pattern(word: str) -> bool:
    """Whether a word shows how a date or time is written, such as `yyyy-mm-dd hh:mm`."""
    return re.fullmatch(r"[ymdhs]{1,4}([-/.: ]+[ymdhs]{1,4})+", word) is not None


_UNIT_WORDS = frozenset(
    """ft m in mm cm kpa pa hpa mbar bar psi c °c degc f °f degf us/cm ms/cm s/m µs/cm cfs gpm l/s
    m3/s mg/l ug/l - cmh2o""".split()  # noqa: SIM905 - lines read better than forty quoted words
)


_Columns = tuple[tuple[list[str], ...], list[int], int]


def _columns_of(body: _Body) -> _Columns:
    """Cells by column, the line of each row, and how often the heading comes again."""
    return _at_once(body) or _line_by_line(body)


def _at_once(body: _Body) -> _Columns | None:
    """The same where every line is a plain row; None where one is not.

    A year of readings is thousands of lines: they are parted together, not one by one.
    """
    most, mark = len(body.heads), body.shape.separator
    if mark == " " or any('"' in line or line.count(mark) != most - 1 for line in body.lines):
        return None
    cells = mark.join(body.lines).split(mark)
    columns = tuple([cell.strip() for cell in cells[i::most]] for i in range(most))
    if not all(map(DATE.match, columns[body.shape.dated])):
        return None
    return columns, body.numbers, 0


def _line_by_line(body: _Body) -> _Columns:
    rows: list[list[str]] = []
    lines: list[int] = []
    wrong: list[tuple[int, str]] = []
    undated: list[tuple[int, str]] = []
    repeats, most, dated = 0, len(body.heads), body.shape.dated
    for number, line in zip(body.numbers, body.lines, strict=True):
        each = _cells(line, body.shape.separator)
        if line.count('"') % 2:
            wrong.append((number, "a double quote is not closed. Close it or take it out."))
        elif len(each) > dated and DATE.match(each[dated]):
            if any(each[most:]):
                wrong.append((number, _too_many(each, body.heads)))
                continue
            rows.append([*each[:most], *[""] * (most - len(each))])
            lines.append(number)
        elif _is_heading(each, most):
            repeats += 1
            # lines about the instrument stand above the heading of a second file put behind
            undated = [fault for fault in undated if lines and fault[0] < lines[-1]]
        elif not line.lstrip().startswith("#"):
            undated.append((number, "it holds no date. Correct it or take it out."))
    ends = [fault for fault in undated if not lines or fault[0] > lines[-1]]
    wrong += undated if len(ends) > LAST_WORDS else undated[: len(undated) - len(ends)]
    if wrong:
        raise BadInputFile(*_faults(sorted(wrong), body.file))
    return tuple(map(list, zip(*rows, strict=True))), lines, repeats


def _too_many(cells: list[str], heads: tuple[str, ...]) -> str:
    return (
        f"the row has {len(cells)} cells below {len(heads)} headings. A comma in a number or text "
        "makes one cell two. Export with semicolons, or with points in numbers."
    )


def _faults(strange: list[tuple[int, str]], file: str) -> Iterator[Fault]:
    for number, message in strange[:IN_A_ROW]:
        yield Fault(file, number, "", message)
    if len(strange) > IN_A_ROW:
        more = f"{len(strange) - IN_A_ROW} more lines below it are so."
        yield Fault(file, strange[IN_A_ROW][0], "", more)
