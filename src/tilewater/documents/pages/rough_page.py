# SPDX-License-Identifier: Apache-2.0
"""The rough answer on one page: bands first, what would stop it, what to shoot."""

from collections.abc import Iterator

from tilewater.basis.trace import Trace
from tilewater.basis.unknown import is_unknown
from tilewater.chain.rough import Rough
from tilewater.documents.pages.said import Part, Said, block, dim, rows
from tilewater.documents.words import NOT_KNOWN, Words

CAUTION = (
    "For the telephone only: no design, satisfies no rule, and nothing is dug on it. Have "
    "utilities located, ask who owns main and ditch, and let a licensed engineer size the practice."
)
TENTHS = (
    (0.95, "in nearly all cases"),
    (0.65, "in most cases"),
    (0.35, "in about half the cases"),
    (0.05, "in few cases"),
    (0.0, "in hardly any case"),
)


def rough_page(rough: Rough, words: Words) -> Iterator[Part]:
    """The page, part by part."""
    trace = rough.trace
    yield Said("Rough answer", "strong").append(
        "  ten-minute figures; each is a band that eight of ten such sites fall into",
        "quiet",
    )
    yield _flow(trace, words)
    yield _practice(trace, words, "bed", "Woodchip bed", _bed_lines(trace, words))
    yield _practice(trace, words, "buffer", "Saturated buffer", _buffer_lines(trace, words))
    yield block(
        "Would stop it",
        "the three likeliest",
        rows(
            ("", ""),
            ((f"{n}", _said(trace, s.text, s.keys, words)) for n, s in enumerate(rough.stops, 1)),
            wide=(1,),
        ),
    )
    yield block(
        "Shoot first",
        "five shots that settle most",
        rows(
            ("", "where", "it settles"),
            (
                (f"{n}", _said(trace, s.where, s.keys, words), dim(s.why))
                for n, s in enumerate(rough.shots, 1)
            ),
            wide=(1, 2),
        ),
    )
    yield Said()
    yield dim(CAUTION)


def _flow(trace: Trace, words: Words) -> Part:
    lines = [
        ("Main full", _band(trace, words, "main_full_m3_s", "flow")),
        ("Coefficient over the acres", _band(trace, words, "coefficient_m3_s", "flow")),
        ("Peak, the lesser", _band(trace, words, "peak_m3_s", "flow")),
        ("Nitrate-N of a year", _band(trace, words, "load_kg", "mass")),
    ]
    return block("Water", "", _bands(lines))


def _bed_lines(trace: Trace, words: Words) -> list[tuple[str, tuple[str, str, str]]]:
    return [
        ("Floor, long", _band(trace, words, "bed.length_m", "length")),
        ("Floor, wide", _band(trace, words, "bed.width_m", "length")),
        ("Chips", _band(trace, words, "bed.chips_m3", "volume")),
        ("Costs, built", _band(trace, words, "bed.cost_usd", "money")),
        ("Of the year's water", _band(trace, words, "bed.treated_share", "ratio")),
        ("Takes out a year", _band(trace, words, "bed.removed_kg", "mass")),
    ]


def _buffer_lines(trace: Trace, words: Words) -> list[tuple[str, tuple[str, str, str]]]:
    return [
        ("Of the peak", _band(trace, words, "buffer.share_of_peak", "ratio")),
        ("Of the year's water", _band(trace, words, "buffer.treated_share", "ratio")),
        ("Costs, built", _band(trace, words, "buffer.cost_usd", "money")),
        ("Takes out a year", _band(trace, words, "buffer.removed_kg", "mass")),
    ]


def _practice(
    trace: Trace,
    words: Words,
    what: str,
    title: str,
    lines: list[tuple[str, tuple[str, str, str]]],
) -> Part:
    key, question = {
        "bed": ("rough.bed.fits_strip", "it fits the strip"),
        "buffer": ("rough.buffer.meets_share", "the strip takes 5 % of the peak"),
    }[what]
    value = trace.value(key)
    note = (
        f"whether {question} is {NOT_KNOWN}"
        if is_unknown(value)
        else f"{question} {next(said for least, said in TENTHS if float(value) >= least)}"
    )
    if all(low == NOT_KNOWN for _, (low, _, _) in lines):
        return block(title, note, dim("Say where the ditch water stands and how big the strip is."))
    return block(title, note, _bands([line for line in lines if line[1][0] != NOT_KNOWN]))


def _bands(lines: list[tuple[str, tuple[str, str, str]]]) -> Part:
    heads = ("", "low", "middle", "high")
    return rows(heads, ((dim(label), *band) for label, band in lines), right=(1, 2, 3))


def _band(trace: Trace, words: Words, key: str, kind: str) -> tuple[str, str, str]:
    low, middle, high = (
        words.say(trace.value(f"rough.{key}.{p}"), kind, style="two figures")
        for p in ("p10", "p50", "p90")
    )
    return low, middle, high


def _said(trace: Trace, text: str, keys: tuple[str, ...], words: Words) -> str:
    return text.format(
        *(words.say(trace.value(key), "length", style="two figures") for key in keys)
    )
