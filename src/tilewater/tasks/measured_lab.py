# SPDX-License-Identifier: Apache-2.0
"""Results of the laboratory as samples of the places of a job."""

from collections.abc import Iterator

import numpy as np

from tilewater.job.lab_notes import pair_of
from tilewater.job.lab_rows import LabResults, results_at
from tilewater.job.schema_monitor import PLACES
from tilewater.monitoring.series import Samples


def samples_of(lab: LabResults) -> Iterator[tuple[str, Samples]]:
    """Samples by place, the blanks among them; results of no place are left out."""
    for place in (*PLACES, "blank"):
        rows = list(results_at(lab, place))
        if not rows:
            continue
        pairs = [pair_of(rows, row) if row.is_duplicate else None for row in rows]
        duplicate = [-1 if pair is None else rows.index(pair) for pair in pairs]
        samples = Samples(
            place,
            np.array([row.time_s for row in rows]),
            np.array([row.nitrate_mg_per_l for row in rows], float),  # None becomes not a number
            np.array([row.detection_mg_per_l for row in rows], float),
            np.array([row.nitrate_mg_per_l is None for row in rows], bool),
            tuple("composite" if row.is_composite else "grab" for row in rows),
            np.array([row.start_s for row in rows]),
            np.array(duplicate, np.int64),
        )
        yield place, samples
