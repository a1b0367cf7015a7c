# SPDX-License-Identifier: Apache-2.0
"""What a careful reader asks of a record before it believes a load: each check one finding.

Gaps, an outlet above its inlet, duplicates that disagree, samples not taken while it flowed,
detection limits that bear on the answer. None changes a number; clocks are looked at where the
files are read.
"""

import numpy as np

from tilewater.basis.findings import Finding
from tilewater.monitoring.concentration import Nitrate, concentration_linear
from tilewater.monitoring.series import DAY, Samples
from tilewater.monitoring.water_record import WaterRecord

GAPS = 0.05
DUPLICATES = 0.10
HOLDING = 48.0 * 3600.0
"""Usual time in which an untreated nitrate sample is analysed, from memory. [s]"""


def gaps_found(water: WaterRecord) -> tuple[Finding, ...]:
    """Say how much of the flow was not read.

    Parameters
    ----------
    water : WaterRecord
        Flows, gaps bridged. [m3/s]

    Returns
    -------
    tuple of Finding
        Empty where five percent or less is missing.
    """
    found = []
    for name, way in (("treated", water.treated), ("bypass", water.bypass)):
        bridged, left_out = float(way.filled.mean()), float(np.isnan(way.flow).mean())
        if bridged + left_out <= GAPS:
            continue
        found.append(
            Finding(
                "monitor-gaps",
                "caution",
                f"Flow, {name}",
                f"{bridged + left_out:.0%} of the time has no reading of the {name} flow: "
                f"{bridged:.0%} is bridged by straight lines, {left_out:.0%} is left out of the "
                f"loads. Up to {GAPS:.0%} is usual. Loads of what is left out are not known.",
                bridged + left_out,
                "<=",
                GAPS,
                source="practice",
            )
        )
    return tuple(found)


def outlet_above_inlet(inlet: Nitrate, outlet: Nitrate, laboratory: float) -> tuple[Finding, ...]:
    """Say where more nitrate came out than went in.

    Parameters
    ----------
    inlet : Nitrate
        Samples of the inlet. [mg/L]
    outlet : Nitrate
        Samples of the outlet. [mg/L]
    laboratory : float
        Standard error of a sample, as a share. [-]

    Returns
    -------
    tuple of Finding
        Counted where the outlet is higher by more than two errors of a difference.
    """
    came = concentration_linear(inlet, outlet.time_s)
    margin = 2.0 * laboratory * np.hypot(came, outlet.mg_per_l)
    count = int(np.sum(outlet.mg_per_l > came + margin))
    if count == 0:
        return ()
    return (
        Finding(
            "monitor-outlet-above-inlet",
            "caution",
            "Samples",
            f"{count} of {outlet.time_s.size} samples have more nitrate at the outlet than at the "
            "inlet. They are used as they are. Look for bottles that were exchanged, water that "
            "seeps in, or a storm that passed between the two.",
            float(count),
            source="practice",
        ),
    )


def duplicates_apart(samples: Samples) -> tuple[Finding, ...]:
    """Say where a sample and its duplicate disagree.

    Parameters
    ----------
    samples : Samples
        Of one place. [-]

    Returns
    -------
    tuple of Finding
        Counted where they differ by more than a tenth of their mean.
    """
    twin = samples.duplicate_of
    has = np.flatnonzero(twin >= 0)
    if has.size == 0:
        return ()
    one, other = samples.nitrate_mg_per_l[has], samples.nitrate_mg_per_l[twin[has]]
    apart = np.abs(one - other) / np.maximum(0.5 * (one + other), 1e-9)
    wide = int(np.sum(apart > DUPLICATES))
    spread = float(np.nanmax(apart)) if np.isfinite(apart).any() else 0.0
    if wide == 0:
        return ()
    return (
        Finding(
            "monitor-duplicates",
            "caution",
            f"Samples, {samples.place}",
            f"{wide} of {has.size} duplicates at the {samples.place} are more than "
            f"{DUPLICATES:.0%} apart, at most {spread:.0%}. Ask the laboratory; the mean is used.",
            spread,
            "<=",
            DUPLICATES,
            source="practice",
        ),
    )


