# SPDX-License-Identifier: Apache-2.0
"""Flow over boards and notches of a control structure: every name of the weirs in one place.

Rectangular crests are in `rectangular_weirs` and `weir_heads`, V-notches in `notches`, tailwater
and thick boards in `submerged_weirs`, calibrations of one structure in `ratings`. A formula is good
to about 10 percent in a structure in the field; leakage through the joints of boards is not in it.
"""

from tilewater.hydraulics.notches import (
    weir_flow_v_notch_kindsvater_shen,
    weir_flow_v_notch_kindsvater_shen_range,
    weir_flow_v_notch_overtopped,
    weir_flow_v_notch_overtopped_range,
    weir_head_v_notch_kindsvater_shen,
    weir_head_v_notch_overtopped,
)
from tilewater.hydraulics.ratings import (
    weir_flow_power_law,
    weir_flow_power_law_range,
    weir_flow_power_law_width,
    weir_head_power_law,
)
from tilewater.hydraulics.rectangular_weirs import (
    weir_flow_rectangular_francis,
    weir_flow_rectangular_francis_range,
    weir_flow_rectangular_kindsvater_carter,
    weir_flow_rectangular_kindsvater_carter_range,
    weir_flow_rectangular_rehbock,
    weir_flow_rectangular_rehbock_range,
)
from tilewater.hydraulics.submerged_weirs import (
    RECTANGULAR_EXPONENT,
    V_NOTCH_EXPONENT,
    weir_board_crest_range,
    weir_submergence_factor_villemonte,
    weir_submergence_factor_villemonte_range,
)
from tilewater.hydraulics.weir_heads import (
    weir_head_rectangular_francis,
    weir_head_rectangular_francis_villemonte,
    weir_head_rectangular_kindsvater_carter,
)

__all__ = [
    "RECTANGULAR_EXPONENT",
    "V_NOTCH_EXPONENT",
    "weir_board_crest_range",
    "weir_flow_power_law",
    "weir_flow_power_law_range",
    "weir_flow_power_law_width",
    "weir_flow_rectangular_francis",
    "weir_flow_rectangular_francis_range",
    "weir_flow_rectangular_kindsvater_carter",
    "weir_flow_rectangular_kindsvater_carter_range",
    "weir_flow_rectangular_rehbock",
    "weir_flow_rectangular_rehbock_range",
    "weir_flow_v_notch_kindsvater_shen",
    "weir_flow_v_notch_kindsvater_shen_range",
    "weir_flow_v_notch_overtopped",
    "weir_flow_v_notch_overtopped_range",
    "weir_head_power_law",
    "weir_head_rectangular_francis",
    "weir_head_rectangular_francis_villemonte",
    "weir_head_rectangular_kindsvater_carter",
    "weir_head_v_notch_kindsvater_shen",
    "weir_head_v_notch_overtopped",
    "weir_submergence_factor_villemonte",
    "weir_submergence_factor_villemonte_range",
]
