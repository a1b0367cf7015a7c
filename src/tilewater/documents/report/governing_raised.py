# SPDX-License-Identifier: Apache-2.0
"""The numbers that a signer looks at first of an outlet raised in season."""

from tilewater.documents.paper.blocks import Cell, Run
from tilewater.documents.report.reading import TWO, Reading
from tilewater.documents.words import NOT_KNOWN

NOTHING_TREATED = "kept back, not treated"


def _row(label: str, value: str, basis: str, reading: Reading, *keys: str) -> tuple[Cell, ...]:
    return label, Run(value, "bold"), (basis, *reading.marks(*keys))


def span_of(reading: Reading, group: str, kind: str = "") -> str:
    """A range from its low to its high tenth, two figures."""
    low, high = (reading.say(f"{group}.{p}", kind, style=TWO) for p in ("p10", "p90"))
    return low if low == high else f"{low.rpartition(' ')[0] or low} to {high}"


def kept_share(reading: Reading) -> tuple[Cell, ...]:
    """Share of the drain flow that does not leave by the drains, all years together."""
    key = "days.kept_share"
    out = reading.say("raised.annual_depth_m", "depth")
    basis = f"of {out} that leave in a mean year with the boards out; {NOTHING_TREATED}"
    if NOT_KNOWN in (out, span_of(reading, key)):
        basis = "the field is not known day by day"
    return _row(
        "Drain flow kept back", span_of(reading, key), basis, reading, f"{key}.p10", f"{key}.p90"
    )


def kept_load(reading: Reading) -> tuple[Cell, ...]:
    """Nitrate that does not leave by the drains in a year, and in a mean year."""
    key = "removal.removed_kg"
    site = span_of(reading, "removal.site_percent", "percent")
    mean = span_of(reading, "removal.long_run_removed_kg")
    basis = (
        f"{site} of the site's load; one in ten of years and draws lies below, one in ten above; "
        f"over all years {mean} a year"
    )
    if NOT_KNOWN in (site, mean):
        basis = "the field is not known day by day"
    return _row(
        "Nitrate-N kept back in a year",
        span_of(reading, key),
        basis,
        reading,
        f"{key}.p10",
        f"{key}.p90",
    )


def round_boards(reading: Reading) -> tuple[Cell, ...]:
    """What of it may come out again past the boards."""
    key = "days.round_boards_kg"
    return _row(
        "Of it round the boards",
        span_of(reading, key),
        "with water that seeps away deeper in place of draining; seepage to the side is not in "
        "the model",
        reading,
        f"{key}.p10",
        f"{key}.p90",
    )


def under_lowest(reading: Reading) -> tuple[Cell, ...]:
    """How far the highest standing water lies under the lowest ground that was shot."""
    key = "raised.water_below_lowest_m"
    zone, slope = "raised.zone_fall_m", "raised.zone_slope"
    return _row(
        "Water under the lowest ground",
        reading.say(key),
        f"standing pool, highest boards; ground that they reach falls {reading.say(zone)} at "
        f"{reading.say(slope, 'slope')}",
        reading,
        key,
        zone,
    )


def reach(reading: Reading) -> tuple[Cell, ...]:
    """How far the boards hold water up the main, against the property line."""
    key, line = "pool_reach_m", "inputs.main.property_line_station_m"
    at = reading.say(line, "station")
    told = "no property line is given" if at == NOT_KNOWN else f"property line at {at}"
    start = reading.say("inputs.main.station_diversion_m", "station")
    return _row(
        "The pool reaches up the main",
        reading.words.about(reading.value(key)),
        f"from {start}, highest boards; {told}",
        reading,
        key,
    )


def wet_days(reading: Reading) -> tuple[Cell, ...]:
    """Days too wet at the wettest spot, boards in and out."""
    here, name = "water.spot", "season_days_per_year"
    label = "Days too wet, wettest spot"
    spots = [
        spot
        for spot in reading.trace.names(here)
        if reading.known(f"{here}.{spot}.boards_in.{name}", f"{here}.{spot}.boards_out.{name}")
    ]
    if not spots:
        return _row(label, NOT_KNOWN, "no day of the record is known", reading)
    worst = max(spots, key=lambda spot: float(reading.value(f"{here}.{spot}.boards_in.{name}")))
    keys = [f"{here}.{worst}.{state}.{name}" for state in ("boards_in", "boards_out")]
    within, without = (reading.say(key, "days", style=TWO) for key in keys)
    limit = reading.say("inputs.limits.midway_m", "length")
    basis = (
        f"of a mean crop season at {worst}, less than {limit} of clear soil midway; boards out "
        f"{without}"
    )
    return _row(label, within, basis, reading, *keys)
