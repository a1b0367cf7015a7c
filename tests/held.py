# SPDX-License-Identifier: Apache-2.0
"""Jobs to hold, copied where they may be changed, and edits to try on them."""

import random
from collections.abc import Callable
from pathlib import Path
from shutil import copytree, ignore_patterns

import numpy as np

from tilewater.basis.trace import Trace
from tilewater.job.edits import Edit
from tools.package import ROOT

EXAMPLES = ROOT / "examples"

Draw = Callable[[random.Random], Edit]
EDITS: dict[str, Draw] = {
    "boards.inlet": lambda r: f"{r.randrange(0, 60, 2)} in",
    "boards.outlet": lambda r: f"{r.randrange(0, 40, 2)} in",
    "season.spring.inlet_boards": lambda r: f"{r.randrange(0, 50, 2)} in",
    "season.spring.ditch_stage": lambda r: r.choice(["unknown", "1180.5 ft", "742.0 ft"]),
    "main.diameter": lambda r: f"{r.choice([6, 8, 10, 12])} in",
    "drainage.area": lambda r: f"{r.randrange(5, 200)} acre",
    "site.soil_type": lambda r: r.choice(["B", "C", "unknown"]),
    "bed.length_bottom": lambda r: f"{r.randrange(20, 160)} ft",
    "bed.width_bottom": lambda r: f"{r.randrange(5, 40)} ft",
    "bed.media_depth": lambda r: f"{r.randrange(4, 24) / 4} ft",
    "buffer.width": lambda r: f"{r.randrange(20, 90)} ft",
    "buffer.branches": lambda r: [f"{r.randrange(100, 600)} ft", f"{r.randrange(100, 600)} ft"],
    "nitrate.mean": lambda r: f"{r.randrange(2, 30)} mg/L",
    "money.discount_rate": lambda r: f"{r.randrange(1, 9)} %",
}
"""Edits that move boards, water, sizes and money, by the path of the job file."""


def copied(folder: Path, farm: str = "corbel-farm") -> Path:
    """A bundled job in a folder where it may be changed."""
    job = folder / farm
    copytree(EXAMPLES / farm, job, ignore=ignore_patterns("results"))
    return job


def some_edits(seed: int) -> dict[str, Edit]:
    """One to three edits, always the same for a seed."""
    drawn = random.Random(seed)
    return {key: EDITS[key](drawn) for key in drawn.sample(sorted(EDITS), drawn.randrange(1, 4))}


def differing(first: Trace, second: Trace) -> list[str]:
    """Keys of the steps that are not the same in two traces, to the last digit."""
    keys = dict.fromkeys((*first.steps, *second.steps))
    return [key for key in keys if not _is_same(first.steps.get(key), second.steps.get(key))]


def _is_same(a: object, b: object) -> bool:
    if isinstance(a, np.ndarray):
        return isinstance(b, np.ndarray) and a.dtype == b.dtype and a.tobytes() == b.tobytes()
    if type(a) is not type(b):
        return False
    if isinstance(a, tuple) and isinstance(b, tuple):
        return len(a) == len(b) and all(map(_is_same, a, b))
    fields = getattr(a, "__dataclass_fields__", None)
    if fields is not None:
        return all(_is_same(getattr(a, name), getattr(b, name)) for name in fields)
    return repr(a) == repr(b)
