# SPDX-License-Identifier: Apache-2.0
"""Independent solutions, slow and sure, that the program's own solutions are compared with."""
