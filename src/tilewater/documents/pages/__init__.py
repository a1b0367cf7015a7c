# SPDX-License-Identifier: Apache-2.0
"""Pages in words and tables, made once from records and shown by either door."""
