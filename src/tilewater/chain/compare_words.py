# SPDX-License-Identifier: Apache-2.0
"""What must be true of each practice for it to do what its numbers say, and what nobody knows."""

from tilewater.chain.compare_contenders import ROW, Contender
from tilewater.chain.verdict import OpenItem

MUST: dict[str, tuple[str, ...]] = {
    "bed": (
        "The chips are renewed when they no longer take their share.",
        "Somebody sets the boards by the season, and looks after the lids and the outlet.",
        "Chips as clean as those of the design can be had here.",
    ),
    "buffer": (
        "The strip stays in perennial plants, without trees near the line.",
        "The bank is walked in the first spring and after every high water.",
        "The soil of the strip passes water as the field tests say.",
    ),
    "raised": (
        "Somebody sets the boards by the calendar, every year.",
        "The field is fit to drive on in time after the boards are out.",
        "Water that is held back does not find another drain.",
    ),
    ROW: (
        "There is fall enough for two structures with their boards.",
        "What holds for a bed and what holds for a buffer.",
    ),
}
UNSURE: dict[str, tuple[str, ...]] = {
    "bed": ("What these chips remove: nobody measured them here.",),
    "buffer": ("What this strip removes: nobody measured it here.",),
    "raised": (
        "Where the water goes that is held back, and how much nitrate goes with it.",
        "What seeps to the side is not in the model.",
    ),
    ROW: ("How both would lie on the ground: nobody has laid them out.",),
}
LIFE = {
    "buffer": "20 years or more (common practice)",
    "raised": "20 years or more (common practice)",
    ROW: "each as by itself",
}
SHOWN = 3
"""Questions of a design that are told."""


def must_be_true(contender: Contender) -> tuple[str, ...]:
    """What must be true for a practice to do what its numbers say."""
    return MUST.get(contender.name, ()) if contender.is_described else ()


def not_known_of_sort(contender: Contender) -> tuple[str, ...]:
    """What nobody knows of practices of a sort."""
    return UNSURE.get(contender.name, ()) if contender.is_described else ()


def not_known(contender: Contender) -> tuple[str, ...]:
    """What nobody knows of a practice: of its sort, then the first questions of its design."""
    told = not_known_of_sort(contender)
    if contender.design is None:
        return told
    return (*told, *(_words(item) for item in contender.design.open_items[:SHOWN]))


def _words(item: OpenItem) -> str:
    return f"{item.why[0].upper()}{item.why[1:]}."


def life_words(contender: Contender) -> str:
    """How long a practice lasts, where that is no number; "" where it is."""
    return LIFE.get(contender.name, "") if contender.is_described else ""