def censored_share(samples: Samples) -> tuple[Finding, ...]:
    """Say how many samples lie below detection, and where their limit is not stated.

    Parameters
    ----------
    samples : Samples
        Of one place. [-]

    Returns
    -------
    tuple of Finding
    """
    count = int(samples.censored.sum())
    if count == 0:
        return ()
    unstated = int(np.isnan(samples.detection_mg_per_l[samples.censored]).sum())
    more = f" {unstated} have no limit stated and count as 0." if unstated else ""
    return (
        Finding(
            "monitor-below-detection",
            "caution" if unstated else "note",
            f"Samples, {samples.place}",
            f"{count} of {samples.size} samples at the {samples.place} are below detection. Half "
            f"of the limit is put in; the loads with 0 and with the limit stand beside it.{more}",
            float(count),
            source="practice",
        ),
    )


def samples_bear(nitrate: Nitrate, water: WaterRecord) -> tuple[Finding, ...]:
    """Say where water went long without a sample.

    Parameters
    ----------
    nitrate : Nitrate
        Samples of a place. [mg/L]
    water : WaterRecord
        Flows. [m3/s]

    Returns
    -------
    tuple of Finding
        Where more than a fifth of the volume came more than 17 days from any sample.
    """
    place = np.clip(np.searchsorted(nitrate.time_s, water.time_s), 0, nitrate.time_s.size - 1)
    before = np.maximum(place - 1, 0)
    away = np.minimum(
        np.abs(nitrate.time_s[place] - water.time_s), np.abs(water.time_s - nitrate.time_s[before])
    )
    volume = np.nan_to_num(water.treated.flow + water.bypass.flow) * water.step_s
    share = float(volume[away > LONGEST_AWAY].sum() / max(volume.sum(), 1e-30))
    if share <= 0.2:
        return ()
    return (
        Finding(
            "monitor-far-from-sample",
            "caution",
            f"Samples, {nitrate.place}",
            f"{share:.0%} of the water came more than 9 days from any sample of the "
            f"{nitrate.place}. For a load within a tenth, nitrate is sampled every 3 to 17 days. "
            "Sample more often while it flows.",
            share,
            "<=",
            0.2,
            source="williams2015",
        ),
    )


LONGEST_AWAY = 9.0 * DAY
"""Half of the longest interval that keeps a load within a tenth. [s]"""


def lag_found(inlet: Nitrate, retention_s: float) -> tuple[Finding, ...]:
    """Say where the inlet changes so fast that the way through the practice matters.

    Parameters
    ----------
    inlet : Nitrate
        Samples of the inlet. [mg/L]
    retention_s : float
        Time that water stays in the practice. [s]

    Returns
    -------
    tuple of Finding
        Where a tenth of the intervals change by more than a tenth in that time.
    """
    if inlet.time_s.size < 3:
        return ()
    change = np.abs(np.diff(inlet.mg_per_l)) / np.maximum(inlet.mg_per_l[1:], 1e-9)
    per_stay = change * retention_s / np.diff(inlet.time_s)
    share = float(np.mean(per_stay > FAST))
    if share <= 0.1:
        return ()
    return (
        Finding(
            "monitor-lag",
            "note",
            "Samples, inlet",
            f"Water stays {retention_s / 3600.0:.0f} h, and {share:.0%} of the time the inlet "
            f"changes by more than {FAST:.0%} in that. Loads of a long time hardly feel it; a pair "
            "of samples does. Take the outlet that much later than the inlet.",
            share,
            "<=",
            0.1,
            source="practice",
        ),
    )


FAST = 0.10
"""Change of the inlet within the retention from which a pair of samples feels it. [-]"""
