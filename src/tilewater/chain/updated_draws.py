# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: draws that agree with a season's flow as measured are kept more often.

How much of a season's water went through the practice is no parameter, so no range is narrowed by
it. The draws are weighed by how well they foretold it, and as many as before are kept in proportion
to their weight; every range of the answer then follows. Where nothing was measured nothing changes.
"""

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.chain.updated import MEASURED, is_stated
from tilewater.nitrate.parameter_ranges import Values
from tilewater.nitrate.range_update import draws_that_count, weights_of_draws
from tilewater.practices.bed.year_sums import long_run_share

HERE = "updated.treated_share"
SHARE, ERROR = f"{MEASURED}.treated_share", f"{MEASURED}.treated_share_error"
BEFORE = "_before"
"""End of the keys of draws and sums before they are weighed."""


def draws_key(trace: Trace, key: str) -> str:
    """Key for draws or sums as drawn, which are weighed afterwards where a share was measured."""
    return f"{key}{BEFORE}" if trace.known(SHARE, ERROR) else key


def as_drawn(trace: Trace, key: str) -> str:
    """Key of draws or sums before they were weighed; the key itself where they were not."""
    return f"{key}{BEFORE}" if f"{key}{BEFORE}" in trace else key


def are_weighed(trace: Trace) -> bool:
    """Whether the draws that agree with a measured share stand in the place of all."""
    return f"days.sums{BEFORE}" in trace


def tell_unused_share(trace: Trace, practice: str) -> None:
    """Say that a measured share weighs no draws of a practice."""
    if trace.known(SHARE):
        trace.findings.append(
            Finding(
                "treated-share-not-used",
                "note",
                "measured.treated_share",
                f"The measured share of the water weighs no draws of a {practice}; it is used for "
                "a bed only.",
            )
        )


def keep_agreeing(trace: Trace) -> None:
    """Record draws and sums that agree with the measured share in the place of those drawn."""
    if not is_stated(trace, "treated_share", "treated_share_error"):
        return
    kept = _add_kept(trace, f"days.sums{BEFORE}", "days.whole_years")
    for name, title in (("sums", "Sums by year of the draws kept"), ("draws", "Draws kept")):
        trace.compute(
            f"days.{name}",
            those_kept,
            unit="",
            title=title,
            of=f"days.{name}{BEFORE}",
            kept=kept,
        )


def _add_kept(trace: Trace, sums: str, whole: str) -> str:
    trace.compute(
        f"{HERE}.foretold",
        long_run_share,
        unit="-",
        title="Share of the water that goes through, as each draw foretells it",
        sums=sums,
        whole=whole,
    )
    trace.compute(
        f"{HERE}.weights",
        weights_of_draws,
        unit="-",
        title="Weight of each draw after the measured share",
        values=f"{HERE}.foretold",
        measured=SHARE,
        error=ERROR,
    )
    trace.compute(
        f"{HERE}.draws_that_count",
        draws_that_count,
        unit="-",
        title="Draws that count after the measured share",
        weights=f"{HERE}.weights",
    )
    return _kept(trace)


def _kept(trace: Trace) -> str:
    key = f"{HERE}.kept"
    trace.compute(
        key,
        kept_draws,
        unit="",
        title="Draws kept in proportion to their weight",
        weights=f"{HERE}.weights",
    )
    if trace.known(f"{HERE}.draws_that_count"):
        count = float(trace.value(f"{HERE}.draws_that_count"))
        share = float(trace.value(SHARE))
        trace.findings.append(
            Finding(
                "draws-weighed",
                "note",
                "Draws",
                f"{100 * share:.0f} percent of a season's water was measured to go through; the "
                f"draws that agree count more, as many as {count:.0f} equal ones. What decides is "
                "told of the draws before.",
                source="lindley1972",
            )
        )
    return key


def kept_draws(weights: Values) -> NDArray[np.int64]:
    """Numbers of the draws that stand for weighed ones, as many as there were.

    Parameters
    ----------
    weights : array
        Weights that add up to 1. [-]

    Returns
    -------
    array of int
        Numbers in rising order, each as often as its weight asks. [-]

    Notes
    -----
    draw i for every (j + 1/2) / n that falls within its part of the summed weights    (derived)

    References
    ----------
    derived, even steps through the summed weights
    """
    places = (np.arange(weights.size) + 0.5) / weights.size
    return np.searchsorted(np.cumsum(weights) / weights.sum(), places).astype(np.int64)


def those_kept(of: Sequence[Any] | Values, kept: NDArray[np.int64]) -> Any:
    """Draws, or what they gave, of the numbers kept.

    Parameters
    ----------
    of : sequence or array
        By draw. [-]
    kept : array of int
        Numbers of the draws. [-]

    Returns
    -------
    tuple or array
        By number kept. [-]
    """
    return of[kept] if isinstance(of, np.ndarray) else tuple(of[int(i)] for i in kept)
