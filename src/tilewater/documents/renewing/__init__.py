# SPDX-License-Identifier: Apache-2.0
"""The memo of a renewal: what is left of a bed, what it shows, and what can be done."""
