# SPDX-License-Identifier: Apache-2.0
"""What was measured, as a package for those who paid for it and own it.

Plain tables with the unit in every heading and times in universal time and by the clock of the
site, the files as they were received, what was changed and why, and a page in plain words.
"""

import csv
import io
import json
from collections.abc import Iterator, Mapping, Sequence
from importlib.metadata import version
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tilewater.job.times import Zone, turns, utc_text, zone_of
from tilewater.monitoring.series import (
    EDITED,
    FROZEN,
    GAP_FILLED,
    OUT_OF_WATER,
    SUSPECT,
)
from tilewater.tasks.archive import archive_of
from tilewater.tasks.checking import Checked
from tilewater.tasks.measured import Measured, Measurements
from tilewater.tasks.measuring_inputs import measurements
from tilewater.tasks.packed_files import FolderFiles, files_of_folder

Floats = NDArray[np.float64]

PACKAGE = "data-package.zip"
FLAGS = {
    EDITED: ("edited", "an offset or drift was added, see corrections.csv"),
    FROZEN: ("frozen", "the sensor may have stood in ice"),
    OUT_OF_WATER: ("out of water", "the sensor was dry, or at the end of what it can read"),
    GAP_FILLED: ("filled", "not read: put in between readings"),
    SUSPECT: ("doubted", "kept, but look at it before you lean on it"),
}
HEADS = {
    "stage": "water above sensor [m]",
    "level": "water elevation [m]",
    "temperature": "temperature [degC]",
    "rain": "rain since the row before [m]",
    "conductivity": "conductivity [S/m]",
    "flow": "flow [m3/s]",
    "air pressure": "air pressure [Pa]",
}
NO_LICENCE = "No licence was stated. Ask the owner before you use or pass on these data."


def data_package(
    job: Checked, parts: Mapping[str, Any] | None = None, found: Measurements | None = None
) -> bytes:
    """The package of data of a job.

    Parameters
    ----------
    job : Checked
        A job folder without a fault.
    parts : mapping of str to object or None
        Results to go with it, by name, each as JSON can hold it.
    found : Measurements or None
        What was measured, where it is read already.

    Returns
    -------
    bytes
        A zip file; the same job and results give the same bytes.

    Raises
    ------
    BadInputFile
        With every fault of the files that the job names.
    """
    read = measurements(job) if found is None else found
    zone = read.zone or next((each.zone for each in read.loggers.values()), zone_of("UTC"))
    files = {
        f"data/{name}.csv": _logger_table(each, zone).encode("utf-8")
        for name, each in read.loggers.items()
    }
    if read.lab is not None:
        files["data/samples.csv"] = _samples_table(read, zone).encode("utf-8")
    files["data/corrections.csv"] = _corrections_table(read, zone).encode("utf-8")
    files["data/gaps.csv"] = _gaps_table(read, zone).encode("utf-8")
    for name, record in (parts or {}).items():
        files[f"results/{name}.json"] = _json(record).encode("utf-8")
    received = _as_received(job)
    files |= {f"as-received/{name}": content for name, content in received.files.items()}
    files["README.txt"] = _readme(job, read, zone, sorted(files), received).encode("utf-8")
    return archive_of(files)


def _as_received(job: Checked) -> FolderFiles:
    """Files of loggers and laboratory as they lie in the job folder."""
    keys = ("logger.", "lab.")
    named = {Path(each.name).as_posix() for each in job.sources if each.key.startswith(keys)}
    return files_of_folder(job.folder, only=named)


def local_text(time_s: Floats, zone: Zone) -> list[str]:
    """Times by the clock of a zone with its distance from universal time, as ISO 8601 has them."""
    if time_s.size == 0:
        return []
    ahead = np.full(time_s.size, zone.offset_s(float(time_s[0])))
    for turn in turns(zone, float(time_s[0]), float(time_s[-1])):
        ahead[time_s >= turn.utc_s] = turn.after_s
    marks = {each: _distance(each) for each in np.unique(ahead).tolist()}
    local = utc_text(time_s + ahead)
    return [
        f"{text[:-1]}{marks[a]}" for text, a in zip(local.tolist(), ahead.tolist(), strict=True)
    ]


def _distance(ahead: float) -> str:
    minutes = round(abs(ahead) / 60)
    return f"{'-' if ahead < 0 else '+'}{minutes // 60:02d}:{minutes % 60:02d}"


def flag_words(flag: int) -> str:
    """Marks of a reading in words, parted by semicolons; "" for none."""
    return "; ".join(word for bit, (word, _) in FLAGS.items() if flag & bit)


def head_of(each: Measured) -> str:
    """Heading of what a logger measured."""
    return HEADS["level"] if each.is_elevation else HEADS[each.measures]


def _logger_table(each: Measured, zone: Zone) -> str:
    series = each.series
    digits = "%.6f" if each.measures == "rain" else "%.7g" if each.measures == "flow" else "%.4f"
    shown = ["" if np.isnan(v) else digits % v for v in series.value.tolist()]
    words = {flag: flag_words(flag) for flag in np.unique(series.flag).tolist()}
    rows = zip(
        utc_text(series.time_s).tolist(),
        local_text(series.time_s, zone),
        shown,
        (words[flag] for flag in series.flag.tolist()),
        strict=True,
    )
    head = f"time [UTC],time [local],{head_of(each)},mark"
    return "\n".join((head, *map(",".join, rows), ""))


