# SPDX-License-Identifier: Apache-2.0
"""Jobs for tests: Corbel Farm as the chain takes it, with changes, and one that simply fits."""

import re
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np

from tilewater.basis.trace import Given, Origin, Value
from tilewater.basis.unknown import is_unknown
from tilewater.chain.inputs import JobInputs
from tilewater.criteria.standards import Confirmation, read_standard
from tilewater.job.reading import read_job
from tools.package import ROOT

FARM = ROOT / "examples" / "corbel-farm"

FOOT = 0.3048
INCH = FOOT / 12
CFS = FOOT**3
YARD = 3 * FOOT
ACRE = 43560 * FOOT**2
POUND = 0.45359237
PCF = POUND / FOOT**3
SOLD_BY = {"CY": YARD**3, "SY": YARD**2, "LF": FOOT, "AC": ACRE, "HR": 1, "LS": 1, "EA": 1}

PRICES = {
    "mobilization": ("LS", 1500.00),
    "potholing": ("HR", 140.00),
    "temporary-tile-flow": ("LS", 850.00),
    "dewatering": ("LS", 1200.00),
    "erosion-control": ("LS", 600.00),
    "topsoil": ("CY", 4.50),
    "excavation": ("CY", 6.25),
    "woodchips": ("CY", 36.00),
    "lining-plastic": ("SY", 3.10),
    "lining-geotextile": ("SY", 2.40),
    "cover-fabric": ("SY", 2.40),
    "inlet-structure": ("EA", 2450.00),
    "outlet-structure": ("EA", 1750.00),
    "anchor-concrete": ("CY", 420.00),
    "lid-lock": ("EA", 45.00),
    "feed-gate": ("EA", 780.00),
    "solid-pipe-10-in": ("LF", 17.50),
    "solid-pipe-8-in": ("LF", 13.00),
    "perforated-pipe-6-in": ("LF", 9.00),
    "anti-seep-collar": ("EA", 165.00),
    "rigid-outlet": ("EA", 480.00),
    "outlet-rock": ("LS", 650.00),
    "backfill": ("CY", 3.75),
    "spoil": ("CY", 3.00),
    "corner-post": ("EA", 35.00),
    "seeding": ("AC", 1450.00),
}


def prices() -> tuple[Given, ...]:
    """Unit prices as inputs, in USD per SI unit; nobody asks these prices."""
    return tuple(
        Given(
            f"inputs.price.{item}.usd",
            price / SOLD_BY[unit],
            "USD",
            f"Unit price of {item}",
        )
        for item, (unit, price) in PRICES.items()
    )


def inputs_of(job: Any) -> JobInputs:
    """Inputs of a job as read, with the prices above."""
    return JobInputs(job.name, (*job.givens, *prices()), job.overrules, job.assumptions, ())


def farm_text_without(table: str) -> str:
    """The job file of Corbel Farm less one of its tables, for a test that types its own."""
    text = (FARM / "job.toml").read_text(encoding="utf-8")
    return re.sub(rf"\[{re.escape(table)}\].*?\n(?=\n)", "", text, count=1, flags=re.DOTALL)


@cache
def _corbel() -> JobInputs:
    return inputs_of(read_job(FARM))


def corbel_inputs(changes: Mapping[str, Value] | None = None) -> JobInputs:
    """Corbel Farm with its prices, some inputs changed; keys without their `inputs.`."""
    return _corbel().changed({f"inputs.{key}": value for key, value in (changes or {}).items()})


def fitting_inputs() -> JobInputs:
    """Corbel Farm with every question answered, every limit confirmed, the removal monitored."""
    job = corbel_inputs({"media.rate_low_g_per_m3_day": 7.0})
    open_questions = {given.key: "answered" for given in job.givens if is_unknown(given.value)}
    words = tuple(
        Confirmation(row.code, "R. Lindqvist", "2026-11-16", "Iowa 2021")
        for row in read_standard("605", "2020").rows
        if row.text_status == "memory"
    )
    return with_givens(replace(job.changed(open_questions), confirmations=words), flow_record())


def flow_record() -> Given:
    """Two invented years of flow: 200 days a year, exponential, 10.5 in a year."""
    ranks = (np.arange(200) + 0.5) / 200
    flowing = -np.log(1 - ranks)
    year = np.concatenate([flowing * 0.2667 / flowing.sum() / 86400, np.zeros(165)])
    return Given(
        "inputs.record.daily_depth_m_s",
        np.tile(year, 2),
        "m/s",
        "Daily drain flow",
        Origin("flow.csv"),
    )


def with_givens(job: JobInputs, *givens: Given) -> JobInputs:
    """A job with more inputs."""
    return replace(job, givens=(*job.givens, *givens))
