# SPDX-License-Identifier: Apache-2.0
"""Steps of the clock of carbon: what lies in the chips, what takes it, what wood is left."""

from tilewater.basis.trace import Trace
from tilewater.economics.estimate import share_of_amount
from tilewater.monitoring import carbon
from tilewater.practices.bed.life import CARBON_OF_WOOD, USABLE_SHARE
from tilewater.practices.rules import same

HERE = "renew.carbon"
AGE = "renew.age_years"
TAKEN = ("for_nitrogen", "for_oxygen", "leached")
FIXED = (
    ("carbon_share", CARBON_OF_WOOD, "Carbon of dry wood, from memory", "-", "practice"),
    ("usable_share", USABLE_SHARE, "Carbon that microbes get, judgement", "-", "practice"),
    ("oxygen_mg_per_l", carbon.OXYGEN_MG_PER_L, "Oxygen that comes", "mg/L", "maxwell2018"),
    ("dissolved_mg_per_l", carbon.DISSOLVED_MG_PER_L, "Leaves", "mg/L", "maxwell2018"),
    ("wet_half_life_years", carbon.WET_HALF_LIFE_YEARS, "Wet wood", "years", "moorman2010"),
    ("dry_half_life_years", carbon.DRY_HALF_LIFE_YEARS, "Dry wood", "years", "maxwell2018"),
)
"""Key, value, title, unit and source of what is the same at every site."""
WOOD = (("wet", "that stayed under water"), ("dry", "near the top, often dry"))


def is_given(trace: Trace, key: str) -> bool:
    """Whether an input is there and known."""
    return key in trace and trace.known(key) and trace.value(key) is not None


def add_carbon(trace: Trace) -> None:
    """Record the clock of carbon: nitrate, oxygen and leaching, and the half-lives of wood."""
    for key, value, title, unit, source in FIXED:
        trace.constant(f"{HERE}.{key}", value, title, unit=unit, source=source)
    _add_taken(trace)
    trace.compute(
        f"{HERE}.stock_kg",
        carbon.carbon_in_chips,
        unit="kg",
        title="Carbon in the chips when new",
        volume="bed.media_volume_m3",
        dry_density="inputs.media.dry_density_kg_per_m3",
        carbon_share=f"{HERE}.carbon_share",
    )
    trace.compute(
        f"{HERE}.clock_years",
        carbon.carbon_clock,
        unit="years",
        title="Years until the carbon that microbes get is used",
        carbon=f"{HERE}.stock_kg",
        usable_share=f"{HERE}.usable_share",
        **{name: f"{HERE}.{name}_kg" for name in TAKEN},
    )
    for part, words in WOOD:
        trace.compute(
            f"{HERE}.{part}_left",
            carbon.wood_left,
            unit="-",
            title=f"Wood left {words}",
            age_years=AGE,
            half_life_years=f"{HERE}.{part}_half_life_years",
        )


def _add_taken(trace: Trace) -> None:
    """Record what a year takes of the carbon, and the nitrogen and water that it rests on."""
    compute, measured = trace.compute, "inputs.renew.removed_per_year_kg"
    removed = measured if is_given(trace, measured) else "removal.removed_kg.p50"
    compute(
        f"{HERE}.removed_kg", same, unit="kg", title="Nitrogen removed in a year", value=removed
    )
    compute(
        f"{HERE}.water_m3",
        share_of_amount,
        unit="m3",
        title="Water through the bed in a year",
        amount="drain_flow.mean_annual_volume_m3",
        share="removal.treated_volume_share.p50",
    )
    compute(
        f"{HERE}.for_nitrogen_kg",
        carbon.carbon_for_nitrogen,
        unit="kg",
        title="Taken by nitrate in a year",
        removed_per_year=f"{HERE}.removed_kg",
    )
    compute(
        f"{HERE}.for_oxygen_kg",
        carbon.carbon_for_oxygen,
        unit="kg",
        title="Taken by oxygen in a year",
        water_per_year=f"{HERE}.water_m3",
        oxygen_mg_per_l=f"{HERE}.oxygen_mg_per_l",
    )
    compute(
        f"{HERE}.leached_kg",
        carbon.carbon_leached,
        unit="kg",
        title="Leaves dissolved in a year",
        water_per_year=f"{HERE}.water_m3",
        dissolved_mg_per_l=f"{HERE}.dissolved_mg_per_l",
    )
