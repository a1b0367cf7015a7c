# SPDX-License-Identifier: Apache-2.0
"""The numbers that a signer looks at first of a buffer, in place of those of a bed."""

from tilewater.chain.buffer import flow_rule_words
from tilewater.documents.paper.blocks import Cell, Run
from tilewater.documents.report.reading import Reading


def _row(label: str, value: str, basis: str, reading: Reading, *keys: str) -> tuple[Cell, ...]:
    return label, Run(value, "bold"), (basis, *reading.marks(*keys))


def into_buffer(reading: Reading) -> tuple[Cell, ...]:
    """Flow on the criterion line, with the conductivity that it rests on."""
    flow, share = "buffer.flow_m3_s", "buffer.share_of_peak"
    season, kind = reading.say("buffer.criterion_season"), reading.say("buffer.conductivity_from")
    low, high = (reading.say(f"buffer.share_{end}_of_peak") for end in ("low", "high"))
    return _row(
        "Into the buffer",
        reading.say(flow),
        f"{reading.say(share)} of the capacity, {low} to {high} for the conductivity; "
        f"{reading.say('buffer.conductivity_m_s')} by {kind}; {season}, water at the bypass crest",
        reading,
        flow,
        share,
    )


def flow_rule(reading: Reading) -> tuple[Cell, ...]:
    """By which arm the flow rule is met."""
    key = "buffer.length_share"
    words = flow_rule_words(reading.trace)
    return _row("Strip that the line takes up", reading.say(key), words, reading, key)


def travel_time(reading: Reading) -> tuple[Cell, ...]:
    """Time from line to ditch, by the exact integral and by the mean velocity."""
    key, linear = "buffer.travel_time_days", "buffer.travel_time_linear_days"
    oxic = reading.say("buffer.oxic_days")
    return _row(
        "Time from line to ditch",
        reading.say(key),
        f"by mean velocity and 1.11 {reading.say(linear)}; the first {oxic} take up oxygen",
        reading,
        key,
        linear,
    )


def bank(reading: Reading) -> tuple[Cell, ...]:
    """The range of factors of safety, and what it leaves out."""
    low, high = (f"buffer.bank_factor_{end}" for end in ("low", "high"))
    height, seep = reading.say("buffer.bank_height_m"), reading.say("buffer.seep_above_toe_m")
    return _row(
        "Factor of safety of the bank",
        f"{reading.say(low)} to {reading.say(high)}",
        f"simple models, without roots, cracks, layers; bank {height} high, seep {seep} up it",
        reading,
        low,
        high,
    )
