# SPDX-License-Identifier: Apache-2.0
"""Set pages: plain records of words, tables and figures become a PDF of vectors and text."""
