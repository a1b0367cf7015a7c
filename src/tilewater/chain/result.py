# SPDX-License-Identifier: Apache-2.0
"""The result record of a design: one plain object, coherent SI with the unit in each name.

A value that is not known is None and listed under `unknown`. Every number stands under the key by
which it is explained; members of a list are addressed by their name.
"""

from typing import Any

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.chain.alternatives import Alternative
from tilewater.chain.days_rules import probability_key
from tilewater.chain.design import Design
from tilewater.chain.field import KINDS
from tilewater.chain.plain import Record, plain, plain_value
from tilewater.chain.result_bed import (
    bed_record,
    capacity_record,
    headers_record,
    seasons_record,
)
from tilewater.chain.result_boards import boards_record, bypass_head_record, old_main_record
from tilewater.chain.result_buffer import buffer_capacity_record, buffer_record
from tilewater.chain.result_decides import (
    advice_record,
    decides_record,
    nitrate_record,
    side_effects_record,
    updated_record,
)
from tilewater.chain.result_ditch import ditch_record
from tilewater.chain.result_main import (
    areas_record,
    main_record,
    pump_record,
    submains_record,
)
from tilewater.chain.result_plan import plan_record
from tilewater.chain.result_raised import raised_record
from tilewater.chain.result_removal import probability_record, removal_record
from tilewater.chain.result_season import season_record
from tilewater.chain.result_water import water_record
from tilewater.chain.standard import JUDGED_BY
from tilewater.chain.verdict import capacity_is_known

FLOW = (
    "basis",
    "controlled_by",
    "peak_for_share_m3_s",
    "peak_for_bypass_m3_s",
    "mean_annual_volume_m3",
    "mean_annual_depth_m",
    "flow_days_per_year",
    "annual_load_kg",
)


def result_record(design: Design, alternatives: tuple[Alternative, ...], version: str) -> Record:
    """Plain record of a design, ready for JSON.

    Parameters
    ----------
    design : Design
        The judged design. [-]
    alternatives : tuple of Alternative
        The runners-up and what stopped them. [-]
    version : str
        Version of the program. [-]

    Returns
    -------
    dict
        As documented for `design --json`. [-]
    """
    trace = design.trace
    return {
        "tilewater": version,
        "job": design.job.name,
        "practice": design.practice.name,
        "capacity_line": "criterion",
        "verdict": design.verdict,
        "capacity_is_known": capacity_is_known(design.trace, design.rows),
        "governs": _governs(design),
        "unknown": [
            {"key": item.key, "why": item.why, "measure": item.measure}
            for item in design.open_items
        ],
        "overrules": _overrules(trace),
        "drain_flow": _drain_flow(trace),
        "water": water_record(trace),
        "main": main_record(trace),
        "submains": submains_record(trace),
        "pump": pump_record(trace),
        **_size(design),
        "plan": plan_record(trace),
        "elevations": _elevations(design),
        "boards": boards_record(trace),
        "ditch": ditch_record(trace),
        "field_storm": bypass_head_record(trace, "field_storm"),
        "bypass": bypass_head_record(trace, "bypass"),
        "old_main": old_main_record(trace),
        "field": [_spot(design, spot) for spot in trace.names("field")],
        "pool_reach_m": plain(trace, "pool_reach_m"),
        "highest_crest_m": plain(trace, "highest_crest_m"),
        "flotation": {
            name: {k: plain(trace, f"flotation.{name}.{k}") for k in ("uplift_kg", "anchor_m3")}
            for name in trace.names("flotation")
        },
        "requirements": _requirements(design),
        "removal": removal_record(trace),
        "criteria": _criteria(design),
        "probability": probability_record(trace),
        "nitrate": nitrate_record(trace),
        "updated": updated_record(trace),
        "decides": decides_record(trace),
        "advice": advice_record(trace, design.practice.words),
        "side_effects": side_effects_record(trace),
        "quantities": _quantities(trace),
        "cost": _cost(trace),
        "findings": [_finding(finding) for finding in design.findings],
        "alternatives": [{"what": a.what, "why_not": a.why_not} for a in alternatives],
    }


def _size(design: Design) -> Record:
    """What only the practice has: a buffer in place of a bed."""
    trace = design.trace
    if design.practice.name == "raised":
        return {"raised": raised_record(trace)}
    if design.practice.name == "buffer":
        return {
            "buffer": buffer_record(trace),
            "capacity": buffer_capacity_record(trace),
        }
    return {
        "bed": bed_record(trace),
        "capacity": capacity_record(trace),
        "system": headers_record(trace),
        "seasons": seasons_record(trace),
        "drain_down": {
            name: plain(trace, f"drain_down.{name}")
            for name in trace.names("drain_down")
            if name.endswith("_s")
        },
        **season_record(trace),
        "uplift": _uplift(trace),
        "life": {
            name: plain(trace, f"life.{name}") for name in ("permeability_years", "carbon_years")
        },
    }


def _governs(design: Design) -> Record | None:
    binding = design.governs
    if binding is None:
        return None
    return {
        "key": binding.key,
        "slack": binding.slack,
        "text": binding.text,
        "where": binding.where,
    }


