# SPDX-License-Identifier: Apache-2.0
"""The command line: parse, call a task, show what came out. No engineering here.

Read `main` for the verbs, `words` for how a value becomes text, `summary` for the page of a design.
"""
