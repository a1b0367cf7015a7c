# SPDX-License-Identifier: Apache-2.0
"""The section of an answer with the water of a flow and a ditch that are looked at."""

from tilewater.chain.looked_at import LookedAt
from tilewater.chain.scene_looked_at import LookedScene, looked_scene
from tilewater.tasks.held_answers import Answer

__all__ = ["LookedAt", "LookedScene", "scene_at"]


def scene_at(answer: Answer, looked_at: LookedAt | None = None) -> LookedScene | None:
    """The section of an answer at a flow and a ditch that are looked at.

    Parameters
    ----------
    answer : Answer
        First or refined; it is not changed.
    looked_at : LookedAt or None
        Flow, ditch and boards; the main full in the design setting where None.

    Returns
    -------
    LookedScene or None
        None where the answer has faults instead of a design.
    """
    if answer.design is None:
        return None
    return looked_scene(answer.design, looked_at or LookedAt())
