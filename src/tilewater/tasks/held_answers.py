# SPDX-License-Identifier: Apache-2.0
"""Answers to "what if these edits stood": the chain without days at once, then all of it.

Both are made by the same chain. The first answer leaves out of its record what only days, draws or
other designs can say, listed in `LEFT_TO_REFINED`; what it does give are the same values that the
chain without days gives to any other caller.
"""

from collections import OrderedDict
from collections.abc import Callable, Hashable, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.metadata import version
from threading import Lock

from tilewater.basis.errors import Fault, TilewaterError
from tilewater.basis.findings import Finding
from tilewater.chain.choosing import design_asked
from tilewater.chain.design import Design, design_practice
from tilewater.chain.inputs import JobInputs
from tilewater.chain.plain import Record
from tilewater.chain.practice import Practice
from tilewater.chain.practices import CHOOSE, KIND, PRACTICES, described_in, kind_of
from tilewater.chain.result import result_record
from tilewater.chain.since_issued import since_issued_record
from tilewater.job.edits import Edit
from tilewater.job.schema import JOB_FILE
from tilewater.tasks.checking import Checked
from tilewater.tasks.held_reading import Laid, Reading
from tilewater.tasks.since_issue import issued_record, since_issued

REMEMBERED = 8
"""Refined answers that are kept; and as many first ones."""

Made = tuple[Design, Record, tuple[Finding, ...]]
"""A design, its record, and what is said of how it was made."""

LEFT_TO_REFINED = (
    "removal",
    "probability",
    "decides",
    "advice",
    "side_effects",
    "life.carbon_years",
    "cost.usd_per_kg",
    "alternatives",
)
"""Keys of the record that only days, draws or other designs can say; absent from a first answer."""


@dataclass(frozen=True)
class Answer:
    """One answer to "what if these edits stood?".

    Attributes
    ----------
    edits : mapping of str to Edit
    design : Design or None
        None where the edits, or the job itself, are at fault.
    record : dict or None
        As `design --json` has it, less `LEFT_TO_REFINED` until it is refined.
    faults : tuple of Fault
    notes : tuple of Finding
        What the engineer must know of the job, the edits and the answer.
    is_refined : bool
        Whether it is of the whole chain, days and draws included.
    version : str
        Of the job that the edits were laid over.
    """

    edits: Mapping[str, Edit]
    design: Design | None
    record: Record | None
    faults: tuple[Fault, ...]
    notes: tuple[Finding, ...]
    is_refined: bool
    version: str = ""


def key_of(edits: Mapping[str, Edit]) -> Hashable:
    """Edits as a key: their order counts for nothing, 1 and true are not the same."""
    return tuple(sorted((path, repr(value)) for path, value in edits.items()))


