# SPDX-License-Identifier: Apache-2.0
"""What a search found, as other programs read it, and as a table of every candidate."""

from collections import Counter
from collections.abc import Iterator
from math import isfinite
from typing import Any

from tilewater.basis.trace import Trace, Value
from tilewater.basis.unknown import Unknown
from tilewater.chain.plain import Record, plain
from tilewater.chain.search import Choice, Search, usd_per_kg
from tilewater.chain.search_axes import Axis
from tilewater.chain.search_draws import Weighed
from tilewater.chain.search_walk import Tried

ENDED = {
    "all asked": "every size there is was asked",
    "front settled": "no size beside the front is better by one step of one axis or of two",
    "nothing passes": "no neighbour of those that fall short least falls short of less",
    "most routed": "as many as were allowed have been routed; more may still move the front",
    "stopped": "it was stopped; what is shown is what was known then",
}


def search_record(search: Search, version: str) -> Record:
    """The result of a search as other programs read it."""
    trace = search.design.trace
    return {
        "tilewater": version,
        "job": search.design.job.name,
        "practice": search.design.practice.name,
        "tried": len(search.tried),
        "routed": search.routed,
        "there_are": search.plan.size,
        "ended": search.ended,
        "rests_on": rests_on(search),
        "axes": [_axis(axis) for axis in search.plan.axes],
        "fixed": list(search.plan.fixed),
        "own": point(search, search.own),
        "choices": [_choice(search, choice) for choice in search.choices],
        "front": [point(search, tried) for tried in search.front],
        "draws": [_weighed(search, weighed) for weighed in search.weighed],
        "short_first_by": dict(shortfalls(search)),
        "short_whatever_the_size": [r.title for r in search.untouched],
        "own_verdict": search.design.verdict,
        "overrules": [
            {"key": step.key, "value": _plain(step.value)}
            for step in trace
            if step.overrule is not None
        ],
        "findings": [finding.record for finding in search.findings],
    }


def rests_on(search: Search) -> str:
    """What the numbers of a search rest on, in words."""
    noun, ends = search.plan.noun, search.plan.ends
    return (
        f"Every {noun} that falls short of nothing before was routed over every day of the record, "
        f"{ends}. A rule that rests on the days falls short where even the high rate does, and is "
        "in doubt where low and high disagree. Nitrate is that of a mean whole year at the middle. "
        "Sizes are those that can be dug, stacked or bought."
    )


def sizes_of(search: Search, tried: Tried) -> dict[str, float | None]:
    """Size of each axis; those of the design itself for its own line.

    Parameters
    ----------
    search : Search
        The search. [-]
    tried : Tried
        A candidate; an empty one is the design. [-]

    Returns
    -------
    dict of str to float or None
        In the unit of each axis. [-]

    References
    ----------
    derived, a part of a record
    """
    if tried.candidate:
        values = search.plan.values_of(tried.candidate)
        return {axis.key: value for axis, value in zip(search.plan.axes, values, strict=True)}
    return {axis.key: own_size(search.design.trace, axis) for axis in search.plan.axes}


def own_size(trace: Trace, axis: Axis) -> float | None:
    """Size of the design itself on an axis.

    Parameters
    ----------
    trace : Trace
        Of the design. [-]
    axis : Axis
        The axis. [-]

    Returns
    -------
    float or None
        In the unit of the axis; None where it is not known. [-]

    References
    ----------
    derived, a part of a record
    """
    key = axis.key if axis.key in trace else next(iter(axis.levels[0].inputs))
    value = plain(trace, key)
    return None if value is None else float(value)


def point(search: Search, tried: Tried) -> Record:
    """A candidate: its sizes, the inputs that make it, what it costs and does, what binds it."""
    per_kg = usd_per_kg(tried) if tried.removed is not None and tried.annual is not None else None
    return {
        "sizes": sizes_of(search, tried),
        "inputs": {
            key: _plain(value)
            for key, value in (
                search.plan.inputs_of(tried.candidate).items() if tried.candidate else ()
            )
        },
        "cost_usd": tried.cost,
        "annual_usd": tried.annual,
        "removed_kg": tried.removed,
        "usd_per_kg": per_kg if per_kg is not None and isfinite(per_kg) else None,
        "binds": {
            "key": tried.binds,
            "title": title_of(search, tried.binds),
            "slack": tried.slack if isfinite(tried.slack) else None,
        },
        "short": list(tried.short),
        "in_doubt": list(tried.doubtful),
    }


