# SPDX-License-Identifier: Apache-2.0
"""Names that a reader types or sends, made into names of new folders and files in one place.

What is typed is never joined to a path: letters, digits and hyphens of it are, and nothing else.
Nothing that lies there is ever the answer.
"""

import re
import unicodedata
from itertools import chain, count
from pathlib import Path

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.job.file_names import strange_name
from tilewater.job.schema import JOB_FILE

MOST_LETTERS = 60
LONGEST_TITLE = 200
ENDINGS = frozenset({".csv", ".txt", ".tsv", ".dat", ".dly", ".pts", ".xyz", ".asc"})
"""Endings of data files; what ends otherwise is text all the same and gets the first."""


class NoPlace(BadInputFile):
    """A name of which no new folder can be made."""

    def __init__(self, words: str) -> None:
        super().__init__(Fault(JOB_FILE, None, "name", words))
        self.words = words


def slug_of(words: str) -> str:
    """Small letters, digits and hyphens of what was typed."""
    plain = unicodedata.normalize("NFKD", words[: 4 * MOST_LETTERS])
    plain = "".join(letter for letter in plain if not unicodedata.combining(letter))
    return re.sub(r"[^a-z0-9]+", "-", plain.casefold())[:MOST_LETTERS].strip("-")


def new_folder(root: Path, name: str) -> Path:
    """A folder of that name in the root; it is made, and was not there.

    Parameters
    ----------
    root : Path
        The folder of jobs.
    name : str
        As it was typed.

    Raises
    ------
    NoPlace
        If nothing of the name can be used, or something of that name lies there.
    OSError
        If the folder cannot be made.
    """
    if len(name) > LONGEST_TITLE:
        raise NoPlace(f"The name is longer than {LONGEST_TITLE} letters. Give a shorter one.")
    slug = slug_of(name)
    if not slug:
        raise NoPlace("A name needs a letter from a to z, or a digit. Type one word at least.")
    if why := strange_name(slug):
        raise NoPlace(f"'{slug}' {why}")
    if slug in names_in(root):
        raise NoPlace(f"There is a '{slug}' in this folder already. Give another name.")
    folder = root / slug
    try:
        folder.mkdir()
    except FileExistsError:
        raise NoPlace(f"There is a '{slug}' in this folder already. Give another name.") from None
    return folder


def file_name_of(sent: str, instead: str) -> str:
    """Name of a data file, made of the one under which it was sent.

    Parameters
    ----------
    sent : str
        As the browser gives it; it may be anything.
    instead : str
        What the file is called where nothing of it can be used.
    """
    last = re.split(r"[/\\]", sent)[-1]
    stem, dot, ending = last.rpartition(".")
    ending = f".{ending.casefold()}" if dot else ""
    slug = slug_of(stem if ending in ENDINGS else last) or slug_of(instead)
    name = f"{slug}{ending if ending in ENDINGS else '.csv'}"
    return f"file-{name}" if strange_name(name) else name


def free_name(folder: Path, name: str) -> str:
    """The name, with a number where something of it lies in the folder."""
    taken = names_in(folder)
    stem, _, ending = name.rpartition(".")
    numbered = (f"{stem}-{number}.{ending}" for number in count(2))
    return next(each for each in chain((name,), numbered) if each not in taken)


def names_in(folder: Path) -> frozenset[str]:
    """Names that are taken in a folder, in small letters: some systems know no others."""
    return frozenset(path.name.casefold() for path in folder.iterdir())
