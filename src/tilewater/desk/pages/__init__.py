# SPDX-License-Identifier: Apache-2.0
"""Pages of the desk: each module offers a router; each page shows one record and has its twin."""

from fastapi import APIRouter

from tilewater.desk.pages import ask, days, files, home, new, search

ROUTERS: tuple[APIRouter, ...] = (
    new.router,
    files.router,
    home.router,
    ask.router,
    search.router,
    days.router,
)
