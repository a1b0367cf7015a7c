# SPDX-License-Identifier: Apache-2.0
"""The sheet of funding: the sources' rules typed, and every order worked with live formulas."""

from collections.abc import Mapping
from dataclasses import dataclass

from tilewater.chain.bid import BidWork
from tilewater.chain.bid_funding import CASES, Order, Source
from tilewater.documents.money.book import Book, Sheet
from tilewater.documents.money.live import (
    NOT_KNOWN,
    Live,
    least,
    live,
    not_below_zero,
    rounded,
    sum_of_terms,
    where_all_numbers,
    where_number,
)
from tilewater.documents.pages.bid_words import case_words, turn_words

NAME = "Funding"
WIDTHS = (46, 15, 15, 15, 15, 15, 15, 15, 24, 12)


@dataclass(frozen=True)
class Rule:
    """Cells of one source's rule; None where the job gives none."""

    source: Source
    rate: Live | None
    quantity: Live | None
    percent: Live | None
    cap: Live | None
    ceiling: Live | None
    approved: Live | None
    eligible: Live


def add_funding_sheet(
    book: Book,
    work: BidWork,
    amounts: Mapping[str, Live],
    quantities: Mapping[str, Live],
    *,
    paper: int,
) -> None:
    """Write the sheet of funding.

    Parameters
    ----------
    book : Book
    work : BidWork
    amounts : mapping of str to Live
        Cells of what each item of the contract costs.
    quantities : mapping of str to Live
        Cells of the bid quantity of each item of the contract.
    paper : int
        Code of the paper. [-]
    """
    sheet = book.sheet(NAME, WIDTHS, paper=paper, lying=True)
    sheet.line(f"{work.title}: who pays", "title")
    sheet.note(
        f"Worked with {work.cost_is}. A source counts the lesser of actual and approved cost; "
        "a contingency is no cost. Rates, percents, caps and overruns are typed.",
    )
    sheet.skip()
    sheet.words(0, "Cost to be paid for, USD", "bold")
    every = list(amounts.values())
    cost = sheet.put(1, where_all_numbers(every, sum_of_terms(every)), "sum")
    sheet.skip(2)
    _heads(sheet)
    rules = {
        each.name: _rule(sheet, work, each, amounts, quantities, cost) for each in work.sources
    }
    sheet.skip()
    for case, overrun in CASES:
        _case(sheet, work, case, overrun, cost, rules)
    sheet.fit_on_one_page()


def _heads(sheet: Sheet) -> None:
    sheet.heads(
        "source",
        "rate or flat sum, USD",
        "quantity paid",
        "percent",
        "cap, USD",
        "ceiling over all",
        "approved cost, USD",
        "eligible cost, USD",
        "document",
        "its date",
        right=range(1, 8),
    )


def _rule(
    sheet: Sheet,
    work: BidWork,
    source: Source,
    amounts: Mapping[str, Live],
    quantities: Mapping[str, Live],
    cost: Live,
) -> Rule:
    def typed(column: int, key: str, style: str) -> Live | None:
        given = f"{source.given}.{key}"
        if not work.trace.known(given):
            return None
        return sheet.put(column, float(work.trace.value(given)), style)

    how = source.pays if source.pays != "percent" else _percent_words(source)
    sheet.words(0, f"{source.title} ({how})")
    quantity = None
    if source.pays == "per unit":
        counted = quantities[source.item]
        approved = f"{source.given}.approved_quantity"
        if work.trace.known(approved):
            counted = least(counted, live(float(work.trace.value(approved))))
        quantity = _worked(sheet, 2, counted, cost, "bid")
    rule = Rule(
        source,
        typed(1, "rate_usd", "money"),
        quantity,
        typed(3, "percent", "percent"),
        typed(4, "cap_usd", "money"),
        typed(5, "combined_ceiling", "percent"),
        typed(6, "approved_cost_usd", "money"),
        _worked(sheet, 7, sum_of_terms([amounts[item] for item in source.items]), cost),
    )
    sheet.words(8, work.text(f"{source.given}.document"), "note")
    sheet.words(9, work.text(f"{source.given}.document_date"), "note")
    sheet.row += 1
    return rule


