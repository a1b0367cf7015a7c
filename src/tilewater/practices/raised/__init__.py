# SPDX-License-Identifier: Apache-2.0
"""The outlet raised in season: boards on the main alone, and what the field keeps back by them."""
