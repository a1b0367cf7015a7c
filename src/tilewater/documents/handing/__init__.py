# SPDX-License-Identifier: Apache-2.0
"""The letter that goes with a job to its next owner or engineer."""
