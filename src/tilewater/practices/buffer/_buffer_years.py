# SPDX-License-Identifier: Apache-2.0
"""One draw of the soil of a buffer and its kinetics, as the kernel takes it."""

from typing import NamedTuple


class BufferYears(NamedTuple):
    """What one draw of the soil and its kinetics is.

    Attributes
    ----------
    conductance : float
        Flow per difference of the squares of the heads, L K / (2 W). [m/s]
    area : float
        Ground between line and ditch, L W. [m2]
    barrier : float
        Top of the restrictive layer. [m]
    loss_linear : float
        Head that the line loses per flow, where the water spreads into the soil. [s/m2]
    loss_square : float
        Head that the line loses per flow squared, by friction. [s2/m5]
    viscosity_ratio : float
        Conductivity at the temperature of the field tests over that at 20 degC. [-]
    drainable : float
        Porosity that fills and drains with the water table. [-]
    porosity : float
        Effective for solutes. [-]
    rate_mg_per_l_day : float
        Removal per volume of pore water at the reference temperature. [mg/L/day]
    log_q10 : float
        Natural logarithm of Q10. [-]
    reference : float
        Temperature of the rate. [degC]
    oxic_days : float
        Days at the reference temperature until oxygen is low enough. [days]
    half_saturation_mg_per_l : float
        0 for zero order; infinite for first order, with the rate at 10 mg/L. [mg/L]
    nitrate_factor : float
        What the nitrate of the days is multiplied with. [-]
    line_head : float
        Invert of the line above the restrictive layer; lower water in the structure does not
        reach the line. [m]
    flow_factor : float
        What the drain flow of the days is multiplied with. [-]
    """

    conductance: float
    area: float
    barrier: float
    loss_linear: float
    loss_square: float
    viscosity_ratio: float
    drainable: float
    porosity: float
    rate_mg_per_l_day: float
    log_q10: float
    reference: float
    oxic_days: float
    half_saturation_mg_per_l: float
    nitrate_factor: float
    line_head: float
    flow_factor: float
