# SPDX-License-Identifier: Apache-2.0
"""What a file of nitrate samples adds to the inputs of a job."""

from collections.abc import Iterator

import numpy as np

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Given, Origin
from tilewater.job.samples import SampleFile

NITRATE = "inputs.nitrate.mean_mg_per_l"
SAMPLES = "inputs.samples"
AT_THE_MAIN = "main"
"""Place of the samples that stand for the drainage water, where a file has several places."""


def place_of(file: SampleFile) -> str | None:
    """Place that stands for the drainage water; None where a file leaves that open."""
    places = file.places
    if AT_THE_MAIN in places:
        return AT_THE_MAIN
    return places[0] if len(places) == 1 else None


def samples_given(file: SampleFile, place: str) -> Iterator[Given]:
    """Days, results and which were below the limit, of one place."""
    here = [sample for sample in file.samples if sample.place == place]
    origin = Origin(file=file.file, text=f"{len(here)} samples at {place}")
    for name, values, unit, title in (
        ("day", np.array([s.date for s in here], "datetime64[D]"), "", "Days of the samples"),
        (
            "nitrate_mg_per_l",
            np.array([s.nitrate_mg_per_l for s in here]),
            "mg/L",
            "Nitrate of the samples, as N",
        ),
        (
            "is_below",
            np.array([s.is_below for s in here], dtype=bool),
            "",
            "Samples below the limit",
        ),
    ):
        yield Given(f"{SAMPLES}.{name}", values, unit, title, origin)


def unclear_place(file: SampleFile) -> Finding:
    """Say that no place of the file stands for the drainage water."""
    return Finding(
        "samples-place-unclear",
        "caution",
        file.file,
        f"Samples come from {', '.join(file.places)} and none from '{AT_THE_MAIN}', so none is "
        "taken for the drainage water. State the mean under [nitrate] in job.toml.",
    )


def mean_of_samples(file: SampleFile, place: str) -> tuple[Given, Finding]:
    """Plain mean of a place in the place of a stated one, and what it is worth."""
    mean = file.mean(place)
    words = (
        f"plain mean of {mean.days} days at {place}, not weighted by flow; "
        f"results below the limit at half of it "
        f"({mean.with_zero:.1f} to {mean.with_limit:.1f} mg/L)"
    )
    origin = Origin(file=file.file, text=f"{mean.with_half:.1f} mg/L", note=words)
    finding = Finding(
        "nitrate-from-samples",
        "caution",
        file.file,
        f"Nitrate is the {words}. Measure flow with the samples.",
        value=mean.with_half,
        unit="mg/L",
    )
    title = "Mean nitrate of the samples, as N"
    return Given(NITRATE, mean.with_half, "mg/L", title, origin), finding
