# SPDX-License-Identifier: Apache-2.0
"""The invented sites of the bundled examples: geometry, sketches, point files, weather, stages.

Nothing here is part of the program. A site module states what was measured and decided; what is
written for its example comes from there.
"""
