# SPDX-License-Identifier: Apache-2.0
"""Steps of removal at a steady flow: two laws side by side, and the closed best width.

The two laws differ by far more than either tells by itself; a year's removal is shown by both. Of
the criterion season; a range by days is in `day_steps`.
"""

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.hydrology.drain_flow import treated_share_exponential
from tilewater.practices.buffer import removal
from tilewater.practices.buffer.givens import SOIL, or_default

LAWS = ("first_order", "zero_order")
FLOW = "water.flow_m3_s"
NITRATE = "inputs.nitrate.mean_mg_per_l"
"""Key of the nitrate where the job states one for every day."""
SCREENED_AT_C = 10.0
"""Temperature where the job gives none for the season; judgement. [degC]"""


def add_removal(trace: Trace, nitrate: str) -> None:
    """Record removal of what enters by both laws, the screening load, and the best width."""
    _add_oxygen(trace)
    _add_laws(trace, nitrate)
    _add_screening(trace)
    if FLOW in trace and trace.known(FLOW) and _has_head(trace):
        _add_best_width(trace)


def _has_head(trace: Trace) -> bool:
    """Whether water leaves to the ditch at all; where it does not, no width removes anything."""
    heads = "buffer.head_soil_m", "buffer.head_stream_m"
    if not trace.known(*heads):
        return True
    line, stream = (float(trace.value(key)) for key in heads)
    return line > stream


def _temperature(trace: Trace) -> str:
    season = trace.value("buffer.criterion_season")
    key = f"inputs.season.{season}.water_temperature_c"
    if key in trace and trace.known(key):
        return key
    own = "buffer.temperature_default_c"
    return trace.constant(
        own, SCREENED_AT_C, "Temperature of the water, default", unit="degC", source="practice"
    )


def _add_oxygen(trace: Trace) -> None:
    trace.compute(
        "buffer.oxic_days",
        removal.oxic_days_of,
        unit="days",
        title="Time until oxygen is low enough for nitrate to fall",
        oxygen=or_default(trace, f"{SOIL}.oxygen_mg_per_l"),
        uptake=or_default(trace, f"{SOIL}.oxygen_uptake_mg_per_l"),
        temperature=_temperature(trace),
        q10=or_default(trace, f"{SOIL}.q10"),
    )


def _add_laws(trace: Trace, nitrate: str) -> None:
    common = {
        "travel_days": "buffer.travel_time_linear_days",
        "oxic_days": "buffer.oxic_days",
        "temperature": _temperature(trace),
        "q10": or_default(trace, f"{SOIL}.q10"),
    }
    trace.compute(
        "buffer.removal.first_order",
        removal.removal_first_order,
        unit="-",
        title="Share removed of the nitrate that enters, first order",
        rate_per_day=or_default(trace, f"{SOIL}.first_order_rate"),
        **common,
    )
    trace.compute(
        "buffer.removal.zero_order",
        removal.removal_zero_order,
        unit="-",
        title="Share removed of the nitrate that enters, zero order",
        rate_g_per_m3_day=or_default(trace, f"{SOIL}.zero_order_rate_g_per_m3_day"),
        porosity=or_default(trace, f"{SOIL}.porosity_effective"),
        nitrate_mg_per_l=nitrate,
        **common,
    )
    laws = [f"buffer.removal.{law}" for law in LAWS]
    if trace.known(*laws):
        first, zero = (float(trace.value(key)) for key in laws)
        trace.findings.append(
            Finding(
                "buffer-laws-differ",
                "note",
                "Removal",
                f"Of the nitrate that enters, {first:.0%} is removed by a first-order law and "
                f"{zero:.0%} by a zero-order law, with rates that nobody measured here. Measured "
                "buffers took out 84 percent of it on the mean of site-years.",
                value=first,
                unit="-",
                source="iowa-buffers",
            )
        )


def _add_screening(trace: Trace) -> None:
    """A mean year by the screening figure, for information; it satisfies no criterion."""
    trace.compute(
        "buffer.screening.treated_share",
        treated_share_exponential,
        unit="-",
        title="Share of the water that enters, flow taken as exponential; a screening figure",
        capacity="buffer.flow_m3_s",
        mean_flow="drain_flow.mean_flow_m3_s",
    )
    for law in LAWS:
        trace.compute(
            f"buffer.screening.removed_{law}_kg",
            removal.removed_load,
            unit="kg",
            title=f"Nitrate nitrogen removed in a mean year, {law.replace('_', ' ')}, screening",
            annual_load="drain_flow.annual_load_kg",
            treated_share="buffer.screening.treated_share",
            removal=f"buffer.removal.{law}",
        )


def _add_best_width(trace: Trace) -> None:
    trace.compute(
        "buffer.site",
        removal.site_of,
        unit="",
        title="The buffer at its heads",
        length="buffer.line_length_m",
        width="buffer.width_m",
        head_line="buffer.head_soil_m",
        head_stream="buffer.head_stream_m",
        conductivity="buffer.conductivity_m_s",
        porosity=or_default(trace, f"{SOIL}.porosity_effective"),
        rate_per_day=or_default(trace, f"{SOIL}.first_order_rate"),
        oxic_days="buffer.oxic_days",
    )
    trace.compute(
        "buffer.best_width_m",
        removal.best_width_of,
        unit="m",
        title="Width that removes most if flow always exceeded the buffer",
        site="buffer.site",
    )
