# SPDX-License-Identifier: Apache-2.0
"""The site in plan: grid, stations and offsets, and the outlines that are laid on it."""
