# SPDX-License-Identifier: Apache-2.0
"""The ten numbers that a signer looks at first, each with what it rests on."""

from tilewater.basis.requirement import Requirement
from tilewater.documents.paper.blocks import Cell, Column, Run, Table
from tilewater.documents.report.reading import TWO, Reading
from tilewater.documents.words import NOT_KNOWN

CRITERION, SPRING = "capacity.criterion", "capacity.spring"
SIMULATED = "screening figure, no daily record"


def governing_numbers(reading: Reading) -> Table:
    """Ten numbers, each with its basis and where it is worked."""
    rows = (
        _peak(reading),
        _line(reading, CRITERION, "Through the bed, criterion line", "water at the bypass crest"),
        _line(reading, SPRING, "Through the bed, spring line", "in balance, main full"),
        _retention(reading),
        _treated(reading),
        _removed(reading),
        _crest(reading),
        _clear_soil(reading),
        _groundwater(reading),
        _cost(reading),
    )
    return Table(
        (
            Column(""),
            Column("number", wide=True, share=1.0),
            Column("value"),
            Column("basis", wide=True, share=2.1),
        ),
        tuple((str(place), *row) for place, row in enumerate(rows, 1)),
    )


def _row(label: str, value: str, basis: str, reading: Reading, *keys: str) -> tuple[Cell, ...]:
    return label, Run(value, "bold"), (basis, *reading.marks(*keys))


def _peak(reading: Reading) -> tuple[Cell, ...]:
    key = "drain_flow.peak_for_share_m3_s"
    bypass = "drain_flow.peak_for_bypass_m3_s"
    control = reading.say("drain_flow.controlled_by")
    return _row(
        "Peak that shares are counted against",
        reading.say(key),
        f"controlled by: {control}; bypass and field are checked at {reading.say(bypass)}",
        reading,
        key,
        bypass,
    )


def _line(reading: Reading, here: str, label: str, water: str) -> tuple[Cell, ...]:
    flow, share = f"{here}.flow_m3_s", f"{here}.share_of_peak"
    chips = reading.say(f"{here}.conductivity_m_s")
    age, cold = reading.say(f"{here}.age_years"), reading.say(f"{here}.temperature_c")
    return _row(
        label,
        reading.say(flow),
        f"{reading.say(share)} of the peak; chips {chips} at {age} in water of {cold}; {water}",
        reading,
        flow,
        share,
    )


def _retention(reading: Reading) -> tuple[Cell, ...]:
    key = f"{CRITERION}.retention_h"
    kind, porosity = reading.say(f"{CRITERION}.porosity_kind"), f"{CRITERION}.porosity"
    return _row(
        "Time in the bed, criterion line",
        reading.say(key, "hours"),
        f"{kind} porosity {reading.say(porosity, 'number')}; {_limit(reading, '-retention')}",
        reading,
        key,
    )


def _limit(reading: Reading, ending: str) -> str:
    """The limit of a row of the standard and how it is known."""
    for row in reading.material.design.rows:
        if row.code.endswith(ending):
            limit = reading.words.of_step(reading.trace.steps[f"criteria.{row.code}.limit"])
            return f"limit {limit}, {honest(row.text_status, bool(row.confirmed))}"
    return "no limit"


def honest(text_status: str, confirmed: bool) -> str:
    """How a limit is known, in words for a signer."""
    if confirmed:
        return "confirmed"
    return {
        "read": "read in the text",
        "memory": "remembered, check your state's edition",
        "practice": "common practice, no source",
    }[text_status]


def by_days(reading: Reading) -> bool:
    """Whether the year was worked day by day."""
    return reading.known("days.sums") or reading.value("drain_flow.basis") == "measured"


