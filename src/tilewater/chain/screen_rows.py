# SPDX-License-Identifier: Apache-2.0
"""Rows of a screening: each question of the table held to its limit, and what the answer means."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from math import isinf

from tilewater.basis.requirement import Operator, Requirement, Status
from tilewater.basis.tables import Row as TableRow
from tilewater.basis.tables import read_table
from tilewater.basis.trace import Trace, Value
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.criteria.standards import CriterionRow

PACKAGE = "tilewater.chain"
STANDARD = "standard 604 "
"""How a limit begins that stands in the data file of the standard."""
STOPS, CLOSER, ASIDE = "stops", "closer", "aside"
BESIDE = {
    "no-head": {"days": ("screen.days_without_head", "ratio")},
    "dry-hole": {"lift": ("screen.lift_pa", "pressure")},
    "share": {
        **{
            name: (f"screen.buffer.share_{name}_of_peak", "ratio")
            for name in ("low", "middle", "high", "auger", "slug", "survey")
        },
        "length": ("screen.buffer.length_for_share_m", "length"),
    },
}
"""Values that the words of a row name beside value and limit: their keys and kinds."""

HANGS = "screen.range"
"""Cause of a value that is not known because its range lies on both sides of the limit."""

Figures = Mapping[str, tuple[Value, str]]


@dataclass(frozen=True)
class Said:
    """Words with places `{name}` for values, and each value with its kind, in SI.

    The page puts the values in, in the units of its reader.
    """

    text: str
    figures: Figures


@dataclass(frozen=True)
class ScreenRow:
    """One question of a screening about one practice.

    Attributes
    ----------
    slug, practice : str
        Its name, and the practice that is asked about.
    group : str
        What it is about; rows of a group make one reason.
    weight : str
        "stops", "closer" or "aside".
    ask : str
        The question in words.
    key : str
        Key of its value in the trace; `screen.SLUG.status` says how it stands.
    value, limit : Value
        In SI; `Unknown` where not known.
    operator : ">=" or "<="
    kind : str
        Kind of value and limit.
    shown : Value
        What is shown in the place of the value; None where the value is.
    status : "holds", "short" or "not known"
    honesty, source : str
        How the limit is known, and from where.
    measure : str
        Slug of what would settle it.
    short : Said
        What it means where it falls short.
    told : Said
        What is told of it however it stands; no words for most.
    hangs : bool
        Not known because its range lies on both sides of the limit, not because nothing is.
    """

    slug: str
    practice: str
    group: str
    weight: str
    ask: str
    key: str
    value: Value
    limit: Value
    operator: Operator
    kind: str
    shown: Value
    status: Status
    honesty: str
    source: str
    measure: str
    short: Said
    told: Said
    hangs: bool = False

    @property
    def why(self) -> str:
        """Why the value or the limit is not known; "" where both are."""
        unknown = self.value if isinstance(self.value, Unknown) else self.limit
        return unknown.why if isinstance(unknown, Unknown) else ""


def judge_questions(trace: Trace, standard: tuple[CriterionRow, ...]) -> tuple[ScreenRow, ...]:
    """Hold every question of the table that applies to its limit, worst first.

    Parameters
    ----------
    trace : Trace
        With the values that the questions name. [-]
    standard : tuple of CriterionRow
        Rows of standard 604, confirmed limits put in. [-]

    Returns
    -------
    tuple of ScreenRow
        A question that is asked of several practices is a row of each.
    """
    return tuple(_judged(trace, {row.name: row for row in standard}))


def limit_of_standard(trace: Trace, row: CriterionRow) -> str:
    """Record a limit of the standard and return its key."""
    return trace.constant(
        f"screen.limit.{row.code}",
        row.limit,
        f"{row.title}: limit",
        unit=row.unit,
        source=row.source,
    )


def _judged(trace: Trace, standard: Mapping[str, CriterionRow]) -> Iterator[ScreenRow]:
    for question in _questions():
        if question.text("if_given") and question.text("if_given") not in trace:
            continue
        named = question.text("limit").removeprefix(STANDARD)
        row = standard[named] if question.text("limit").startswith(STANDARD) else None
        limit = question.text("limit") if row is None else limit_of_standard(trace, row)
        honesty = question.text("honesty") if row is None else row.text_status
        _require(trace, question, limit, honesty)
        for practice in question.text("practices").split():
            yield _row(trace, question, practice, limit, honesty)


@cache
def _questions() -> tuple[TableRow, ...]:
    return read_table(PACKAGE, "practice_screen_questions").rows


def _require(trace: Trace, question: TableRow, limit: str, honesty: str) -> None:
    value = trace.value(limit)
    scale = abs(float(value)) if isinstance(value, int | float) and value else 1.0
    trace.require(
        Requirement(
            key=f"screen.{question.text('slug')}",
            title=question.text("ask"),
            value=question.text("value"),
            operator=_operator(question),
            limit=limit,
            unit=trace.steps[question.text("value")].unit,
            scale=scale,
            text_status="practice" if honesty == "derived" else honesty,  # type: ignore[arg-type]
            source=question.text("source_key"),
            binding=question.text("weight") != ASIDE,
        )
    )


def _operator(question: TableRow) -> Operator:
    return ">=" if question.text("operator") == ">=" else "<="


def _row(trace: Trace, question: TableRow, practice: str, limit: str, honesty: str) -> ScreenRow:
    slug, kind, key = (question.text(name) for name in ("slug", "kind", "value"))
    value, allowed = trace.value(key), trace.value(limit)
    shown = trace.value(question.text("shown")) if question.text("shown") else None
    figures = {**_figures(trace, slug, value, allowed, kind), "shown": (shown, kind)}
    is_below = bool(question.text("under")) and not is_unknown(value) and float(value) < 0.0
    return ScreenRow(
        slug=slug,
        practice=practice,
        group=question.text("group"),
        weight=question.text("weight"),
        ask=question.text("ask"),
        key=key,
        value=value,
        limit=allowed,
        operator=_operator(question),
        kind=kind,
        shown=shown,
        status=trace.value(f"screen.{slug}.status"),
        honesty=honesty,
        source=question.text("source_key"),
        measure=question.text("measure"),
        short=Said(question.text("under" if is_below else "short"), figures),
        told=Said(question.text("told"), figures),
        hangs=isinstance(value, Unknown) and value.causes == (HANGS,),
    )


def _is_endless(trace: Trace, key: str) -> bool:
    """Whether a number is infinite, so that nothing can be said of it in figures."""
    value = trace.value(key)
    return isinstance(value, float) and isinf(value)


def _figures(trace: Trace, slug: str, value: Value, limit: Value, kind: str) -> Figures:
    both = not is_unknown(value) and not is_unknown(limit)
    none = Unknown("not known")
    beside = {
        name: (trace.value(key) if key in trace and not _is_endless(trace, key) else none, of)
        for name, (key, of) in BESIDE.get(slug, {}).items()
    }
    return {
        "value": (value, kind),
        "limit": (limit, kind),
        "gap": (abs(float(value) - float(limit)) if both else none, kind),
        "below": (none if is_unknown(value) else -float(value), kind),
        **beside,
    }
