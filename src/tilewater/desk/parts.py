# SPDX-License-Identifier: Apache-2.0
"""Parts of a page of words as HTML: the same parts that the terminal shows.

Words that show a number of the design lead to the page of that number.
"""

from collections.abc import Callable, Iterable

from markupsafe import Markup, escape

from tilewater.documents.pages.said import Block, Group, Part, Rows, Run, Said

Link = Callable[[str], str]
"""Address of the page of a number, by its key; "" where there is none."""


def nowhere(key: str) -> str:
    """No address: words stand as words."""
    return ""


def as_html(part: Part | Iterable[Part], link: Link = nowhere) -> Markup:
    """A part, or several one below the other."""
    match part:
        case str():
            return _lines(escape(part))
        case Said():
            return Markup("").join(_run(run, link) for run in part.runs)
        case Rows():
            return _table(part, link)
        case Group():
            return Markup("").join(_paragraph(each, link) for each in part.parts)
        case Block():
            return _block(part, link)
        case _:
            return Markup("").join(_paragraph(each, link) for each in part)


def _paragraph(part: Part, link: Link) -> Markup:
    """Words stand in a paragraph of their own; nothing is left for words that are empty."""
    if isinstance(part, str | Said):
        html = as_html(part, link)
        return Markup("<p>{}</p>").format(html) if html else Markup("")
    return as_html(part, link)


def _run(run: Run, link: Link) -> Markup:
    words = _lines(escape(run.words))
    address = link(run.key) if run.key else ""
    if address:
        words = Markup('<a class="key" href="{}">{}</a>').format(address, words)
    return Markup('<span class="{}">{}</span>').format(run.tone, words) if run.tone else words


def _lines(words: Markup) -> Markup:
    return words.replace("\n", Markup("<br>"))


def _block(block: Block, link: Link) -> Markup:
    note = Markup(' <span class="quiet">{}</span>').format(block.note) if block.note else ""
    head = Markup("<h3>{}{}</h3>").format(block.title, note)
    body = Markup("").join(_paragraph(each, link) for each in block.body)
    return Markup('<section class="block">{}{}</section>').format(head, body)


def _table(table: Rows, link: Link) -> Markup:
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
                Markup("<td{}>{}</td>").format(_side(table, place), as_html(cell, link))
                for place, cell in enumerate(line)
            )
        )
        for line in table.lines
    )
    return Markup('<div class="wide" tabindex="0"><table>{}<tbody>{}</tbody></table></div>').format(
        head, lines
    )


def _side(table: Rows, place: int) -> Markup:
    """Numbers stand to the right; only columns of words wrap."""
    if place in table.right:
        return Markup(' class="number"')
    return Markup("") if place in table.wide else Markup(' class="short"')
