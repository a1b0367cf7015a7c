# SPDX-License-Identifier: Apache-2.0
"""Details of a set of sheets: from the job's own sizes where it has them, typical ones else."""
