# SPDX-License-Identifier: Apache-2.0
"""How wall time grows with days, draws and beds, as a figure: python -m benchmarks.growth

Each panel doubles one size and leaves the others; times stand over that of the smallest size in one
thread. Where a line keeps to the thin one, twice as much takes twice as long. Without a compiler
nothing is drawn.
"""

import os
import platform
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from copy import deepcopy
from functools import partial
from math import log2
from pathlib import Path
from typing import NamedTuple

import numpy as np

from benchmarks.bench_route import TABLES, Routing, each_day, example
from benchmarks.ratio import best_times
from tilewater.basis.compiled import has_compiler, keep_compiled_in
from tilewater.documents.sheet import CHIPS, INK, MUTED, PAPER, WATER, Frame, Point, Sheet
from tilewater.practices.bed.route import route_by_year

FIGURE = Path(__file__).resolve().parent / "growth.svg"
ROUNDS = 9
YEARS = (1, 2, 4, 8, 16, 32, 64)
DRAWS = (32, 64, 128, 256, 512, 1024)
BEDS = (16, 32, 64, 128, 256, 512, 1024)
DRAWS_OF_YEARS = 128
THREADS = 2
BUSY = 0.5
"""Load of other programs from which the figure says so."""

WIDTH, HEIGHT = 960.0, 420.0
TOP, BASE, SIDE, GAP = 96.0, 336.0, 56.0, 64.0
SMALL = 9.5


class Growth(NamedTuple):
    """Times of one size doubled again and again.

    Attributes
    ----------
    title, rest : str
        What grows, and what is left as it is.
    sizes : tuple of int
        From the smallest.
    one, two : tuple of float
        Times in one thread and in two, over that of the smallest size in one.
    """

    title: str
    rest: str
    sizes: tuple[int, ...]
    one: tuple[float, ...]
    two: tuple[float, ...]


def timed(title: str, rest: str, sizes: Sequence[int], act: Callable[[int, int], object]) -> Growth:
    """Time an act of a size and a number of threads, all sizes by turns."""
    acts = [partial(act, size, threads) for threads in (1, THREADS) for size in sizes]
    acts[-1]()
    times = best_times(*acts, rounds=ROUNDS)
    over = [time / times[0] for time in times]
    count = len(sizes)
    return Growth(title, rest, tuple(sizes), tuple(over[:count]), tuple(over[count:]))


