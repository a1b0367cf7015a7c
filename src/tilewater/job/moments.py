# SPDX-License-Identifier: Apache-2.0
"""A day with its time in the job file, held as `2027-09-02 15:00`, local time of the job."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from tilewater.job.fields import Ask, Setting, Wrong


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