def _percent_words(source: Source) -> str:
    return f"percent of {'eligible cost' if source.of_cost else 'what others leave'}"


def _case(
    sheet: Sheet,
    work: BidWork,
    case: str,
    overrun: float,
    planned: Live,
    rules: Mapping[str, Rule],
) -> None:
    """The cost of a case, what each source counts of it, and every order."""
    sheet.words(0, f"Cost {case_words(case)}", "part")
    sheet.row += 1
    sheet.words(0, "Overrun (typed)")
    over = sheet.put(1, overrun, "percent")
    sheet.row += 1
    sheet.words(0, "Cost, USD", "bold")
    cost = _worked(sheet, 1, rounded(planned * (1.0 + over)), planned, "sum")
    sheet.row += 1
    counted: dict[str, Live] = {}
    limits: list[Live] = []
    for name, rule in rules.items():
        sheet.words(0, f"Counted by {rule.source.title}, USD")
        actual = rounded(rule.eligible * (1.0 + over))
        known = actual if rule.approved is None else least(actual, rule.approved)
        counted[name] = _worked(sheet, 1, known, cost)
        if rule.ceiling is not None:
            base = cost if rule.source.ceiling_of_whole else counted[name]
            limits.append(rounded(base * rule.ceiling))
        sheet.row += 1
    ceiling = None
    if limits:
        sheet.words(0, "Most public money together, USD")
        ceiling = _worked(sheet, 1, least(*limits), cost)
        sheet.row += 1
    sheet.heads(
        "order",
        "paid before, USD",
        "owed by its rule, USD",
        "pays, USD",
        "owner, USD",
        "check: shares less cost",
        right=range(1, 6),
    )
    for order in work.orders:
        _order(sheet, work, order, (cost, ceiling), counted, rules)
    sheet.skip()


def _order(
    sheet: Sheet,
    work: BidWork,
    order: Order,
    bill: tuple[Live, Live | None],
    counted: Mapping[str, Live],
    rules: Mapping[str, Rule],
) -> None:
    cost, ceiling = bill
    sheet.words(0, turn_words(work, order), "bold")
    sheet.row += 1
    paid: list[Live] = []
    for name in order.sources:
        rule = rules[name]
        sheet.words(0, f"  {rule.source.title}")
        before = _worked(sheet, 1, sum_of_terms(paid), cost)
        asked = _worked(sheet, 2, _asked(rule, counted[name], before), cost)
        most = [asked, cost - before]
        if rule.cap is not None:
            most.append(rule.cap)
        if ceiling is not None:
            most.append(ceiling - before)
        paid.append(_worked(sheet, 3, rounded(not_below_zero(least(*most))), cost))
        sheet.row += 1
    sheet.words(0, "  Owner")
    owner = _worked(sheet, 4, rounded(cost - sum_of_terms(paid)), cost, "sum")
    _worked(sheet, 5, rounded(sum_of_terms([*paid, owner]) - cost), cost)
    sheet.row += 1


def _worked(sheet: Sheet, column: int, term: Live, cost: Live, style: str = "money") -> Live:
    """Put a formula; where the cost is not known yet, nothing that rests on it is, until it is."""
    return sheet.put(column, term if cost.is_number else where_number(cost, term, NOT_KNOWN), style)


def _asked(rule: Rule, counted: Live, before: Live) -> Live:
    """What a source owes by its own rule."""
    nothing = live(0.0)
    if rule.source.pays == "per unit":
        return rounded((rule.rate or nothing) * (rule.quantity or nothing))
    if rule.source.pays == "flat":
        return rounded(rule.rate or nothing)
    base = counted if rule.source.of_cost else not_below_zero(counted - before)
    return rounded(base * (rule.percent or nothing))
