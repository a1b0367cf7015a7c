# SPDX-License-Identifier: Apache-2.0
"""What a table of the job file is: fields, tables in it, and named tables in it.

Unknown keys are kept beside the known ones, so that they can be reported and survive a save.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Annotated, Any, TypeVar, get_args, get_origin

from pydantic import AfterValidator, BaseModel, ConfigDict
from pydantic_core import PydanticCustomError

from tilewater.basis.unknown import Unknown
from tilewater.job.fields import Ask

Number = float | Unknown
Word = str | Unknown


def _good_name(name: str) -> str:
    if re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", name):
        return name
    better = re.sub(r"[^a-z0-9]+", "-", name.casefold()).strip("-") or "low-1"
    message = (
        f"'{name}' cannot be the name of a table. "
        f"Use small letters, digits and hyphens, like {better}."
    )
    raise PydanticCustomError("job", "{message}", {"message": message})


Name = Annotated[str, AfterValidator(_good_name)]
T = TypeVar("T")
Named = dict[Name, T]
"""Tables of one sort by the names that the engineer gave them: `[spot.low-1]`."""


class Table(BaseModel):
    """A table of the job file."""

    model_config = ConfigDict(extra="allow", frozen=True, defer_build=True)

    @classmethod
    def about(cls) -> str:
        """What the table is for: the docstring of its class, on one line."""
        return " ".join((cls.__doc__ or "").split())

    @classmethod
    def members(cls) -> "Iterator[Member]":
        """What the table holds, in the order of its declaration."""
        yield from _members_of(cls)


@dataclass(frozen=True)
class Member:
    """One member of a table: a field (`ask`), a table, or named tables.

    Attributes
    ----------
    key : str
        As written in the file.
    attribute : str
        As named on the model.
    ask : Ask or None
    table : type of Table or None
    is_named : bool
        Whether `table` is that of the tables under names.
    """

    key: str
    attribute: str
    ask: Ask | None
    table: type[Table] | None
    is_named: bool

    @property
    def model(self) -> type[Table]:
        """The table of a member that is one."""
        if self.table is None:
            raise TypeError(f"{self.key} is a field, not a table")
        return self.table

    def is_required(self) -> bool:
        """Whether a file without this member is at fault."""
        if self.ask is not None:
            return self.ask.need == "must" and not self.ask.default
        return not self.is_named and any(m.is_required() for m in self.model.members())


def _table_in(annotation: Any) -> type[Table] | None:
    if isinstance(annotation, type) and issubclass(annotation, Table):
        return annotation
    return next((t for a in get_args(annotation) if (t := _table_in(a)) is not None), None)


@cache
def _members_of(table: type[Table]) -> tuple[Member, ...]:
    found = []
    for name, info in table.model_fields.items():
        ask = next((m for m in info.metadata if isinstance(m, Ask)), None)
        inside = None if ask else _table_in(info.annotation)
        is_named = get_origin(info.annotation) is dict
        if ask or inside:
            found.append(Member(info.alias or name, name, ask, inside, is_named))
    return tuple(found)
