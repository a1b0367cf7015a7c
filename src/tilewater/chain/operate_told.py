# SPDX-License-Identifier: Apache-2.0
"""What whoever runs the boards must know: when fewer settings are as good, low flow, the start."""

from collections.abc import Iterator

from tilewater.basis.findings import Finding
from tilewater.basis.told import inches, pounds
from tilewater.basis.trace import Trace
from tilewater.chain.operate import Operation
from tilewater.chain.operate_dates import DAYS_AHEAD, OwnerDates
from tilewater.chain.operate_given import DATES, GIVEN, key_of
from tilewater.chain.operate_rows import ROWS, SET_ONCE
from tilewater.chain.operate_settings import HERE
from tilewater.nitrate.side_effects import USED_UP


def operation_findings(trace: Trace, operation: Operation) -> Iterator[Finding]:
    """What the engineer must know of a search of the boards."""
    yield from _dates(trace)
    if not operation.is_searched:
        yield Finding(
            "boards-not-searched",
            "caution",
            "Boards",
            "No board was searched: the days of the drain flow are not known, or no setting keeps "
            "the limits. The card shows the boards that the job states. Name a file of daily "
            "weather under [weather].",
        )
        return
    yield _worth(trace, operation)
    yield from _kept(trace, operation)
    yield Finding(
        "boards-flow-as-is",
        "note",
        "Boards",
        "Every row takes the same days of drain flow, those of the job with its own boards in."
        if operation.practice != "raised"
        else "Every row runs the field with its own boards; nothing is treated, what stays on the "
        "field is counted.",
        source="derived",
    )
    if operation.practice == "bed":
        yield from _low_flow(trace)


def _dates(trace: Trace) -> Iterator[Finding]:
    dates = trace.value(DATES) if trace.known(DATES) else None
    if isinstance(dates, OwnerDates) and not dates.work:
        yield Finding(
            "boards-by-seasons",
            "caution",
            "Owner's dates",
            "The job does not say when the owner plants and harvests. Boards are moved where the "
            "seasons of the job begin, and no field work is looked at. Ask for his dates and write "
            "them under [operate].",
            source="practice",
        )
    elif isinstance(dates, OwnerDates) and f"{GIVEN}.days_ahead" not in trace:
        yield Finding(
            "boards-days-ahead",
            "note",
            "Owner's dates",
            f"Boards are moved {DAYS_AHEAD} days before field work: common practice, no source. "
            "Ask how long the soil takes to carry, and write operate.days_ahead.",
            source="practice",
        )


MEAN_YEAR = (
    "A mean year is the mean over all years; the table has the middle of draws and years, which "
    "lies lower where a few wet years bring much."
)
"""Why two averages of one thing differ."""


def _worth(trace: Trace, operation: Operation) -> Finding:
    """Whether more settings bring more than the range can tell."""
    best = [row.name for row in operation.rows if row.name.startswith("best-")]
    names = (*best, operation.chosen)
    mass = {name: float(trace.value(f"{ROWS}.{name}.mean_removed_kg.p50")) for name in names}
    once = float(trace.value(f"{ROWS}.{SET_ONCE}.mean_removed_kg.p50"))
    short = trace.value(f"{ROWS}.{SET_ONCE}.short")
    most, chosen = max(mass.values()), operation.chosen
    if chosen in (SET_ONCE, "best-1") and not short:
        words = (
            "Setting the boards once is as good: in a mean year "
            f"{pounds(once)} with the boards of the design all year, {pounds(most)} with the best "
            "that was found. What lies between is less than two figures can tell."
        )
    elif short:
        words = (
            f"The boards of the design all year do not keep {_listed(short)}. What the limits cost "
            f"in a mean year: {pounds(once)} without them, {pounds(mass[chosen])} with the boards "
            "of the card."
        )
    else:
        words = (
            f"In a mean year {pounds(mass[chosen])} with the boards of the card, {pounds(once)} "
            f"with the boards of the design all year, {pounds(most)} with the best that was found."
        )
    return Finding(
        "boards-worth",
        "note",
        "Boards",
        f"{words} {MEAN_YEAR}",
        value=mass[chosen],
        unit="kg",
        source="derived",
    )


def _listed(short: tuple[str, ...]) -> str:
    """What is not kept, in words."""
    spots = [name.replace("_", "-") for name in short if name not in ("nitrate", "field work")]
    told = []
    if "field work" in short:
        told.append("free drainage in field work")
    if spots:
        told.append(f"the wet days at {', '.join(spots)}")
    if "nitrate" in short:
        told.append("the days on which nitrate may be used up")
    return " and ".join(told)


def _kept(trace: Trace, operation: Operation) -> Iterator[Finding]:
    """Where the row of the card, run as one field, is wetter than its settings put together."""
    here = f"{ROWS}.{operation.chosen}"
    for spot in trace.names(f"{here}.spot"):
        run = float(trace.value(f"{here}.spot.{spot}.usual_run_days"))
        limit = float(trace.value(f"{HERE}.limit.{spot}_days"))
        if run > limit:
            yield Finding(
                "boards-wet",
                "caution",
                spot,
                f"Run whole, the card leaves {spot} too wet midway for {run:g} days in a row in "
                f"half the years, beside {limit:g} that are allowed: the days after a change "
                "remember the boards before it.",
                value=run,
                operator="<=",
                limit=limit,
                unit="days",
                source="practice",
            )


def _low_flow(trace: Trace) -> Iterator[Finding]:
    outlet, days = (f"{HERE}.low_flow.{name}" for name in ("outlet_height_m", "used_up_days"))
    once = f"{ROWS}.{SET_ONCE}.used_up_days"
    if not trace.known(outlet, days, once):
        return
    limit = float(trace.value(key_of(trace, "used_up_days")))
    all_year, least = float(trace.value(once)), float(trace.value(days))
    height = float(trace.value(outlet))
    yield Finding(
        "boards-low-flow",
        "caution" if all_year > limit else "note",
        "Low flow",
        f"With the boards of the design less than {USED_UP:g} mg/L is left on {all_year:.0f} days "
        f"of a year, {limit:g} are allowed; with the outlet boards at {inches(height)} above "
        f"the sill on {least:.0f}. In a dry spell, or where the outlet smells of rotten eggs, "
        "lower the outlet boards and leave the bypass boards for high flow.",
        value=all_year,
        operator="<=",
        limit=limit,
        unit="days",
        source="practice",
    )
