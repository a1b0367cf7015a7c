# SPDX-License-Identifier: Apache-2.0
"""The sheet of the sieve tests: loads, curves with their numbers, what is asked, a signature."""

from collections.abc import Iterator, Sequence

from tilewater.basis.trace import Trace
from tilewater.chain.chips import SPEC
from tilewater.chain.chips_record import FINES, LOSS, MIDDLE, PRACTICE, Load, clause_of, is_void
from tilewater.documents.field.curve import HEIGHT, MOST, WIDTH, Bracket, Curve, draw_gradation
from tilewater.documents.pages.chips_page import share_words, size_words
from tilewater.documents.paper.blocks import (
    Banner,
    Block,
    Cell,
    Column,
    Document,
    Figure,
    Items,
    NewPage,
    Paper,
    Paragraph,
    Run,
    Seal,
    Table,
)
from tilewater.documents.paper.press import press
from tilewater.documents.sheet import INCH
from tilewater.documents.words import Words

MILLIMETRES = 25.4
STATEMENT = (
    "Sieved and looked at as written above. An accepted load may still be rejected when it is "
    "tipped: what comes out of the truck decides."
)


def chips_pdf(
    title: str, trace: Trace, loads: tuple[Load, ...], words: Words, paper: Paper = "us-letter"
) -> bytes:
    """The sheet as PDF: one page for each four loads.

    Parameters
    ----------
    title : str
        Of the job.
    trace : Trace
        With the tests.
    loads : tuple of Load
    words : Words
        Units of the reader.
    paper : "us-letter" or "a4"

    Returns
    -------
    bytes
        The file.
    """
    blocks = tuple(_pages(title, trace, loads, words))
    foot = "Sieve tests of chips. The specification of the job governs."
    return press(Document(f"{title}: chips", title, "sieve tests of chips", foot, paper, blocks))


def _pages(title: str, trace: Trace, loads: tuple[Load, ...], words: Words) -> Iterator[Block]:
    for place, few in enumerate(_by(loads, MOST)):
        if place:
            yield NewPage()
        verdicts = ", ".join(f"{load.name.replace('-', ' ')}: {load.verdict}" for load in few)
        yield Banner(
            "Chips, gradation" if not place else "Chips, further loads", (title,), verdicts
        )
        yield _table(trace, few)
        yield from _why(few)
        if any(_has_curve(trace, load) for load in few):
            yield _figure(trace, few)
        yield Paragraph(_asked(trace, words), "note")
        yield Seal(
            STATEMENT,
            "Room for a stamp or a photo of the load",
            ("tested by, date", "accepted or rejected by, date"),
        )


def _by(loads: tuple[Load, ...], count: int) -> Iterator[tuple[Load, ...]]:
    for start in range(0, len(loads), count):
        yield loads[start : start + count]


def _table(trace: Trace, loads: Sequence[Load]) -> Table:
    columns = (
        Column("load"),
        Column("day, by"),
        Column("fines", "right"),
        Column("middle", "right"),
        Column("D10", "right"),
        Column("D50", "right"),
        Column("D60", "right"),
        Column("Cu", "right"),
        Column("loss", "right"),
        Column("verdict", wide=True),
    )
    lines: list[tuple[Cell, ...]] = []
    for letter, load in zip("ABCD", loads, strict=False):
        value = {name: trace.value(f"{load.key}.{name}") for name in NUMBERS}
        read = [share_words(value[name]) for name in ("fines_share", "middle_share")]
        read += [_mm(value[f"{d}_diameter_m"]) for d in ("d10", "d50", "d60")]
        read.append(_two(value["uniformity"]))
        lines.append(
            (
                Run(f"{letter}  {load.name.replace('-', ' ')}", "bold"),
                ", ".join(each for each in (load.day, load.by) if each),
                *(["void"] * len(read) if is_void(trace, load) else read),
                share_words(value["loss_share"]),
                Run(load.verdict, "bold"),
            )
        )
    return Table(columns, tuple(lines), small=True)


def _why(loads: Sequence[Load]) -> Iterator[Block]:
    """Why a load does not simply stand as accepted."""
    told = [
        (Run(f"{letter}  ", "bold"), "; ".join(load.reasons))
        for letter, load in zip("ABCD", loads, strict=False)
        if load.reasons
    ]
    if told:
        yield Items(tuple(told))


NUMBERS = (
    "fines_share",
    "middle_share",
    "d10_diameter_m",
    "d50_diameter_m",
    "d60_diameter_m",
    "uniformity",
    "loss_share",
)


def _has_curve(trace: Trace, load: Load) -> bool:
    """Whether a load has a curve that says something of it."""
    return trace.known(f"{load.key}.passing") and not is_void(trace, load)


def _mm(size: object) -> str:
    return f"{size * 1000:.1f} mm" if isinstance(size, float) else "not known"


def _two(value: object) -> str:
    return f"{value:.2f}" if isinstance(value, float) else "not known"


def _figure(trace: Trace, loads: Sequence[Load]) -> Figure:
    curves = [
        Curve(
            load.name.replace("-", " "),
            tuple(round(size * 1000, 3) for size in trace.value(f"{load.key}.sizes")),
            trace.value(f"{load.key}.passing"),
        )
        for load in loads
        if _has_curve(trace, load)
    ]
    svg = draw_gradation(curves, tuple(_brackets(trace)), "Gradation of chips")
    width, height = (each / INCH * MILLIMETRES for each in (WIDTH, HEIGHT))
    caption = (
        "Share of the mass that passes; bars are limits, their feet point to what is let pass."
    )
    alt = "Curves of the loads with the limits of the job; the numbers stand beside them."
    return Figure(svg, width, height, caption, alt)


def _brackets(trace: Trace) -> Iterator[Bracket]:
    """Fines as a limit at their size; the middle sizes need a share of two, so none is drawn."""
    if trace.known(f"{SPEC}.fines_size_m", f"{SPEC}.fines_most"):
        share = float(trace.value(f"{SPEC}.fines_most"))
        size = float(trace.value(f"{SPEC}.fines_size_m")) * 1000
        yield Bracket(size, share, is_most=True, words=f"{100 * share:.3g} % at most")


def _asked(trace: Trace, words: Words) -> str:
    size = {n: size_words(trace.value(f"{SPEC}.{n}"), words) for n in SIZES}
    share = {n: share_words(trace.value(f"{SPEC}.{n}")) for n in SHARES}
    fines, middle, loss = (clause_of(trace, *limits).said for limits in (FINES, MIDDLE, LOSS))
    return (
        f"Asked: {share['fines_most']} at most pass {size['fines_size_m']} ({fines}); "
        f"{share['middle_least']} at least lie between {size['middle_from_m']} and "
        f'{size["middle_to_m"]}, "middle" ({middle}). A test that lost or gained more than '
        f"{share['loss_most']} is void ({loss}). Soil, leaves, nails or treated wood reject a load "
        f"whatever the sieves say ({PRACTICE})."
    )


SIZES = ("fines_size_m", "middle_from_m", "middle_to_m")
SHARES = ("fines_most", "middle_least", "loss_most")
