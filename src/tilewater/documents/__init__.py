# SPDX-License-Identifier: Apache-2.0
"""Drawings, made from records."""
