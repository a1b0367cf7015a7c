# SPDX-License-Identifier: Apache-2.0
"""Three invented years of a bed, with the faults of real loggers and the truth beside them.

Made to test what a report makes of measurements. It shares nothing with the program: no module of
it is imported, water runs out of two linear stores, nitrate has a memory of its own, the bed takes
its nitrate by another law, and weirs pass what a drawn coefficient says. A test holds it to that.
"""