def with_years(routing: Routing) -> Growth:
    """Days of a series that is repeated until it is long enough."""
    longest = max(YEARS) * 365
    repeats = -(-longest // routing.year.size)
    series = each_day(routing.series, lambda values: np.concatenate([values] * repeats))
    beds = routing.beds[:DRAWS_OF_YEARS]

    def act(years: int, threads: int) -> object:
        days = 365 * years
        part = each_day(series, lambda values: values[:days])
        year = np.arange(days, dtype=np.int64) // 365
        return route_by_year(part, year, beds, routing.table, threads=threads)

    return timed("Years of days", f"{DRAWS_OF_YEARS} draws of one bed", YEARS, act)


def with_draws(routing: Routing) -> Growth:
    """Draws of one bed over the days of the example."""

    def act(draws: int, threads: int) -> object:
        return route_by_year(
            routing.series, routing.year, routing.beds[:draws], routing.table, threads=threads
        )

    return timed("Draws of one bed", f"{_years(routing)} years of days", DRAWS, act)


def with_beds(routing: Routing) -> Growth:
    """Beds with a table each, which do not fit into the processor's own memory."""
    tables = [deepcopy(routing.table) for _ in range(TABLES)]

    def bed(place: int) -> object:
        chosen = routing.beds[place : place + 1]
        table = tables[place % TABLES]
        return route_by_year(routing.series, routing.year, chosen, table, threads=1)

    def act(beds: int, threads: int) -> object:
        with ThreadPoolExecutor(threads) as pool:
            return list(pool.map(bed, range(beds)))

    return timed("Beds with a table each", f"{_years(routing)} years of days", BEDS, act)


def _years(routing: Routing) -> int:
    return round(routing.year.size / 365.25)


def figure(growths: Sequence[Growth], note: str) -> Sheet:
    """The panels side by side."""
    sheet = Sheet(WIDTH)
    sheet.text((SIDE, 30.0), "How wall time grows", size=15, bold=True)
    sheet.text((SIDE, 48.0), note, size=SMALL, colour=MUTED)
    wide = (WIDTH - 2 * SIDE - (len(growths) - 1) * GAP) / len(growths)
    for place, growth in enumerate(growths):
        _panel(sheet, growth, SIDE + place * (wide + GAP), wide)
    _legend(sheet)
    return sheet


def _panel(sheet: Sheet, growth: Growth, left: float, wide: float) -> None:
    """One size, both axes in doublings from the smallest."""
    doublings = log2(growth.sizes[-1] / growth.sizes[0])
    lowest = min(0.0, *(log2(time) for time in (*growth.one, *growth.two)))
    highest = max(doublings, *(log2(time) for time in (*growth.one, *growth.two)))
    across, up = wide / doublings, (BASE - TOP) / (highest - lowest)
    frame = Frame(0.0, lowest, left, BASE, across, up)

    def at(size: float, time: float) -> Point:
        return frame.at(log2(size / growth.sizes[0]), log2(time))

    sheet.text((left, TOP - 24), growth.title, size=12, bold=True)
    sheet.text((left, TOP - 10), growth.rest, size=SMALL, colour=MUTED)
    sheet.open_panel(growth.title, frame)
    sheet.line(((left, TOP), (left, BASE), (left + wide, BASE)), width=1.0)
    for size in growth.sizes:
        x, _ = at(size, 1.0)
        sheet.line(((x, BASE), (x, BASE + 4)), width=0.8)
        sheet.text((x, BASE + 16), f"{size}", anchor="middle", size=SMALL, colour=MUTED)
    for power in range(round(highest) + 1):
        _, y = at(growth.sizes[0], 2.0**power)
        sheet.line(((left - 4, y), (left, y)), width=0.8)
        said = f"{2**power}"
        sheet.text((left - 7, y + 3), said, anchor="end", size=SMALL, colour=MUTED)
    ends = growth.sizes[0], growth.sizes[-1]
    sheet.line([at(size, size / ends[0]) for size in ends], stroke=MUTED, width=0.7, name="even")
    for times, colour, dash, name in (
        (growth.one, WATER, "", "one thread"),
        (growth.two, CHIPS, "6 3", "two threads"),
    ):
        points = [at(size, time) for size, time in zip(growth.sizes, times, strict=True)]
        sheet.line(points, stroke=colour, width=1.8, dash=dash, name=name)
        for x, y in points:
            sheet.box((x - 2.5, y - 2.5), (x + 2.5, y + 2.5), stroke=colour, fill=PAPER)
    sheet.close_panel()
    share = growth.sizes[-1] / growth.sizes[0]
    one, two = (f"{times[-1]:.1f}" for times in (growth.one, growth.two))
    said = f"{share:g} times as many: {one} times as long, {two} in two threads"
    sheet.text((left, BASE + 34), said, size=SMALL)


def _legend(sheet: Sheet) -> None:
    x, y = SIDE, HEIGHT - 22
    for words, colour, dash, width in (
        ("one thread", WATER, "", 1.8),
        ("two threads", CHIPS, "6 3", 1.8),
        ("twice as much, twice as long", MUTED, "", 0.7),
    ):
        sheet.line(((x, y - 3), (x + 26, y - 3)), stroke=colour, dash=dash, width=width)
        label = sheet.text((x + 32, y), words, size=SMALL, colour=INK)
        x = label.x1 + 24


def note_of(load: float) -> str:
    """What the times were measured on; that the machine was busy, where it was."""
    on = f"{platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}"
    text = f"Times over that of the smallest size in one thread, least of {ROUNDS} rounds. {on}."
    if load > BUSY:
        text += f" The machine had other work: load {load:.1f}."
    return text


def draw() -> tuple[Growth, ...]:
    """Measure, draw the figure, and return what it shows."""
    note = note_of(os.getloadavg()[0] if hasattr(os, "getloadavg") else 0.0)
    routing = example()
    growths = (with_years(routing), with_draws(routing), with_beds(routing))
    about = "; ".join(f"{g.title.lower()}: {g.sizes[-1]} from {g.sizes[0]}" for g in growths)
    svg = figure(growths, note).svg("How wall time grows", f"{note} {about}.", HEIGHT)
    FIGURE.write_text(svg, encoding="utf-8", newline="\n")
    return growths


if __name__ == "__main__":
    if not has_compiler():
        raise SystemExit("Nothing to draw: numba is not installed, and days are not compiled.")
    keep_compiled_in(str(FIGURE.parent / "__pycache__"))
    for each in draw():
        times = ", ".join(
            f"{size}: {time:.2f}" for size, time in zip(each.sizes, each.one, strict=True)
        )
        print(f"{each.title}, one thread: {times}")
    print(f"Drawn: {FIGURE}")
