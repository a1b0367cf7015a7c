# SPDX-License-Identifier: Apache-2.0
"""Days with their time in the job file, held as `2027-09-02 15:00`, and lists of days."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from tilewater.job.fields import Ask, Setting, Wrong, as_typed
from tilewater.job.words import Texts


@dataclass(frozen=True)
class Moment(Ask):
    """A day, and its time where one was noted; a day alone is held without one."""

    needs_time: bool = False

    @property
    def allowed(self) -> str:
        return "year-month-day hour:minute" if self.needs_time else "year-month-day, hour:minute"

    def read(self, raw: Any, setting: Setting) -> str:
        text = " ".join(str(raw).replace("T", " ").split())
        try:
            moment = datetime.fromisoformat(text)
        except ValueError:
            moment = None
        if moment is None or moment.tzinfo is not None or (self.needs_time and ":" not in text):
            raise Wrong(
                f"'{raw}' is no day{' with its time' if self.needs_time else ''}. Write "
                f"{self.allowed} in local time, like {self.sample}."
            )
        if ":" not in text:
            return moment.date().isoformat()
        return moment.isoformat(sep=" ", timespec="minutes")


@dataclass(frozen=True)
class Days(Texts):
    """A list of days."""

    @property
    def allowed(self) -> str:
        return "a list of days, each year-month-day"

    def read(self, raw: Any, setting: Setting) -> tuple[str, ...]:
        days = super().read(raw, setting)
        try:
            return tuple(date.fromisoformat(day.strip()).isoformat() for day in days)
        except ValueError:
            raise Wrong(
                f"{as_typed(raw)} holds what is no day. Write each year-month-day, like "
                f"{self.sample}."
            ) from None
