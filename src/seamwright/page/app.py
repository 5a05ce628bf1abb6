"""The page's server put together.

Knows:  which routers there are, how refusals are answered, where the page's own files lie.
Leaves: who gets in (guard), each part of the work (its router), the shape of requests and refusals (asked).
"""

from __future__ import annotations

import mimetypes
from pathlib import Path

from fastapi import Depends, FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse
from fastapi.staticfiles import StaticFiles
from starlette.exceptions import HTTPException

import seamwright
from seamwright.errors import SeamwrightError, unexpected
from seamwright.page import colours, cutting, designs, printing, quilting, sketching, steps, tracing, verdicts
from seamwright.page.asked import Refused, no_answer, not_as_described, plain_numbers, status_of
from seamwright.page.faults import error_object
from seamwright.page.guard import App, guarded
from seamwright.page.place import Place

FILES = Path(__file__).parent / "files"
ROUTERS = (
    designs.router,
    sketching.router,
    tracing.router,
    verdicts.router,
    steps.router,
    colours.router,
    printing.router,
    cutting.router,
    quilting.router,
)


def make_app(place: Place) -> App:
    """The ASGI application of one start."""
    for ending, kind in ((".js", "text/javascript"), (".css", "text/css"), (".svg", "image/svg+xml")):
        mimetypes.add_type(kind, ending)  # what the system says of them may be wrong, and then nothing runs
    app = FastAPI(
        title="seamwright",
        version=seamwright.__version__,
        openapi_url="/api/openapi.json",
        docs_url=None,  # these pages would load scripts from elsewhere
        redoc_url=None,
        dependencies=[Depends(plain_numbers)],
        responses={
            400: {"model": Refused, "description": "No JSON, or numbers that are none"},
            403: {"model": Refused, "description": "The pass is missing, or another page asked"},
            404: {"model": Refused, "description": "Nothing lies there"},
            413: {"model": Refused, "description": "Larger than is taken"},
            422: {"model": Refused, "description": "What was given cannot be used: what, where and the mend"},
            500: {"model": Refused, "description": "Our own fault, or our own proof failed"},
            503: {"model": Refused, "description": "It took too long"},
        },
    )

    @app.exception_handler(SeamwrightError)
    async def refuse(request: Request, error: SeamwrightError) -> JSONResponse:
        return JSONResponse(error_object(error), status_of(error))

    @app.exception_handler(RequestValidationError)
    async def misshapen(request: Request, error: RequestValidationError) -> JSONResponse:
        return JSONResponse(error_object(not_as_described(error.errors())), 422)

    @app.exception_handler(HTTPException)
    async def not_found(request: Request, error: HTTPException) -> JSONResponse:
        return JSONResponse(error_object(no_answer(error.status_code)), error.status_code, error.headers)

    @app.exception_handler(Exception)
    async def broken(request: Request, error: Exception) -> JSONResponse:
        return JSONResponse(error_object(unexpected(error)), 500)

    for router in ROUTERS:
        app.include_router(router(place))
    app.mount("/", StaticFiles(directory=FILES, html=True))
    return guarded(app, place.password)
