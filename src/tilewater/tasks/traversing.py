# SPDX-License-Identifier: Apache-2.0
"""The courses of a traverse from the file that a job names, as inputs beside those typed."""

import re

from tilewater.basis.errors import BadInputFile
from tilewater.basis.trace import Given, Origin
from tilewater.documents.scales import foot_of
from tilewater.job.reading import Job
from tilewater.job.rows import read_sheet
from tilewater.tasks.outside_inputs import OutsideFiles

COLUMNS = ("leg", "azimuth", "length")
LEGS = "inputs.leg"
NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9-]{0,39}")


def traverse_file(job: Job) -> OutsideFiles:
    """Courses of the file that a job names; nothing where it names none.

    Parameters
    ----------
    job : Job

    Returns
    -------
    OutsideFiles
        An azimuth and a length for each course; faults are kept, none is raised.
    """
    found = OutsideFiles()
    name = job.file.traverse.file
    if not isinstance(name, str):
        return found
    try:
        found.givens.extend(_courses(job, name))
    except BadInputFile as error:
        found.faults.extend(error.faults)
        return found
    found.read.append(f"{name}: {len(found.givens) // 2} courses of a traverse")
    return found


def _courses(job: Job, name: str) -> list[Given]:
    sheet = read_sheet(job.folder / name, COLUMNS)
    foot = foot_of(job.file.site.foot)
    givens: list[Given] = []
    seen = set(job.file.leg)
    for row in sheet.rows:
        leg = row["leg"]
        if not NAME.fullmatch(leg):
            sheet.fault(row.line, "leg", f"'{leg}' is no name. Use letters, digits and hyphens.")
            continue
        if leg in seen:
            sheet.fault(row.line, "leg", f"Leg '{leg}' is given twice. Name each course anew.")
            continue
        seen.add(leg)
        turn = sheet.quantity(row, "azimuth", "angle")
        length = sheet.quantity(row, "length", "length", foot=foot)
        if turn is None or length is None:
            continue
        if not length > 0.0:
            sheet.fault(row.line, "length", f"length of leg '{leg}' is not more than 0.")
            continue
        azimuth = Origin(name, row.line, row["azimuth"])
        givens.append(
            Given(
                f"{LEGS}.{leg}.azimuth_deg", turn, "deg", f"Azimuth of the course, {leg}", azimuth
            )
        )
        tape = Origin(name, row.line, row["length"])
        title = f"Length of the course on the ground, {leg}"
        givens.append(Given(f"{LEGS}.{leg}.length_m", length, "m", title, tape))
    sheet.close()
    return givens


def add_courses(found: OutsideFiles) -> tuple[Given, ...]:
    """The courses of a file, where it has no fault.

    Raises
    ------
    BadInputFile
        With every fault of the file.
    """
    if found.faults:
        raise BadInputFile(*found.faults)
    return tuple(found.givens)
