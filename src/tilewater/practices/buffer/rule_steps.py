# SPDX-License-Identifier: Apache-2.0
"""Steps that turn a buffer into the values its standard asks for; the rows are judged above."""

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.practices.buffer.givens import LINE, SOIL, needed
from tilewater.practices.buffer.rules import flow_rule_604, height_unstudied, is_perennial

FIRST_ARM = 0.05
POOR_SHARE = 0.05
"""Share of the peak below which a buffer that uses its whole length may still be poor value."""


def add_rules(trace: Trace) -> None:
    """Record the flow rule by both arms, the unstudied bank, the plants; say what they mean."""
    trace.compute(
        "buffer.flow_rule",
        flow_rule_604,
        unit="-",
        title="How far the better arm of the flow rule is met",
        share_of_peak="buffer.share_of_peak",
        length_share="buffer.length_share",
        share_limit=trace.constant(
            "buffer.share_limit", FIRST_ARM, "Share of the first arm", source="johnson-604"
        ),
    )
    study = f"{LINE}.bank_study"
    trace.compute(
        "buffer.bank_unstudied_m",
        height_unstudied,
        unit="m",
        title="Height of the bank, if nobody has studied it",
        height="buffer.bank_height_m",
        **({"study": study} if study in trace else {}),
    )
    plants = needed(trace, f"{LINE}.vegetation", "What grows on the strip", "", "look at it")
    trace.compute(
        "buffer.is_perennial",
        is_perennial,
        unit="-",
        title="Whether the strip is in perennial plants",
        vegetation=plants,
    )
    needed(trace, f"{SOIL}.organic_depth_m", "Depth of the samples", "m", "sample to 2.5 ft")
    needed(trace, f"{SOIL}.sand_depth_m", "Depth of sand or gravel", "m", "bore by the bank")
    needed(trace, f"{LINE}.line_fall_m", "Departure of the line from level", "m", "shoot it")
    needed(trace, f"{LINE}.solid_at_structure_m", "Solid pipe at the structure", "m", "plan it")
    _tell_arms(trace)


def _tell_arms(trace: Trace) -> None:
    if not trace.known("buffer.share_of_peak", "buffer.length_share"):
        return
    share = float(trace.value("buffer.share_of_peak"))
    length = float(trace.value("buffer.length_share"))
    arms = (
        f"it takes {share:.1%} of the capacity of the drainage system, where 5 percent is asked",
        f"it uses {length:.0%} of the length of strip there is",
    )
    if share >= FIRST_ARM:
        says, severity = "The first arm of the flow rule holds", "note"
    elif length >= 1.0:
        says, severity = "Only the second arm of the flow rule holds, and the buffer may", "caution"
        says += " be poor value"
    else:
        says, severity = "Neither arm of the flow rule holds", "caution"
    trace.findings.append(
        Finding(
            "flow-rule-arms",
            severity,  # type: ignore[arg-type]
            "Flow rule of 604",
            f"{says}: {arms[0]}; {arms[1]}.",
            value=share,
            operator=">=",
            limit=FIRST_ARM,
            unit="-",
            source="johnson-604",
        )
    )
    _tell_conductivity(trace)


def _tell_conductivity(trace: Trace) -> None:
    """Say so where the first arm stands or falls with the conductivity."""
    ends = ("buffer.share_low_of_peak", "buffer.share_high_of_peak")
    if not trace.known(*ends):
        return
    low, high = (float(trace.value(key)) for key in ends)
    if low < FIRST_ARM <= high:
        trace.findings.append(
            Finding(
                "share-hangs-on-conductivity",
                "caution",
                "Conductivity",
                f"Over the range of the conductivity the share is {low:.1%} to {high:.1%}: whether "
                "5 percent is reached hangs on it. Test more holes.",
                value=low,
                operator=">=",
                limit=FIRST_ARM,
                unit="-",
                source="derived",
            )
        )
