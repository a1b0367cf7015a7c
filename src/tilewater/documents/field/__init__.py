# SPDX-License-Identifier: Apache-2.0
"""Papers for the site: sheets to write on and to sign."""
