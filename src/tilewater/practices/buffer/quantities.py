# SPDX-License-Identifier: Apache-2.0
"""Quantities of a buffer from its solids: trench, line, solid pipe, backfill, seeding, pieces.

Soil is counted in the bank, neat. Keys are `quantities.ITEM.quantity`, as those of a bed.
"""

import math
from collections.abc import Sequence

from tilewater.basis.domain import require_not_negative, require_positive
from tilewater.basis.trace import Trace
from tilewater.practices.buffer.givens import LINE, needed
from tilewater.practices.rules import difference, same

BEDDING = 0.1
"""Trench below the invert of the line. [m]"""
WORKING_STRIP = 6.0
"""Width of ground that the trench disturbs. [m]"""
PIECES = (
    ("mobilization", 1.0, "Mobilization"),
    ("potholing", 4.0, "Locate support and potholing, hours"),
    ("inlet-structure", 1.0, "Structure with bypass boards and, where planned, head boards"),
    ("anti-seep-collar", 2.0, "Anti-seep collars on the main above and below the structure"),
    ("lid-lock", 1.0, "Lid lock"),
    ("temporary-tile-flow", 1.0, "Keeping the tile flowing while building"),
    ("erosion-control", 1.0, "Erosion control"),
    ("rigid-outlet", 1.0, "Rigid outlet pipe with guard"),
    ("line-marker", 2.0, "Markers at the ends of the line"),
)
"""Pieces and lump sums that every buffer needs: item, count, words."""


def add_quantities(trace: Trace) -> None:
    """Record every bid quantity of the buffer."""
    _add_lengths(trace)
    _add_trench(trace)
    _add_pipes(trace)
    for item, count, words in PIECES:
        trace.constant(f"quantities.{item}.quantity", count, words, source="practice")
    trace.compute(
        "quantities.end-cap.quantity",
        count_of_branches,
        unit="",
        title="End caps of the line",
        branches=f"{LINE}.branches_m",
    )


def _add_lengths(trace: Trace) -> None:
    compute = trace.compute
    solid = needed(
        trace, f"{LINE}.solid_at_structure_m", "Solid pipe at the structure", "m", "plan it"
    )
    trees = f"{LINE}.tree_length_m"
    compute(
        "quantities.perforated-line.quantity",
        same,
        unit="m",
        title="Perforated line",
        value="buffer.line_length_m",
    )
    compute(
        "quantities.solid-line.quantity",
        solid_line,
        unit="m",
        title="Solid pipe of the line, at the structure and past trees",
        branches=f"{LINE}.branches_m",
        solid_at_structure=solid,
        **({"tree_length": trees} if trees in trace else {}),
    )


def _add_trench(trace: Trace) -> None:
    compute = trace.compute
    _add_depths(trace)
    trench = {
        "perforated": "quantities.perforated-line.quantity",
        "solid": "quantities.solid-line.quantity",
    }
    compute(
        "quantities.trench.quantity",
        trench_volume,
        unit="m3",
        title="Trench of the line, bank",
        **trench,
        trench_width=f"{LINE}.trench_width_m",
        line_depth="quantities.line_depth_m",
    )
    gravel = _envelope_key(trace)
    compute(
        gravel,
        envelope_volume,
        unit="m3",
        title="Gravel round the line, neat",
        perforated=trench["perforated"],
        trench_width=f"{LINE}.trench_width_m",
        diameter=f"{LINE}.pipe_diameter_m",
        envelope=f"{LINE}.envelope",
    )
    compute(
        "quantities.backfill.quantity",
        backfill_of_trench,
        unit="m3",
        title="Soil back into the trench",
        trench="quantities.trench.quantity",
        gravel=gravel,
        **trench,
        diameter=f"{LINE}.pipe_diameter_m",
    )
    compute(
        "quantities.spoil.quantity",
        difference,
        unit="m3",
        title="Spoil left over, bank",
        upper="quantities.trench.quantity",
        lower="quantities.backfill.quantity",
    )
    compute(
        "quantities.seeding.quantity",
        disturbed_strip,
        unit="m2",
        title="Ground to seed and mulch",
        **trench,
    )


def _add_depths(trace: Trace) -> None:
    """Record how deep line and trench lie."""
    trace.compute(
        "quantities.line_depth_m",
        difference,
        unit="m",
        title="Depth of the line under the ground",
        upper=f"{LINE}.ground_at_line_m",
        lower=f"{LINE}.line_invert_m",
    )
    trace.compute(
        "quantities.trench_depth_m",
        trench_depth,
        unit="m",
        title="Depth of the trench of the line",
        line_depth="quantities.line_depth_m",
    )


def _envelope_key(trace: Trace) -> str:
    """Key of the gravel: a quantity to bid only where the line lies in it, or may."""
    envelope = f"{LINE}.envelope"
    is_bid = not trace.known(envelope) or trace.value(envelope) == "gravel"
    return "quantities.envelope.quantity" if is_bid else "quantities.no_envelope_m3"


