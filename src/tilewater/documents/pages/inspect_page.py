# SPDX-License-Identifier: Apache-2.0
"""What was looked at on site: each part under its title, or which tables would bring one."""

from collections.abc import Callable, Iterator, Sequence

from tilewater.documents.pages.said import Part, Said
from tilewater.documents.words import Words

NOTHING = (
    "Nothing to look at yet. Name the shots of the finished work in job.toml: "
    '[as_built] with shots = "survey/as-built.csv". docs/inspect.md has every table.'
)


def inspect_page(
    title: str,
    pages: Sequence[tuple[str, Callable[[Words], tuple[Part, ...]]]],
    words: Words,
) -> Iterator[Part]:
    """Blocks of the page in their order: for each part its title, and what gives its blocks."""
    yield Said(title, "strong").append("  on site", "quiet")
    if not pages:
        yield Said(NOTHING, "quiet")
    for name, page in pages:
        yield Said.assemble("\n", (name, "strong"))
        yield from page(words)
