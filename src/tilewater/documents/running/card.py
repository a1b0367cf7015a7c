# SPDX-License-Identifier: Apache-2.0
"""The lid card: one page to hang at the structure, in large letters, for any printer.

For each period the boards are drawn as they stand on the sill, and how far it is from the rim down
to the top one. It says what can hurt and who is called, and nothing else.
"""

from typing import Any

from tilewater.chain.operate_plan import Period, Stack
from tilewater.documents.pages.operate_page import day_said, set_said, stack_said
from tilewater.documents.paper.letters import shown
from tilewater.documents.running.material import RunningMaterial, cautions
from tilewater.documents.running.press import press_with


def press_card(material: RunningMaterial) -> bytes:
    """The lid card as a PDF file of one page.

    Parameters
    ----------
    material : RunningMaterial
        How the boards are run.

    Returns
    -------
    bytes
        The file; the same material gives the same bytes.
    """
    return press_with("card.typ", card_data(material))


def card_data(material: RunningMaterial) -> dict[str, Any]:
    """What the card shows, as words, and boards as shares of the tallest stack."""
    tallest = max((sum(s.boards) for p in material.periods for s in p.stacks), default=0.0)
    scale = 1.0 / tallest if tallest > 0.0 else 1.0
    call = [f"About the boards: {material.call}"]
    if material.district:
        call.append(f"About the ditch: {material.district.partition(',')[0]}")
    return {
        "title": shown(material.title),
        "paper": material.paper,
        "periods": [_period(material, period, scale) for period in material.periods],
        "cautions": [shown(words) for words in cautions(material)],
        "call": [shown(words) for words in call],
    }


def _period(material: RunningMaterial, period: Period, scale: float) -> dict[str, Any]:
    head = "All year" if period.turn is None else f"From {day_said(period.turn.day)}"
    until = f"to {day_said(period.until)}" if period.until else ""
    return {
        "head": head,
        "until": until,
        "why": shown(_short(period)),
        "stacks": [_stack(material, period, stack, scale) for stack in period.stacks],
    }


def _short(period: Period) -> str:
    """Why, in a few words: what stands before the colon."""
    return period.why.partition(":")[0] if period.turn is not None else ""


def _stack(material: RunningMaterial, period: Period, stack: Stack, scale: float) -> dict[str, Any]:
    words = material.words
    return {
        "name": set_said(stack.board_set, period.stacks).removesuffix(" boards"),
        "boards": [
            {"size": words.say(board, "size", unit=False), "share": board * scale}
            for board in reversed(stack.boards)
        ],
        "alt": f"{set_said(stack.board_set, period.stacks)}: {stack_said(stack.boards, words)}",
        "down": words.say(stack.rim_down, "size"),
    }
