# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: a pump that lifts the drain water to the practice, and its pulses."""

from math import inf

from tilewater.basis.findings import Finding
from tilewater.basis.told import cfs
from tilewater.basis.trace import Given, Trace
from tilewater.basis.unknown import Unknown
from tilewater.hydraulics import pump_cycles

TABLE = "inputs.pump"
FIELD = "inputs.drainage.pump_capacity_m3_s"
CYCLE = ("float_on_m", "float_off_m", "sump_area_m2")
MOST_STARTS = 10.0
"""Starts in an hour that small pumps are usually held to."""
ALIKE = 0.05
"""Share by which two capacities of one pump may differ."""
GPM = 3.785411784e-3 / 60
GALLON = 3.785411784e-3
OF_BED = "bed.depth_outlet_crest_m"
"""Where there is a bed, its pores take up what the pump sends."""


def has_pump(trace: Trace) -> bool:
    """Whether the job says of a pump that lifts the water to the practice."""
    return bool(trace.names(TABLE))


def pump_capacity_key(trace: Trace) -> str | None:
    """Key of what the pump lifts; of something not known where the job has a pump without it."""
    own = f"{TABLE}.capacity_m3_s"
    if own in trace:
        _tell_two_capacities(trace, own)
        return own
    if FIELD in trace:
        return FIELD
    if not has_pump(trace):
        return None
    key, title = "pump.capacity_m3_s", "Flow that the pump lifts to the practice"
    why = Unknown("what the pump lifts is not given", "time the sump between two marks")
    trace.give(Given(key, why, "m3/s", title))
    return key


def add_pumping(trace: Trace) -> None:
    """Record the cycle of the pump at the mean flow, and what its pulses do to the bed."""
    if not has_pump(trace):
        return
    trace.findings.append(
        Finding(
            "pump-before-practice",
            "caution",
            "Pump",
            "The pump lifts the water to the practice, so that the boards raise no water in the "
            "main while a check valve holds. The limits of the field are judged as if they did.",
            source="derived",
        )
    )
    missing = [key for key in CYCLE if f"{TABLE}.{key}" not in trace]
    if missing:
        names = ", ".join(key.rpartition("_")[0] for key in missing)
        trace.findings.append(
            Finding(
                "pump-cycle-not-known",
                "caution",
                "Pump",
                f"How often the pump starts, and what a run of it sends to the bed, is not known. "
                f"Give {names} in [pump].",
                source="derived",
            )
        )
        return
    _add_cycle(trace)
    if OF_BED in trace:
        _add_pulse(trace)
    _tell_starts(trace)
    _tell_pulse(trace)


def _add_cycle(trace: Trace) -> None:
    capacity, mean = "drain_flow.candidates_m3_s.pump", "drain_flow.mean_flow_m3_s"
    trace.compute(
        "pump.sump_volume_m3",
        pump_cycles.sump_volume,
        unit="m3",
        title="Water in the sump between the floats",
        sump_area=f"{TABLE}.sump_area_m2",
        float_on=f"{TABLE}.float_on_m",
        float_off=f"{TABLE}.float_off_m",
    )
    volume = "pump.sump_volume_m3"
    trace.compute(
        "pump.run_time_s",
        pump_cycles.pump_run_time,
        unit="s",
        title="Time that the pump runs at the mean flow",
        volume=volume,
        capacity=capacity,
        inflow=mean,
    )
    trace.compute(
        "pump.rest_time_s",
        pump_cycles.pump_rest_time,
        unit="s",
        title="Time that the pump rests at the mean flow",
        volume=volume,
        inflow=mean,
    )
    trace.compute(
        "pump.starts_per_hour",
        pump_cycles.pump_starts_per_hour,
        unit="-",
        title="Starts of the pump in an hour at the mean flow",
        volume=volume,
        capacity=capacity,
        inflow=mean,
    )
    trace.compute(
        "pump.starts_most_per_hour",
        pump_cycles.pump_starts_most_per_hour,
        unit="-",
        title="Starts of the pump in an hour at the flow that is worst for it",
        volume=volume,
        capacity=capacity,
    )
    trace.constant(
        "pump.starts_limit_per_hour",
        MOST_STARTS,
        "Limit: starts of a small pump in an hour",
        unit="-",
        source="practice",
    )


