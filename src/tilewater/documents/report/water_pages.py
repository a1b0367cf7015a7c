# SPDX-License-Identifier: Apache-2.0
"""Pages of water and nitrate: what the drains bring, when, and what the bed takes out of it."""

from collections.abc import Iterator
from datetime import date
from math import isfinite

from tilewater.documents.paper.blocks import (
    Block,
    Cell,
    Column,
    Heading,
    Paragraph,
    Run,
    Table,
)
from tilewater.documents.report.decides_pages import side_effects, what_decides
from tilewater.documents.report.governing import by_days, removal_group
from tilewater.documents.report.reading import TWO, Reading

CANDIDATES = {
    "main_full": "main, full",
    "drainage_coefficient": "drainage coefficient over the area",
    "laterals": "laterals, water at the height of the design",
    "main_surcharged": "main, surcharged to the ground",
    "laterals_at_surface": "laterals, water at the surface",
    "surface_inlets": "surface inlets",
    "pump": "pump",
    "measured": "largest flow measured",
}
CLASSES = {
    "none": "no flow",
    "to-5": "up to 5 % of the peak",
    "to-15": "5 to 15 %",
    "to-30": "15 to 30 %",
    "to-60": "30 to 60 %",
    "to-100": "60 to 100 %",
    "above": "above the peak",
}
PARTS = (
    ("Nitrate-N removed", "removed_kg", ""),
    ("of the site's load", "site_percent", "percent"),
    ("of the load through the bed", "bed_percent", "percent"),
    ("of the year's water treated", "treated_volume_share", ""),
)


def water_pages(reading: Reading) -> tuple[Block, ...]:
    """Drain flow and nitrate."""
    is_raised = reading.material.design.practice.name == "raised"
    return (
        Heading("Water", 1, new_page=True),
        Heading("What the drains can bring", 2),
        _candidates(reading),
        Heading("A mean year", 2),
        _year(reading),
        *_days(reading),
        *_months(reading),
        Heading("Nitrate", 1),
        *(_kept_back() if is_raised else _nitrate(reading)),
        *what_decides(reading),
        *side_effects(reading),
    )


def _candidates(reading: Reading) -> Table:
    group = "drain_flow.candidates_m3_s"
    order = list(CANDIDATES)
    names = sorted(
        reading.trace.names(group), key=lambda n: order.index(n) if n in CANDIDATES else len(order)
    )
    rows: list[tuple[Cell, ...]] = [
        (CANDIDATES.get(name, name.replace("_", " ")), reading.cell(f"{group}.{name}"))
        for name in names
    ]
    for label, key in (
        ("Peak that shares are counted against", "drain_flow.peak_for_share_m3_s"),
        ("Peak for bypass and flotation", "drain_flow.peak_for_bypass_m3_s"),
    ):
        rows.append((Run(label, "bold"), reading.cell(key)))
    return Table(
        (Column("what could supply it"), Column("flow", "point")),
        tuple(rows),
        ruled=(len(names),),
    )


def _year(reading: Reading) -> Table:
    rows = (
        ("Drainage", "drain_flow.mean_annual_depth_m", "depth"),
        ("Days with flow", "drain_flow.flow_days_per_year", "days"),
        ("Nitrate-N, flow-weighted mean as the job states it", "inputs.nitrate.mean_mg_per_l", ""),
        ("Nitrate-N load", "drain_flow.annual_load_kg", "load"),
    )
    basis = reading.say("drain_flow.basis")
    return Table(
        (Column(f"mean of the years; daily flow {basis}"), Column("", "point")),
        tuple(
            (
                label,
                reading.cell(key, style=TWO) if kind == "load" else reading.cell(key, kind),
            )
            for label, key, kind in rows
        ),
    )


def _days(reading: Reading) -> Iterator[Block]:
    if not reading.trace.names("water.classes"):
        return
    yield Heading("Days by flow", 2)
    yield Table(
        (
            Column("flow"),
            Column("days of a mean year", "point"),
            Column("of the water", "point"),
        ),
        tuple(
            (
                label,
                reading.cell(f"water.classes.{name}.days", "days", unit=False),
                "" if name == "none" else reading.cell(f"water.classes.{name}.share_of_water"),
            )
            for name, label in CLASSES.items()
            if f"water.classes.{name}.days" in reading.trace
        ),
    )


def _months(reading: Reading) -> Iterator[Block]:
    if not reading.known("water.month_depth_m"):
        return
    words = reading.words
    depths = reading.value("water.month_depth_m")
    unit = words.say(0.0, "depth").rpartition(" ")[2]
    rows: list[tuple[Cell, ...]] = [
        (
            (f"depth, {unit}", *reading.marks("water.month_depth_m")),
            *(words.say(d, "depth", unit=False) if isfinite(d) else "?" for d in depths),
        )
    ]
    if reading.known("water.month_share"):
        shares = (words.say(one, "ratio", unit=False) for one in reading.value("water.month_share"))
        rows.append((("share, %", *reading.marks("water.month_share")), *shares))
    yield Heading("Months of a mean year", 2)
    yield Table(
        (Column("drainage"), *(Column(f"{date(2000, m, 1):%b}", "right") for m in range(1, 13))),
        tuple(rows),
        small=True,
    )


def _kept_back() -> Iterator[Block]:
    yield Paragraph("Nothing is treated; what is kept back stands under The raised outlet.")


def _nitrate(reading: Reading) -> Iterator[Block]:
    group = removal_group(reading)
    rests = (
        "From the daily flow: the middle of the draws, and what one year in ten lies below and "
        "above. Two figures, since it rests on kinetics."
        if by_days(reading)
        else "A screening figure from published rates and an assumed spread of flows; it satisfies "
        "no rule. Two figures, since it rests on kinetics."
    )
    yield Paragraph(rests)
    rows: list[tuple[Cell, ...]] = []
    for label, name, kind in PARTS:
        keys = [f"{group}.{name}.{p}" for p in ("p10", "p50", "p90")]
        if any(key in reading.trace for key in keys):
            rows.append((label, *(reading.cell(key, kind, style=TWO) for key in keys)))
    heads = ("low", "middle", "high")
    yield Table((Column("in a year"), *(Column(head, "point") for head in heads)), tuple(rows))
    rules = tuple(
        (rule.replace("_", " "), reading.cell(f"probability.{rule}", "ratio", style=TWO))
        for rule in reading.trace.names("probability")
    )
    if rules:
        yield Table((Column("share of the draws that keep a rule"), Column("", "point")), rules)
    lives = tuple(
        (label, reading.cell(f"life.{key}", "years", style=TWO))
        for key, label in (
            ("permeability_years", "The chips take their share for"),
            ("carbon_years", "The chips have carbon for"),
        )
        if f"life.{key}" in reading.trace
    )
    if lives:
        yield Table(
            (Column("the first that runs out calls for new chips"), Column("", "point")),
            lives,
        )
