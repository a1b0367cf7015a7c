# SPDX-License-Identifier: Apache-2.0
"""Stake out a design: points for the rover, the stake list, the ground of the locate request."""

import csv
import io
import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path
from xml.sax.saxutils import escape

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.basis.findings import Finding
from tilewater.basis.units import Foot, from_si, parse_quantity
from tilewater.chain.choosing import design_asked
from tilewater.chain.design import Design, design_practice
from tilewater.chain.plain import Record
from tilewater.chain.practice import Practice
from tilewater.chain.practices import CHOOSE, first_practice, kind_of
from tilewater.chain.stake import add_stakes
from tilewater.chain.stake_record import StakeList, StakePoint, stake_list, stake_record
from tilewater.chain.stake_shift import Shift, Shifted, moved_inputs, shifted
from tilewater.chain.stake_traverse import (
    ClosedTraverse,
    add_traverse,
    closed_traverse,
    traverse_findings,
    traverse_record,
)
from tilewater.documents.scales import foot_of
from tilewater.job.reading import read_job
from tilewater.job.schema import JOB_FILE
from tilewater.job.schema_stake import COLUMNS
from tilewater.job.writing import save_job
from tilewater.tasks.bearing import STAKING, bearing
from tilewater.tasks.checking import Checked, check_job
from tilewater.tasks.records import record_text
from tilewater.tasks.results import FOLDER, Written, hold_folder, write_each
from tilewater.tasks.traversing import add_courses, traverse_file

ROVER, RECORD = "stake-points.csv", "stake.json"
LOCATE_GEOJSON, LOCATE_KML = "locate.geojson", "locate.kml"
COLUMNS_TOLD = "stake-points.txt"
"""Says what stands in the columns of the file for the rover, which may have no heads."""
USUAL = ("point", "north", "east", "height", "note")
BETWEEN = {"comma": ",", "tab": "\t", "semicolon": ";", "space": " "}


@dataclass(frozen=True)
class Staked:
    """A design staked out; nothing is written.

    Attributes
    ----------
    job : Checked
    design : Design
    stakes : StakeList
    record : dict
    shifted : Shifted or None
        What a shift of the works does; None where none was asked.
    traverse : ClosedTraverse or None
        The traverse of the job; None where it lists no course.
    told : tuple of Finding
        What must be known of the traverse.
    """

    job: Checked
    design: Design
    stakes: StakeList
    record: Record
    shifted: Shifted | None = None
    traverse: ClosedTraverse | None = None
    told: tuple[Finding, ...] = ()

    @property
    def notes(self) -> tuple[Finding, ...]:
        """What the engineer must know: of the files read, then of the stakes."""
        return tuple(dict.fromkeys((*self.job.notes, *self.stakes.findings, *self.told)))

    @property
    def own_notes(self) -> tuple[Finding, ...]:
        """What bears on setting out; what else the files of the job say is left to `design`."""
        own = bearing(self.job.notes, STAKING)
        return tuple(dict.fromkeys((*own, *self.stakes.findings, *self.told)))

    @property
    def foot(self) -> Foot:
        """The foot of the grid."""
        return foot_of(self.job.value("inputs.site.foot"))


def stake_job(folder: Path | str, *, up: str = "", right: str = "") -> Staked:
    """Stake out the design of a job folder; moved, where a shift is asked.

    Parameters
    ----------
    folder : Path or str
        The job folder, or its `job.toml`.
    up, right : str
        How far the works are moved up the main, and to the right looking up it: "3 ft".

    Returns
    -------
    Staked

    Raises
    ------
    BadInputFile
        With every fault of its files.
    UnitMismatch
        If a shift is no length.
    """
    job = check_job(folder)
    moves = Shift(*(parse_quantity(text, "length") if text else 0.0 for text in (up, right)))
    practice = _practice(job)
    design = design_practice(job.inputs, practice, by_days=False)
    done = None
    if moves.largest > 0.0:
        after = design_practice(moved_inputs(job.inputs, moves), practice, by_days=False)
        limit = float(design.trace.value("inputs.stake.technician_may_move_m"))
        done = shifted(design, after, moves, limit)
        design = after
    add_stakes(design.trace)
    for given in add_courses(traverse_file(read_job(job.folder))):
        design.trace.give(given)
    add_traverse(design.trace)
    stakes, closed = stake_list(design.trace), closed_traverse(design.trace)
    record = stake_record(stakes, design.trace, version("tilewater"))
    record["shift"] = None if done is None else _shift_record(done)
    record["traverse"] = traverse_record(closed)
    told = tuple(traverse_findings(design.trace, closed))
    record["findings"] = [*record["findings"], *(finding.record for finding in told)]
    return Staked(job, design, stakes, record, done, closed, told)


