# SPDX-License-Identifier: Apache-2.0
"""One drawing, several outputs: entities in ground metres on named layers.

Read `model` first, then `layers` and `matters` (what lines and fills mean) and `frame` (how ground
falls on paper). `furniture`, `dimensions` and `placing` help to compose; `svg` and `dxf` write the
same drawing; `measured` finds texts that collide or leave the frame.
"""
