# SPDX-License-Identifier: Apache-2.0
"""Designs with few draws, for tests that ask what the number of draws does not change."""

from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from tilewater.chain import days
from tilewater.practices.buffer import day_steps

FEW = 64


@contextmanager
def few_draws() -> Iterator[None]:
    """Designs made meanwhile draw few values from every range; the middle stays as it is."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(days, "DRAWS", FEW)
        patch.setattr(day_steps, "DRAWS", FEW)
        yield
