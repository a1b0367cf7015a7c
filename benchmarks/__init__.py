# SPDX-License-Identifier: Apache-2.0
"""What Tilewater costs in time, as ratios measured within one run.

A time in seconds says more about the machine than about the program, so nothing here passes or
fails on one. Each `bench_*.py` has a function `measure` that yields `Ratio`s.
"""
