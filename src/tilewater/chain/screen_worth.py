# SPDX-License-Identifier: Apache-2.0
"""What a measurement could change in the answers of a screening, where a range is known already.

Of what nobody has looked at there is no range, and nobody can say how it will turn out; it is
measured because all else waits for it. Conductivity of the strip and nitrate have ranges, so that
the chance of another answer can be counted before anybody goes out.
"""

from collections.abc import Iterator

import numpy as np

from tilewater.basis.trace import Given, Trace, argument_name
from tilewater.basis.unknown import is_unknown
from tilewater.chain.advice import settled_of, worth_for_one_practice
from tilewater.chain.measurements import NOTHING, Weighed, measurement_of
from tilewater.chain.measuring import Settled, Worth
from tilewater.chain.screen_answers import CANNOT, Answer
from tilewater.chain.screen_rows import ScreenRow
from tilewater.chain.variance_shares import Array
from tilewater.nitrate.parameter_ranges import ParameterRange, default_ranges, draws_of_ranges
from tilewater.practices.buffer.soil_steps import BY, used_kind

HERE = "screen.worth"
DRAWN = f"{HERE}.drawn"
DRAWS, SEED = 512, 1
SHARE, NITRATE = "share", "nitrate"
"""Questions whose answer hangs on a range."""
RANGE_OF = {SHARE: "buffer-conductivity", NITRATE: "nitrate-factor"}
VALUE_OF = {
    SHARE: "screen.buffer.share_middle_of_peak",
    NITRATE: "inputs.nitrate.mean_mg_per_l",
}
LEFT = 2.0
"""What leaving it costs where building it costs 1: what keeps its rules is built."""


def weighed_for(
    trace: Trace, answers: tuple[Answer, ...], slugs: dict[str, str]
) -> dict[str, Weighed]:
    """What measurements could change in the answers, by the name that the screening gives them.

    Parameters
    ----------
    trace : Trace
        Steps of the screening. [-]
    answers : tuple of Answer
        Of every practice; one that cannot lie here waits for nothing. [-]
    slugs : dict of str to str
        Measurement of the list by its name in the screening. [-]

    Returns
    -------
    dict of str to Weighed
        Those that a range is known of; of several practices the one that changes most.
    """
    waiting = [answer for answer in answers if answer.answer != CANNOT]
    if not waiting or not _add_drawn(trace):
        return {}
    found: dict[str, Weighed] = {}
    for name, slug in slugs.items():
        if measurement_of(slug).settles not in trace.value(DRAWN):
            continue
        each = [_weighed(trace, answer, slug) for answer in waiting]
        known = [weighed for weighed in each if weighed is not None]
        if known:
            found[name] = max(known, key=lambda weighed: weighed.changes.share)
    return found


def price_of(trace: Trace, slug: str, usual: float) -> float:
    """Price of a measurement, that of the job or else the usual one.

    Parameters
    ----------
    trace : Trace
        Steps of the screening. [-]
    slug : str
        Name under which the job prices it. [-]
    usual : float
        Usual price. [USD]

    Returns
    -------
    float
        Price. [USD]
    """
    key = f"inputs.measure.{slug}.cost_usd"
    return float(trace.value(key)) if key in trace and trace.known(key) else usual


def _add_drawn(trace: Trace) -> bool:
    """Record the ranges that are known, and their draws."""
    ranges = dict(_ranges(trace))
    if not ranges:
        return False
    trace.give(Given(f"{HERE}.ranges", ranges, "", "Ranges of what the answers hang on"))
    count = trace.constant(f"{HERE}.draws", DRAWS, "Draws", source="derived")
    seed = trace.constant(f"{HERE}.seed", SEED, "Seed of the draws", source="derived")
    trace.compute(
        DRAWN,
        draws_of_ranges,
        unit="",
        title="What the answers hang on, by draw",
        ranges=f"{HERE}.ranges",
        count=count,
        seed=seed,
    )
    return True


