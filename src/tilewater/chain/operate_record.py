# SPDX-License-Identifier: Apache-2.0
"""How the boards are run, as other programs read it: SI with the unit in each name."""

from collections.abc import Iterable, Sequence

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.chain.days_sums import QUANTILES
from tilewater.chain.operate import Operation, Row, schedule_of
from tilewater.chain.operate_choices import INCH, Choice
from tilewater.chain.operate_compare import NOW, Compared
from tilewater.chain.operate_given import DATES
from tilewater.chain.operate_plan import Period, stack_key
from tilewater.chain.operate_rows import ROWS
from tilewater.chain.operate_settings import CHOICES, HERE
from tilewater.chain.plain import Record, plain

EMPTY_LIMIT = "uplift.finished.groundwater_limit_m"
LEAST_FLOW = "start_up.least_m3_s"


def operation_record(
    trace: Trace,
    operation: Operation,
    periods: Sequence[Period],
    findings: Iterable[Finding],
    compared: Compared | None,
    *,
    job: str,
    version: str,
) -> Record:
    """The record of a run of the boards.

    Parameters
    ----------
    trace : Trace
        With every step of it.
    operation : Operation
        Ways to run the boards.
    periods : sequence of Period
        Periods of the card.
    findings : iterable of Finding
        What the engineer must know.
    compared : Compared or None
        What stands beside what is asked for; None without a log.
    job, version : str
        Name of the job, and of the program.

    Returns
    -------
    dict
        As `operate --json` prints it.
    """
    return {
        "tilewater": version,
        "job": job,
        "practice": operation.practice,
        "searched": operation.is_searched,
        "chosen": operation.chosen,
        "dates": _dates(trace),
        "periods": [_period(trace, period) for period in periods],
        "rows": [_row(trace, row) for row in operation.rows],
        "limits": {
            "groundwater_for_empty_bed_m": _value(trace, EMPTY_LIMIT),
            "least_flow_m3_s": _value(trace, LEAST_FLOW),
            "low_flow_outlet_in": _inches(_value(trace, f"{HERE}.low_flow.outlet_height_m")),
        },
        "now": None if compared is None else _compared(trace, compared),
        "findings": [finding.record for finding in findings],
    }


def _value(trace: Trace, key: str) -> float | None:
    value: float | None = plain(trace, key) if key in trace else None
    return value


def _inches(length: float | None) -> float | None:
    return None if length is None else length / INCH


def _dates(trace: Trace) -> Record:
    if not trace.known(DATES):
        return {"basis": None, "turns": []}
    dates = trace.value(DATES)
    turns = [
        {"name": t.name, "day": t.day, "rests_on": list(t.rests_on), "what": t.words}
        for t in dates.turns
    ]
    return {"basis": dates.basis, "turns": turns}


def _period(trace: Trace, period: Period) -> Record:
    moved = {
        stack.board_set: _value(trace, f"{period.key}.moved_{stack.board_set}")
        for stack in period.stacks
    }
    return {
        "key": period.key,
        "from": None if period.turn is None else period.turn.day,
        "until": period.until or None,
        "rests_on": [] if period.turn is None else list(period.turn.rests_on),
        "why": period.why,
        "boards": [
            {
                "set": stack.board_set,
                "key": stack.key,
                "stack_in": [board / INCH for board in stack.boards],
                "crest_m": stack.crest,
                "rim_down_in": stack.rim_down / INCH,
            }
            for stack in period.stacks
        ],
        "boards_moved": moved,
        "change_s": _value(trace, f"{period.key}.change_s"),
        "drain_s": _value(trace, f"{period.key}.drain_s"),
        "clear_soil_m": _value(trace, f"{period.key}.clear_soil_m"),
    }


def _row(trace: Trace, row: Row) -> Record:
    here = f"{ROWS}.{row.name}"
    schedule = schedule_of(trace, row.name)
    choices: tuple[Choice, ...] = trace.value(CHOICES)
    days: list[str | None] = [turn.day for turn in schedule.turns] or [None]
    return {
        "key": here,
        "name": row.name,
        "what": row.words,
        "settings": [
            {"from": day} | {f"{n}_in": h / INCH for n, h in choices[place].heights}
            for day, place in zip(days, schedule.choices, strict=True)
        ],
        **{
            name: {p: _value(trace, f"{here}.{name}.{p}") for p in QUANTILES}
            for name in ("removed_kg", "gain_kg", "treated_share")
            if f"{here}.{name}.p50" in trace
        },
        "used_up_days": _value(trace, f"{here}.used_up_days"),
        "wet": [
            {
                "spot": spot,
                "usual_run_days": _value(trace, f"{here}.spot.{spot}.usual_run_days"),
                "days_per_year": _value(trace, f"{here}.spot.{spot}.days_per_year"),
                "limit_days": _value(trace, f"{HERE}.limit.{spot}_days"),
            }
            for spot in trace.names(f"{here}.spot")
        ],
        "short": list(trace.value(f"{here}.short")) if f"{here}.short" in trace else None,
    }


def _compared(trace: Trace, compared: Compared) -> Record:
    def side(key: str, choice: Choice) -> Record:
        return {
            "boards": [
                {
                    "set": name,
                    "height_in": height / INCH,
                    "crest_m": _value(trace, f"{stack_key(choice, name)}.crest_m"),
                }
                for name, height in choice.heights
            ],
            "clear_soil_m": _value(trace, f"{key}.clear_soil_m"),
            "treated_share": _value(trace, f"{key}.treated_share"),
        }

    return {
        "day": compared.day,
        "differing": list(compared.differing),
        "standing": side(f"{NOW}.standing", compared.standing),
        "asked": side(f"{NOW}.asked", compared.asked),
    }
