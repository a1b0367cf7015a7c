# SPDX-License-Identifier: Apache-2.0
"""The woodchip bed (denitrifying bioreactor) as a practice."""
