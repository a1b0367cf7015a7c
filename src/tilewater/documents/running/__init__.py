# SPDX-License-Identifier: Apache-2.0
"""Papers for whoever runs the boards: the lid card, the operation plan, the form of the log."""
