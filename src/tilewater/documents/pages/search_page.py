# SPDX-License-Identifier: Apache-2.0
"""The page of a search: a few of the front beside the engineer's own, and how it was found."""

from collections.abc import Callable, Iterator, Sequence
from math import isfinite

from tilewater.chain.design import Design
from tilewater.chain.search import Search, usd_per_kg
from tilewater.chain.search_axes import Axis
from tilewater.chain.search_record import ENDED, rests_on, shortfalls, sizes_of, title_of
from tilewater.chain.search_walk import Tried
from tilewater.documents.pages.said import Cell, Part, Said, block, dim, pairs, rows
from tilewater.documents.words import NOT_KNOWN, Words

MOST_REASONS = 4
"""Requirements that are listed as what candidates fell short by."""
LENGTH, WIDTH = "bed.length_bottom_m", "bed.width_bottom_m"
INLET, OUTLET = "boards.inlet-design.height_m", "boards.outlet-design.height_m"
TOGETHER = (("floor", (LENGTH, WIDTH), " by "), ("boards", (INLET, OUTLET), ", "))
"""Sizes that are told in one column."""
SHORT_TITLES = {
    LENGTH: "long",
    WIDTH: "wide",
    INLET: "inlet boards",
    OUTLET: "outlet boards",
    "bed.media_depth_m": "chips",
    "bed.side_slope": "slope",
    "pipes.diameter_m": "pipes",
    "headers.diameter_m": "headers",
    "buffer.laid_length_m": "line",
    "buffer.width_m": "strip",
    "quantities.line_depth_m": "deep",
    "buffer.pipe_diameter_m": "pipe",
}
"""Heads of the columns of one size."""
IN_INCHES = ("boards", "pipes", "headers", "buffer.pipe")
"""How keys of what is told in inches begin."""


def search_page(title: str, search: Search, words: Words) -> Iterator[Part]:
    """Blocks of the page, from what was found to how."""

    yield Said(title, "strong")
    lines = [("your own", search.own)]
    lines += [(choice.words, choice.tried) for choice in search.choices]
    yield _beds(search, lines, words)
    if search.choices:
        yield _designed(search, words)
        yield _reasons(search)
    yield _front(search, words)
    yield _how(search)


def _beds(search: Search, lines: Sequence[tuple[str, Tried]], words: Words) -> Part:
    """Sizes, cost and nitrate; sizes that are the same everywhere are told once."""
    columns = [_column(search, keys, joint, words) for _, keys, joint in _columns_of(search)]
    told = [
        (title, [column(tried) for _, tried in lines])
        for (title, _, _), column in zip(_columns_of(search), columns, strict=True)
    ]
    moving = [(title, said) for title, said in told if len(set(said)) > 1]
    heads = [search.plan.noun, *(title for title, _ in moving), "estimate", f"{_unit(words)}/yr"]
    heads.append(f"$/{_unit(words)}")
    table: list[list[Cell]] = [
        [Said(name, "strong"), *(said[place] for _, said in moving), *_worth(tried, words)]
        for place, (name, tried) in enumerate(lines)
    ]
    body: list[Part] = [rows(heads, table, right=range(1, len(heads)), wide=(0,))]
    still = [f"{title} {said[0]}" for title, said in told if len(set(said)) == 1]
    if still:
        body.append(dim(f"The same in all: {'; '.join(still)}."))
    if not search.choices:
        body.append(
            Said(f"No {search.plan.noun} was found that falls short of nothing its size decides.")
        )
    return block("Cost and nitrate", "a mean year at the middle of every range", *body)


def _columns_of(search: Search) -> list[tuple[str, tuple[str, ...], str]]:
    """Head, axes and joint of each column of sizes."""
    keys = [axis.key for axis in search.plan.axes]
    joined = [each for each in TOGETHER if set(each[1]) <= set(keys)]
    taken = {key for _, both, _ in joined for key in both}
    alone = [
        (SHORT_TITLES.get(axis.key, axis.title.lower()), (axis.key,), "")
        for axis in search.plan.axes
        if axis.key not in taken
    ]
    return [*joined, *alone]


def _column(
    search: Search, keys: tuple[str, ...], joint: str, words: Words
) -> Callable[[Tried], str]:
    axes = [axis for key in keys for axis in search.plan.axes if axis.key == key]

    def say(tried: Tried) -> str:
        sizes = sizes_of(search, tried)
        said = [_size(axis, sizes[axis.key], words) for axis in axes]
        units = {text.rpartition(" ")[2] for text in said}
        if len(said) > 1 and len(units) == 1:  # one unit for both
            said[:-1] = [text.rpartition(" ")[0] for text in said[:-1]]
        return joint.join(said)

    return say


