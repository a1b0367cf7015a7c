# SPDX-License-Identifier: Apache-2.0
"""The parts of the long section: what is drawn, what is written, and where it finds room.

Read `plot` first, then `shapes` and `water` (what is drawn), `rails`, `blocks` and `band` (how
numbers line up), and `way`, `seasons` and `reach`, which compose one drawing each.
"""
