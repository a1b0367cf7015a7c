# SPDX-License-Identifier: Apache-2.0
"""The living section: the practice with its water as it stands now, drawn for a screen.

It is written in pixels of the page it stands on, fast enough to follow a hand, and shows the same
records as the sheets. Nothing is computed here.
"""
