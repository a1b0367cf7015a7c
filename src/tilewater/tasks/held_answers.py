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
from threading import Event, Lock
from typing import Any

from tilewater.basis.errors import Fault, TilewaterError
from tilewater.basis.findings import Finding
from tilewater.basis.memory import Call, Memory, Stopped
from tilewater.basis.readiness import READY
from tilewater.basis.unknown import Unknown
from tilewater.chain.choosing import design_asked
from tilewater.chain.design import Design, design_practice
from tilewater.chain.inputs import JobInputs
from tilewater.chain.plain import Record
from tilewater.chain.practice import Practice
from tilewater.chain.practices import CHOOSE, KIND, PRACTICES, described_in, kind_of
from tilewater.chain.result import result_record
from tilewater.chain.since_issued import since_issued_record
from tilewater.chain.water_parts import (
    field_run,
    field_run_compiled,
    spot_run,
    spot_run_compiled,
)
from tilewater.job.edits import Edit
from tilewater.job.schema import JOB_FILE
from tilewater.practices.buffer.line import flow_at_heads, flow_at_heads_compiled
from tilewater.tasks.checking import Checked
from tilewater.tasks.held_reading import Laid, Reading
from tilewater.tasks.since_issue import issued_record, since_issued

REMEMBERED = 8
"""Refined answers that are kept; and as many first ones."""

Twins = Mapping[Callable[..., Any], Callable[..., Any]]

QUICK: Twins = {
    field_run: field_run_compiled,
    flow_at_heads: flow_at_heads_compiled,
    spot_run: spot_run_compiled,
}
"""Twins that give the same to the last digit, in a tenth of the time once they are compiled."""


def _follows(**_: Any) -> Unknown:
    """What a run of days gives before kernels are loaded: not known, for a moment."""
    return Unknown("the days are still being worked out")


EARLY: Twins = {spot_run: _follows}
"""What stands for the quick twins while they are loaded: the readable one takes a second."""

GoesOn = Callable[[], bool]
Calls = Mapping[str, Mapping[str, Call]]
"""Steps of a design by practice and key."""
Made = tuple[Design, Record, tuple[Finding, ...]]
"""A design, its record, and what is said of how it was made."""

