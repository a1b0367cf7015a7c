# SPDX-License-Identifier: Apache-2.0
"""Cautions that go with every practice, and those that its own sizes call for.

They never replace local codes, the competent person on site or the engineer of record.
"""

from tilewater.basis.findings import Finding
from tilewater.basis.told import feet
from tilewater.basis.trace import Trace

FOOT = 0.3048
TRENCH_WIDTH = 15 * FOOT

ALWAYS = (
    (
        "utility-locate",
        "Utilities",
        "Have utilities located before any digging, private lines too; a tile line is not marked "
        "by the public service.",
        "osha1926p",
    ),
    (
        "confined-space",
        "Structures",
        "Nobody enters a structure: boards are pulled from above with a hook. Gas may stand in it; "
        "hydrogen sulfide cannot be smelled when it is dangerous.",
        "osha1926aa",
    ),
    (
        "open-water",
        "Open excavation",
        "An open hole with a sheet in it and standing water is a drowning hazard. Fence it; watch "
        "the bank of the ditch for cracks and seeps.",
        "practice",
    ),
    (
        "local-rules",
        "Local rules",
        "State and local codes and the competent person on site govern. This is an aid to an "
        "engineer; it does not seal a design.",
        "practice",
    ),
)

AT_WORK = {
    "inputs.segment": (
        "old-main",
        "Old main",
        "Nobody enters a main, a junction box or the hole over one without a test of the air: gas "
        "and air without oxygen come out of old drains. Block the flow before a pipe is opened.",
        "osha1926aa",
    ),
    "inputs.pump": (
        "pump-sump",
        "Sump",
        "The sump is a confined space: nobody enters it without a test of the air, a watch above "
        "and a way out. Lock the pump out before any work; a float can start it at any time.",
        "osha1926aa",
    ),
}
"""Cautions that go with what a job has, by the table that tells of it."""


CUTS = (
    ("quantities.cut_depth_m", "bed.width_bottom_m"),
    ("quantities.trench_depth_m", "inputs.buffer.trench_width_m"),
)
"""Depth and width of what is dug, by practice."""


def caution_findings(trace: Trace) -> None:
    """Add the cautions to the findings of a trace."""
    for code, subject, message, source in ALWAYS:
        trace.findings.append(Finding(code, "caution", subject, message, source=source))
    for table, (code, subject, message, source) in AT_WORK.items():
        if trace.names(table):
            trace.findings.append(Finding(code, "caution", subject, message, source=source))
    for depth, width in CUTS:
        if trace.known(depth, width):
            _cut_findings(trace, float(trace.value(depth)), float(trace.value(width)))


def _cut_findings(trace: Trace, depth: float, width: float) -> None:
    hole = "an excavation, not a trench" if width > TRENCH_WIDTH else "a trench"
    subject = f"Cut of {feet(depth, '.1f')}, {hole}"
    for limit, code, message in (
        (
            4,
            "cut-egress",
            f"A ladder or ramp within {feet(25 * FOOT, '.0f')} of travel for a trench; test the "
            "air where a hazard may be expected (29 CFR 1926.651(c) and (g)).",
        ),
        (
            5,
            "cut-protection",
            "Slope, shore or shield it, unless a competent person finds no sign of "
            f"a cave-in in a shallower cut; spoil {feet(2 * FOOT, '.0f')} back "
            "(29 CFR 1926.651(j), .652(a)).",
        ),
        (20, "cut-engineer", "A registered engineer designs slopes or shores (29 CFR 1926.652)."),
    ):
        if depth >= limit * FOOT:
            trace.findings.append(
                Finding(
                    code,
                    "caution",
                    subject,
                    message,
                    value=depth,
                    operator="<",
                    limit=limit * FOOT,
                    unit="m",
                    source="osha1926p",
                )
            )
