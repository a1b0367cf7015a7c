# SPDX-License-Identifier: Apache-2.0
"""The locate ticket of a job as papers show it; no gate is judged here."""

from tilewater.basis.trace import Trace
from tilewater.chain.locate import GIVEN, Ticket, add_locate, ticket_on
from tilewater.tasks.built_sheet import copied
from tilewater.tasks.checking import Checked
from tilewater.tasks.legal_holidays import legal_holidays


def ticket_of(job: Checked, design: Trace) -> Ticket:
    """The locate ticket of a job, whatever the day.

    Parameters
    ----------
    job : Checked
        The job as read.
    design : Trace
        Of its design or its inputs; it is left as it is.

    Returns
    -------
    Ticket
        Whether it is good on a day is not told.
    """
    trace = copied(design)
    filed, own = job.value(f"{GIVEN}.filed"), job.value(f"{GIVEN}.holidays")
    state = job.value("inputs.job.state")
    if isinstance(filed, str):
        holidays = legal_holidays(
            state if isinstance(state, str) else "",
            filed,
            own if isinstance(own, tuple) else (),
        )
        add_locate(trace, holidays)
    return ticket_on(trace, "")
