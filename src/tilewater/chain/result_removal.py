# SPDX-License-Identifier: Apache-2.0
"""Part of the result record that tells what is removed, by the days and over a mean year."""

from tilewater.basis.trace import Trace
from tilewater.chain.days import are_summed
from tilewater.chain.plain import Record, plain, plain_group

GROUPS = (
    "load_kg",
    "removed_kg",
    "site_percent",
    "bed_percent",
    "diverted_percent",
    "treated_volume_share",
)
"""What is given as quantiles; of what goes through, a bed and a buffer have each their own."""
LONG_RUN = ("long_run_removed_kg", "long_run_reduction", "long_run_share")
QUANTILES = ("p10", "p50", "p90")
LAWS = ("first_order", "zero_order")
METHODS = {"low": "p10", "mid": "p50", "high": "p90"}


def removal_record(trace: Trace) -> Record:
    """Quantiles of what is removed; beside them the published rates over a mean year."""
    by_days = are_summed(trace)
    record: Record = {
        group: {p: plain(trace, f"removal.{group}.{p}") for p in QUANTILES}
        for group in (*GROUPS, *LONG_RUN)
        if f"removal.{group}.p50" in trace
    }
    record["by_method"] = _by_method(trace, by_days)
    if by_days:
        record |= plain_group(trace, "removal", "probability_of_reduction")
        record["basis"] = str(trace.value("water.basis"))
        record["draws"] = len(trace.value("days.draws"))
        record["whole_years"] = plain(trace, "removal.whole_years")
    return record


def _by_method(trace: Trace, by_days: bool) -> Record:
    """A mean year by published rates, or of a buffer by its two laws; boards alone have neither."""
    if "raised.highest_crest_m" in trace:
        return {}
    screening = {
        f"{law}_kg": plain(trace, key)
        for law in LAWS
        if (key := f"buffer.screening.removed_{law}_kg") in trace
    }
    if screening:
        return screening
    here = "removal.by_rates" if by_days else "removal"
    return {
        f"volumetric_rate_{word}_kg": plain(trace, f"{here}.removed_kg.{p}")
        for word, p in METHODS.items()
    }


def probability_record(trace: Trace) -> Record:
    """Share of the draws that keep each rule; empty where no days are known."""
    return {rule: plain(trace, f"probability.{rule}") for rule in trace.names("probability")}
