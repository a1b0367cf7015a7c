# SPDX-License-Identifier: Apache-2.0
"""Parts of a page of words as HTML: the same parts that the terminal shows."""

from collections.abc import Iterable

from markupsafe import Markup, escape

from tilewater.documents.pages.said import Block, Group, Part, Rows, Run, Said


def as_html(part: Part | Iterable[Part]) -> Markup:
    """A part, or several one below the other."""
    match part:
        case str():
            return _lines(escape(part))
        case Said():
            return Markup("").join(_run(run) for run in part.runs)
        case Rows():
            return _table(part)
        case Group():
            return Markup("").join(_paragraph(each) for each in part.parts)
        case Block():
            return _block(part)
        case _:
            return Markup("").join(_paragraph(each) for each in part)


def _paragraph(part: Part) -> Markup:
    """Words stand in a paragraph of their own; nothing is left for words that are empty."""
    if isinstance(part, str | Said):
        html = as_html(part)
        return Markup("<p>{}</p>").format(html) if html else Markup("")
    return as_html(part)


def _run(run: Run) -> Markup:
    words = _lines(escape(run.words))
    return Markup('<span class="{}">{}</span>').format(run.tone, words) if run.tone else words


def _lines(words: Markup) -> Markup:
    return words.replace("\n", Markup("<br>"))


def _block(block: Block) -> Markup:
    note = Markup(' <span class="quiet">{}</span>').format(block.note) if block.note else ""
    head = Markup("<h3>{}{}</h3>").format(block.title, note)
    body = Markup("").join(_paragraph(each) for each in block.body)
    return Markup('<section class="block">{}{}</section>').format(head, body)


def _table(table: Rows) -> Markup:
    head = Markup("")
    if any(table.heads):
        cells = Markup("").join(
            Markup('<th scope="col"{}>{}</th>').format(_side(table, place), name)
            for place, name in enumerate(table.heads)
        )
        head = Markup("<thead><tr>{}</tr></thead>").format(cells)
    lines = Markup("").join(
        Markup("<tr>{}</tr>").format(
            Markup("").join(
                Markup("<td{}>{}</td>").format(_side(table, place), as_html(cell))
                for place, cell in enumerate(line)
            )
        )
        for line in table.lines
    )
    return Markup('<div class="wide"><table>{}<tbody>{}</tbody></table></div>').format(head, lines)


def _side(table: Rows, place: int) -> Markup:
    return Markup(' class="number"') if place in table.right else Markup("")