def _add_pulse(trace: Trace) -> None:
    trace.compute(
        "pump.pulse_volume_m3",
        pump_cycles.pulse_volume,
        unit="m3",
        title="Water that one run of the pump sends to the bed, at the mean flow",
        run_time="pump.run_time_s",
        capacity="drain_flow.candidates_m3_s.pump",
    )
    trace.compute(
        "pump.room_m3",
        pump_cycles.room_in_media,
        unit="m3",
        title="Water that the bed takes up from rest to the bypass crest",
        wet_volume="capacity.criterion.wet_volume_m3",
        rest_depth=OF_BED,
        porosity="inputs.media.porosity_drainable",
        length="bed.length_m",
        width="bed.width_bottom_m",
        side_slope="bed.side_slope",
    )
    trace.compute(
        "pump.past_bed_m3",
        pump_cycles.pulse_past_bed,
        unit="m3",
        title="Water of one run that goes over the bypass boards, at the mean flow",
        pulse="pump.pulse_volume_m3",
        run_time="pump.run_time_s",
        capacity="capacity.criterion.flow_m3_s",
        storage="pump.room_m3",
    )


def _tell_two_capacities(trace: Trace, own: str) -> None:
    if FIELD not in trace or not trace.known(own, FIELD):
        return
    here, there = float(trace.value(own)), float(trace.value(FIELD))
    if abs(here - there) > ALIKE * max(here, there):
        trace.findings.append(
            Finding(
                "pump-stated-twice",
                "caution",
                "Pump",
                f"pump.capacity is {here / GPM:.0f} gpm and drainage.pump_capacity "
                f"{there / GPM:.0f} gpm. The first is used. Keep one.",
                value=here,
                limit=there,
                unit="m3/s",
                source="derived",
            )
        )


def _tell_starts(trace: Trace) -> None:
    key, limit = "pump.starts_most_per_hour", "pump.starts_limit_per_hour"
    if not trace.known(key) or trace.value(key) <= trace.value(limit):
        return
    most = float(trace.value(key))
    trace.findings.append(
        Finding(
            "pump-starts-often",
            "caution",
            "Pump",
            f"At half its capacity the pump starts {most:.1f} times an hour, and {MOST_STARTS:g} "
            "is the usual most for a small one. Set the floats farther apart, or ask its maker. "
            "Water in the pipes above the sump makes it fewer.",
            value=most,
            operator="<=",
            limit=MOST_STARTS,
            unit="-",
            source="practice",
        )
    )


def _tell_pulse(trace: Trace) -> None:
    keys = ("past_bed_m3", "pulse_volume_m3", "room_m3", "run_time_s")
    lifts, takes = "drain_flow.candidates_m3_s.pump", "capacity.criterion.flow_m3_s"
    if not trace.known(*(f"pump.{key}" for key in keys), lifts, takes):
        return
    past, pulse, room, run = (float(trace.value(f"pump.{key}")) for key in keys)
    pumped, bed = float(trace.value(lifts)), float(trace.value(takes))
    if run == inf:
        words = "At the mean flow the pump runs all the time; the bed sees its flow without pause."
    else:
        words = (
            f"While it runs the pump sends {cfs(pumped, '.2f')}, and the bed takes "
            f"{cfs(bed)}. At the mean flow a run of {run / 60:.1f} minutes sends "
            f"{pulse / GALLON:,.0f} gallons; the pores between rest and bypass crest hold "
            f"{room / GALLON:,.0f}. "
        )
        words += (
            f"{past / GALLON:,.0f} gallons of each run go past the bed, though the mean flow alone "
            "might pass. Floats closer together, a smaller pump or a storage pond before the bed "
            "lets it take more."
            if past > 0
            else "A run fits, so that the bed works on the mean flow."
        )
    trace.findings.append(
        Finding(
            "pump-pulse",
            "caution" if past > 0 else "note",
            "Pump",
            words,
            value=past if past != inf else None,
            operator="<=",
            limit=0.0,
            unit="m3",
            source="derived",
        )
    )