def _unit(words: Words) -> str:
    return "lb" if words.system == "us" else "kg"


def _size(axis: Axis, value: float | None, words: Words) -> str:
    if value is None:
        return NOT_KNOWN
    if axis.unit == "-":
        return f"{value:g}:1"
    kind = "size" if axis.key.startswith(IN_INCHES) else "length"
    number, _, unit = words.say(value, kind).rpartition(" ")
    whole = number.rstrip("0").rstrip(".") if "." in number else number
    return f"{whole} {unit}"


def _worth(tried: Tried, words: Words) -> tuple[str, str, str]:
    """Estimate, nitrate, and what a unit of it costs."""
    per_kg = usd_per_kg(tried) if tried.removed and tried.annual else float("inf")
    return (
        words.say(tried.cost, "money"),
        words.say(tried.removed, "mass", style="two figures", unit=False),
        words.say(per_kg, f"USD/{_unit(words)}", unit=False) if isfinite(per_kg) else NOT_KNOWN,
    )


def _designed(search: Search, words: Words) -> Part:
    """The chosen as the whole chain judges them: verdict, what binds, range of nitrate."""
    designs = [("your own", search.design)]
    designs += [(choice.words, choice.design) for choice in search.choices]
    lines: list[list[Cell]] = [
        [Said(name, "strong"), design.verdict, _span(design, words), _governs(design)]
        for name, design in designs
    ]
    heads = (search.plan.noun, "verdict", "P10 to P90", "short, or least in reserve")
    return block("Designed again by the whole chain", "", rows(heads, lines, wide=(3,)))


def _span(design: Design, words: Words) -> str:
    low, high = (
        words.say(design.trace.value(f"removal.removed_kg.{p}"), "mass", style="two figures")
        for p in ("p10", "p90")
    )
    return f"{low} to {high}"


def _governs(design: Design) -> str:
    if design.governs is None:
        return NOT_KNOWN
    return design.requirement(design.governs.key).title


def _reasons(search: Search) -> Part:
    return block("Why these", "", pairs((choice.words, choice.why) for choice in search.choices))


def _front(search: Search, words: Words) -> Part:
    """What binds along the front, from the cheapest to the dearest."""
    stretches: list[tuple[str, Tried, Tried, int]] = []
    for tried in search.front:
        if stretches and stretches[-1][0] == tried.binds:
            key, first, _, count = stretches[-1]
            stretches[-1] = key, first, tried, count + 1
        else:
            stretches.append((tried.binds, tried, tried, 1))
    longest = sorted(stretches, key=lambda s: -s[3])[:MOST_REASONS]
    lines: list[list[Cell]] = [
        [
            f"{words.say(first.cost, 'money')} to {words.say(last.cost, 'money')}",
            f"{count}",
            title_of(search, key) or "nothing that was judged",
        ]
        for key, first, last, count in stretches
        if any(key == k and first is f for k, f, *_ in longest)
    ]
    noun, count = search.plan.noun, len(search.front)
    note = f"{count} {noun if count == 1 else noun + 's'} that no other beats in both"
    body: list[Part] = []
    if lines:
        body.append(
            rows(("estimate", f"{search.plan.noun}s", "has the least in reserve"), lines, wide=(2,))
        )
    short: list[list[Cell]] = [
        [f"{count:,}", title_of(search, key)] for key, count in shortfalls(search)[:MOST_REASONS]
    ]
    if short:
        body.append(Said())
        body.append(rows(("asked", "and fell short first by"), short, right=(0,), wide=(1,)))
    return block("The front", note, *body)


def _how(search: Search) -> Part:
    """How the search went, and what it did not touch."""
    lines: list[tuple[str, Cell]] = [
        (
            "asked",
            f"{len(search.tried):,} of {search.plan.size:,} {search.plan.noun}s, "
            f"{search.routed:,} day by day: "
            f"{ENDED[search.ended]}",
        ),
        ("rests on", rests_on(search)),
        ("not varied", "; ".join(search.plan.fixed)),
    ]
    for requirement in search.untouched[:MOST_REASONS]:
        lines.append(("short whatever", requirement.title))
    if len(search.untouched) > MOST_REASONS:
        more = len(search.untouched) - MOST_REASONS
        lines.append(("short whatever", f"and {more} more that no size changes"))
    return block("How it was searched", "", pairs(lines))
