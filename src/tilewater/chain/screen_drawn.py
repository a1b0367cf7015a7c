# SPDX-License-Identifier: Apache-2.0
"""The bed that a job draws, as a screening tells of it: what it takes on paper, what stops it."""

from dataclasses import dataclass

from tilewater.basis.trace import Given, Trace, Value
from tilewater.basis.unknown import Unknown
from tilewater.chain.bed import BED
from tilewater.chain.design import Design, design_practice
from tilewater.chain.inputs import JobInputs

SIDES = ("bed.length_bottom_m", "bed.width_bottom_m")
BY_DAYS = frozenset({"criteria.605-reduction"})
"""Rules that only the days of a record judge; they are left to the design."""
STANDARD = {"inputs.criteria.standard": BED.standard, "inputs.criteria.edition": BED.edition}


@dataclass(frozen=True)
class Drawn:
    """The bed that the job draws.

    Attributes
    ----------
    length, width : Value
        Its floor. [m]
    share, share_limit : Value
        Share of the peak that it takes, and the share that is asked. [-]
    retention, retention_limit : Value
        Hours that it holds the water, and the hours that are asked. [h]
    short : tuple of str
        Titles of the rules that it falls short of.
    open : int
        Rules that cannot be judged.
    """

    length: Value
    width: Value
    share: Value
    share_limit: Value
    retention: Value
    retention_limit: Value
    short: tuple[str, ...]
    open: int

    @property
    def passes_on_paper(self) -> bool:
        """Whether share and retention are what is asked, whatever the ground says."""
        pairs = ((self.share, self.share_limit), (self.retention, self.retention_limit))
        if any(isinstance(each, Unknown) for pair in pairs for each in pair):
            return False
        return all(float(value) >= float(limit) for value, limit in pairs)


def add_drawn(trace: Trace, job: JobInputs) -> Drawn | None:
    """Record how many rules the bed drawn falls short of; None where none is drawn."""
    title, key = "Rules that the bed drawn falls short of", "screen.drawn_short"
    drawn = _drawn(job)
    if drawn is None:
        none = Unknown("no bed is drawn in the job yet", "put floor, size and boards in the job")
        trace.give(Given(key, none, "-", title))
        return None
    if drawn.open and not drawn.short:
        rules = "1 rule" if drawn.open == 1 else f"{drawn.open} rules"
        some = Unknown(f"{rules} of the bed drawn cannot be judged", "see its design")
        trace.give(Given(key, some, "-", title))
    else:
        trace.constant(key, float(len(drawn.short)), title, unit="-", source="derived")
    return drawn


def _drawn(job: JobInputs) -> Drawn | None:
    known = {given.key for given in job.givens}
    judged_by = {key: value for key, value in STANDARD.items() if key in known}
    design = design_practice(job.changed(judged_by), BED, by_days=False)
    trace = design.trace
    if not trace.known(*SIDES):
        return None
    statuses = [
        (r.title, trace.value(f"{r.key}.status"))
        for r in trace.requirements
        if r.binding and r.key not in BY_DAYS
    ]
    return Drawn(
        length=trace.value(SIDES[0]),
        width=trace.value(SIDES[1]),
        share=trace.value("capacity.criterion.share_of_peak"),
        share_limit=trace.value("sizing.share_limit"),
        retention=_retention(design),
        retention_limit=trace.value("sizing.retention_limit_h"),
        short=tuple(title for title, status in statuses if status == "short"),
        open=sum(status == "not known" for _, status in statuses),
    )


def _retention(design: Design) -> Value:
    row = next(row for row in design.rows if row.code.endswith("-retention"))
    return design.trace.value(row.value)
