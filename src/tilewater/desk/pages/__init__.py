# SPDX-License-Identifier: Apache-2.0
"""Pages of the desk: each module offers a router; each page shows one record and has its twin."""

from fastapi import APIRouter

from tilewater.desk.pages import (
    ask,
    days,
    draw,
    files,
    home,
    keep,
    new,
    number,
    papers,
    plan,
    search,
    section,
)

ROUTERS: tuple[APIRouter, ...] = (
    new.router,
    files.router,
    home.router,
    section.router,
    ask.router,
    keep.router,
    number.router,
    search.router,
    days.router,
    plan.router,
    papers.router,
    draw.router,
)
