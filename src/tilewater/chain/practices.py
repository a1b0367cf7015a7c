# SPDX-License-Identifier: Apache-2.0
"""The table of the practices that the chain designs, by the name that a job gives them."""

from tilewater.chain.bed import BED
from tilewater.chain.buffer import BUFFER
from tilewater.chain.inputs import JobInputs
from tilewater.chain.practice import Practice
from tilewater.chain.raised import RAISED

PRACTICES: dict[str, Practice] = {practice.name: practice for practice in (BED, BUFFER, RAISED)}
KIND = "inputs.practice.kind"
CHOOSE = "choose"
TELLS = {
    "bed": ("inputs.bed.width_bottom_m",),
    "buffer": ("inputs.buffer.width_m",),
    "raised": ("inputs.structure.inlet.", "inputs.weather.day"),
}
"""Beginnings of inputs that a job has where it describes a practice."""


def kind_of(job: JobInputs) -> str | tuple[str, ...]:
    """What the job asks for: a practice, "choose", or several in flow order; a bed by itself."""
    value = next((given.value for given in job.givens if given.key == KIND), BED.name)
    return value if isinstance(value, str | tuple) else BED.name


def described_in(job: JobInputs) -> tuple[Practice, ...]:
    """Practices that a job describes."""
    keys = [given.key for given in job.givens if given.origin.file or not given.origin.source]
    return tuple(
        PRACTICES[name]
        for name, starts in TELLS.items()
        if all(any(key.startswith(start) for key in keys) for start in starts)
    )


def first_practice(job: JobInputs) -> Practice:
    """The practice whose boards stand in the water: the one asked for, else the first described."""
    kind = kind_of(job)
    name = kind if isinstance(kind, str) else next(iter(kind), BED.name)
    if name in PRACTICES:
        return PRACTICES[name]
    return next(iter(described_in(job)), BED)
