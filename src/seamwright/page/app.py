"""The page's server put together.

Knows:  which routers there are, how refusals are answered, where the page's own files lie.
Leaves: who gets in (guard), each part of the work (its router).
"""

from __future__ import annotations

from pathlib import Path

from fastapi import FastAPI, Request
from fastapi.responses import JSONResponse
from fastapi.staticfiles import StaticFiles

import seamwright
from seamwright.errors import SeamwrightError, unexpected
from seamwright.page import designs, sketching, verdicts
from seamwright.page.asked import error_object, status_of
from seamwright.page.guard import App, guarded
from seamwright.page.place import Place

FILES = Path(__file__).parent / "files"
ROUTERS = (designs.router, sketching.router, verdicts.router)


def make_app(place: Place) -> App:
    """The ASGI application of one start."""
    app = FastAPI(
        title="seamwright",
        version=seamwright.__version__,
        openapi_url="/api/openapi.json",
        docs_url=None,  # these pages would load scripts from elsewhere
        redoc_url=None,
    )

    @app.exception_handler(SeamwrightError)
    async def refuse(request: Request, error: SeamwrightError) -> JSONResponse:
        return JSONResponse(error_object(error), status_of(error))

    @app.exception_handler(Exception)
    async def broken(request: Request, error: Exception) -> JSONResponse:
        return JSONResponse(error_object(unexpected(error)), 500)

    for router in ROUTERS:
        app.include_router(router(place))
    app.mount("/", StaticFiles(directory=FILES, html=True))
    return guarded(app, place.password)
