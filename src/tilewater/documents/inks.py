# SPDX-License-Identifier: Apache-2.0
"""The inks of every drawing and page: colour means matter, never mood.

Plum is for what binds and for nothing else. No meaning rests on colour alone: matter is told apart
by pattern, a line by its weight and dashes, so that everything reads in grey.
"""

PAPER, INK, MUTED = "#fbfaf6", "#1e2a2f", "#646d72"
WATER, WATER_FILL = "#2c7a9b", "#d3e8ef"
CHIPS, CHIPS_FILL = "#b98746", "#f0e2c8"
SOIL, STRUCTURE = "#e9e3d6", "#4e5a63"
BINDS = "#a3285c"
RED = "#b3231b"  # red lines of finished work, on no other paper
