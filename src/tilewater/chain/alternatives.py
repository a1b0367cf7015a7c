# SPDX-License-Identifier: Apache-2.0
"""The runners-up: beds one step smaller, buffers one step beside, and what stopped them."""

from dataclasses import dataclass

from tilewater.chain.alternatives_buffer import buffers_beside
from tilewater.chain.design import Design, design_bed
from tilewater.practices.bed.sizing import STEP


@dataclass(frozen=True)
class Alternative:
    """Something else that was tried, and why it was not taken."""

    what: str
    why_not: str


def runners_up(design: Design) -> tuple[Alternative, ...]:
    """Beds one foot narrower and one foot shorter, or buffers one step beside, and what stops each.

    Parameters
    ----------
    design : Design
        The design they are measured against. [-]

    Returns
    -------
    tuple of Alternative
        Empty where the size is not known. [-]
    """
    trace = design.trace
    if design.practice.name == "buffer":
        return tuple(Alternative(what, why_not) for what, why_not in buffers_beside(trace))
    sides = ("length", "width")
    if not trace.known("bed.media_volume_m3", *(f"bed.{side}_bottom_m" for side in sides)):
        return ()
    size = {side: float(trace.value(f"bed.{side}_bottom_m")) for side in sides}
    return tuple(_smaller(design, size, side) for side in ("width", "length") if size[side] > STEP)


def _smaller(design: Design, size: dict[str, float], side: str) -> Alternative:
    smaller = size | {side: size[side] - STEP}
    values = {f"inputs.bed.{name}_bottom_m": value for name, value in smaller.items()}
    changed = design.job.changed(values | {"inputs.bed.size": "as given"})
    other = design_bed(changed, by_days=False)
    word = "narrower" if side == "width" else "shorter"
    what = (
        f"a bed 1 ft {word}: floor {smaller['length'] / STEP:g} by {smaller['width'] / STEP:g} ft"
    )
    short = [
        requirement.title
        for requirement in other.trace.requirements
        if requirement.binding
        and other.trace.value(f"{requirement.key}.status") == "short"
        and design.trace.value(f"{requirement.key}.status") != "short"
    ]
    if short:
        return Alternative(what, f"falls short: {short[0]}")
    saved = float(design.trace.value("bed.media_volume_m3")) - float(
        other.trace.value("bed.media_volume_m3")
    )
    return Alternative(
        what,
        f"stands as this one does, with {saved * 1.30795:.0f} CY less chips and less in reserve",
    )
