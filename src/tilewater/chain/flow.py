# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: how much water, and what controls it."""

from tilewater.basis.trace import Given, Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain.areas import AREA_ABOVE, add_areas
from tilewater.chain.inlets import inlets_bring_water, judge_inlets
from tilewater.chain.main_line import CANDIDATES, add_main
from tilewater.chain.nitrate_days import nitrate_key
from tilewater.chain.pumping import has_pump, pump_capacity_key
from tilewater.hydraulics.groundwater import drain_flux_hooghoudt, equivalent_depth_moody
from tilewater.hydraulics.pipes import drainage_flow
from tilewater.hydrology import drain_flow, flow_record
from tilewater.nitrate.removal import nitrate_load
from tilewater.practices.rules import same
from tilewater.practices.wetness import Laterals


def add_drain_flow(trace: Trace) -> None:
    """Record the candidates, the two peaks and what controls."""
    add_areas(trace)
    judge_inlets(trace)
    _add_field(trace)
    add_main(trace)
    _add_measured(trace)
    _add_peaks(trace)


def _add_field(trace: Trace) -> None:
    compute = trace.compute
    compute(
        f"{CANDIDATES}.drainage_coefficient",
        drainage_flow,
        unit="m3/s",
        title="Area times drainage coefficient",
        drainage_coefficient="inputs.drainage.coefficient_m_s",
        area=AREA_ABOVE,
    )
    compute(
        "drain_flow.equivalent_depth_m",
        equivalent_depth_moody,
        unit="m",
        title="Equivalent depth to the barrier",
        depth_to_barrier="inputs.drainage.depth_to_barrier_m",
        spacing="inputs.drainage.lateral_spacing_m",
        radius="inputs.drainage.effective_radius_m",
    )
    compute(
        "drain_flow.laterals",
        Laterals,
        unit="",
        title="Spacing, equivalent depth and conductivity of the laterals",
        spacing="inputs.drainage.lateral_spacing_m",
        equivalent_depth="drain_flow.equivalent_depth_m",
        conductivity_below="inputs.drainage.conductivity_m_s",
        conductivity_above="inputs.drainage.conductivity_above_m_s",
    )
    trace.constant(
        "drain_flow.free_outlet_m", 0.0, "Outlet at the drains", unit="m", source="derived"
    )
    compute(
        "drain_flow.surface_height_m",
        same,
        unit="m",
        title="Water table at the surface, above the drains",
        value="inputs.drainage.lateral_depth_m",
    )
    _add_laterals(trace)


def _add_laterals(trace: Trace) -> None:
    compute = trace.compute
    for name, height, words in (
        ("laterals", "inputs.drainage.design_water_height_m", "at the water height of the design"),
        ("laterals_at_surface", "drain_flow.surface_height_m", "with water at the surface"),
    ):
        compute(
            f"drain_flow.{name}_flux_m_s",
            drain_flux_hooghoudt,
            unit="m/s",
            title=f"Drain flux of the laterals {words}",
            water_height=height,
            outlet_height="drain_flow.free_outlet_m",
            spacing="inputs.drainage.lateral_spacing_m",
            equivalent_depth="drain_flow.equivalent_depth_m",
            conductivity_below="inputs.drainage.conductivity_m_s",
            conductivity_above="inputs.drainage.conductivity_above_m_s",
        )
        compute(
            f"{CANDIDATES}.{name}",
            drainage_flow,
            unit="m3/s",
            title=f"What the laterals supply {words}",
            drainage_coefficient=f"drain_flow.{name}_flux_m_s",
            area=AREA_ABOVE,
        )


def _add_measured(trace: Trace) -> None:
    if "inputs.record.daily_depth_m_s" in trace:
        for key, function, unit, title in (
            ("drain_flow.record_peak_m_s", flow_record.peak_daily_depth, "m/s", "Largest day"),
            ("drain_flow.record_depth_m", flow_record.mean_annual_depth, "m", "Mean year"),
            ("drain_flow.record_flow_days", flow_record.flow_days_per_year, "days", "Flow days"),
        ):
            trace.compute(
                key,
                function,
                unit=unit,
                title=f"{title} of the flow record",
                daily_depth="inputs.record.daily_depth_m_s",
            )
        trace.compute(
            f"{CANDIDATES}.measured",
            drainage_flow,
            unit="m3/s",
            title="Largest daily mean that was measured",
            drainage_coefficient="drain_flow.record_peak_m_s",
            area=AREA_ABOVE,
        )
    elif "inputs.drainage.measured_peak_m3_s" in trace:
        _copy(
            trace, f"{CANDIDATES}.measured", "inputs.drainage.measured_peak_m3_s", "Measured peak"
        )
    pump = pump_capacity_key(trace)
    if pump is not None:
        _copy(trace, f"{CANDIDATES}.pump", pump, "What the pump lifts")


