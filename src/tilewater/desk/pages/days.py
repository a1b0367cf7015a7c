# SPDX-License-Identifier: Apache-2.0
"""The days of the record: drawn, summed over any span, and one of them worked step by step."""

import datetime
from dataclasses import asdict
from http import HTTPStatus
from typing import Any

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import HTMLResponse, JSONResponse

from tilewater.basis.errors import BadInputFile, TilewaterError
from tilewater.chain.days_shown import DaysShown, SpanSums, days_shown, spans_of, sums_of_span
from tilewater.desk.days_said import (
    day_said,
    missing_said,
    series_record,
    span_rows,
    span_words,
    spans_table,
)
from tilewater.desk.jobs import cards, opened, state_of
from tilewater.desk.view import is_part, page, shelf_of
from tilewater.documents.pages.day_page import day_page, day_record

router = APIRouter()
WORKED = ("days.removed_kg.p50", "water.flow_m3_s")
"""Keys by which a day is worked step by step, the first that the design has."""


@router.get("/job/{name}/days", response_class=HTMLResponse)
def days(
    request: Request, name: str, year: str = "", first: str = "", last: str = "", whole: str = ""
) -> HTMLResponse:
    """The days of a job. A page that can ask for its parts gets them when they are computed."""
    record: dict[str, Any] = {"job": opened(request, name), "here": name}
    record["state"] = state_of(record["job"].held.latest())
    asked = bool(whole or year or first or last)
    if is_part(request) or asked:
        record |= _record(request, name, year, first, last)
    if is_part(request):
        return page(request, "days_part.html", **record)
    return page(request, "days.html", cards=cards(shelf_of(request)), is_whole=asked, **record)


@router.get("/job/{name}/days.json")
def days_twin(request: Request, name: str) -> JSONResponse:
    """Sums of the record and of each year, in SI; what is not there."""
    shown = _shown(request, name)
    return JSONResponse(
        {
            "record": _plain(_whole(shown)),
            "years": [_plain(sums_of_span(shown, first, last)) for first, last in spans_of(shown)],
            "series": [
                {"name": each.name, "title": each.title, "key": each.key} for each in shown.series
            ],
            "missing": [{"why": each.why, "measure": each.measure} for each in shown.missing],
        }
    )


@router.get("/job/{name}/days/series.json")
def series(request: Request, name: str) -> JSONResponse:
    """Every day of every series, in the units of the reader."""
    return JSONResponse(series_record(_shown(request, name), opened(request, name).words))


@router.get("/job/{name}/days/span", response_class=HTMLResponse)
def span(request: Request, name: str, first: str, last: str) -> HTMLResponse:
    """What a span of days adds up to."""
    sums = _sums(_shown(request, name), first, last)
    words = opened(request, name).words
    said = [] if sums is None else [span_words(sums), span_rows(sums, words)]
    return page(request, "days_span.html", span=said)


@router.get("/job/{name}/days/span.json")
def span_twin(request: Request, name: str, first: str, last: str) -> JSONResponse:
    """What a span of days adds up to, in SI."""
    return JSONResponse(_plain(_sums(_shown(request, name), first, last)))


@router.get("/job/{name}/days/on/{day}.json")
def on_day(request: Request, name: str, day: str) -> JSONResponse:
    """The value of each series on a day, in words."""
    words = opened(request, name).words
    date = _day(day)
    return JSONResponse(
        {"day": date.isoformat(), "values": day_said(_shown(request, name), date, words)}
    )


@router.get("/job/{name}/days/{day}.json")
def worked_twin(request: Request, name: str, day: str) -> JSONResponse:
    """One day worked step by step, in SI."""
    trace = _design(request, name).trace
    return JSONResponse(day_record(trace, _worked_key(trace), _day(day).isoformat()))


@router.get("/job/{name}/days/{day}", response_class=HTMLResponse)
def worked(request: Request, name: str, day: str) -> HTMLResponse:
    """One day worked step by step."""
    job, date = opened(request, name), _day(day)
    trace = _design(request, name).trace
    record: dict[str, Any] = {"job": job, "day": date, "faults": (), "blocks": ()}
    record["before"], record["after"] = (date + datetime.timedelta(step) for step in (-1, 1))
    try:
        record["blocks"] = list(day_page(trace, _worked_key(trace), date.isoformat(), job.words))
    except TilewaterError as error:
        record["faults"] = (str(error).removeprefix("--day "),)
    if is_part(request):
        return page(request, "days_day.html", **record)
    record |= {
        "cards": cards(shelf_of(request)),
        "here": name,
        "state": state_of(job.held.latest()),
    }
    return page(request, "days_one.html", **record)


def _design(request: Request, name: str) -> Any:
    answer = opened(request, name).held.refined()
    if answer.design is None:
        raise BadInputFile(*answer.faults)
    return answer.design


def _shown(request: Request, name: str) -> DaysShown:
    return days_shown(_design(request, name).trace)


def _worked_key(trace: Any) -> str:
    return next((key for key in WORKED if key in trace), WORKED[-1])


def _whole(shown: DaysShown) -> SpanSums | None:
    if shown.days.size == 0:
        return None
    return sums_of_span(shown, shown.days[0].astype(object), shown.days[-1].astype(object))


def _sums(shown: DaysShown, first: str, last: str) -> SpanSums | None:
    start, end = sorted((_day(first), _day(last)))
    return sums_of_span(shown, start, end)


def _day(text: str) -> datetime.date:
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        message = f"'{text}' is no day. Write year, month, day, like 2011-05-03."
        raise HTTPException(HTTPStatus.UNPROCESSABLE_ENTITY, message) from None


def _plain(sums: SpanSums | None) -> dict[str, Any] | None:
    if sums is None:
        return None
    record = asdict(sums) | {"share_treated": sums.share_treated}
    record["first"], record["last"] = sums.first.isoformat(), sums.last.isoformat()
    return record


def _record(request: Request, name: str, year: str, first: str, last: str) -> dict[str, Any]:
    """What the page of the days is made of."""
    job, shown = opened(request, name), _shown(request, name)
    years = [str(start.year) for start, _ in spans_of(shown)]
    chosen = year if year in years else ""
    parts = spans_of(shown, year=int(chosen)) if chosen else spans_of(shown)
    named = [
        (f"{start:%B}" if chosen else f"{start.year}", sums)
        for start, end in parts
        if (sums := sums_of_span(shown, start, end)) is not None
    ]
    sums = _whole(shown)
    if chosen:
        sums = _sums(shown, f"{chosen}-01-01", f"{chosen}-12-31")
    elif first and last:
        sums = _sums(shown, first, last)
    return {
        "years": years,
        "year": chosen,
        "span": [] if sums is None else [span_words(sums), span_rows(sums, job.words)],
        "sums": sums,
        "first_day": "" if shown.days.size == 0 else str(shown.days[0]),
        "last_day": "" if shown.days.size == 0 else str(shown.days[-1]),
        "table": spans_table(named, job.words) if named else None,
        "missing": missing_said(shown),
        "count": f"{shown.days.size:,}",
    }
