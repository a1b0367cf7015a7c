# SPDX-License-Identifier: Apache-2.0
"""Sieve tests of chips: each load and its verdict, what is asked, the curves as numbers."""

from tilewater.basis.trace import Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain.chips import ACCEPTED, SPEC, TESTS, TRUCKS
from tilewater.chain.chips_record import (
    FINES,
    LOSS,
    MIDDLE,
    OF_CURVE,
    PRACTICE,
    Load,
    clause_of,
    is_void,
)
from tilewater.documents.pages.said import Cell, Part, Said, Tone, block, dim, pairs, rows
from tilewater.documents.words import NOT_KNOWN, Words

TONES: dict[str, Tone] = {"accept": "", "reject": "strong", "void": "strong", "not known": "aside"}
SHAPES = {
    "accept": "+ accept",
    "reject": "! reject",
    "void": "x void",
    "not known": "? not known",
}


def chips_page(trace: Trace, loads: tuple[Load, ...], words: Words) -> tuple[Part, ...]:
    """Blocks of the part in their order."""
    return (
        _loads(trace, loads, words),
        *_why(loads),
        _asked(trace, words),
        *_trucks(trace),
        *_curves(trace, loads),
    )


def size_words(size: object, words: Words) -> str:
    """A size of a chip: millimetres, and hundredths of an inch where the reader has inches."""
    if isinstance(size, Unknown):
        return NOT_KNOWN
    metres = float(size)  # type: ignore[arg-type]
    told = f"{metres * 1000:.3g} mm"
    return f"{metres / 0.0254:.2f} in ({told})" if words.system == "us" else told


def share_words(share: object) -> str:
    """A share of the mass to a tenth of a percent."""
    return NOT_KNOWN if isinstance(share, Unknown) else f"{100 * float(share):.1f} %"  # type: ignore[arg-type]


def _cell(trace: Trace, key: str, told: str) -> Said:
    return Said(told, "aside" if told == NOT_KNOWN else "", key)


def _loads(trace: Trace, loads: tuple[Load, ...], words: Words) -> Part:
    lines: list[list[Cell]] = []
    for load in loads:
        about = ", ".join(each for each in (load.day, load.by) if each)
        verdict = Said(SHAPES[load.verdict], TONES[load.verdict], f"{load.key}.verdict")
        is_gone = is_void(trace, load)
        numbers = [
            Said("void", "aside")
            if is_gone and name in OF_CURVE
            else _cell(trace, f"{load.key}.{name}", told(trace.value(f"{load.key}.{name}")))
            for name, told in (
                ("fines_share", share_words),
                ("middle_share", share_words),
                ("d50_diameter_m", lambda size: size_words(size, words)),
                ("uniformity", _ratio),
                ("loss_share", share_words),
            )
        ]
        name = Said.assemble(load.name.replace("-", " "), (f"\n{about}" if about else "", "quiet"))
        lines.append([name, *numbers, verdict])
    heads = ("load", "fines", "middle sizes", "D50", "Cu", "loss", "")
    table = rows(heads, lines, right=(1, 2, 3, 4, 5), wide=(0,))
    return block("Loads", "share of the mass", table)


def _why(loads: tuple[Load, ...]) -> tuple[Part, ...]:
    lines: list[tuple[str, Cell]] = [
        (load.name.replace("-", " "), "; ".join(load.reasons)) for load in loads if load.reasons
    ]
    return (block("Why", "", pairs(lines)),) if lines else ()


def _ratio(value: object) -> str:
    return NOT_KNOWN if isinstance(value, Unknown) else f"{float(value):.2f}"  # type: ignore[arg-type]


def _asked(trace: Trace, words: Words) -> Part:
    def share(name: str) -> str:
        return share_words(trace.value(f"{SPEC}.{name}"))

    def size(name: str) -> str:
        return size_words(trace.value(f"{SPEC}.{name}"), words)

    lines = [
        (
            "fines",
            f"{share('fines_most')} at most pass {size('fines_size_m')}",
            clause_of(trace, *FINES).said,
        ),
        (
            "middle sizes",
            f"{share('middle_least')} at least lie between {size('middle_from_m')} and "
            f"{size('middle_to_m')}",
            clause_of(trace, *MIDDLE).said,
        ),
        (
            "loss",
            f"a test that lost or gained more than {share('loss_most')} is void",
            clause_of(trace, *LOSS).said,
        ),
        (
            "by eye",
            "soil, leaves, nails or treated wood reject a load whatever the sieves say",
            PRACTICE,
        ),
    ]
    told = ((dim(what), asked, dim(clause)) for what, asked, clause in lines)
    return block("What is asked", "", rows(("", "limit", "clause"), told, wide=(1, 2)))


def _trucks(trace: Trace) -> tuple[Part, ...]:
    lines: list[list[Cell]] = []
    for group, words in ((TRUCKS, "tested, not void"), (ACCEPTED, "accepted")):
        if not trace.names(group):
            continue
        numbers: list[Cell] = []
        for name in ("mean_fines", "worst_fines", "mean_middle", "worst_middle"):
            key = f"{group}.{name}_share"
            numbers.append(_cell(trace, key, share_words(trace.value(key))))
        lines.append([words, *numbers])
    if not lines:
        return ()
    heads = ("trucks", "fines, mean", "worst", "middle sizes, mean", "worst")
    return (block("All trucks", "each counted once", rows(heads, lines, right=(1, 2, 3, 4))),)


def _curves(trace: Trace, loads: tuple[Load, ...]) -> tuple[Part, ...]:
    known = [
        load
        for load in loads
        if trace.known(f"{TESTS}.{load.name}.passing") and not is_void(trace, load)
    ]
    if not known:
        return ()
    curves = [
        dict(zip(trace.value(f"{one.key}.sizes"), trace.value(f"{one.key}.passing"), strict=True))
        for one in known
    ]
    sizes = sorted({size for curve in curves for size in curve}, reverse=True)
    lines = [
        [
            dim(f"{size / 0.0254:.3g} in, {size * 1000:.3g} mm"),
            *(share_words(curve[size]) if size in curve else dim("no sieve") for curve in curves),
        ]
        for size in sizes
    ]
    heads = ("sieve", *(load.name.replace("-", " ") for load in known))
    table = rows(heads, lines, right=range(1, len(known) + 1))
    return (block("Passing", "share of the mass finer than each sieve", table),)
