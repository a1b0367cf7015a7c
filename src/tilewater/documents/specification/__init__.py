# SPDX-License-Identifier: Apache-2.0
"""The specification of a design: a section for each group of its items, numbers from the design."""
