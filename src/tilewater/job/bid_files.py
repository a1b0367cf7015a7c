# SPDX-License-Identifier: Apache-2.0
"""Rows of a bid as it came back: comma-separated, or a workbook.

What the rows mean is said by `bids`. A workbook is read with values only; no formula of it is run.
"""

from collections.abc import Iterator
from pathlib import Path
from zipfile import BadZipFile, ZipFile

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.job.rows import cells_of, file_text

Grid = tuple[tuple[int, tuple[str, ...]], ...]
"""Line number and cells of every row that holds something."""
LARGEST_BOOK = 20 * 1024 * 1024
"""Bytes of a workbook, unpacked; no bid is larger."""
MOST_ROWS, MOST_COLUMNS = 2000, 60
BOOK = (".xlsx",)


def bid_rows(path: Path) -> Grid:
    """Rows of a bid.

    Parameters
    ----------
    path : Path
        A file that ends with `.csv`, or with `.xlsx`.

    Returns
    -------
    tuple
        Line number and cells of each row.

    Raises
    ------
    BadInputFile
        If the file cannot be read.
    """
    if path.suffix.casefold() in BOOK:
        return tuple(_book_rows(path))
    text = file_text(path)
    return tuple((line, tuple(cells)) for line, cells in cells_of(text, file=path.name))


def _book_rows(path: Path) -> Iterator[tuple[int, tuple[str, ...]]]:
    """Rows of the sheet of a workbook that holds the bid."""
    from openpyxl import load_workbook
    from openpyxl.utils.exceptions import InvalidFileException

    _require_small(path)
    try:
        book = load_workbook(path, read_only=True, data_only=True)
        sheet = book["Bid schedule"] if "Bid schedule" in book.sheetnames else book.worksheets[0]
        rows = sheet.iter_rows(max_row=MOST_ROWS, max_col=MOST_COLUMNS, values_only=True)
        for line, row in enumerate(rows, start=1):
            cells = tuple(_text(value) for value in row)
            if any(cells):
                yield line, cells
    except (InvalidFileException, BadZipFile, KeyError, ValueError, OSError, IndexError):
        raise _no_book(path) from None


def _require_small(path: Path) -> None:
    try:
        with ZipFile(path) as packed:
            size = sum(part.file_size for part in packed.infolist())
    except (BadZipFile, OSError):
        raise _no_book(path) from None
    if size > LARGEST_BOOK:
        message = "the workbook is larger than any bid. Save the sheet of the bid as CSV."
        raise BadInputFile(Fault(path.name, None, "", message))


def _no_book(path: Path) -> BadInputFile:
    message = "it is no workbook that can be read. Save it again as XLSX, or as CSV."
    return BadInputFile(Fault(path.name, None, "", message))


def _text(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, float):
        return f"{value:.6f}".rstrip("0").rstrip(".")
    return str(value).strip()