def _overrules(trace: Trace) -> list[Record]:
    return [
        {
            "key": step.key,
            "value": step.overrule.value,
            "computed": plain_value(step.computed),
            "by": step.overrule.by,
            "date": step.overrule.date,
            "reason": step.overrule.reason,
        }
        for step in trace
        if step.overrule is not None
    ]


def _drain_flow(trace: Trace) -> Record:
    record: Record = {name: plain(trace, f"drain_flow.{name}") for name in FLOW}
    depth = record["mean_annual_depth_m"]
    record["mean_annual_depth_mm"] = None if depth is None else 1000 * depth
    record |= areas_record(trace)
    record["nitrate_mg_per_l"] = plain(trace, "inputs.nitrate.mean_mg_per_l")
    group = "drain_flow.candidates_m3_s"
    record["candidates_m3_s"] = {n: plain(trace, f"{group}.{n}") for n in trace.names(group)}
    return record


def _status(trace: Trace, key: str) -> str:
    return str(trace.value(f"{key}.status"))


def _elevations(design: Design) -> list[Record]:
    trace = design.trace
    rows = []
    for requirement in design.trace.requirements:
        if not requirement.key.startswith("elevations."):
            continue
        key = requirement.key
        name = key.removeprefix("elevations.")
        rows.append(
            {
                "name": name,
                "elevation_m": plain(trace, f"{key}.elevation_m"),
                "season": name.partition("-")[2] or "all",
                "rule": requirement.title,
                "value_m": plain(trace, requirement.value),
                "limit_m": plain(trace, requirement.limit),
                "status": _status(trace, key),
            }
        )
    if "elevations.outlet_crest.elevation_m" not in trace:
        return rows
    rows.append(
        {
            "name": "outlet_crest",
            "elevation_m": plain(trace, "elevations.outlet_crest.elevation_m"),
            "season": "all",
            "rule": "judged by season against the ditch",
            "value_m": None,
            "limit_m": None,
            "status": _worst(
                [
                    _status(trace, r.key)
                    for r in trace.requirements
                    if r.key.startswith("elevations.outlet_crest")
                ]
            ),
        }
    )
    return rows


def _worst(statuses: list[str]) -> str:
    for word in ("short", "not known"):
        if word in statuses:
            return word
    return "holds" if statuses else "not known"


def _spot(design: Design, spot: str) -> Record:
    trace, here = design.trace, f"field.{spot}"
    return {
        "spot": spot,
        **{f"{kind}_m": plain(trace, f"{here}.{kind}_m") for kind in KINDS},
        "limits_m": {kind: plain(trace, f"{here}.limits_m.{kind}") for kind in KINDS},
        "status": _worst([_status(trace, f"{here}.{kind}") for kind in KINDS]),
        "highest_crest_m": plain(trace, f"{here}.highest_crest_m"),
    }


def _uplift(trace: Trace) -> Record:
    return {
        stage: {
            name: plain(trace, f"uplift.{stage}.{name}")
            for name in ("ratio", "groundwater_limit_m")
            if f"uplift.{stage}.{name}" in trace
        }
        for stage in ("liner_only", "media_placed", "finished")
    }


def _requirements(design: Design) -> list[Record]:
    trace = design.trace
    return [
        {
            "name": r.key,
            "title": r.title,
            "binding": r.binding,
            "where": r.where,
            "text_status": r.text_status,
            "status": _status(trace, r.key),
            "slack": plain(trace, f"{r.key}.slack"),
        }
        for r in trace.requirements
    ]


def _criteria(design: Design) -> list[Record]:
    trace = design.trace
    standard, edition = (plain(trace, f"{JUDGED_BY}.{part}") for part in ("standard", "edition"))
    return [
        {
            "code": row.code,
            "standard": standard,
            "edition": edition,
            "clause": row.clause,
            "title": row.title,
            "text_status": row.text_status,
            "confirmed": row.confirmed,
            "alternative": row.alternative,
            "chosen": design.requirement(f"criteria.{row.code}").binding,
            "value": plain(trace, row.value),
            "operator": row.operator,
            "limit": row.limit,
            "unit": row.unit,
            "result": _status(trace, f"criteria.{row.code}"),
            "probability": _probability(trace, row.code),
            "source": row.source,
        }
        for row in design.rows
    ]


def _probability(trace: Trace, code: str) -> Any:
    """Share of the draws that keep a criterion; None where draws do not decide it."""
    key = probability_key(code)
    return plain(trace, key) if key in trace else None


def _quantities(trace: Trace) -> list[Record]:
    return [
        {
            "item": item,
            "title": trace.steps[f"quantities.{item}.quantity"].title,
            "unit": trace.steps[f"quantities.{item}.quantity"].unit,
            "quantity": plain(trace, f"quantities.{item}.quantity"),
        }
        for item in trace.names("quantities")
        if f"quantities.{item}.quantity" in trace
    ]


def _cost(trace: Trace) -> Record:
    names = ("subtotal_usd", "contingency_usd", "total_usd", "annual_usd")
    record: Record = {name: plain(trace, f"cost.{name}") for name in names}
    record["usd_per_kg"] = {p: plain(trace, f"cost.usd_per_kg.{p}") for p in ("p10", "p50", "p90")}
    record["items"] = {
        item: {"usd": plain(trace, f"cost.items.{item}.usd")} for item in trace.names("cost.items")
    }
    return record


def _finding(finding: Finding) -> Record:
    return finding.record | {"source": finding.source}
