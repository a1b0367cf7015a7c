# SPDX-License-Identifier: Apache-2.0
"""The working day as verbs: read a job, call the chain, write what came out.

Read `outside_files` for what the data files of a job add to it, then `checking`, `designing` and
`results`.
"""