def _add_peaks(trace: Trace) -> None:
    have = {
        name: f"{CANDIDATES}.{key}"
        for name, key in (
            ("main_full", "main_full"),
            ("coefficient", "drainage_coefficient"),
            ("measured", "measured"),
            ("pump", "pump"),
        )
        if f"{CANDIDATES}.{key}" in trace
    }
    trace.compute(
        "drain_flow.peak_for_share_m3_s",
        drain_flow.peak_for_share,
        unit="m3/s",
        title="Peak that shares are counted against",
        rule="inputs.criteria.peak_for_share",
        **have,
    )
    limits = {name: key for name, key in have.items() if name != "measured"}
    trace.compute(
        "drain_flow.controlled_by",
        drain_flow.flow_control,
        unit="",
        title="What limits the drain flow",
        laterals=f"{CANDIDATES}.laterals",
        **limits,
    )
    physical = {"carries": f"{CANDIDATES}.main_surcharged"}
    if not inlets_bring_water(trace):
        physical["supplies"] = f"{CANDIDATES}.laterals_at_surface"
    if has_pump(trace):
        physical["lifts"] = f"{CANDIDATES}.pump"
    trace.compute(
        "drain_flow.full_m3_s",
        drain_flow.least_of,
        unit="m3/s",
        title="What comes down with the main just full, no more than a pump lifts",
        carries=f"{CANDIDATES}.main_full",
        **({"lifts": f"{CANDIDATES}.pump"} if "pump" in have else {}),
    )
    measured = {"measured": have["measured"]} if "measured" in have else {}
    trace.compute(
        "drain_flow.physical_limit_m3_s",
        drain_flow.least_of,
        unit="m3/s",
        title="Largest flow that laterals supply and the main carries",
        **physical,
    )
    trace.compute(
        "drain_flow.peak_for_bypass_m3_s",
        drain_flow.largest_of,
        unit="m3/s",
        title="Largest physical flow, which the bypass must pass",
        limit="drain_flow.physical_limit_m3_s",
        **measured,
    )


def add_year(trace: Trace) -> None:
    """Record the water of a mean year: measured, else simulated, else as the job states it."""
    if "drain_flow.record_depth_m" in trace:
        basis, depth, days = "measured", "drain_flow.record_depth_m", "drain_flow.record_flow_days"
    elif trace.known("water.simulated.mean_annual_depth_m"):
        basis, depth, days = "simulated", "water.mean_annual_depth_m", "water.flow_days_per_year"
    else:
        basis = "stated"
        depth, days = "inputs.drainage.mean_annual_depth_m", "inputs.drainage.flow_days"
    trace.constant("drain_flow.basis", basis, "What the flow rests on", source="derived")
    _copy(trace, "drain_flow.mean_annual_depth_m", depth, "Drainage of a mean year")
    _copy(trace, "drain_flow.flow_days_per_year", days, "Days with flow in a mean year", "days")
    trace.compute(
        "drain_flow.mean_annual_volume_m3",
        drain_flow.annual_volume,
        unit="m3",
        title="Water of a mean year that reaches the diversion",
        annual_depth="drain_flow.mean_annual_depth_m",
        area=AREA_ABOVE,
    )
    trace.compute(
        "drain_flow.mean_flow_m3_s",
        drain_flow.mean_flow_on_flow_days,
        unit="m3/s",
        title="Mean flow on days with flow",
        volume="drain_flow.mean_annual_volume_m3",
        flow_days="drain_flow.flow_days_per_year",
    )
    trace.compute(
        "drain_flow.annual_load_kg",
        nitrate_load,
        unit="kg",
        title="Nitrate nitrogen that reaches the diversion in a mean year",
        volume="drain_flow.mean_annual_volume_m3",
        nitrate_mg_per_l=nitrate_key(trace),
    )
    _add_site(trace)


def _add_site(trace: Trace) -> None:
    """The same of the whole site, what joins below the diversion included."""
    trace.compute(
        "drain_flow.site_volume_m3",
        drain_flow.annual_volume,
        unit="m3",
        title="Water that leaves the drains of the site in a mean year",
        annual_depth="drain_flow.mean_annual_depth_m",
        area="inputs.drainage.area_m2",
    )
    trace.compute(
        "drain_flow.site_load_kg",
        nitrate_load,
        unit="kg",
        title="Nitrate nitrogen that leaves the drains of the site in a mean year",
        volume="drain_flow.site_volume_m3",
        nitrate_mg_per_l=nitrate_key(trace),
    )


def _copy(trace: Trace, key: str, source: str, title: str, unit: str = "") -> None:
    step = trace.steps.get(source)
    if step is None:
        trace.give(Given(key, Unknown(f"{title.lower()} is not given"), unit, title))
        return
    trace.compute(key, same, unit=unit or step.unit, title=title, value=source)
