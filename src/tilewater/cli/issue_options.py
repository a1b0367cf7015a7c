# SPDX-License-Identifier: Apache-2.0
"""The options of an issue, held to belong together before anything is computed."""

from typing import TYPE_CHECKING

from tilewater.basis.errors import BadInputFile, Fault

if TYPE_CHECKING:
    from tilewater.tasks.issue_slip import IssueWords


def words_of_issue(
    status: str | None, by: str, note: str, *, writes_all: bool
) -> "IssueWords | None":
    """What is written on the copy; None where none is to be issued.

    Parameters
    ----------
    status : str or None
        As typed behind --issue; None where it was not.
    by, note : str
        As typed behind --by and --note.
    writes_all : bool
        Whether the call writes every paper.

    Raises
    ------
    BadInputFile
        If an option is missing or has no place.
    """
    if status is None:
        if by or note:
            raise _wrong(
                "--by" if by else "--note",
                'it belongs to a copy that is issued. Write --issue "review copy" too',
            )
        return None
    if not writes_all:
        raise _wrong("--issue", "a copy is issued with all its papers. Leave the other option out")
    if not by.strip():
        raise _wrong(
            "--issue", 'the copy needs the name of who answers for it. Write --by "R. Lindqvist"'
        )
    from tilewater.tasks.issuing import issue_words

    return issue_words(status, by, note)


def _wrong(option: str, message: str) -> BadInputFile:
    return BadInputFile(Fault(option, None, "", f"{message}. Nothing was issued."))