def _ranges(trace: Trace) -> Iterator[tuple[str, ParameterRange]]:
    factor = f"{BY}.{used_kind(trace)}_factor"
    if factor in trace and trace.known(factor, VALUE_OF[SHARE]):
        by = float(trace.value(factor))
        if by > 1.0:
            yield (
                RANGE_OF[SHARE],
                ParameterRange(
                    RANGE_OF[SHARE], "lognormal", 1.0 / by, 1.0, by, "p5", "p95", "-", least=0.0
                ),
            )
    if VALUE_OF[NITRATE] in trace and trace.known(VALUE_OF[NITRATE]):
        yield RANGE_OF[NITRATE], default_ranges()[RANGE_OF[NITRATE]]


def _weighed(trace: Trace, answer: Answer, slug: str) -> Weighed | None:
    """What a measurement changes in the answer for one practice; None where it hangs on none."""
    each = measurement_of(slug)
    rows = [row for row in answer.rows if _hangs(trace, row)]
    if not any(RANGE_OF[row.slug] == each.settles for row in rows):
        return None
    here = f"{HERE}.{answer.practice}"
    margins = {row.slug: _add_margin(trace, here, row) for row in rows}
    which = trace.constant(f"{HERE}.{slug}.name", slug, "Name of the measurement", source="derived")
    settled = f"{HERE}.{slug}.settled"
    if settled not in trace:
        trace.compute(
            settled,
            settled_of,
            unit="",
            title=f"What it would know: {each.settles.replace('-', ' ')}",
            drawn=DRAWN,
            ranges=f"{HERE}.ranges",
            slug=which,
        )
    worth = f"{here}.{slug}"
    trace.compute(
        worth,
        worth_for_answer,
        unit="",
        title=f"What it could change for a {answer.practice}",
        settled=settled,
        **{argument_name(name): key for name, key in margins.items()},
    )
    return Weighed(each, price_of(trace, slug, each.usd), trace.value(worth), NOTHING)


def _hangs(trace: Trace, row: ScreenRow) -> bool:
    if row.slug not in RANGE_OF or is_unknown(row.limit):
        return False
    return RANGE_OF[row.slug] in trace.value(DRAWN)


def _add_margin(trace: Trace, here: str, row: ScreenRow) -> str:
    key = f"{here}.{row.slug}_margin"
    if key not in trace:
        limit = trace.constant(
            f"{here}.{row.slug}_limit", float(row.limit), "Limit of the question", source="derived"
        )
        name = trace.constant(
            f"{here}.{row.slug}_name", RANGE_OF[row.slug], "Range it hangs on", source="derived"
        )
        trace.compute(
            key,
            margin_by_draw,
            unit="",
            title=f"By how much each draw keeps: {row.ask}",
            value=VALUE_OF[row.slug],
            drawn=DRAWN,
            name=name,
            limit=limit,
        )
    return key


def margin_by_draw(value: float, drawn: dict[str, Array], name: str, limit: float) -> Array:
    """By how much each draw keeps a limit, where the value goes with a factor.

    Parameters
    ----------
    value : float
        At the middle. [-]
    drawn : dict of str to array
        Factors by name. [-]
    name : str
        Which of them. [-]
    limit : float
        In the unit of the value. [-]

    Returns
    -------
    array
        Negative where a draw does not keep it, in the unit of the value. [-]

    Notes
    -----
    m_i = x f_i - limit    (derived)

    References
    ----------
    derived, a product and a difference
    """
    return np.asarray(value * drawn[name] - limit, dtype=np.float64)


def worth_for_answer(settled: Settled, **margins: Array) -> Worth:
    """What a measurement could change in whether a practice keeps what hangs on ranges.

    Parameters
    ----------
    settled : Settled
        What the measurement would know. [-]
    **margins : array
        By how much each draw keeps each limit. [-]

    Returns
    -------
    Worth

    Notes
    -----
    build at 1, leave at 2: what keeps its limits at the middle is built    (derived)

    References
    ----------
    derived, two options of `worth_of_measuring`
    """
    build = np.ones(settled.values.size)
    return worth_for_one_practice(build, settled, tuple(margins.values()), LEFT)