def _practice(job: Checked) -> Practice:
    """The practice that the job asks for; where it is to be chosen, the one that is chosen."""
    if kind_of(job.inputs) == CHOOSE:
        return design_asked(job.inputs).design.practice
    return first_practice(job.inputs)


def _shift_record(done: Shifted) -> Record:
    return {
        "up_m": done.shift.station,
        "right_m": done.shift.offset,
        "may_approve": done.may_approve,
        "why": done.why,
        "levels": [{"name": t, "before_m": a, "after_m": b} for t, a, b in done.levels],
        "newly_short": [one.key for one in done.newly_short],
    }


def rover_columns(staked: Staked, columns: tuple[str, ...]) -> tuple[str, ...]:
    """Columns of the file for the rover: those asked, else those that the job remembers.

    Raises
    ------
    BadInputFile
        If a column is none that can be filled.
    """
    known = staked.job.value("inputs.stake.columns")
    asked = columns or (tuple(known) if isinstance(known, tuple) else USUAL)
    wrong = [name for name in asked if name not in COLUMNS]
    if wrong:
        message = (
            f"'{wrong[0]}' is no column of a stake. Use some of {', '.join(COLUMNS)}, in the "
            "order of the rover."
        )
        raise BadInputFile(Fault(JOB_FILE, None, "stake.columns", message))
    return asked


def keep_columns(staked: Staked, columns: tuple[str, ...]) -> None:
    """Write the columns into the job, so that the next file has them too."""
    save_job(read_job(staked.job.folder), {"stake.columns": list(columns)})


def rover_text(staked: Staked, columns: tuple[str, ...]) -> str:
    """The file for the rover: every point and hub in the columns asked, in the grid's own foot."""
    value = staked.job.value
    separator = BETWEEN.get(str(value("inputs.stake.separator")), ",")
    out = io.StringIO()
    writer = csv.writer(out, delimiter=separator, lineterminator="\r\n")
    heads = value("inputs.stake.heads")
    if isinstance(heads, tuple):
        if len(heads) != len(columns):
            message = (
                f"{len(heads)} names stand for {len(columns)} columns "
                f"({', '.join(columns)}). Give one name for each."
            )
            raise BadInputFile(Fault(JOB_FILE, None, "stake.heads", message))
        writer.writerow(heads)
    for point in (*staked.stakes.points, *staked.stakes.hubs):
        writer.writerow(_cells(point, columns, staked.foot, separator))
    return out.getvalue()


MEANING = {
    "point": "name of the point; hubs begin with hub-",
    "north": "north in the grid",
    "east": "east in the grid",
    "height": "grade to dig or lay to; at a hub the grade below it, not the top of the hub",
    "note": "what the point is",
    "station": "station up the main from its outlet, as a length",
    "offset": "offset from the main, positive to the right looking up it",
}
LENGTHS = ("north", "east", "height", "station", "offset")


def column_words(staked: Staked, columns: tuple[str, ...]) -> tuple[str, ...]:
    """What stands in each column of the file for the rover, with its unit."""
    unit = "US survey ft" if staked.foot == "us survey foot" else "ft"
    return tuple(
        f"{number}  {column}: {MEANING[column]}{f', {unit}' if column in LENGTHS else ''}"
        for number, column in enumerate(columns, start=1)
    )


