# SPDX-License-Identifier: Apache-2.0
"""Values of a trace as JSON has them."""

from math import isfinite
from typing import Any

from tilewater.basis.trace import Trace
from tilewater.basis.unknown import Unknown

Record = dict[str, Any]


def plain(trace: Trace, key: str) -> Any:
    """Value behind a key as JSON has it; None where it is not known or not finite."""
    value = trace.value(key)
    if isinstance(value, Unknown):
        return None
    if isinstance(value, float):
        return value if isfinite(value) else None
    if isinstance(value, tuple):
        return [float(item) for item in value]
    return value if isinstance(value, str | int | bool) else float(value)


def plain_value(value: Any) -> Any:
    """A recorded value as JSON has it."""
    return None if isinstance(value, Unknown) else value


def plain_group(trace: Trace, here: str, *names: str) -> Record:
    """Values behind the members of a group that have been computed."""
    return {name: plain(trace, f"{here}.{name}") for name in names if f"{here}.{name}" in trace}
