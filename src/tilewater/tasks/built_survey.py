# SPDX-License-Identifier: Apache-2.0
"""The shots of finished work of a job, matched to its design, with what is wrong among them."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tilewater.basis.findings import Finding
from tilewater.basis.told import feet
from tilewater.basis.trace import Origin, Trace
from tilewater.chain.built_elements import TOLERANCE, Level
from tilewater.chain.built_grade import LaidRun, add_grade
from tilewater.chain.built_judged import part_key
from tilewater.chain.built_levels import add_levels
from tilewater.chain.built_shots import Matched, add_shots, is_as_found
from tilewater.documents.words import kind_of
from tilewater.ground.matching import BuiltShot
from tilewater.ground.tolerances import noise_against_tolerance
from tilewater.job.as_built_file import BuiltShots, read_as_built
from tilewater.job.reading import Job
from tilewater.tasks.checking import Checked
from tilewater.tasks.outside_inputs import OutsideFiles, TypedInputs

FAR = 100.0 * 0.3048
"""So far above or below every designed level no shot of the works lies. [m]"""
PIPE = f"{TOLERANCE}.pipe_invert_m"
CAUTION = Finding(
    "as-built-trench",
    "caution",
    "as-built survey",
    "Shoot pipes from the bank or with a long rod. Nobody enters a trench or a structure that the "
    "competent person on site has not cleared; gas may stand in a box.",
    source="practice",
)


@dataclass(frozen=True)
class BuiltSurvey:
    """Shots of finished work on the trace of a design.

    Attributes
    ----------
    read : BuiltShots
    trace : Trace
    found : tuple of Matched
    levels : tuple of Level
    laid : tuple of LaidRun
    """

    read: BuiltShots
    trace: Trace
    found: tuple[Matched, ...]
    levels: tuple[Level, ...]
    laid: tuple[LaidRun, ...]

    @property
    def origin(self) -> Origin:
        """The file of the shots."""
        return Origin(file=self.read.file, text="as built")

    @property
    def unmatched(self) -> tuple[Matched, ...]:
        """Shots that are of nothing; none is dropped."""
        return tuple(m for m in self.found if not m.match.element)


def survey_of(job: Checked, trace: Trace) -> BuiltSurvey | None:
    """The shots of a job on the trace of its design; None where it names no file of them.

    Parameters
    ----------
    job : Checked
        The job as read.
    trace : Trace
        Of its design; the steps are added to it.

    Raises
    ------
    BadInputFile
        With every fault of the file.
    """
    read = read_as_built(job.folder, job.value)
    if read is None:
        return None
    found = add_shots(trace, read.shots, read.file, by_station=read.by_station)
    levels = add_levels(trace, found)
    return BuiltSurvey(read, trace, found, levels, add_grade(trace, found))


def survey_findings(survey: BuiltSurvey) -> Iterator[Finding]:
    """What the engineer must know of the shots: of nothing, off their benchmark, too uncertain."""
    yield from survey.read.findings
    yield from _off_the_job(survey)
    yield from _of_nothing(survey.unmatched)
    yield from _benchmarks(survey)
    if not is_as_found(survey.trace):
        yield from _noisy(survey)


def _off_the_job(survey: BuiltSurvey) -> Iterator[Finding]:
    """Levels that lie far from every level of the design, with the likely cause."""
    trace, found = survey.trace, survey.found
    designed = [
        float(trace.value(level.design))
        for level in survey.levels
        if level.design and trace.known(level.design) and _is_elevation(level.design)
    ]
    designed += [
        float(trace.value(key))
        for each in survey.laid
        for key in (each.run.lower, each.run.upper)
        if key and trace.known(key)
    ]
    if not designed:
        return
    low, high = min(designed), max(designed)
    far = [m.shot for m in found if not low - FAR <= m.shot.height <= high + FAR]
    if not far:
        return
    first = far[0]
    place = first.place[:2]
    likely = (
        "The places of these shots look like levels: the columns of a place and of the levels are "
        "likely exchanged. Correct [as_built.columns], or the heading of the file."
        if any(low - FAR <= side <= high + FAR for side in place)
        else "Look at the unit and the datum of the levels, and at [as_built.columns]."
    )
    one = len(far) == 1
    yield Finding(
        "as-built-off-the-job",
        "caution",
        survey.read.file,
        f"{len(far)} {'level lies' if one else 'levels lie'} more than {feet(FAR, '.0f')} from "
        f"every level of the design, {feet(low)} to {feet(high)}: {survey.read.file}, "
        f"{_lines(far)}; shot {first.point} has {feet(first.height)}. {likely}",
        value=first.height,
        unit="m",
    )


def _is_elevation(key: str) -> bool:
    return kind_of(key, "m") == "elevation"


def _lines(shots: Sequence[BuiltShot]) -> str:
    """Lines of a file where shots stand."""
    if len(shots) == 1:
        return f"line {shots[0].line}"
    return f"lines {shots[0].line} to {shots[-1].line}"


def _of_nothing(unmatched: tuple[Matched, ...]) -> Iterator[Finding]:
    """Shots that are of nothing: told apart by what mends them."""
    away = tuple(m for m in unmatched if m.match.away > 0.0)
    rest = tuple(m for m in unmatched if m.match.away == 0.0)
    for shots, code, what, mend in (
        (
            away,
            "as-built-too-far",
            "too far from every part that may be meant, and",
            "Their codes are known: look at the columns of the places, at the grid and at the "
            "baseline, then at the name in the note; where the works do lie so far off, widen "
            "reach in [as_built].",
        ),
        (
            rest,
            "as-built-of-nothing",
            "of nothing that is known and",
            "Correct the code, or map it in [as_built.codes].",
        ),
    ):
        if shots:
            points = ", ".join(m.shot.point for m in shots)
            one = len(shots) == 1
            yield Finding(
                code,
                "caution",
                "as-built survey",
                f"{len(shots)} {'shot is' if one else 'shots are'} {what} "
                f"{'is' if one else 'are'} listed: {points}. {mend}",
                value=float(len(shots)),
            )


def _benchmarks(survey: BuiltSurvey) -> Iterator[Finding]:
    checked = False
    for level in survey.levels:
        key = f"{part_key(level)}.status"
        if "benchmark" not in level.codes or key not in survey.trace:
            continue
        checked = True
        if survey.trace.value(key) == "holds":
            continue
        off = float(survey.trace.value(f"{part_key(level)}.off_m"))
        yield Finding(
            "as-built-check-off",
            "caution",
            level.element,
            f"The check on {level.element} is off by {feet(off)}. Every level of this survey may "
            "be. Find out before anything is moved.",
            value=off,
            unit="m",
        )
    if not checked:
        yield Finding(
            "as-built-no-check",
            "caution",
            "as-built survey",
            "No shot checks in on a benchmark of the job, so an error of the set-up would look "
            "like work that is off. Shoot one at the start and at the end.",
        )


def _noisy(survey: BuiltSurvey) -> Iterator[Finding]:
    """What was shot with an instrument that scatters too much for its tolerance, told together."""
    trace = survey.trace
    shot = [(each.run.name, f"{each.key}.noise_m", PIPE) for each in survey.laid]
    shot += [
        (f"{level.what} of the {level.element}", f"{part_key(level)}.noise_m", level.above)
        for level in survey.levels
        if level.what in ("sill", "floor", "crest")
    ]
    groups: dict[float, list[tuple[str, float]]] = {}
    for name, key, tolerance in shot:
        if trace.known(key):
            noise, allowed = float(trace.value(key)), float(trace.value(tolerance))
            if noise_against_tolerance(noise, allowed, subject=name):
                groups.setdefault(allowed, []).append((name, noise))
    for allowed, found in groups.items():
        names = ", ".join(name for name, _ in found)
        noise = max(noise for _, noise in found)
        yield from noise_against_tolerance(noise, allowed, subject=names)


def as_built_files(job: Job) -> OutsideFiles:
    """What the file of finished work says, for `check`."""
    found = OutsideFiles()
    typed = TypedInputs({given.key: given for given in job.givens})
    read = read_as_built(job.folder, typed.value)
    if read is not None:
        found.read.append(f"{read.file}: {len(read.shots)} shots of finished work")
        found.findings.extend(read.findings)
    return found
