# SPDX-License-Identifier: Apache-2.0
"""Tracer tests: how long the water stays, how much of the bed it uses, as sampled and with tail."""

from collections.abc import Iterator

from tilewater.basis.trace import Trace
from tilewater.documents.pages.said import Cell, Part, Said, block, dim, pairs, rows
from tilewater.documents.words import NOT_KNOWN, Words
from tilewater.monitoring.tracer_checks import is_final

SHOWN = (
    ("recovery", "Tracer found", "ratio"),
    ("mean_residence_s", "Mean time in the bed", "time"),
    ("nominal_residence_s", "Pore volume over flow", "time"),
    ("peak_time_s", "Peak", "time"),
    ("t10_s", "A tenth had left, t10", "time"),
    ("t50_s", "Half had left, t50", "time"),
    ("t90_s", "Nine tenths had left, t90", "time"),
    ("tanks", "Equal tanks in series, from the spread", "number"),
    ("tanks_by_peak", "Equal tanks, from the peak", "number"),
    ("dispersion_number", "Dispersion number", "number"),
    ("morrill_index", "Morrill index t90/t10; 1 a plug", "number"),
    ("short_circuit_index", "Short-circuit index t16/t50; 1 none", "number"),
    ("baffle_factor", "Baffle factor t10 over V/Q", "number"),
    ("peak_ratio", "Peak over V/Q", "number"),
    ("effective_volume_ratio", "Effective volume ratio e", "number"),
    ("effective_volume_by_volume", "The same by water that passed", "number"),
    ("dead_share", "Pore volume that takes no part", "ratio"),
    ("hydraulic_efficiency", "Hydraulic efficiency e (1 - 1/N)", "number"),
)
"""Key, words, kind, in the order of the page."""
EFFICIENCIES = (
    "effective_volume_ratio",
    "effective_volume_by_volume",
    "dead_share",
    "hydraulic_efficiency",
)
NOT_FINAL = "not final"


def tracer_page(trace: Trace, names: tuple[str, ...], words: Words) -> Iterator[Part]:
    """A block for each test.

    Parameters
    ----------
    trace : Trace
        With the steps of the tests.
    names : tuple of str
        Of the tests.
    words : Words
        Units of the reader.
    """
    for name in names:
        yield block(f"Tracer test {name}", _about(trace, name, words), *_body(trace, name, words))


def tracer_rows(trace: Trace, name: str, words: Words) -> list[tuple[str, str, str, str]]:
    """What is shown of a test: words, as sampled, with the tail, key."""
    here = f"tracer.{name}"
    final = trace.known(f"{here}.summary") and is_final(trace.value(f"{here}.summary"))
    has_tail = f"{here}.with_tail.summary" in trace
    lines = []
    for key, said, kind in SHOWN:
        sampled = _value(trace, f"{here}.{key}", kind, words)
        tailed = _value(trace, f"{here}.with_tail.{key}", kind, words) if has_tail else ""
        if key in EFFICIENCIES and not final and sampled != NOT_KNOWN:
            sampled, tailed = NOT_FINAL, NOT_FINAL if has_tail else ""
        lines.append((said, sampled, tailed, f"{here}.{key}"))
    return lines


def _value(trace: Trace, key: str, kind: str, words: Words) -> str:
    return words.say(trace.value(key), kind) if trace.known(key) else NOT_KNOWN


def _about(trace: Trace, name: str, words: Words) -> str:
    given = f"inputs.tracer.{name}"
    said = [
        str(trace.value(f"{given}.{field}"))
        for field in ("date", "tracer")
        if f"{given}.{field}" in trace and trace.known(f"{given}.{field}")
        if trace.value(f"{given}.{field}") is not None
    ]
    if trace.known(f"{given}.mass_kg"):
        said.append(f"{words.say(trace.value(f'{given}.mass_kg'), mass_kind(words))} put in")
    return ", ".join(said)


def mass_kind(words: Words) -> str:
    """Unit of a mass of tracer: pounds to the whole one would round it away."""
    return "lb" if words.system == "us" else "kg"


def _body(trace: Trace, name: str, words: Words) -> tuple[Part, ...]:
    here = f"tracer.{name}"
    stands: list[tuple[str, Cell]] = [
        (said, Said(_value(trace, f"{here}.{key}", kind, words), key=f"{here}.{key}"))
        for key, said, kind in (
            ("mean_flow_m3_s", "Mean flow of the test", "flow"),
            ("wet_volume_m3", "Media under water", "water_volume"),
            ("pore_volume_m3", "Water in them, effective porosity", "water_volume"),
            ("porosity_shown", "Effective porosity that the test shows", "number"),
        )
    ]
    lines: list[list[Cell]] = [
        [said, Said(sampled, key=key), dim(tailed)]
        for said, sampled, tailed, key in tracer_rows(trace, name, words)
    ]
    heads = ("", "as sampled", "with tail extrapolated")
    return pairs(stands), rows(heads, lines, right=(1, 2), wide=(0,))
