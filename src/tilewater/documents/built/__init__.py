# SPDX-License-Identifier: Apache-2.0
"""Papers of finished work: table, red-line drawings, payment, certificate."""
