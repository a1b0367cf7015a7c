# SPDX-License-Identifier: Apache-2.0
"""Put together what the papers of a practice that runs are made from."""

from importlib.metadata import version

from tilewater.basis.units import Foot, System
from tilewater.documents.running.material import RunningMaterial
from tilewater.documents.words import Words
from tilewater.tasks.operating import Operated


def running_material(operated: Operated, units: System | None = None) -> RunningMaterial:
    """What the card, the plan and the form are made from.

    Parameters
    ----------
    operated : Operated
        How the boards are run.
    units : "us", "si" or None
        Units of the reader; None for those of the job.
    """
    value = operated.job.value
    foot: Foot = "international foot"
    if value("inputs.site.foot") == "us survey foot":
        foot = "us survey foot"
    stated: System = "si" if value("inputs.job.units") == "si" else "us"
    reader = units or stated
    trace = operated.design.trace

    def text(key: str) -> str:
        return str(trace.value(key)) if trace.known(key) else ""

    district = text("inputs.people.drainage_district")
    by = text("inputs.job.prepared_by")
    return RunningMaterial(
        title=operated.job.title,
        practice=operated.operation.practice,
        trace=trace,
        operation=operated.operation,
        periods=operated.periods,
        findings=tuple(finding.in_units(reader) for finding in operated.findings),
        words=Words(reader, foot),
        call=text("inputs.operate.call") or by or "the office that gave you this card",
        district="" if district.casefold() == "none" else district,
        version=version("tilewater"),
    )
