# SPDX-License-Identifier: Apache-2.0
"""Papers of a bid as PDF: the schedule that goes out, the engineer's estimate, tabulation, memo."""

from dataclasses import dataclass

from tilewater.chain.bid import BidWork
from tilewater.documents.money.estimate_paper import estimate_blocks
from tilewater.documents.money.memo_paper import memo_blocks
from tilewater.documents.money.schedule_paper import schedule_blocks
from tilewater.documents.money.tab_paper import tab_blocks
from tilewater.documents.paper.blocks import Block, Document
from tilewater.documents.paper.press import press
from tilewater.documents.words import Words

HEAD = 80
"""Letters of a title that the head of a page has room for."""


@dataclass(frozen=True)
class OnPaper:
    """A bid with what every page of it carries.

    Attributes
    ----------
    work : BidWork
    words : Words
        Units of the reader.
    version : str
        Of the program.
    """

    work: BidWork
    words: Words
    version: str


def schedule_pdf(bid: OnPaper) -> bytes:
    """The schedule for bidders, prices blank."""
    return _pressed(bid, "Bid schedule", tuple(schedule_blocks(bid.work, bid.words)))


def estimate_pdf(bid: OnPaper) -> bytes:
    """The engineer's estimate with how each item is measured, and who pays; not for bidders."""
    kind = "Engineer's estimate, not for bidders"
    return _pressed(bid, kind, tuple(estimate_blocks(bid.work, bid.words)))


def tabulation_pdf(bid: OnPaper) -> bytes:
    """The bids side by side."""
    return _pressed(bid, "Bid tabulation", tuple(tab_blocks(bid.work, bid.words)))


def memo_pdf(bid: OnPaper) -> bytes:
    """A memo of award, drafted for a signature."""
    return _pressed(bid, "Award memo, draft for signature", tuple(memo_blocks(bid.work)))


def _pressed(bid: OnPaper, kind: str, blocks: tuple[Block, ...]) -> bytes:
    title = bid.work.title
    return press(
        Document(
            title=f"{title}: {kind[0].lower()}{kind[1:]}",
            head=title if len(title) <= HEAD else f"{title[:HEAD]}…",
            kind=kind,
            foot=f"Tilewater {bid.version} · {bid.work.day.isoformat()}",
            paper="us-letter" if bid.words.system == "us" else "a4",
            blocks=blocks,
        )
    )