PATIENCE = 0.05
"""How long one waits for an answer that another asked for, before asking whether to go on. [s]"""

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
        That of the reading before; what it remembers of single steps, and which practice its
        refined answer chose, is taken over.
    """

    def __init__(self, reading: Reading, before: "Computing | None" = None) -> None:
        self._reading = reading
        self._lock = Lock()
        self._first: OrderedDict[Hashable, Answer] = OrderedDict()
        self._refined: OrderedDict[Hashable, Answer] = OrderedDict()
        self._early: OrderedDict[Hashable, Answer] = OrderedDict()
        self._working: dict[Hashable, Event] = {}
        self._chosen: str = ""
        self._chosen_first: str = ""
        self._first_calls: Calls = {}
        self._refined_calls: Calls = {}
        if before is not None:
            self._chosen, self._chosen_first = before._chosen, before._chosen_first
            self._first_calls, self._refined_calls = before._first_calls, before._refined_calls

    def first(self, edits: Mapping[str, Edit]) -> Answer:
        """The answer of the chain without days; see `HeldJob.first`."""
        key = key_of(edits)
        known = self._recalled(self._first, key)
        if known is not None:
            return known
        laid = self._reading.with_edits(edits)
        if READY.in_a_moment and laid.checked and kind_of(laid.checked.inputs) != CHOOSE:
            early = self._recalled(self._early, key)
            if early is None:
                early = self._answer(edits, laid, self._early_design, _always, is_refined=False)
            return self._remember(self._early, key, early)
        answer = self._answer(edits, laid, self._first_design, _always, is_refined=False)
        return self._remember(self._first, key, answer)

    def latest(self) -> Answer:
        """The answer to the job as it stands, refined where that is remembered."""
        return self._recalled(self._refined, key_of({})) or self.first({})

    def refined(self, edits: Mapping[str, Edit], goes_on: GoesOn) -> Answer:
        """The answer of the whole chain; see `HeldJob.refined`.

        Who asks the same while it is computed waits for it, and goes on in the place of one that
        was stopped. While kernels are compiled ahead it waits for them: thousands of days by the
        readable twins would take longer.
        """
        READY.wait(goes_on)
        key = key_of(edits)
        while goes_on():
            known = self._recalled(self._refined, key)
            if known is not None:
                return known
            with self._lock:
                done = self._working.get(key)
                if done is None:
                    self._working[key] = mine = Event()
                    break
            done.wait(PATIENCE)
        else:
            return self.first(edits)
        try:
            laid = self._reading.with_edits(edits)
            answer = self._answer(edits, laid, self._refined_design, goes_on, is_refined=True)
            return self._remember(self._refined, key, answer)
        except Stopped:
            return self.first(edits)
        finally:
            with self._lock:
                del self._working[key]
            mine.set()

    def _recalled(self, answers: OrderedDict[Hashable, Answer], key: Hashable) -> Answer | None:
        with self._lock:
            if key in answers:
                answers.move_to_end(key)
            return answers.get(key)

    def _answer(
        self,
        edits: Mapping[str, Edit],
        laid: Laid,
        make: Callable[[Checked, GoesOn], Made],
        goes_on: GoesOn,
        *,
        is_refined: bool,
    ) -> Answer:
        of = self._reading.version
        if laid.checked is None:
            notes = () if laid.job is None else laid.job.notes
            return Answer(dict(edits), None, None, laid.faults, notes, is_refined, of)
        try:
            design, record, told = make(laid.checked, goes_on)
        except TilewaterError as error:
            faults = (_fault(laid.checked.inputs, error),)
            notes = laid.checked.notes
            return Answer(dict(edits), None, None, faults, notes, is_refined, of)
        notes = tuple(dict.fromkeys((*laid.checked.notes, *told)))
        return Answer(dict(edits), design, record, (), notes, is_refined, of)

    def _first_design(self, job: Checked, goes_on: GoesOn) -> Made:
        quick = QUICK if READY.quick.is_set() else {}
        memories = _memories(self._first_calls, goes_on, quick)
        made = self._made_without_days(job, memories)
        self._first_calls = _calls(memories, self._first_calls)
        return made

    def _early_design(self, job: Checked, goes_on: GoesOn) -> Made:
        """A first design while kernels are loaded: the field's wet days follow."""
        return self._made_without_days(job, _memories({}, goes_on, EARLY))

    def _made_without_days(self, job: Checked, memories: Mapping[str, Memory]) -> Made:
        design, told = self._designed(job.inputs, memories)
        record = result_record(design, (), _program())
        return design, without(record, LEFT_TO_REFINED), told

    def _designed(
        self, job: JobInputs, memories: Mapping[str, Memory]
    ) -> tuple[Design, tuple[Finding, ...]]:
        """A design without days: of the practice asked for, or of the one last chosen."""
        kind = kind_of(job)
        if kind != CHOOSE:
            if isinstance(kind, str) and kind in PRACTICES:
                return _without_days(job, PRACTICES[kind], memories), ()
            return design_asked(job, by_days=False, memories=memories).design, ()
        told = _chosen_before
        practice = next((p for p in described_in(job) if p.name == self._chosen), None)
        if practice is None:
            told, name = _chosen_without_days, self._chosen_first
            practice = next((p for p in described_in(job) if p.name == name), None)
        if practice is None:
            practice = design_asked(job, by_days=False, memories=memories).design.practice
            self._chosen_first = practice.name
        return _without_days(job, practice, memories), (told(practice),)

    def _refined_design(self, job: Checked, goes_on: GoesOn) -> Made:
        quick = QUICK if READY.quick.is_set() else {}
        memories = _memories(self._refined_calls, goes_on, quick)
        chosen = design_asked(job.inputs, memories=memories)
        self._refined_calls = _calls(memories, self._refined_calls)
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


def _without_days(job: JobInputs, practice: Practice, memories: Mapping[str, Memory]) -> Design:
    return design_practice(job, practice, by_days=False, memory=memories[practice.name])


def _memories(before: Calls, goes_on: GoesOn, quick: Twins) -> dict[str, Memory]:
    return {name: Memory(before.get(name), goes_on, quick) for name in PRACTICES}


def _calls(memories: Mapping[str, Memory], before: Calls) -> Calls:
    """Steps of the designs that were made, else those of before."""
    return {**before, **{name: made.calls for name, made in memories.items() if made.calls}}


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


def _chosen_without_days(practice: Practice) -> Finding:
    return Finding(
        "practice-chosen-without-days",
        "note",
        "Practice",
        f"The job leaves the practice open. The {practice.words} is shown, chosen without the "
        "days; the refined answer may choose another.",
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


def _always() -> bool:
    return True


@cache
def _program() -> str:
    return version("tilewater")
