# SPDX-License-Identifier: Apache-2.0
"""What the engineer must know of the results of a laboratory.

Limits here are habits of the trade, none of a standard; they are said as such.
"""

from collections.abc import Iterator, Sequence
from statistics import median

from tilewater.basis.findings import Finding
from tilewater.job.lab_rows import LabRow
from tilewater.job.logger_text import LoggerTable

HIGH_AS_N = 40.0
"""Drain water hardly holds more nitrogen in the middle of its samples. [mg/L]"""
LOW_AS_ION = 4.0
"""Nor so little, once an ion was taken for nitrogen twice. [mg/L]"""
PAIRS_APART = 0.20
"""Two bottles of one sample that differ by more of their mean are doubted."""
HOUR = 3600.0


def lab_notes(
    table: LoggerTable, rows: Sequence[LabRow], holding: float | None, told: Sequence[str]
) -> tuple[Finding, ...]:
    """Notes on a file and its results."""
    file = table.file
    words = f"{file}: {len(rows)} results of nitrate, as N. {' '.join(told)}".strip()
    return (
        Finding("lab-read", "note", "laboratory", words),
        *_left_out(file, rows),
        *_below(file, rows),
        *_magnitude(file, rows),
        *_with_nitrite(rows),
        *_pairs(rows),
        *_blanks(rows),
        *_held(rows, holding),
        *_marked(rows),
        *_without_hour(rows),
    )


def _left_out(file: str, rows: Sequence[LabRow]) -> Iterator[Finding]:
    names = list(dict.fromkeys(row.place_words for row in rows if not row.place))
    if names:
        yield Finding(
            "lab-place-unknown",
            "caution",
            "laboratory",
            f"{file} has places that the job does not name and leaves out: {', '.join(names)}. "
            "Name them under [lab.places] if they are of this practice.",
        )


def _below(file: str, rows: Sequence[LabRow]) -> Iterator[Finding]:
    below = [row for row in rows if row.nitrate_mg_per_l is None]
    if below:
        limits = sorted({f"{row.detection_mg_per_l:.3g}" for row in below})
        yield Finding(
            "lab-below-detection",
            "note",
            "laboratory",
            f"{len(below)} of {len(rows)} results of {file} are below detection "
            f"({', '.join(limits)} mg/L as N). They are kept as that and are no zeros.",
            value=float(len(below)),
        )


def _magnitude(file: str, rows: Sequence[LabRow]) -> Iterator[Finding]:
    """Results that look as if the other way to count were meant."""
    for species, sign, words in (
        ("nitrate as N", 1, "as if the whole ion were meant; as N they would be a fourth of that"),
        ("nitrate as ion", -1, "as if they were nitrogen already"),
    ):
        found = [
            row.nitrate_mg_per_l
            for row in rows
            if row.species == species and row.nitrate_mg_per_l is not None and row.place == "inlet"
        ]
        limit = HIGH_AS_N if sign > 0 else LOW_AS_ION
        if found and sign * (median(found) - limit) > 0:
            yield Finding(
                "lab-species-doubtful",
                "caution",
                "laboratory",
                f"Results of {file} at the inlet are read as {species} and give "
                f"{median(found):.3g} mg/L as N in the middle, {words}. Ask the laboratory.",
                value=float(median(found)),
                operator="<=" if sign > 0 else ">=",
                limit=limit,
                unit="mg/L",
                source="practice",
            )


def _with_nitrite(rows: Sequence[LabRow]) -> Iterator[Finding]:
    count = sum(row.species == "nitrate and nitrite as N" for row in rows)
    if count:
        yield Finding(
            "lab-nitrite-in-it",
            "note",
            "laboratory",
            f"{count} results count nitrite with the nitrate. In drain water it is little; in a "
            "bed that is short of time it need not be.",
        )


def pair_of(rows: Sequence[LabRow], row: LabRow) -> LabRow | None:
    """The sample that a second bottle doubles: the nearest of its place on that day."""
    others = [
        other
        for other in rows
        if other.place == row.place
        and not other.is_duplicate
        and other is not row
        and abs(other.time_s - row.time_s) <= 12 * HOUR
    ]
    return min(others, key=lambda other: abs(other.time_s - row.time_s), default=None)


def _pairs(rows: Sequence[LabRow]) -> Iterator[Finding]:
    for row in rows:
        other = pair_of(rows, row) if row.is_duplicate and row.place else None
        if other is None or row.nitrate_mg_per_l is None or other.nitrate_mg_per_l is None:
            continue
        mean = (row.nitrate_mg_per_l + other.nitrate_mg_per_l) / 2
        apart = abs(row.nitrate_mg_per_l - other.nitrate_mg_per_l) / mean if mean else 0.0
        if apart > PAIRS_APART:
            yield Finding(
                "lab-pair-apart",
                "caution",
                "laboratory",
                f"Two bottles of one sample at the {row.place}, lines {other.line} and {row.line}, "
                f"have {other.shown} and {row.shown} mg/L, {apart:.0%} apart. Pairs mostly agree "
                f"to {PAIRS_APART:.0%} (common practice). Ask for a repeat.",
                value=apart,
                operator="<=",
                limit=PAIRS_APART,
                unit="-",
                source="practice",
            )


def _blanks(rows: Sequence[LabRow]) -> Iterator[Finding]:
    for row in rows:
        if row.place == "blank" and row.nitrate_mg_per_l is not None:
            yield Finding(
                "lab-blank-not-clean",
                "caution",
                "laboratory",
                f"The blank on line {row.line} has {row.shown} mg/L and should be below detection. "
                "Samples of that day may be soiled by bottles or rinsing.",
                value=row.nitrate_mg_per_l,
                unit="mg/L",
            )


def _held(rows: Sequence[LabRow], holding: float | None) -> Iterator[Finding]:
    if holding is None:
        return
    late = [row for row in rows if row.held_s is not None and row.held_s > holding]
    if late:
        yield Finding(
            "lab-held-long",
            "caution",
            "laboratory",
            f"{len(late)} samples were analysed later than {holding / HOUR:.0f} h after they were "
            f"taken, the first on line {late[0].line} after {(late[0].held_s or 0) / HOUR:.0f} h. "
            "Nitrate may have gone meanwhile.",
            value=float(len(late)),
        )


def _marked(rows: Sequence[LabRow]) -> Iterator[Finding]:
    marks = sorted({row.mark for row in rows if row.mark and row.nitrate_mg_per_l is not None})
    above = [row for row in rows if row.mark.startswith(">")]
    if marks:
        yield Finding(
            "lab-marked",
            "caution" if above else "note",
            "laboratory",
            f"Results carry marks of the laboratory: {', '.join(marks)}. They are taken as they "
            f"stand.{' One with > is more than it says.' if above else ''}",
        )


def _without_hour(rows: Sequence[LabRow]) -> Iterator[Finding]:
    count = sum(not row.has_hour for row in rows)
    if count:
        yield Finding(
            "lab-no-hour",
            "note",
            "laboratory",
            f"{count} samples have no time of day; they are set at noon. Write the time on the "
            "bottle: flow changes within hours.",
        )