def title_of(search: Search, key: str) -> str:
    """Title of a requirement; empty where there is none."""
    return next((r.title for r in search.design.trace.requirements if r.key == key), "")


def shortfalls(search: Search) -> list[tuple[str, int]]:
    """How many candidates fell short first by each requirement, the most first.

    Parameters
    ----------
    search : Search
        The search. [-]

    Returns
    -------
    list of (str, int)
        Key and number. [-]

    References
    ----------
    derived, a count
    """
    counted = Counter(tried.binds for tried in search.tried if tried.short)
    return sorted(counted.items(), key=lambda pair: (-pair[1], pair[0]))


def _axis(axis: Axis) -> Record:
    values = [level.value for level in axis.levels]
    return {
        "key": axis.key,
        "title": axis.title,
        "unit": axis.unit,
        "from": values[0],
        "to": values[-1],
        "sizes": len(values),
    }


def _choice(search: Search, choice: Choice) -> Record:
    design = choice.design
    trace = design.trace
    spans: dict[str, Any] = {
        group: {p: plain(trace, f"{where}.{p}") for p in ("p10", "p50", "p90")}
        for group, where in (
            ("removed_kg", "removal.removed_kg"),
            ("usd_per_kg", "cost.usd_per_kg"),
        )
    }
    governs = design.governs
    return {
        "name": choice.name,
        "words": choice.words,
        "why": choice.why,
        **point(search, choice.tried),
        "design": {
            "verdict": design.verdict,
            "governs": None
            if governs is None
            else {"key": governs.key, "slack": governs.slack, "text": governs.text},
            "cost_usd": plain(trace, "cost.total_usd"),
            "annual_usd": plain(trace, "cost.annual_usd"),
            **spans,
            "probability": {
                name: plain(trace, f"probability.{name}") for name in trace.names("probability")
            },
        },
    }


def _weighed(search: Search, weighed: Weighed) -> Record:
    return {
        "sizes": sizes_of(search, weighed.tried),
        "cost_usd": weighed.tried.cost,
        "removed_kg": {f"p{share}": weighed.removed_at(share / 100) for share in (10, 50, 90)},
        "regret_usd_per_kg": weighed.regret if isfinite(weighed.regret) else None,
        "cheapest_kg_in": weighed.best_in,
        "in_doubt": list(weighed.in_doubt),
        "short": list(weighed.short),
    }


def _plain(value: Value) -> Any:
    if isinstance(value, Unknown):
        return None
    return value if isinstance(value, str | bool | int | float) else str(value)


def table_rows(search: Search) -> Iterator[list[str]]:
    """Every candidate as a row under a head, in the order in which they were asked."""
    axes = search.plan.axes
    yield [
        *(_column(axis) for axis in axes),
        "passes",
        "on_front",
        "cost_usd",
        "annual_usd",
        "removed_kg",
        "binds",
        "slack",
        "in_doubt",
    ]
    front = {tried.candidate for tried in search.front}
    for tried in search.tried:
        yield [
            *(f"{value:.6g}" for value in search.plan.values_of(tried.candidate)),
            "yes" if tried.passes else "no",
            "yes" if tried.candidate in front else "no",
            *(_cell(number) for number in (tried.cost, tried.annual, tried.removed)),
            tried.binds,
            _cell(tried.slack),
            " ".join(tried.doubtful),
        ]


def _column(axis: Axis) -> str:
    name = axis.key.replace(".", "_").replace("-design", "")
    return name if name.endswith("_m") or axis.unit == "-" else f"{name}_{axis.unit}"


def _cell(number: float | None) -> str:
    return f"{number:.10g}" if number is not None and isfinite(number) else ""
