# SPDX-License-Identifier: Apache-2.0
"""The cover: what and where it is, which sheets there are, how much of what, what to ask first."""

from tilewater.documents.sheets.material import SheetMaterial
from tilewater.documents.sheets.record import (
    GAP,
    Blank,
    Box,
    Columns,
    Lines,
    SheetPage,
    Title,
    body_of,
)
from tilewater.documents.words import NOT_KNOWN

SIDE = 118.0
"""Width of the column of quantities. [mm]"""
LOCATE_HIGH = 62.0
"""Height of the box about the locate request. [mm]"""
PRACTICES = {
    "bed": "Woodchip bed (denitrifying bioreactor)",
    "buffer": "Saturated buffer",
    "raised": "Outlet raised in season",
}


def cover_sheet(material: SheetMaterial, titles: tuple[str, ...]) -> SheetPage:
    """The first sheet.

    Parameters
    ----------
    material : SheetMaterial
    titles : tuple of str
        Titles of all sheets, this one first.

    Returns
    -------
    SheetPage
    """
    width, height = body_of(material.paper)
    main = width - SIDE - GAP
    head = Box(0.0, 0.0, main, 34.0, (Title(material.title), Lines(_about(material))))
    index_high = 14.0 + 6.0 * (len(titles) + 1)
    index = Box(0.0, height - index_high, 96.0, index_high, (Title("Sheets"), _index(titles)))
    picture = material.picture("main-plan", main, height - 34.0 - index_high - 2 * GAP)
    boxes = [head, index]
    if picture is not None:
        boxes.append(Box(0.0, 34.0 + GAP, main, height - 34.0 - index_high - 2 * GAP, (picture,)))
    notes = Box(
        96.0 + GAP,
        height - index_high,
        main - 96.0 - GAP,
        index_high,
        (Title("Before anything is built from this set"), Lines(_first(material))),
    )
    quantities = Box(
        main + GAP,
        0.0,
        SIDE,
        height - LOCATE_HIGH - GAP,
        (Title("Quantities", "of the design; what is paid is measured in place"), _table(material)),
    )
    locate = Box(
        main + GAP, height - LOCATE_HIGH, SIDE, LOCATE_HIGH, _locate(material), framed=True
    )
    return SheetPage(titles[0], (*boxes, notes, quantities, locate))


def _about(material: SheetMaterial) -> tuple[str, ...]:
    kind = PRACTICES.get(material.practice, material.practice)
    area = material.say("inputs.drainage.area_m2", "area")
    return (
        f"{kind} on {material.text('inputs.job.outlet')}, which drains {area}.",
        f"{material.text('inputs.job.county')}, {material.text('inputs.job.state')}.",
    )


def _index(titles: tuple[str, ...]) -> Columns:
    rows = tuple((str(number), title) for number, title in enumerate(titles, start=1))
    return Columns(("sheet", "what it shows"), rows, right=(0,), wide=(1,))


def _first(material: SheetMaterial) -> tuple[str, ...]:
    """What is open, and the changes since the last issue; the first few of each."""
    told = [f"Open: {item}" for item in material.open_items[:4]]
    more = len(material.open_items) - len(told)
    if more > 0:
        told.append(f"And {more} more open items; see the engineer's report.")
    if material.changes:
        named = ", ".join(what for what, _, _ in material.changes[:3])
        told.append(f"Changed since the last issue: {named}; listed with the notes.")
    return tuple(told) or ("Nothing is open.",)


def _table(material: SheetMaterial) -> Columns:
    return Columns(("item", "quantity"), tuple(quantity_rows(material)), right=(1,), wide=(0,))


def quantity_rows(material: SheetMaterial) -> list[tuple[str, str]]:
    """Every item of the design with its quantity as it is bid."""
    from tilewater.documents.pages.summary_money import quantity_words

    trace, rows = material.trace, []
    for item in trace.names("quantities"):
        key = f"quantities.{item}.quantity"
        if key in trace:
            step = trace.steps[key]
            rows.append((step.title, quantity_words(trace, item, material.words)))
    return rows


def _locate(material: SheetMaterial) -> tuple[Title | Lines | Blank, ...]:
    ticket = material.text("inputs.site.utilities")
    said = "No locate ticket is given." if ticket == NOT_KNOWN else f"Ticket as stated: {ticket}."
    ground = ""
    if material.stakes.locate_grid:
        (low, left), _, (high, right), _ = material.stakes.locate_grid
        say = material.words.say
        ground = (
            f"Ground to be marked: {say(low, 'station')} to {say(high, 'station')}, "
            f"{say(left, 'length')} to {say(right, 'length')} from the main, right positive."
        )
    words = (
        said,
        ground,
        "Call before digging: 811, or the number of the place. The dig waits for the answer, "
        "whatever this set says. Private lines are the owner's to show.",
    )
    return (
        Title("Locate request"),
        Lines(tuple(word for word in words if word)),
        Blank("ticket number"),
        Blank("clear to dig from"),
    )
