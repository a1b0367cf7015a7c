# SPDX-License-Identifier: Apache-2.0
"""Pages of the desk: each module offers a router; each page shows one record and has its twin.

Those that open a job are loaded with the desk. The others are named here only: they are loaded when
one of them is asked for, so that nobody waits at the start for pages that nobody looks at yet.
"""

from importlib import import_module

from fastapi import APIRouter

from tilewater.desk.pages import home, section

OPENING: tuple[APIRouter, ...] = (home.router, section.router)
"""Pages that open a job."""
OTHERS = (
    "new",
    "files",
    "ask",
    "keep",
    "number",
    "search",
    "days",
    "plan",
    "papers",
    "draw",
    "bid",
    "inspect",
    "site",
    "measured",
    "renew",
    "trouble",
    "run_it",
)
"""Modules of the other pages."""


def other_routers() -> tuple[APIRouter, ...]:
    """The pages that were left for later, loaded now."""
    modules = (import_module(f"{__name__}.{name}") for name in OTHERS)
    return tuple(module.router for module in modules)
