# SPDX-License-Identifier: Apache-2.0
"""What the draws of a buffer take at given heads, to count how many of them keep a rule."""

from collections.abc import Sequence

import numpy as np

from tilewater.basis.roots import bracketed_root
from tilewater.practices.bed._split import Array
from tilewater.practices.buffer._buffer_years import BufferYears
from tilewater.practices.buffer._route import level_for

CLOSENESS = 1e-12
"""Closeness of a flow. [m3/s]"""


def capacity_of_draws(
    buffers: Sequence[BufferYears], head_line: float, head_stream: float
) -> Array:
    """Flow into the buffer that every draw takes at given heads.

    Parameters
    ----------
    buffers : sequence of BufferYears
        Soil and kinetics by draw. [-]
    head_line : float
        Water in the structure above the restrictive layer. [m]
    head_stream : float
        Ditch above the restrictive layer. [m]

    Returns
    -------
    array
        Flow by draw; 0 where the ditch stands as high. [m3/s]

    Notes
    -----
    Q = c (h^2 - h2^2), h1 = max(h + a Q, line) + b Q^2    (dupuit1863)

    The line's friction is that of the mean head along it, so that a capacity is a little above
    that of a line followed along its pipe.

    References
    ----------
    dupuit1863, level flow under a falling surface
    derived, losses of the line as one head
    """
    return np.array([_capacity(buffer, head_line, head_stream) for buffer in buffers])


def _capacity(buffer: BufferYears, head_line: float, head_stream: float) -> float:
    if head_line <= max(head_stream, buffer.line_head):
        return 0.0
    most = buffer.conductance * (head_line * head_line - head_stream * head_stream)
    return float(bracketed_root(_surplus, 0.0, most, (buffer, head_line, head_stream), CLOSENESS))


def _surplus(flow: float, buffer: BufferYears, head_line: float, head_stream: float) -> float:
    """Head that a flow needs, over the head there is. [m]"""
    head = (head_stream * head_stream + flow / buffer.conductance) ** 0.5
    return float(level_for(flow, head, buffer.loss_linear, buffer) - buffer.barrier - head_line)
