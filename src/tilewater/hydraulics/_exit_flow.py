# SPDX-License-Identifier: Apache-2.0
"""Flow from a pipe through the soil to a stream: the bare arithmetic.

Plain numbers, no checks, positional arguments. Read `line_exit` for what it means and its limits.
"""

import math


def exit_flow(head: float, head_stream: float, slope: float, resistance: float) -> float:
    """Root q of q = k ((h - r q)^2 - h2^2); negative where the stream stands higher."""
    if head < head_stream:
        return -exit_flow(head_stream, head, slope, resistance)
    drive = head * head - head_stream * head_stream
    back = 2.0 * slope * resistance
    root = math.sqrt(1.0 + 2.0 * back * head + back * back * head_stream * head_stream)
    return 2.0 * slope * drive / (1.0 + back * head + root)
