# SPDX-License-Identifier: Apache-2.0
"""The job folder: what was measured and decided, read with its faults named, edited with care.

Read `fields` for what one value of `job.toml` is, `schema` for the whole file, then `reading`,
`writing` and `template`.
"""
