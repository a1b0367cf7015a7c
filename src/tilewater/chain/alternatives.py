# SPDX-License-Identifier: Apache-2.0
"""The runners-up: beds one step smaller, buffers one step beside, and what stopped them."""

from dataclasses import dataclass, field

from tilewater.basis.told import cubic_yards, feet, in_units
from tilewater.basis.units import System
from tilewater.chain.alternatives_buffer import buffers_beside
from tilewater.chain.design import Design, design_bed
from tilewater.practices.bed.sizing import STEP


@dataclass(frozen=True)
class Alternative:
    """Something else that was tried, and why it was not taken."""

    what: str
    why_not: str
    _said: tuple[str, str] = field(init=False, repr=False, compare=False, default=("", ""))

    def __post_init__(self) -> None:
        object.__setattr__(self, "_said", (self.what, self.why_not))
        for name, words in zip(("what", "why_not"), self._said, strict=True):
            object.__setattr__(self, name, in_units(words, "us"))

    def in_units(self, system: System) -> "Alternative":
        """The same in the units of a reader."""
        return Alternative(*(in_units(words, system) for words in self._said))


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
        f"a bed {feet(STEP, 'g')} {word}: floor {feet(smaller['length'], 'g', bare=True)} by "
        f"{feet(smaller['width'], 'g')}"
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
        f"stands as this one does, with {cubic_yards(saved)} less chips and less in reserve",
    )