def _treated(reading: Reading) -> tuple[Cell, ...]:
    key = "removal.treated_volume_share.p50"
    if key not in reading.trace:
        key = "removal.by_rates.treated_volume_share.p50"
    basis = reading.say("drain_flow.basis")
    rests = (
        f"daily flow {basis}" if by_days(reading) else f"{SIMULATED}: an assumed spread of flows"
    )
    return _row(
        "Share of the year's water treated", reading.say(key, style=TWO), rests, reading, key
    )


def removal_group(reading: Reading) -> str:
    """Where the removal of a year stands: from days, else from published rates."""
    return "removal" if "removal.removed_kg.p50" in reading.trace else "removal.by_rates"


def span(reading: Reading, group: str, kind: str = "") -> str:
    """A range from its low to its high tenth, two figures."""
    low, high = (reading.say(f"{group}.{p}", kind, style=TWO) for p in ("p10", "p90"))
    if low == high:
        return low
    return f"{low.rpartition(' ')[0] or low} to {high}"


def _removed(reading: Reading) -> tuple[Cell, ...]:
    group = removal_group(reading)
    site, bed = (span(reading, f"{group}.{n}_percent", "percent") for n in ("site", "bed"))
    basis = (
        "not known what share of the load that is"
        if NOT_KNOWN in (site, bed)
        else f"{site} of the site's load, {bed} of the load through the bed; "
        + ("one year in ten lies below, one above" if by_days(reading) else "low to high rate")
    )
    key = f"{group}.removed_kg"
    return _row("Nitrate-N removed in a year", span(reading, key), basis, reading, f"{key}.p50")


def _crest(reading: Reading) -> tuple[Cell, ...]:
    key, highest = "elevations.inlet_crest.elevation_m", "highest_crest_m"
    if key not in reading.trace:
        key = "boards.inlet.crest_m"
    return _row(
        "Bypass crest",
        reading.say(key, "elevation"),
        f"the field allows up to {reading.say(highest, 'elevation')}",
        reading,
        key,
        highest,
    )


def _clear_soil(reading: Reading) -> tuple[Cell, ...]:
    label = "Clear soil, tightest spot"
    tightest = tightest_in_field(reading)
    if tightest is None:
        return _row(label, NOT_KNOWN, "no spot of the field could be judged", reading)
    value, limit = reading.trace.steps[tightest.value], reading.trace.steps[tightest.limit]
    said = reading.words.of_step(limit)
    title = tightest.title[0].lower() + tightest.title[1:]
    return _row(
        label,
        reading.words.of_step(value),
        f"{title}; at least {said} asked, main just full and bed closed",
        reading,
        value.key,
    )


def tightest_in_field(reading: Reading) -> Requirement | None:
    """Rule on clear soil with the least in reserve."""
    rules = [
        rule
        for rule in reading.trace.requirements
        if rule.key.startswith("field.")
        and rule.value.endswith("_m")
        and reading.known(f"{rule.key}.slack")
    ]
    return min(rules, key=lambda r: float(reading.value(f"{r.key}.slack")), default=None)


def _groundwater(reading: Reading) -> tuple[Cell, ...]:
    key = "uplift.finished.groundwater_limit_m"
    label = "Groundwater that keeps the bed full"
    if key not in reading.trace:
        return _row(label, "no limit", "nothing under the chips that water could lift", reading)
    factor = reading.say("inputs.weights.factor")
    water = reading.say("inputs.groundwater.finished_m")
    return _row(
        label,
        reading.say(key),
        f"do not empty above it; factor {factor}; groundwater of the design {water}",
        reading,
        key,
    )


def _cost(reading: Reading) -> tuple[Cell, ...]:
    key, year = "cost.total_usd", "cost.annual_usd"
    said = reading.say(year, style=TWO)
    priced = reading.say("inputs.estimate.price_year")
    return _row(
        "Engineer's estimate",
        reading.say(key),
        f"prices of {priced}, contingency {reading.say('inputs.estimate.contingency')}; "
        f"{said} a year, new chips included",
        reading,
        key,
        year,
    )
