# SPDX-License-Identifier: Apache-2.0
"""Steps of the screening that ask the strip for a buffer: what the whole of it would take.

The water stands at the highest crest that the field bears, the line loses nothing, and all of the
strip is used, so that no buffer takes more. Conductivity measured in three holes or more counts
with its middle; that of fewer holes or of the soil survey counts with its whole range.
"""

from tilewater.basis.trace import Given, Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain import screen_parts as parts
from tilewater.chain.screen_rows import HANGS
from tilewater.chain.screen_steps import CREST, ORDINARY, asked_for
from tilewater.practices.bed.capacity import share_of_flow
from tilewater.practices.buffer.givens import LINE, SOIL
from tilewater.practices.buffer.rules import height_unstudied, is_perennial
from tilewater.practices.buffer.soil import head_above_barrier
from tilewater.practices.buffer.soil_steps import BY, KINDS, add_soil, barrier, used_kind
from tilewater.practices.rules import difference, same

ENOUGH_HOLES = 3
MEASURED = {"auger": "inputs.auger_hole", "slug": "inputs.slug_test"}
ENDS = ("", "_low", "_high")
PEAK = "drain_flow.peak_for_share_m3_s"
SHARE = "screen.buffer.share"


def add_strip(trace: Trace, limit: str) -> None:
    """Record what the whole strip would take, and bank, plants and trees."""
    add_soil(trace)
    _add_heads(trace)
    for end in ENDS:
        words = end.replace("_", ", conductivity at its ")
        _add_flow(trace, end, _conductivity(trace, end), words)
    for words, kind in KINDS.items():
        if f"{BY}.{kind}_m_s" in trace:
            _add_flow(trace, f"_{kind}", f"{BY}.{kind}_m_s", f", conductivity by {words}")
    trace.compute(
        "screen.buffer.length_for_share_m",
        parts.length_for_share,
        unit="m",
        title="Strip that takes the share that is asked",
        share=limit,
        peak=PEAK,
        flow_per_length="screen.buffer.per_length_m2_s",
    )
    _choose_share(trace, limit)
    _add_bank(trace)
    _add_plants(trace)


def _add_heads(trace: Trace) -> None:
    stated, stream = f"{LINE}.criterion_season", ORDINARY
    if stated in trace and trace.known(stated):
        season = f"ditch.{trace.value(stated)}.stage_m"
        stream = season if season in trace else ORDINARY
    for name, level, words in (
        ("head_line", CREST, "Highest crest of the field"),
        ("head_stream", stream, "Ordinary ditch water"),
    ):
        trace.compute(
            f"screen.buffer.{name}_m",
            head_above_barrier,
            unit="m",
            title=f"{words} above the restrictive layer",
            elevation=level,
            barrier=barrier(trace),
        )
    trees = f"{LINE}.tree_length_m"
    trace.compute(
        "screen.buffer.length_m",
        parts.length_of_strip,
        unit="m",
        title="Strip along which a line lets water out",
        available=asked_for(
            trace, f"{LINE}.length_available_m", "Length of strip", "m", "tape the strip"
        ),
        **({"trees": trees} if trees in trace else {}),
    )
    asked_for(trace, f"{LINE}.width_m", "From the line to the water's edge", "m", "tape it")
    asked_for(trace, f"{SOIL}.sand_depth_m", "Depth of sand or gravel", "m", "bore by the bank")


def _add_flow(trace: Trace, name: str, conductivity: str, words: str) -> None:
    """Flow through a length, of the whole strip, and its share; by one conductivity."""
    per_length, flow = f"screen.buffer.per_length{name}_m2_s", f"screen.buffer.flow{name}_m3_s"
    trace.compute(
        per_length,
        parts.strip_flow_per_length,
        unit="m2/s",
        title=f"Flow through a length of the strip{words}",
        conductivity=conductivity,
        head_line="screen.buffer.head_line_m",
        head_stream="screen.buffer.head_stream_m",
        width=f"{LINE}.width_m",
    )
    trace.compute(
        flow,
        parts.flow_of_strip,
        unit="m3/s",
        title=f"Flow that the whole strip takes{words}",
        flow_per_length=per_length,
        length="screen.buffer.length_m",
    )
    trace.compute(
        f"screen.buffer.share{name or '_middle'}_of_peak",
        share_of_flow,
        unit="-",
        title=f"Share of the capacity of the drains that the whole strip takes{words}",
        flow=flow,
        peak=PEAK,
    )


def _conductivity(trace: Trace, end: str) -> str:
    """Key of the conductivity; which kind counts is itself asked where the job leaves it open."""
    stated = f"{SOIL}.conductivity_from"
    is_open = stated in trace and not trace.known(stated)
    return stated if is_open else f"buffer.conductivity{end}_m_s"


def _is_measured(trace: Trace) -> bool:
    table = MEASURED.get(used_kind(trace) or "")
    return table is not None and len(trace.names(table)) >= ENOUGH_HOLES


def _choose_share(trace: Trace, limit: str) -> None:
    """The share that is judged; not known where its range lies on both sides of the limit."""
    low, middle, high = (
        f"screen.buffer.share{end}_of_peak" for end in ("_low", "_middle", "_high")
    )
    title = "Share of the capacity of the drains that the whole strip would take"
    if _is_measured(trace) or not trace.known(low, middle, high):
        trace.compute(SHARE, same, unit="-", title=title, value=middle)
        return
    asked = float(trace.value(limit))
    if float(trace.value(low)) < asked <= float(trace.value(high)):
        why = "the decision hinges on conductivity: measure it"
        how = "three auger holes in the strip"
        trace.give(Given(SHARE, Unknown(why, how, (HANGS,)), "-", title))
    else:
        trace.compute(SHARE, same, unit="-", title=title, value=middle)


def _add_bank(trace: Trace) -> None:
    for key, title in (("bank_top", "Top of the bank"), ("bottom", "Bottom of the ditch")):
        asked_for(trace, f"inputs.ditch.{key}_m", title, "m", "shoot it")
    trace.compute(
        "screen.buffer.bank_height_m",
        difference,
        unit="m",
        title="Height of the bank",
        upper="inputs.ditch.bank_top_m",
        lower="inputs.ditch.bottom_m",
    )
    study = f"{LINE}.bank_study"
    trace.compute(
        "screen.buffer.bank_m",
        height_unstudied,
        unit="m",
        title="Height of the bank, if nobody has studied it",
        height="screen.buffer.bank_height_m",
        **({"study": study} if study in trace else {}),
    )


def _add_plants(trace: Trace) -> None:
    plants = asked_for(trace, f"{LINE}.vegetation", "What grows on the strip", "", "look at it")
    trace.compute(
        "screen.buffer.is_perennial",
        is_perennial,
        unit="-",
        title="Whether the strip is in perennial plants",
        vegetation=plants,
    )
    trace.compute(
        "screen.buffer.tree_length_m",
        same,
        unit="m",
        title="Strip within reach of roots",
        value=asked_for(
            trace, f"{LINE}.tree_length_m", "Strip within reach of roots", "m", "pace it"
        ),
    )
