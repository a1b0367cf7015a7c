# SPDX-License-Identifier: Apache-2.0
"""Bids for tests: the built farm bid on a day, and changes of its folder."""

import shutil
from datetime import date
from functools import cache
from pathlib import Path

from tilewater.tasks.bidding import Bidding, bid_job
from tools.package import ROOT

BUILT = ROOT / "examples" / "corbel-built"
DAY = date(2027, 3, 1)


@cache
def built_farm() -> Bidding:
    """The bid of the built farm as its example has it."""
    return bid_job(BUILT, DAY)


def folder_with(root: Path, **texts: tuple[str, str]) -> Path:
    """A copy of the built farm in which some files have one text in place of another.

    Files are named as arguments: `job__toml` is `job.toml`, `bids_alder__csv` is `bids/alder.csv`.
    """
    folder = root / "job"
    skipped = shutil.ignore_patterns("results", "issued")
    shutil.copytree(BUILT, folder, ignore=skipped)
    for name, (old, new) in texts.items():
        file = folder / name.replace("__", ".").replace("_", "/", name.startswith("bids_"))
        text = file.read_text(encoding="utf-8")
        assert old in text, (file, old)
        file.write_text(text.replace(old, new, 1), encoding="utf-8")
    return folder
