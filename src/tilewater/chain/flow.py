# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: how much water, and what controls it."""

from tilewater.basis.trace import Given, Origin, Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain.grade import tell_grade
from tilewater.hydraulics.groundwater import drain_flux_hooghoudt, equivalent_depth_moody
from tilewater.hydraulics.pipes import drainage_flow, pipe_flow_full_manning, pipe_roughness_manning
from tilewater.hydrology import drain_flow, flow_record
from tilewater.nitrate.removal import nitrate_load
from tilewater.practices.rules import same
from tilewater.practices.wetness import Laterals

CANDIDATES = "drain_flow.candidates_m3_s"
MATERIALS = {
    "concrete": "concrete-tile",
    "clay": "clay-tile",
    "corrugated plastic": "corrugated-plastic",
    "smooth plastic": "dual-wall-plastic",
}


def main_roughness(material: str, diameter: float) -> float:
    """Manning roughness of the main by its material.

    Parameters
    ----------
    material : str
        "concrete", "clay", "corrugated plastic" or "smooth plastic". [-]
    diameter : float
        Inside diameter. [m]

    Returns
    -------
    float
        Manning roughness of a pipe in fair condition. [-]

    Notes
    -----
    n from the table of `pipe_roughness_manning`    (efh14)

    References
    ----------
    efh14, roughness of drains, from memory
    """
    return pipe_roughness_manning(MATERIALS[material], diameter)


def add_drain_flow(trace: Trace) -> None:
    """Record the candidates, the two peaks, what controls, and the water of a mean year."""
    _add_field(trace)
    _add_main(trace)
    _add_measured(trace)
    _add_peaks(trace)
    _add_year(trace)


def _add_field(trace: Trace) -> None:
    compute = trace.compute
    compute(
        f"{CANDIDATES}.drainage_coefficient",
        drainage_flow,
        unit="m3/s",
        title="Area times drainage coefficient",
        drainage_coefficient="inputs.drainage.coefficient_m_s",
        area="inputs.drainage.area_m2",
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
            area="inputs.drainage.area_m2",
        )


def _add_main(trace: Trace) -> None:
    compute = trace.compute
    if trace.known("inputs.main.n"):
        trace.give(
            Given(
                "drain_flow.main_n",
                trace.value("inputs.main.n"),
                "",
                "Roughness of the main",
                trace.steps["inputs.main.n"].origin or Origin(),
            )
        )
    else:
        compute(
            "drain_flow.main_n",
            main_roughness,
            unit="-",
            title="Roughness of the main by its material",
            material="inputs.main.material",
            diameter="inputs.main.diameter_m",
        )
    compute(
        f"{CANDIDATES}.main_full",
        pipe_flow_full_manning,
        unit="m3/s",
        title="What the main carries full",
        diameter="inputs.main.diameter_m",
        slope="inputs.main.slope",
        n="drain_flow.main_n",
    )
    compute(
        "drain_flow.outlet_level_m",
        outlet_level,
        unit="m",
        title="Water level at the outlet of the main running full",
        invert="inputs.main.invert_outlet_m",
        diameter="inputs.main.diameter_m",
    )
    tell_grade(trace)
    _add_surcharged(trace)


def _add_surcharged(trace: Trace) -> None:
    compute = trace.compute
    spots = trace.names("inputs.spot")
    for spot in spots:
        distance = f"drain_flow.surcharged.{spot}.distance_m"
        compute(
            distance,
            station_difference,
            unit="m",
            title=f"Main from its outlet to {spot}",
            station=f"inputs.spot.{spot}.station_m",
            start="inputs.main.station_outlet_m",
        )
        compute(
            f"drain_flow.surcharged.{spot}.flow_m3_s",
            drain_flow.main_flow_surcharged_free,
            unit="m3/s",
            title=f"Flow that brings water to the ground at {spot}, boards out",
            ground=f"inputs.spot.{spot}.ground_m",
            distance=distance,
            outlet_level="drain_flow.outlet_level_m",
            diameter="inputs.main.diameter_m",
            n="drain_flow.main_n",
        )
    if spots:
        compute(
            f"{CANDIDATES}.main_surcharged",
            drain_flow.least_of,
            unit="m3/s",
            title="What the main carries surcharged before water reaches the surface",
            **{_word(s): f"drain_flow.surcharged.{s}.flow_m3_s" for s in spots},
        )
    else:
        why = "no junction or low spot of the field is given"
        trace.give(
            Given(
                f"{CANDIDATES}.main_surcharged",
                Unknown(why, "shoot the low spots and junctions along the main"),
                "m3/s",
                "What the main carries surcharged before water reaches the surface",
            )
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
            area="inputs.drainage.area_m2",
        )
    elif "inputs.drainage.measured_peak_m3_s" in trace:
        _copy(
            trace, f"{CANDIDATES}.measured", "inputs.drainage.measured_peak_m3_s", "Measured peak"
        )
    if "inputs.drainage.pump_capacity_m3_s" in trace:
        _copy(
            trace, f"{CANDIDATES}.pump", "inputs.drainage.pump_capacity_m3_s", "What the pump lifts"
        )


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
    if trace.known("inputs.drainage.surface_inlets") and (
        trace.value("inputs.drainage.surface_inlets") == "none"
    ):
        physical["supplies"] = f"{CANDIDATES}.laterals_at_surface"
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


def _add_year(trace: Trace) -> None:
    measured = "drain_flow.record_depth_m" in trace
    depth = "drain_flow.record_depth_m" if measured else "inputs.drainage.mean_annual_depth_m"
    days = "drain_flow.record_flow_days" if measured else "inputs.drainage.flow_days"
    trace.constant(
        "drain_flow.basis",
        "measured" if measured else "stated",
        "What the flow rests on",
        source="derived",
    )
    _copy(trace, "drain_flow.mean_annual_depth_m", depth, "Drainage of a mean year")
    _copy(trace, "drain_flow.flow_days_per_year", days, "Days with flow in a mean year", "days")
    trace.compute(
        "drain_flow.mean_annual_volume_m3",
        drain_flow.annual_volume,
        unit="m3",
        title="Water that leaves the drains in a mean year",
        annual_depth="drain_flow.mean_annual_depth_m",
        area="inputs.drainage.area_m2",
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
        title="Nitrate nitrogen that leaves the drains in a mean year",
        volume="drain_flow.mean_annual_volume_m3",
        nitrate_mg_per_l="inputs.nitrate.mean_mg_per_l",
    )


def outlet_level(invert: float, diameter: float) -> float:
    """Water level at a free outlet of a pipe that runs full.

    Parameters
    ----------
    invert : float
        Invert of the outlet. [m]
    diameter : float
        Inside diameter. [m]

    Returns
    -------
    float
        Elevation of the crown. [m]

    Notes
    -----
    level = invert + D    (practice)

    References
    ----------
    practice, the grade line of a full pipe leaves at its crown
    """
    return invert + diameter


def station_difference(station: float, start: float) -> float:
    """Length of main between two stations.

    Parameters
    ----------
    station, start : float
        Stations along the main, counted up from the ditch. [m]

    Returns
    -------
    float
        Distance. [m]

    Notes
    -----
    x = station - start    (derived)

    References
    ----------
    derived, a difference
    """
    return station - start


def _copy(trace: Trace, key: str, source: str, title: str, unit: str = "") -> None:
    step = trace.steps.get(source)
    if step is None:
        trace.give(Given(key, Unknown(f"{title.lower()} is not given"), unit, title))
        return
    trace.compute(key, same, unit=unit or step.unit, title=title, value=source)


def _word(name: str) -> str:
    return name.replace("-", "_").replace(".", "_")