def _add_pipes(trace: Trace) -> None:
    for pipe in trace.names("inputs.pipe"):
        trace.compute(
            f"quantities.pipe-{pipe}.quantity",
            same,
            unit="m",
            title=f"Pipe: {pipe.replace('-', ' ')}",
            value=f"inputs.pipe.{pipe}.length_m",
        )
    anchor = "flotation.inlet.anchor_m3"
    if anchor in trace:
        trace.compute(
            "quantities.anchor-inlet.quantity",
            same,
            unit="m3",
            title="Anchor of the structure",
            value=anchor,
        )


def solid_line(
    branches: Sequence[float], solid_at_structure: float, tree_length: float = 0.0
) -> float:
    """Length of solid pipe of a distribution line.

    Parameters
    ----------
    branches : sequence of float
        Length of each branch. [m]
    solid_at_structure : float
        On each branch at the structure. [m]
    tree_length : float
        Within reach of roots. [m]

    Returns
    -------
    float
        Length. [m]

    Notes
    -----
    N s + trees    (derived)

    References
    ----------
    derived, a sum
    """
    return len(branches) * solid_at_structure + tree_length


def count_of_branches(branches: Sequence[float]) -> float:
    """Number of branches of a line.

    Parameters
    ----------
    branches : sequence of float
        Length of each branch. [m]

    Returns
    -------
    float
        Number. [-]

    Notes
    -----
    N    (derived)

    References
    ----------
    derived, a count
    """
    return float(len(branches))


def trench_depth(line_depth: float) -> float:
    """Depth of the trench of a line.

    Parameters
    ----------
    line_depth : float
        Invert of the line under the ground. [m]

    Returns
    -------
    float
        Depth. [m]

    Notes
    -----
    d + 0.1 m    (practice)

    References
    ----------
    practice, bedding under the pipe
    """
    return line_depth + BEDDING


def trench_volume(perforated: float, solid: float, trench_width: float, line_depth: float) -> float:
    """Volume of the trench of a line, upright sides.

    Parameters
    ----------
    perforated, solid : float
        Length of perforated line and of solid pipe. [m]
    trench_width : float
        Width of the trench. [m]
    line_depth : float
        Invert of the line under the ground. [m]

    Returns
    -------
    float
        Volume in the bank. [m3]

    Raises
    ------
    OutOfDomain
        If the width is not above zero or the line lies above the ground.

    Notes
    -----
    V = (L + L_solid) b (d + 0.1 m)    (derived)

    References
    ----------
    derived, a prism with 0.1 m of bedding
    """
    require_positive("trench_width", trench_width, "m", "Give the width of the bucket")
    require_not_negative("line_depth", line_depth, "m", "The line lies under the ground")
    return (perforated + solid) * trench_width * (line_depth + BEDDING)


def envelope_volume(
    perforated: float, trench_width: float, diameter: float, envelope: str
) -> float:
    """Gravel round a perforated line, where there is any.

    Parameters
    ----------
    perforated : float
        Length of perforated line. [m]
    trench_width : float
        Width of the trench. [m]
    diameter : float
        Inside diameter of the line. [m]
    envelope : str
        "soil", "gravel" or "fabric sock". [-]

    Returns
    -------
    float
        Volume, the pipe taken off. [m3]

    Notes
    -----
    V = L (b (D + 0.2 m) - pi D^2 / 4)    (derived)

    References
    ----------
    derived, a prism with 0.1 m under and over the pipe
    """
    if envelope != "gravel":
        return 0.0
    filled = trench_width * (diameter + 2.0 * BEDDING)
    return perforated * (filled - 0.25 * math.pi * diameter**2)


def backfill_of_trench(
    trench: float, gravel: float, perforated: float, solid: float, diameter: float
) -> float:
    """Soil that goes back into a trench.

    Parameters
    ----------
    trench : float
        Volume of the trench. [m3]
    gravel : float
        Gravel round the line. [m3]
    perforated, solid : float
        Length of perforated line and of solid pipe. [m]
    diameter : float
        Diameter of the pipe. [m]

    Returns
    -------
    float
        Volume in the bank. [m3]

    Notes
    -----
    V = trench - gravel - pipe    (derived)

    References
    ----------
    derived, a difference
    """
    return trench - gravel - (perforated + solid) * 0.25 * math.pi * diameter**2


def disturbed_strip(perforated: float, solid: float) -> float:
    """Ground that a trench disturbs.

    Parameters
    ----------
    perforated, solid : float
        Length of perforated line and of solid pipe. [m]

    Returns
    -------
    float
        Area. [m2]

    Notes
    -----
    A = 6 m (L + L_solid)    (practice)

    References
    ----------
    practice, spoil and machine beside the trench
    """
    return WORKING_STRIP * (perforated + solid)
