# SPDX-License-Identifier: Apache-2.0
"""Chips by the truck: ordered, delivered and used, each ticket with the running total."""

from collections.abc import Sequence

from tilewater.basis.trace import Trace
from tilewater.basis.unknown import is_unknown
from tilewater.chain.supply import PLACED, SUPPLY, Load, load_key
from tilewater.documents.pages.said import Cell, Part, Said, block, dim, pairs, rows, status
from tilewater.documents.words import NOT_KNOWN, Words


def supply_page(trace: Trace, loads: Sequence[Load], words: Words) -> tuple[Part, ...]:
    """Blocks of the part in their order."""
    placed = (_placed(trace, words),) if trace.names(PLACED) else ()
    return (_sums(trace, loads, words), *placed, _tickets(trace, loads, words))


def trucks(count: int) -> str:
    """A number of trucks in words."""
    return f"{count} truck{'' if count == 1 else 's'}"


def _volume(trace: Trace, key: str, words: Words) -> Said:
    told = words.say(trace.value(key), "volume")
    return Said(told, "aside" if told == NOT_KNOWN else "", key)


def _sums(trace: Trace, loads: Sequence[Load], words: Words) -> Part:
    taken = [load for load in loads if not load.refused]
    ordered = "inputs.supply.ordered_m3"
    stands = status(str(trace.value(f"{SUPPLY}.delivery.status")))
    lines: list[tuple[str, Cell]] = [
        ("needed by the design", _volume(trace, f"{SUPPLY}.needed_m3", words)),
        ("ordered", _volume(trace, ordered, words) if ordered in trace else dim("not written")),
        (
            "delivered and taken",
            _volume(trace, f"{SUPPLY}.delivered_m3", words)
            .append(f"  {trucks(len(taken))}  ", "quiet")
            .append(stands),
        ),
        ("least that is let pass", _volume(trace, f"{SUPPLY}.least_m3", words)),
        ("sent back", trucks(len(loads) - len(taken))),
    ]
    if any(load.volume is None for load in loads):
        lines.append(("tons to volume", _density(trace, words)))
    return block(
        "Supply", "as the chips lie in the truck; the order allows for settling", pairs(lines)
    )


def _density(trace: Trace, words: Words) -> Cell:
    key, source = "inputs.supply.bulk_density_kg_per_m3", "inputs.supply.bulk_density_source"
    if not trace.known(key):
        return Said("no bulk density is given, so loads in tons have no volume", "aside")
    where = str(trace.value(source)) if trace.known(source) else "where from is not said"
    return Said(words.say(trace.value(key), "density"), "", key).append(f", {where}", "quiet")


def _placed(trace: Trace, words: Words) -> Part:
    lines: list[list[Cell]] = []
    for name in trace.names(PLACED):
        here, given = f"{PLACED}.{name}", f"inputs.chips_placed.{name}"
        share = trace.value(f"{given}.share")
        lines.append(
            [
                Said(str(trace.value(f"{given}.day")), "", f"{given}.day"),
                words.say(share, "ratio"),
                *(
                    _volume(trace, f"{here}.{key}_m3", words)
                    for key in ("used", "planned", "at_end")
                ),
                status(str(trace.value(f"{here}.ahead.status"))),
            ]
        )
    heads = ("to", "filled", "used", "by plan", "at the end", "")
    note = "used: taken less what lies on the pad; at the end: if it goes on so"
    return block("Against the plan", note, rows(heads, lines, right=(1, 2, 3, 4)))


def _tickets(trace: Trace, loads: Sequence[Load], words: Words) -> Part:
    lines: list[list[Cell]] = []
    total: float | None = 0.0
    for load in loads:
        volume = trace.value(load_key(load))
        if not load.refused:
            total = None if total is None or is_unknown(volume) else total + float(volume)
        weighed = "" if load.volume is not None else "from tons"
        about = f"sent back: {load.refused}" if load.refused else weighed
        running = "" if load.refused else words.say(total, "volume", unit=False)
        told = _volume(trace, load_key(load), words)
        lines.append(
            [
                load.ticket,
                load.time,
                told,
                running,
                Said(about, "strong" if load.refused else "quiet"),
            ]
        )
    heads = ("ticket", "time", "load", "running total", "")
    return block("Tickets", "", rows(heads, lines, right=(2, 3), wide=(4,)))