def columns_text(staked: Staked, columns: tuple[str, ...]) -> str:
    """What the file for the rover holds, column by column, for whoever loads it."""
    value = staked.job.value
    heads = "yes" if isinstance(value("inputs.stake.heads"), tuple) else "no"
    grid, datum = (value(f"inputs.site.{key}") for key in ("grid", "vertical_datum"))
    lines = (
        f"{ROVER}: {staked.job.title}",
        f"Grid: {grid or 'not known'}. Heights above: {datum or 'not known'}.",
        f"Between the columns: {value('inputs.stake.separator')}. A first line of heads: {heads}.",
        "",
        *column_words(staked, columns),
        "",
        "Check in on a benchmark before the first stake and after the last.",
        "Nobody digs before the locate ticket is answered and the marks stand.",
    )
    return "\n".join(lines) + "\n"


def _cells(
    point: StakePoint, columns: tuple[str, ...], foot: Foot, separator: str
) -> Iterator[str]:
    unit = "ftUS" if foot == "us survey foot" else "ft"
    numbers = {
        "north": point.north,
        "east": point.east,
        "height": point.height,
        "station": point.station,
        "offset": point.offset,
    }
    note = "hub, grade below" if point.is_hub else point.what
    for column in columns:
        if column == "point":
            yield f"hub-{point.name}" if point.is_hub else point.name
        elif column == "note":
            yield note.replace(" ", "-") if separator == " " else note
        else:
            number = numbers[column]
            yield "" if number is None else f"{from_si(number, unit):.3f}"


def locate_geojson(staked: Staked) -> str:
    """The ground of the locate request as GeoJSON; longitude first, as the standard has it."""
    ring = [[round(b, 7), round(a, 7)] for a, b in staked.stakes.locate]
    ring.append(ring[0])  # counter-clockwise, seen from above
    feature = {
        "type": "Feature",
        "properties": {"name": f"{staked.job.title}: ground of the locate request"},
        "geometry": {"type": "Polygon", "coordinates": [ring]},
    }
    collection = {"type": "FeatureCollection", "features": [feature]}
    return json.dumps(collection, indent=1, ensure_ascii=False) + "\n"


def locate_kml(staked: Staked) -> str:
    """The ground of the locate request as KML."""
    corners = [f"{b:.7f},{a:.7f},0" for a, b in staked.stakes.locate]
    ring = [*corners, corners[0]]
    name = escape(f"{staked.job.title}: ground of the locate request")
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        '<kml xmlns="http://www.opengis.net/kml/2.2">\n'
        f"<Placemark><name>{name}</name>\n"
        "<Polygon><outerBoundaryIs><LinearRing><coordinates>\n"
        + "\n".join(ring)
        + "\n</coordinates></LinearRing></outerBoundaryIs></Polygon>\n</Placemark>\n</kml>\n"
    )


def write_staked(
    staked: Staked, columns: tuple[str, ...], out: Path | str | None = None
) -> Written:
    """Write the points for the rover, the record, and the ground of the locate request.

    Parameters
    ----------
    staked : Staked
    columns : tuple of str
        Of the file for the rover.
    out : Path, str or None
        Folder to write into; None for `results` in the job folder.

    Returns
    -------
    Written
        Each file is whole or absent.

    Raises
    ------
    BadInputFile
        If a folder that was named cannot be made.
    """
    hold_folder(out)
    folder = staked.job.folder / FOLDER if out is None else Path(out)
    files: dict[str, Callable[[], str | bytes]] = {RECORD: lambda: record_text(staked.record)}
    if staked.stakes.points or staked.stakes.hubs:
        files[ROVER] = lambda: rover_text(staked, columns)
        files[COLUMNS_TOLD] = lambda: columns_text(staked, columns)
    if staked.stakes.locate:
        files[LOCATE_GEOJSON] = lambda: locate_geojson(staked)
        files[LOCATE_KML] = lambda: locate_kml(staked)
    written = write_each(folder, files)
    if not staked.stakes.locate:
        written.troubles.append(
            (LOCATE_KML, "the known point of [baseline] has no latitude and longitude")
        )
    return written
