# SPDX-License-Identifier: Apache-2.0
"""A saturated buffer: a distribution line along the ditch, and the soil between the two."""
