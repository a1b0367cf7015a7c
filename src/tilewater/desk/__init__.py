# SPDX-License-Identifier: Apache-2.0
"""The desk: a page on this machine where a job is made, seen, changed and understood.

It shows records and posts edits. What is computed is computed below.
"""
