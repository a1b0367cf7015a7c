# SPDX-License-Identifier: Apache-2.0
"""What to measure before one of several practices is chosen, by its price and what it changes.

The choice is the least cost of a kilogram, at the middle of the draws, among the practices that
keep every rule; leaving it stands among them at the most that a kilogram may cost. A rule that
draws decide is kept or not by their middle, so that a measurement may bring a practice in or out;
one that they do not decide stands as it is.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.trace import Trace, argument_name
from tilewater.chain.advice import LEAVE, MOST, RANGES, ordered
from tilewater.chain.compare_contenders import NONE, ROW, Contender
from tilewater.chain.compare_steps import KEPT, in_step_with, is_out_of_step, removed_key
from tilewater.chain.measurement_numbers import NUMBERS
from tilewater.chain.measurements import (
    NOTHING,
    Weighed,
    measurement_of,
    measurements_of,
    settled_by,
    weighed_of,
)
from tilewater.chain.measuring import Settled, Worth, worth_of_measuring
from tilewater.chain.practices import PRACTICES
from tilewater.chain.variance_shares import Array
from tilewater.nitrate.parameter_ranges import ParameterRange

HERE = "choice"
Margins = tuple[Array, ...]


@dataclass(frozen=True)
class Choice:
    """A choice among practices, and what could change it.

    Attributes
    ----------
    options : tuple of str
        Practices that no rule shuts out but those that draws decide.
    now : str
        What is chosen by the middle of the draws; "none" where all is left as it is.
    is_clear : bool
        Whether nine of ten draws agree on it.
    measures : tuple of Weighed
        What could be measured, the first first.
    """

    options: tuple[str, ...]
    now: str
    is_clear: bool
    measures: tuple[Weighed, ...]


def add_choice(trace: Trace, contenders: Sequence[Contender]) -> Choice | None:
    """Record every measurement with its price and worth; None where nothing can be weighed."""
    options = tuple(c.name for c in _options(trace, contenders))
    if not options:
        return None
    for name, members in (("costs", _costs), ("margins", _margins)):
        trace.compute(
            f"{HERE}.{name}",
            by_practice,
            unit="",
            title=f"{name.capitalize()} of each practice by draw",
            **{argument_name(o): members(trace, o, contenders) for o in options},
        )
    keys = {
        argument_name(slug): _add_one(trace, slug, practice)
        for slug, practice in _measurable(trace, options)
    }
    if not keys:
        return None
    trace.compute(
        f"{HERE}.order",
        ordered,
        unit="",
        title="What to measure before a practice is chosen, the first first",
        **keys,
    )
    order: tuple[Weighed, ...] = trace.value(f"{HERE}.order")
    worth = order[0].worth
    if worth is None:
        return None
    names = {argument_name(o): o for o in options} | {LEAVE: NONE}
    return Choice(options, names[worth.choice], worth.was_settled, order)


def _options(trace: Trace, contenders: Sequence[Contender]) -> Iterator[Contender]:
    """Those with draws and a price that fall short of no rule but what draws decide."""
    by_name = {c.name: c for c in contenders}
    for each in contenders:
        if each.name == NONE or removed_key(trace, each.name) is None:
            continue
        if f"{each.name}.owner.usd_per_kg_by_draw" not in trace:
            continue
        parts = _parts(each.name)
        is_shut = any(
            by_name[part].design is None or _fixed_short(trace, by_name[part]) for part in parts
        )
        has_fall = each.name != ROW or trace.value(f"{ROW}.fall.status") == "holds"
        if not is_shut and has_fall:
            yield each


def _parts(name: str) -> tuple[str, ...]:
    return ("bed", "buffer") if name == ROW else (name,)


def _fixed_short(trace: Trace, contender: Contender) -> bool:
    """Whether a rule falls short that no draw decides."""
    design = contender.design
    if design is None:
        return True
    by_draw = set(_judged(trace, contender))
    return any(
        design.trace.value(f"{r.key}.status") == "short" and r.key not in by_draw
        for r in design.trace.requirements
        if r.binding
    )


def _judged(trace: Trace, contender: Contender) -> dict[str, tuple[str, str]]:
    """Rules that draws decide: key of the values by draw, and of the limit."""
    design, name = contender.design, contender.name
    if design is None:
        return {}
    binding = {r.key: r.binding for r in design.trace.requirements}
    found = {}
    for row in design.rows:
        key = f"criteria.{row.code}"
        values = f"{name}.{PRACTICES[name].by_draw.get(row.value, '')}"
        if binding.get(key) and row.operator == ">=" and values in trace and trace.known(values):
            found[key] = (values, f"{name}.{key}.limit")
    return found


def _costs(trace: Trace, name: str, contenders: Sequence[Contender]) -> str:
    return f"{name}.owner.usd_per_kg_by_draw"


def _margins(trace: Trace, name: str, contenders: Sequence[Contender]) -> str:
    key = f"{name}.owner.margins"
    for part in _parts(name):
        contender = next(c for c in contenders if c.name == part)
        own = f"{part}.owner.margins"
        rules: dict[str, str] = {}
        if own not in trace:
            for code, (values, limit) in _judged(trace, contender).items():
                word = argument_name(code)
                rules |= {f"value_{word}": values, f"limit_{word}": limit}
            trace.compute(
                own,
                margins_in_step,
                unit="",
                title=f"By how much each draw of the {contender.words} keeps each rule",
                **rules,
                **({"kept": KEPT} if is_out_of_step(trace, part) else {}),
            )
    if key not in trace:
        trace.compute(
            key,
            margins_of_both,
            unit="",
            title="By how much each draw of both keeps each rule",
            bed="bed.owner.margins",
            buffer="buffer.owner.margins",
        )
    return key


def _measurable(trace: Trace, options: Sequence[str]) -> Iterator[tuple[str, str]]:
    """Measurements of what is drawn of any option, with a practice of which it is drawn."""
    told = set()
    for part in dict.fromkeys(part for option in options for part in _parts(option)):
        if not trace.known(f"{part}.days.drawn"):
            continue
        for each in measurements_of(part, tuple(trace.value(f"{part}.days.drawn"))):
            if each.slug not in told:
                told.add(each.slug)
                yield each.slug, part


def _add_one(trace: Trace, slug: str, practice: str) -> str:
    here, each = f"{HERE}.{slug}", measurement_of(slug)
    which = trace.constant(f"{here}.name", slug, "Name of the measurement", source="derived")
    price = f"{practice}.inputs.measure.{slug}.cost_usd"
    if price not in trace or not trace.known(price):
        title = f"Usual price: {each.words}"
        price = trace.constant(f"{here}.usual_usd", each.usd, title, unit="USD", source="practice")
    ranges = next(
        f"{practice}.{key}"
        for key in RANGES
        if f"{practice}.{key}" in trace and trace.known(f"{practice}.{key}")
    )
    for name, function, title, inputs in (
        ("measurement", measurement_of, "What would be measured", {"slug": which}),
        (
            "settled",
            settled_in_step,
            f"What it would know: {each.settles.replace('-', ' ')}",
            {"drawn": f"{practice}.days.drawn", "ranges": ranges, "slug": which}
            | ({"kept": KEPT} if trace.known(KEPT) else {}),
        ),
        (
            "worth",
            worth_among_practices,
            "What it could change in the choice",
            {
                "costs": f"{HERE}.costs",
                "margins": f"{HERE}.margins",
                "settled": f"{here}.settled",
            }
            | ({"most": most} if trace.known(most := f"{practice}.{MOST}") else {}),
        ),
    ):
        trace.compute(f"{here}.{name}", function, unit="", title=title, **inputs)
    nothing = trace.constant(
        f"{here}.narrows", NOTHING, "Spread is not counted among practices", source="derived"
    )
    trace.compute(
        f"{here}.weighed",
        weighed_of,
        unit="",
        title=f"{each.words.capitalize()}: price and what it could change",
        measurement=f"{here}.measurement",
        usd=price,
        worth=f"{here}.worth",
        narrows=nothing,
    )
    for name, (number, title) in NUMBERS.items():
        if not name.startswith("share_of_spread"):
            weighed = {"weighed": f"{here}.weighed"}
            trace.compute(f"{here}.{name}", number, unit="-", title=title, **weighed)
    return f"{here}.weighed"


def by_practice(**members: Array | Margins) -> dict[str, Array | Margins]:
    """What practices have, by their names.

    Parameters
    ----------
    **members : array or tuple of array
        Of each practice. [-]

    Returns
    -------
    dict
        By name. [-]
    """
    return members


def margins_in_step(
    kept: NDArray[np.int64] | None = None, **rules: Array | float
) -> tuple[Array, ...]:
    """By how much each draw keeps each rule, in step with the draws of the bed.

    Parameters
    ----------
    kept : array of int or None
        Numbers of the draws that the bed's were weighed to, where these were not. [-]
    **rules : array or float
        `value_<rule>` by draw and `limit_<rule>`, in the same unit. [-]

    Returns
    -------
    tuple of array
        By rule; negative where a draw does not keep it. [-]

    Notes
    -----
    m = value - limit    (derived)

    References
    ----------
    derived, a difference
    """
    found = []
    for name, values in rules.items():
        if name.startswith("value_"):
            margin = np.asarray(values) - rules[f"limit_{name.removeprefix('value_')}"]
            found.append(margin if kept is None else np.asarray(in_step_with(margin, kept)))
    return tuple(found)


def margins_of_both(bed: Margins, buffer: Margins) -> Margins:
    """Margins of two practices in a row, which keep their rules only together.

    Parameters
    ----------
    bed, buffer : tuple of array
        By how much each draw keeps each rule. [-]

    Returns
    -------
    tuple of array
        Of both. [-]

    References
    ----------
    derived, a union
    """
    return (*bed, *buffer)


def settled_in_step(
    drawn: Mapping[str, Array],
    ranges: Mapping[str, ParameterRange],
    slug: str,
    kept: NDArray[np.int64] | None = None,
) -> Settled:
    """What a measurement would know, by draws that stand in step.

    Parameters
    ----------
    drawn : mapping of str to array
        Draws by name, all that were drawn. [-]
    ranges : mapping of str to ParameterRange
        What they were drawn from. [-]
    slug : str
        Name of the measurement. [-]
    kept : array of int or None
        Numbers of the draws that the bed's were weighed to. [-]

    Returns
    -------
    Settled
    """
    each = measurement_of(slug)
    values = drawn[each.settles] if kept is None else drawn[each.settles][kept]
    return settled_by(values, ranges[each.settles], each.error)


def worth_among_practices(
    costs: Mapping[str, Array],
    margins: Mapping[str, Margins],
    settled: Settled,
    most: float = np.inf,
) -> Worth:
    """What a measurement could change in the choice among practices and leaving it.

    Parameters
    ----------
    costs : mapping of str to array
        Cost of a kilogram by draw of each practice. [USD]
    margins : mapping of str to tuple of array
        By how much each draw of each keeps each rule. [-]
    settled : Settled
        What the measurement would know. [-]
    most : float
        Most that a kilogram may cost. [USD]

    Returns
    -------
    Worth

    Notes
    -----
    options: leave at the most that a kilogram may cost, each practice at its cost    (derived)

    As many draws are taken as the practice with the fewest has.

    References
    ----------
    derived, several options of `worth_of_measuring`
    """
    count = min(values.size for values in costs.values())
    options = {LEAVE: np.full(count, float(most))}
    options |= {name: values[:count] for name, values in costs.items()}
    cut = {name: [rule[:count] for rule in rules] for name, rules in margins.items()}
    return worth_of_measuring(options, [Settled(settled.values[:count], settled.error)], cut)
