# SPDX-License-Identifier: Apache-2.0
"""What the chain takes: the inputs of a job, and changes to them for a question."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from tilewater.basis.errors import UnknownName
from tilewater.basis.trace import Assumption, Given, Overrule, Value
from tilewater.criteria.standards import Confirmation


@dataclass(frozen=True)
class JobInputs:
    """A job as the chain sees it.

    Attributes
    ----------
    name : str
        Name of the job.
    givens : tuple of Given
        Every input, in coherent SI, with its origin.
    overrules, assumptions, confirmations : tuple
        What the engineer decided beside the inputs.
    """

    name: str
    givens: tuple[Given, ...]
    overrules: tuple[Overrule, ...] = ()
    assumptions: tuple[Assumption, ...] = ()
    confirmations: tuple[Confirmation, ...] = ()

    def changed(self, values: Mapping[str, Value]) -> "JobInputs":
        """The same job with some inputs changed.

        Parameters
        ----------
        values : mapping of key to value
            In the unit of each input.

        Raises
        ------
        UnknownName
            If the job has no such input.
        """
        known = {given.key for given in self.givens}
        missing = sorted(set(values) - known)
        if missing:
            raise UnknownName(f"The job has no input '{missing[0]}'. Nothing was changed.")
        return replace(
            self,
            givens=tuple(
                replace(given, value=values[given.key]) if given.key in values else given
                for given in self.givens
            ),
        )