def _table(heads: Sequence[str], rows: Iterator[Sequence[object]]) -> str:
    held = io.StringIO()
    writer = csv.writer(held, lineterminator="\n")
    writer.writerow(heads)
    writer.writerows(rows)
    return held.getvalue()


def _both(time_s: float, zone: Zone) -> tuple[str, str]:
    at = np.array([time_s])
    return str(utc_text(at)[0]), local_text(at, zone)[0]


def _samples_table(read: Measurements, zone: Zone) -> str:
    heads = (
        "place",
        "time [UTC]",
        "time [local]",
        "start of composite [UTC]",
        "nitrate [mg/L as N]",
        "below detection",
        "limit of detection [mg/L as N]",
        "counted by the laboratory as",
        "mark of the laboratory",
        "second bottle",
        "sample",
        "place of the laboratory",
        "line of the file",
    )
    rows = () if read.lab is None else read.lab.rows
    cells = (
        (
            row.place,
            *_both(row.time_s, zone),
            _both(row.start_s, zone)[0] if row.is_composite else "",
            "" if row.nitrate_mg_per_l is None else f"{row.nitrate_mg_per_l:.4g}",
            "yes" if row.nitrate_mg_per_l is None else "no",
            "" if row.detection_mg_per_l is None else f"{row.detection_mg_per_l:.4g}",
            row.species,
            row.mark,
            "yes" if row.is_duplicate else "no",
            row.sample,
            row.place_words,
            row.line,
        )
        for row in rows
    )
    return _table(heads, (tuple(map(_harmless, row)) for row in cells))


def _harmless(cell: object) -> object:
    """A text that no spreadsheet takes for a formula."""
    is_formula = isinstance(cell, str) and cell[:1] in ("=", "+", "-", "@", "\t")
    return f"'{cell}" if is_formula else cell


def _corrections_table(read: Measurements, zone: Zone) -> str:
    heads = (
        "logger",
        "check",
        "time [UTC]",
        "time [local]",
        "by hand [m]",
        "shown [m]",
        "added [m]",
    )
    return _table(
        heads,
        (
            (
                c.logger,
                c.check,
                *_both(c.time_s, zone),
                *(f"{v:.4f}" for v in (c.read, c.shown, c.added)),
            )
            for each in read.loggers.values()
            for c in each.corrections
        ),
    )


def _gaps_table(read: Measurements, zone: Zone) -> str:
    heads = ("logger", "last before [UTC]", "first behind [UTC]", "hours")
    return _table(
        heads,
        (
            (name, _both(start, zone)[0], _both(end, zone)[0], f"{(end - start) / 3600:.2f}")
            for name, each in read.loggers.items()
            for start, end in each.gaps
        ),
    )


def _json(record: object) -> str:
    return json.dumps(record, indent=1, ensure_ascii=False, sort_keys=True, default=str) + "\n"


def _readme(
    job: Checked, read: Measurements, zone: Zone, names: Sequence[str], received: FolderFiles
) -> str:
    licence = job.value("inputs.monitor.licence")
    lines = [
        job.title,
        "=" * len(job.title),
        "",
        "What was measured at this practice, and what was made of it.",
        "",
        f"Licence: {licence if isinstance(licence, str) else NO_LICENCE}",
        f"Owner of the land: {_word(job, 'inputs.people.owner')}",
        f"Prepared by: {_word(job, 'inputs.job.prepared_by')}",
        f"Made by Tilewater {version('tilewater')}.",
        "",
        "How to read the tables",
        "",
        "  Commas part the cells and points the decimals; letters are UTF-8. The unit stands in",
        "  the heading. Every time is given in universal time (Z) and by the clock of the site",
        f"  ({zone.words}) with its distance from universal time. A blank is no value.",
        "  Nothing was filled in, and no reading was taken out.",
        "",
        "  Marks of a reading:",
        *(f"    {word}: {meaning}" for word, meaning in FLAGS.values()),
        "",
        "Files",
        "",
        *(f"  {line}" for line in _file_lines(read, names)),
        "",
        "  checksums.txt: SHA-256 of each file; sha256sum -c checksums.txt compares them.",
        *(f"  Not in here: {why}" for why in received.left_out),
        "",
        "What was told while the files were read",
        "",
        *(f"  {note.severity}: {note.message}" for note in read.notes),
        "",
    ]
    return "\n".join(lines)


def _file_lines(read: Measurements, names: Sequence[str]) -> Iterator[str]:
    said = {
        "data/samples.csv": "results of the laboratory, as nitrogen",
        "data/corrections.csv": "readings by hand, and what they added to the loggers",
        "data/gaps.csv": "where loggers have no readings",
    }
    for name in names:
        logger = read.loggers.get(name.removeprefix("data/").removesuffix(".csv"))
        if name in said:
            yield f"{name}: {said[name]}"
        elif logger is not None and name.startswith("data/"):
            yield f"{name}: {logger.measures} at the {logger.place}, from {logger.file}"
        elif name.startswith("results/"):
            yield f"{name}: computed from these data; SI, the unit in each name"
        else:
            yield f"{name}: as it was received"


def _word(job: Checked, key: str) -> str:
    value = job.value(key)
    return value if isinstance(value, str) else "not stated"