class Computing:
    """What was computed for one reading of a job, and the answers that are remembered.

    Parameters
    ----------
    reading : Reading
    before : Computing or None
        That of the reading before; what the refined answer last chose is taken over.
    """

    def __init__(self, reading: Reading, before: "Computing | None" = None) -> None:
        self._reading = reading
        self._lock = Lock()
        self._first: OrderedDict[Hashable, Answer] = OrderedDict()
        self._refined: OrderedDict[Hashable, Answer] = OrderedDict()
        self._chosen = "" if before is None else before._chosen

    def first(self, edits: Mapping[str, Edit]) -> Answer:
        """The answer of the chain without days; see `HeldJob.first`."""
        key = key_of(edits)
        with self._lock:
            if key in self._first:
                return self._first[key]
        laid = self._reading.with_edits(edits)
        answer = self._answer(edits, laid, self._first_design, is_refined=False)
        return self._remember(self._first, key, answer)

    def refined(self, edits: Mapping[str, Edit], goes_on: Callable[[], bool]) -> Answer:
        """The answer of the whole chain; see `HeldJob.refined`."""
        key = key_of(edits)
        with self._lock:
            if key in self._refined:
                return self._refined[key]
        if not goes_on():
            return self.first(edits)
        laid = self._reading.with_edits(edits)
        answer = self._answer(edits, laid, self._refined_design, is_refined=True)
        return self._remember(self._refined, key, answer)

    def _answer(
        self,
        edits: Mapping[str, Edit],
        laid: Laid,
        make: Callable[[Checked], Made],
        *,
        is_refined: bool,
    ) -> Answer:
        of = self._reading.version
        if laid.checked is None:
            notes = () if laid.job is None else laid.job.notes
            return Answer(dict(edits), None, None, laid.faults, notes, is_refined, of)
        try:
            design, record, told = make(laid.checked)
        except TilewaterError as error:
            faults = (_fault(laid.checked.inputs, error),)
            notes = laid.checked.notes
            return Answer(dict(edits), None, None, faults, notes, is_refined, of)
        notes = tuple(dict.fromkeys((*laid.checked.notes, *told)))
        return Answer(dict(edits), design, record, (), notes, is_refined, of)

    def _first_design(self, job: Checked) -> Made:
        design, told = self._designed(job.inputs)
        record = result_record(design, (), _program())
        return design, without(record, LEFT_TO_REFINED), told

    def _designed(self, job: JobInputs) -> tuple[Design, tuple[Finding, ...]]:
        """A design without days: of the practice asked for, or of the one last chosen."""
        kind = kind_of(job)
        if kind != CHOOSE:
            if isinstance(kind, str) and kind in PRACTICES:
                return design_practice(job, PRACTICES[kind], by_days=False), ()
            return design_asked(job, by_days=False).design, ()
        practice = next((p for p in described_in(job) if p.name == self._chosen), None)
        if practice is None:
            return design_asked(job, by_days=False).design, (_CHOSEN_WITHOUT_DAYS,)
        return design_practice(job, practice, by_days=False), (_chosen_before(practice),)

    def _refined_design(self, job: Checked) -> Made:
        chosen = design_asked(job.inputs)
        record = result_record(chosen.design, chosen.alternatives, _program())
        if job.sources:
            record["issued"] = issued_record(job.issued)
            record["changed_since_issued"] = since_issued_record(since_issued(job, record))
        self._chosen = chosen.design.practice.name
        return chosen.design, record, ()

    def _remember(
        self, answers: OrderedDict[Hashable, Answer], key: Hashable, answer: Answer
    ) -> Answer:
        with self._lock:
            answers[key] = answer
            while len(answers) > REMEMBERED:
                answers.popitem(last=False)
        return answer


def without(record: Record, keys: tuple[str, ...]) -> Record:
    """A record less the values at dotted keys; the record itself is left as it is."""
    left = dict(record)
    for key in keys:
        head, _, rest = key.partition(".")
        if not rest:
            left.pop(head, None)
        elif isinstance(left.get(head), Mapping):
            left[head] = without(left[head], (rest,))
    return left


_CHOSEN_WITHOUT_DAYS = Finding(
    "practice-chosen-without-days",
    "note",
    "Practice",
    "The job leaves the practice open. This first answer chose it without the days; the refined "
    "answer may choose another.",
    source="derived",
)


def _chosen_before(practice: Practice) -> Finding:
    return Finding(
        "practice-chosen-before",
        "note",
        "Practice",
        f"The job leaves the practice open. The {practice.words} is shown, which the last refined "
        "answer chose; the next one may choose another.",
        source="derived",
    )


def _fault(job: JobInputs, error: TilewaterError) -> Fault:
    kind = next((given for given in job.givens if given.key == KIND), None)
    if kind is not None and str(error).startswith("practice.kind"):
        return Fault(kind.origin.file or JOB_FILE, kind.origin.line, "practice.kind", str(error))
    return Fault(JOB_FILE, None, "", str(error))


@cache
def _program() -> str:
    return version("tilewater")
