# SPDX-License-Identifier: Apache-2.0
"""The page of a tracer test: its curve, what it says, and what it does not."""
