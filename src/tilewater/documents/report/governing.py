# SPDX-License-Identifier: Apache-2.0
"""The ten numbers that a signer looks at first, each with what it rests on."""

from math import isinf

from tilewater.basis.requirement import Requirement
from tilewater.chain.days_rules import probability_key
from tilewater.documents.paper.blocks import Cell, Column, Run, Table
from tilewater.documents.report import governing_buffer, governing_raised
from tilewater.documents.report.reading import TWO, Reading
from tilewater.documents.words import NOT_KNOWN

CRITERION, SPRING = "capacity.criterion", "capacity.spring"
SIMULATED = "screening figure, no daily record"
BRIEF = {"read": "read", "memory": "remembered", "practice": "practice"}
"""How a limit is known, in one word."""
SHUT = {"bed": "bed closed", "buffer": "buffer closed", "raised": "the highest boards in"}
"""State of each practice in which the field is checked."""
OF_TEN = "of years and draws one in ten lies below, one in ten above"


def governing_numbers(reading: Reading) -> Table:
    """Ten numbers, each with its basis and where it is worked."""
    practice = _practice(reading)
    if practice == "raised":
        return _table(
            _peak(reading),
            governing_raised.kept_share(reading),
            governing_raised.kept_load(reading),
            governing_raised.round_boards(reading),
            _crest(reading),
            governing_raised.under_lowest(reading),
            _clear_soil(reading),
            governing_raised.wet_days(reading),
            governing_raised.reach(reading),
            _cost(reading),
        )
    if practice == "buffer":
        return _table(
            _peak(reading),
            governing_buffer.into_buffer(reading),
            governing_buffer.flow_rule(reading),
            governing_buffer.travel_time(reading),
            _treated(reading),
            _removed(reading),
            _crest(reading),
            _clear_soil(reading),
            governing_buffer.bank(reading),
            _cost(reading),
        )
    return _table(
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


def _table(*rows: tuple[Cell, ...]) -> Table:
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
        f"{reading.say(share)} of the peak; chips {chips} at {age} in water of {cold}; {water}"
        + kept_by_draws(reading, share),
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


def kept_by_draws(reading: Reading, value: str) -> str:
    """How many of the draws keep the chosen criterion on this value; "" where none were made."""
    design = reading.material.design
    for row in design.rows:
        key = probability_key(row.code)
        is_chosen = design.requirement(f"criteria.{row.code}").binding
        if row.value == value and is_chosen and reading.known(key):
            return f"; {reading.say(key, 'ratio', style=TWO)} of the draws keep the limit"
    return ""


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
    label = "Share of a year's water treated"
    group = "removal.treated_volume_share"
    if f"{group}.p50" not in reading.trace:
        key = "removal.by_rates.treated_volume_share.p50"
        rests = f"{SIMULATED}: an assumed spread of flows"
        return _row(label, reading.say(key, style=TWO), rests, reading, key)
    basis, middle = reading.say("drain_flow.basis"), reading.say(f"{group}.p50", style=TWO)
    rests = f"middle {middle}; daily flow {basis}; {OF_TEN}"
    if not reading.known(f"{group}.p10", f"{group}.p90"):
        rests = f"middle; how far it ranges is not known; daily flow {basis}"
        return _row(label, middle, rests, reading, f"{group}.p50")
    keys = (f"{group}.{p}" for p in ("p10", "p50", "p90"))
    return _row(label, span(reading, group), rests, reading, *keys)


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
    is_buffer = f"{group}.diverted_percent.p50" in reading.trace
    enters = ("diverted", "nitrate that enters") if is_buffer else ("bed", "load through the bed")
    site, bed = (span(reading, f"{group}.{n}_percent", "percent") for n in ("site", enters[0]))
    basis = (
        "not known what share of the load that is"
        if NOT_KNOWN in (site, bed)
        else f"{site} of the site's load, {bed} of the {enters[1]}; "
        + (OF_TEN if by_days(reading) else "low to high rate")
    )
    key = f"{group}.removed_kg"
    keys = (f"{key}.{p}" for p in ("p10", "p90"))
    return _row("Nitrate-N removed in a year", span(reading, key), basis, reading, *keys)


def _crest(reading: Reading) -> tuple[Cell, ...]:
    key, highest = "elevations.inlet_crest.elevation_m", "highest_crest_m"
    if key not in reading.trace:
        key = "boards.inlet.crest_m"
    return _row(
        "Highest crest" if _practice(reading) == "raised" else "Bypass crest",
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
        f"{title}; at least {said} asked, main just full and {SHUT[_practice(reading)]}",
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
        f"{said} a year without it{_with_chips(reading)}{_per_mass(reading)}",
        reading,
        key,
        year,
    )


def _with_chips(reading: Reading) -> str:
    return ", new chips included" if "cost.renewals_usd" in reading.trace else ""


def _practice(reading: Reading) -> str:
    return reading.material.design.practice.name


def _per_mass(reading: Reading) -> str:
    """What the nitrogen costs, as a range; "" where it is not known."""
    said = cost_per_mass(reading)
    return "" if said == NOT_KNOWN else f"; {said} of nitrogen"


def cost_per_mass(reading: Reading) -> str:
    """Cost of the nitrogen taken out, from the cheap end to the dear one."""
    keys = [f"cost.usd_per_kg.{p}" for p in ("p10", "p90")]
    if not reading.known(*keys):
        return NOT_KNOWN
    unit = "USD/lb" if reading.words.system == "us" else "USD/kg"
    low, high = sorted(float(reading.value(key)) for key in keys)
    if isinf(high):
        return f"{reading.words.say(low, unit, style=TWO)} or more, without limit,"
    said = [reading.words.say(value, unit, style=TWO) for value in (low, high)]
    return f"{said[0].rpartition('/')[0]} to {said[1]}"
