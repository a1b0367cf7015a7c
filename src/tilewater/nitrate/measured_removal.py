# SPDX-License-Identifier: Apache-2.0
"""Where a predicted removal lies above what beds were measured to remove.

What was measured at other places limits nothing here. It is a reason to doubt the numbers that
went in: a rate of the first year, a retention on total porosity, a bypass left out.
"""

from typing import cast

from tilewater.basis.domain import require_not_negative
from tilewater.basis.findings import Finding, Severity
from tilewater.basis.tables import Row, read_table

PACKAGE = "tilewater.nitrate"
SUBJECTS = {
    "rate": ("rate_g_per_m3_day", "removal rate", "g/m3/day"),
    "bed": ("bed_percent", "share removed of the load through the bed", "%"),
    "site": ("site_percent", "share removed of the load of the site", "%"),
}
"""Parameter, words and unit of what a row of the table limits."""


def removal_above_measured(
    *,
    rate_g_per_m3_day: float | None = None,
    bed_percent: float | None = None,
    site_percent: float | None = None,
) -> tuple[Finding, ...]:
    """Findings where a prediction lies above what published beds have measured.

    Parameters
    ----------
    rate_g_per_m3_day : float, optional
        Removal per volume of wet media and flowing day. [g/m3/day]
    bed_percent : float, optional
        Share removed of the load that goes through the bed. [%]
    site_percent : float, optional
        Share removed of the load of the site, bypass counted. [%]

    Returns
    -------
    tuple of Finding
        The highest line passed by each value; empty where none is.

    Raises
    ------
    OutOfDomain
        If a value is negative.
    """
    given = {"rate": rate_g_per_m3_day, "bed": bed_percent, "site": site_percent}
    rows = read_table(PACKAGE, "measured_removal").rows
    found = []
    for what, value in given.items():
        if value is None:
            continue
        name, _, unit = SUBJECTS[what]
        require_not_negative(name, value, unit, "Removal counts up")
        passed = [r for r in rows if r.text("what") == what and value > r.number("most")]
        if passed:
            found.append(_finding(value, max(passed, key=lambda row: row.number("most"))))
    return tuple(found)


def _finding(value: float, row: Row) -> Finding:
    _, subject, unit = SUBJECTS[row.text("what")]
    most = row.number("most")
    message = (
        f"The {subject} is {value:.2g} {unit}, above {most:g}: {row.text('words')} "
        f"({row.text('source_key')}, {row.text('seen')}). Look again at the rate, the retention "
        f"and the bypass."
    )
    return Finding(
        f"removal-above-measured-{row.text('what')}",
        cast(Severity, row.text("severity")),
        subject,
        message,
        value,
        "<=",
        most,
        unit,
        row.text("source_key"),
    )
