# SPDX-License-Identifier: Apache-2.0
"""What was measured at a practice: series and samples, loads, tracer, what is left of its life."""
