# SPDX-License-Identifier: Apache-2.0
"""What is compared at an outlet: each practice that the job describes, and leaving it as it is."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from tilewater.basis.trace import Given
from tilewater.basis.unknown import is_unknown
from tilewater.chain.design import Design, design_practice
from tilewater.chain.inputs import JobInputs
from tilewater.chain.practice import Practice
from tilewater.chain.practices import PRACTICES
from tilewater.chain.verdict import SHORT, reasons

ROW = "bed-then-buffer"
NONE = "none"
NAMES = (*PRACTICES, ROW, NONE)
"""Everything that can be compared, in the order of the page."""
WORDS = {name: practice.words for name, practice in PRACTICES.items()} | {
    ROW: "woodchip bed, then saturated buffer",
    NONE: "leaving it as it is",
}
NOT_DESCRIBED = "not described"
LEFT = "nothing is built"
UPKEEP = "inputs.money.upkeep_usd_per_year"

NEEDED = {
    "bed": (
        ("inputs.bed.", "the bed, under [bed]"),
        ("inputs.media.", "its chips, under [media]"),
        ("inputs.structure.outlet.", "its outlet structure, under [structure.outlet]"),
    ),
    "buffer": (
        ("inputs.buffer.branches_m", "the line of a buffer, buffer.branches"),
        ("inputs.buffer.width_m", "the width of its strip, buffer.width"),
        ("inputs.buffer.barrier_m", "the layer under it, buffer.barrier"),
    ),
    "raised": (
        ("inputs.structure.inlet.", "a structure on the main, under [structure.inlet]"),
        ("inputs.weather.day", "daily weather, under [weather]"),
    ),
}
"""What a job must have for a practice to be described: beginnings of keys, and words."""


@dataclass(frozen=True)
class Contender:
    """One of what is compared.

    Attributes
    ----------
    name, words : str
        In keys and on paper.
    design : Design or None
        Its judged design; None of a row, of what is not described and of leaving it.
    verdict : str
        That of its design; "not described" or "nothing is built" where there is none.
    missing : tuple of str
        What the job does not say of it, where it is not described.
    stops : tuple of str
        What falls short of it, its worst first.
    """

    name: str
    words: str
    design: Design | None = None
    verdict: str = LEFT
    missing: tuple[str, ...] = ()
    stops: tuple[str, ...] = ()

    @property
    def is_described(self) -> bool:
        """Whether the job says enough of it to be compared."""
        return not self.missing

    @property
    def may_be_built(self) -> bool:
        """Whether it is described, is more than leaving it, and nothing of it falls short."""
        return self.is_described and self.name != NONE and self.verdict != SHORT


def missing_of(job: JobInputs, name: str) -> tuple[str, ...]:
    """What a job does not say of a practice, in words; empty where it is described.

    What is answered "unknown" is described: it is then not known.
    """
    if name == NONE:
        return ()
    if name == ROW:
        return tuple(dict.fromkeys((*missing_of(job, "bed"), *missing_of(job, "buffer"))))
    stated = [given.key for given in job.givens if not _stands_in(given)]
    return tuple(
        words for start, words in NEEDED[name] if not any(key.startswith(start) for key in stated)
    )


def _stands_in(given: Given) -> bool:
    """Whether a value is only the default of a table that the job leaves out."""
    return not given.origin.file and bool(given.origin.source)


def contender(
    job: JobInputs, name: str, design: Callable[[JobInputs, Practice], Design] = design_practice
) -> Contender:
    """A practice of a job, designed and judged, or what the job does not say of it.

    Parameters
    ----------
    job : JobInputs
        Inputs of the job. [-]
    name : str
        "bed", "buffer", "raised" or "none". [-]
    design : callable
        Designs and judges a practice of a job. [-]

    Returns
    -------
    Contender
    """
    words = WORDS[name]
    if name == NONE:
        return Contender(name, words)
    missing = missing_of(job, name)
    if missing:
        return Contender(name, words, verdict=NOT_DESCRIBED, missing=missing)
    found = design(with_own_upkeep(job, name), PRACTICES[name])
    return Contender(name, words, found, found.verdict, stops=stops_of(found))


def stops_of(design: Design) -> tuple[str, ...]:
    """What falls short of a design, what governs first; each rule once."""
    return tuple(requirement.title for requirement in reasons(design.trace))


def with_own_upkeep(job: JobInputs, name: str) -> JobInputs:
    """The job with the upkeep of one practice in the place of that of [money]."""
    own = f"inputs.compare.{name}.upkeep_usd_per_year"
    stated = next((g for g in job.givens if g.key == own and not is_unknown(g.value)), None)
    if stated is None:
        return job
    givens = tuple(
        replace(stated, key=UPKEEP) if given.key == UPKEEP else given for given in job.givens
    )
    return replace(job, givens=givens)
