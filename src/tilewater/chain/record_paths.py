# SPDX-License-Identifier: Apache-2.0
"""From a path of a verb's record back to the keys of its trace.

A record is laid out for its reader, a trace by what computes it: a number may be named otherwise
in each. Nothing is found by its value; where no way is written here a path means itself.
"""

import re
from collections.abc import Mapping, Sequence
from typing import Any

from tilewater.basis.trace import Trace

NAMES = ("spot", "item", "set", "name", "point", "structure")
"""What names an entry of a list whose number is a step under that name."""

Ways = tuple[tuple[str, str], ...]

PATHS: Mapping[str, Ways] = {
    "renew": (
        (r"^left_years$", "renew.life.left"),
        (r"^left_years\.(p\d0)$", r"renew.life.left_\1_years"),
        (r"^life_by_curve_years$", "renew.life.by_curve"),
        (r"^life_by_curve_years\.(p\d0)$", r"renew.life.by_curve.\1_years"),
        (r"^life_years\.(p\d0)$", r"renew.life.\1_years"),
        (r"^life_years$", "renew.life"),
        (r"^share_past$", "renew.life.share_past"),
        (r"^signs\.settlement\.limit$", "inputs.signs.settlement_above_m"),
        (r"^signs\.bed-percent\.limit$", "inputs.signs.bed_percent_below"),
        (r"^signs\.(\w+)\.limit$", r"inputs.signs.\1_below"),
        (r"^(.+)$", r"renew.\1"),
    ),
    "bid": (
        (r"^bids\.bidders\.([\w-]+)(.*)$", r"bids.\1\2"),
        (r"^funding\.orders\.([\w-]+)\.([\w-]+)\.(.+)$", r"funding.\2.\1.\3"),
        (
            r"^funding\.orders\.([\w-]+)\.([\w-]+)\.paid_usd\.([\w-]+)$",
            r"funding.\2.\1.\3.paid_usd",
        ),
        (r"^funding\.orders\.[\w-]+\.([\w-]+)\.cost_usd$", r"funding.\1.cost_usd"),
        (r"^estimate\.(.+)$", r"bid.\1"),
        (r"^(items\..+)$", r"bid.\1"),
        (r"^(.+)$", r"bid.items.\1"),
    ),
    "monitor": (
        (r"^intervals\..+$", "monitor.intervals"),
        (r"^(.+)$", r"monitor.\1"),
    ),
    "operate": (
        (r"^(operate\.period\.\d+)\.boards_moved\.(\w+)$", r"\1.moved_\2"),
        (r"^(operate\.row\.[\w-]+)\.wet\.([\w-]+)\.limit_days$", r"operate.limit.\2_days"),
        (r"^(operate\.row\.[\w-]+)\.wet\.(.+)$", r"\1.spot.\2"),
        (r"^(boards\.[\w-]+)\.(stack|rim_down)_in.*$", r"\1.\2_m"),
        (r"^limits\.groundwater_for_empty_bed_m$", "uplift.finished.groundwater_limit_m"),
        (r"^limits\.least_flow_m3_s$", "start_up.least_m3_s"),
        (r"^(.+)$", r"operate.\1"),
    ),
    "inspect": (
        (r"^chips\.loads\.(.+)$", r"chips.tests.\1"),
        (r"^chips\.loads\.([\w-]+)\.sizes_m\..*$", r"chips.tests.\1.sizes"),
        (r"^chips\.loads\.([\w-]+)\.(passing)\..*$", r"chips.tests.\1.\2"),
        (r"^gates\.disturbed_limit_m2$", "approvals.disturbed.limit_m2"),
        (r"^gates\.disturbed_m2$", "approvals.disturbed.area_m2"),
        (r"^gates\.main_(before|after)_m3_s$", r"approvals.capacity.\1_m3_s"),
        (r"^gates\.pool_reserve_m$", "property_line.reserve_m"),
        (r"^grade\.pipes\.([\w-]+)\.design_slope$", r"grade.\1.design.slope"),
        (r"^grade\.pipes\.(.+)$", r"grade.\1"),
        (r"^built\.floor\.mean_m$", "rerun.bed.floor_mean_m"),
        (r"^built\.floor\.worst_off_m$", "built.parts.bed.floor-worst-shot.off_m"),
        (r"^built\.floor\.(\w+)$", r"built.parts.bed.floor.\1"),
        (r"^built\.paid\.([\w-]+)\.paid$", r"built.paid.\1"),
        (r"^built\.stacks\.(\w+)\.designed_crest_m$", r"boards.\1-design.crest_m"),
        (r"^built\.stacks\.(\w+)\.crest_m$", r"built.stack.\1.crest_m"),
        (r"^built\.levels\.(.+)\.(off|noise)_m$", r"built.parts.\1.\2_m"),
        (r"^built\.levels\.(.+)\.built_m$", r"built.parts.\1_m"),
        (r"^built\.boards\.([\w-]+)\.before\.crest_m$", r"boards.\1.crest_m"),
        (r"^built\.boards\.([\w-]+)\.after\.crest_m$", r"rerun.boards.\1.crest_m"),
        (r"^built\.boards\.([\w-]+)\.before\.(stack|rim_down)_in.*$", r"boards.\1.\2_m"),
        (r"^built\.boards\.([\w-]+)\.after\.(stack|rim_down)_in.*$", r"rerun.boards.\1.\2_m"),
        (r"^(.+)\.before$", r"\1"),
        (r"^(.+)\.after$", r"rerun.\1"),
    ),
}
"""Ways back by verb, tried in this order; each gives a key or the head of a group of keys."""


