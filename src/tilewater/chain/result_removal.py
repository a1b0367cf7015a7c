# SPDX-License-Identifier: Apache-2.0
"""Part of the result record that tells what the bed removes, by the days and by published rates."""

from tilewater.basis.trace import Trace
from tilewater.chain.days import are_summed
from tilewater.chain.plain import Record, plain

GROUPS = ("removed_kg", "site_percent", "bed_percent", "treated_volume_share")
LONG_RUN = ("long_run_removed_kg", "long_run_reduction", "long_run_share")
QUANTILES = ("p10", "p50", "p90")
METHODS = {"low": "p10", "mid": "p50", "high": "p90"}


def removal_record(trace: Trace) -> Record:
    """Quantiles of what is removed; beside them the published rates over a mean year."""
    by_days = are_summed(trace)
    groups = (*GROUPS, *LONG_RUN) if by_days else GROUPS
    record: Record = {
        group: {p: plain(trace, f"removal.{group}.{p}") for p in QUANTILES} for group in groups
    }
    here = "removal.by_rates" if by_days else "removal"
    record["by_method"] = {
        f"volumetric_rate_{word}_kg": plain(trace, f"{here}.removed_kg.{p}")
        for word, p in METHODS.items()
    }
    if by_days:
        record["probability_of_reduction"] = plain(trace, "removal.probability_of_reduction")
        record["basis"] = str(trace.value("water.basis"))
        record["draws"] = len(trace.value("days.draws"))
        record["whole_years"] = plain(trace, "removal.whole_years")
    return record


def probability_record(trace: Trace) -> Record:
    """Share of the draws that keep each rule; empty where no days are known."""
    return {rule: plain(trace, f"probability.{rule}") for rule in trace.names("probability")}
