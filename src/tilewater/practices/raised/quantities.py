# SPDX-License-Identifier: Apache-2.0
"""Quantities of a raised outlet: the structure, the solid pipe on both sides of it, its collars."""

from tilewater.basis.trace import Trace
from tilewater.practices.rules import same

INCH = 0.0254
PIECES = (
    ("mobilization", 1.0, "Mobilization"),
    ("potholing", 2.0, "Locate support and potholing, hours"),
    ("inlet-structure", 1.0, "Structure with boards on the main"),
    ("anti-seep-collar", 2.0, "Anti-seep collars, one on each pipe at the structure"),
    ("lid-lock", 1.0, "Lid lock"),
    ("temporary-tile-flow", 1.0, "Keeping the tile flowing while building"),
)
"""Pieces and lump sums that every raised outlet needs: item, count, words."""


def add_quantities(trace: Trace) -> None:
    """Record every bid quantity of a raised outlet."""
    trace.compute(
        f"quantities.{pipe_item(trace)}.quantity",
        pipe_on_both_sides,
        unit="m",
        title="Solid pipe on both sides of the structure",
        solid_pipe="inputs.raised.solid_pipe_m",
    )
    trace.compute(
        "quantities.anchor-inlet.quantity",
        same,
        unit="m3",
        title="Anchor of the structure",
        value="flotation.inlet.anchor_m3",
    )
    for item, count, words in PIECES:
        trace.constant(f"quantities.{item}.quantity", count, words, source="practice")


def pipe_item(trace: Trace) -> str:
    """Item of the price file for solid pipe as wide as the main."""
    diameter = "inputs.main.diameter_m"
    if not trace.known(diameter):
        return "solid-pipe"
    return f"solid-pipe-{float(trace.value(diameter)) / INCH:.4g}-in"


def pipe_on_both_sides(solid_pipe: float) -> float:
    """Length of solid pipe above and below a structure.

    Parameters
    ----------
    solid_pipe : float
        On each side. [m]

    Returns
    -------
    float
        On both. [m]

    Notes
    -----
    L = 2 l    (derived)

    References
    ----------
    derived, a product
    """
    return 2.0 * solid_pipe
