# SPDX-License-Identifier: Apache-2.0
"""The set of sheets that leaves the office: drawings to scale, schedules, notes, a strip."""