def key_of_path(verb: str, trace: Trace, path: str, record: Mapping[str, Any]) -> str:
    """The key of a trace that a path of a verb's record means.

    Parameters
    ----------
    verb : str
        "renew", "bid", "monitor", "operate" or "inspect". [-]
    trace : Trace
        Of the verb. [-]
    path : str
        Names and numbers of places, with dots between; a key of the trace is let pass. [-]
    record : mapping
        The record in which it is a path. [-]

    Returns
    -------
    str
        The key, or the head of a group of keys; the path itself where no way leads back. [-]
    """
    if path in trace:
        return path
    named = _named(path, record).removeprefix("parts.")
    if named in trace:
        return named
    found = [re.sub(p, r, named) for p, r in PATHS[verb] if re.search(p, named)]
    for key in found:
        if key in trace:
            return key
    for key in found:
        if any(step.key.startswith((f"{key}.", f"{key}_")) for step in trace):
            return key
    return path


def _named(path: str, record: Any) -> str:
    """A path in which entries of lists go by their name, and what carries a key begins with it."""
    told: list[str] = []
    words = path.split(".")
    while words:
        record, word, words = _into(record, words)
        if isinstance(record, Mapping) and isinstance(record.get("key"), str):
            told = [record["key"]]
        elif word.isdecimal() and isinstance(record, Mapping):
            told.append(_name(record) or word)
        else:
            told.append(word)
    return ".".join(told)


def _name(entry: Mapping[str, Any]) -> str:
    """What an entry of a list goes by in a trace; "" if by nothing."""
    if "part" in entry and "what" in entry:
        return f"{entry['part']}.{entry['what']}".replace(" ", "-")
    return next((str(entry[name]) for name in NAMES if name in entry), "")


def _into(record: Any, words: list[str]) -> tuple[Any, str, list[str]]:
    """What lies at the next name of a path, that name, and the rest of the path."""
    word, rest = words[0], words[1:]
    if isinstance(record, Mapping):
        return record.get(word), word, rest
    if isinstance(record, Sequence) and not isinstance(record, str) and word.isdecimal():
        place = int(word)
        return (record[place] if place < len(record) else None), word, rest
    return None, word, rest
