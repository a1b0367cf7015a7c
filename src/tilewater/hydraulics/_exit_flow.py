# SPDX-License-Identifier: Apache-2.0
"""Flow from a pipe through the soil to a stream: the bare arithmetic.

Plain numbers, no checks, positional arguments. Read `line_exit` for what it means and its limits.
"""

import math


def exit_flow(head: float, head_stream: float, slope: float, resistance: float) -> float:
    """Root q of q = k ((h - r q)^2 - h2^2); negative where the stream stands higher."""
    higher, lower = max(head, head_stream), min(head, head_stream)
    drive = higher * higher - lower * lower
    back = 2.0 * slope * resistance
    root = math.sqrt(1.0 + 2.0 * back * higher + back * back * lower * lower)
    flow = 2.0 * slope * drive / (1.0 + back * higher + root)
    return flow if head >= head_stream else -flow
