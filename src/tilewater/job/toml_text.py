# SPDX-License-Identifier: Apache-2.0
"""The tables of a TOML text that may come from anybody: read in bounded time, or refused.

A job file has tables in tables, three deep, and some hundred values. What is far beyond that is no
job file, and reading it would only take time: it is refused with words, as a misspelt one is.
"""

import re
import tomllib
from collections.abc import Mapping
from typing import Any

MOST_BYTES = 1024 * 1024
MOST_VALUES = 5000
DEEPEST = 16

# Possessive, so that no text makes it go back and try again.
_LONG_KEY = re.compile(rf"""(?<![\w-])(?:["'\w-]++[ \t]*+\.[ \t]*+){{{2 * DEEPEST}}}""")


def tables_of(text: str) -> dict[str, Any]:
    """Tables and values of a TOML text, a byte order mark left out.

    Raises
    ------
    tomllib.TOMLDecodeError
        If it is no TOML, or far more than a job file is.
    """
    if len(text) > MOST_BYTES:
        raise tomllib.TOMLDecodeError(f"It holds more than {MOST_BYTES:,} letters")
    if _LONG_KEY.search(text):
        raise tomllib.TOMLDecodeError(f"A key goes more than {DEEPEST} tables deep")
    try:
        data = tomllib.loads(text.removeprefix("\ufeff"))
    except RecursionError:
        raise tomllib.TOMLDecodeError(f"A list or table is more than {DEEPEST} deep") from None
    except tomllib.TOMLDecodeError:
        raise
    except ValueError:  # whole numbers of thousands of digits
        raise tomllib.TOMLDecodeError("A number has too many digits") from None
    _refuse_vast(data)
    return data


def _refuse_vast(data: Mapping[str, Any]) -> None:
    level: list[Any] = [data]
    values = 0
    for _ in range(DEEPEST):
        level = [inner for each in level for inner in _inside(each)]
        if not level:
            return
        values += len(level)
        if values > MOST_VALUES:
            raise tomllib.TOMLDecodeError(f"It holds more than {MOST_VALUES:,} values")
    raise tomllib.TOMLDecodeError(f"A list or table is more than {DEEPEST} deep")


def _inside(value: Any) -> list[Any]:
    if isinstance(value, Mapping):
        return list(value.values())
    return value if isinstance(value, list) else []
