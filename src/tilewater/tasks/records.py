# SPDX-License-Identifier: Apache-2.0
"""Result records as files: one JSON text, written and read in the same form."""

import json
from pathlib import Path

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.chain.plain import Record

RECORD = "design.json"
"""Name of the record of a design, in `results` and in an issued copy."""


def record_text(record: Record) -> str:
    """A result record as JSON text; what is not known is null."""
    return json.dumps(record, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def read_record(path: Path | str) -> Record:
    """Read a result record that `design --json` or `design` wrote.

    Raises
    ------
    BadInputFile
        If it cannot be read or is no result record.
    """
    path = Path(path)
    try:
        record = json.loads(path.read_text(encoding="utf-8"))
    except OSError:
        raise _not_a_result(path, "it cannot be read") from None
    except ValueError:
        raise _not_a_result(path, "it is not JSON") from None
    if not isinstance(record, dict) or "verdict" not in record:
        raise _not_a_result(path, "it is no result of a design")
    return record


def _not_a_result(path: Path, what: str) -> BadInputFile:
    message = f"{what}. Name a file written by tilewater design --json, such as results/{RECORD}."
    return BadInputFile(Fault(path.name, None, "", message))
