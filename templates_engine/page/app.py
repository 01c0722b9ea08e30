"""Answers the page's requests: each a job's text in, fragments of the page out.

Keeps nothing between them.
"""

from __future__ import annotations

import base64
import json
from collections.abc import AsyncIterator, Awaitable, Callable
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from templates_engine.guided_start.samples import sample_text, samples
from templates_engine.page.answer import PageRequest, answer, remedies, template_pdf, whole_page
from templates_engine.page.folder import Folder, FolderProblem
from templates_engine.page.guard import Guard
from templates_engine.page.printers import forget_printer, keep_printer, known_printers, measuring_pdf
from templates_engine.page.taped_readings import MOST_READINGS, sheets
from templates_engine.page.worker import DRAW_WITHIN_S, StoppedWorker, Workers
from templates_engine.values import as_plain

Answered = Callable[[dict[str, Any]], Awaitable[dict[str, Any]]]


class BadRequest(Exception):
    """A request that this page never makes."""


class PageApp:
    """The page's answers; ``folder`` is None where files come and go through the browser alone."""

    def __init__(self, folder: Folder | None, workers: Workers) -> None:
        self.folder, self.workers = folder, workers

    async def show(self, request: Request) -> Response:
        """The page itself."""
        names = self.folder.names() if self.folder else ()
        place = self.folder.place.name if self.folder else ""
        return HTMLResponse(whole_page(folder=place, names=names, samples=samples()))

    async def draw(self, sent: dict[str, Any]) -> dict[str, Any]:
        return as_plain(await self.workers.run(answer, self._asked(sent)))

    async def cure(self, sent: dict[str, Any]) -> dict[str, Any]:
        return await self.workers.run(remedies, self._asked(sent))

    async def pdf(self, sent: dict[str, Any]) -> dict[str, Any]:
        draft = sent.get("draft") is True
        made = await self.workers.run(template_pdf, self._asked(sent), draft, within_s=DRAW_WITHIN_S)
        return _as_json(made)

    async def sheets(self, sent: dict[str, Any]) -> dict[str, Any]:
        return await self.workers.run(sheets, self._asked(sent), _readings(sent))

    async def printers(self, sent: dict[str, Any]) -> dict[str, Any]:
        return await self.workers.run(known_printers)

    async def printer_sheet(self, sent: dict[str, Any]) -> dict[str, Any]:
        paper, margins = _text(sent, "paper"), _text(sent, "margins", "")
        return _as_json(await self.workers.run(measuring_pdf, paper, margins, within_s=DRAW_WITHIN_S))

    async def keep_printer(self, sent: dict[str, Any]) -> dict[str, Any]:
        keys = ("name", "across", "down", "paper", "first", "second", "margins")
        typed = {key: _text(sent, key, "" if key == "margins" else None) for key in keys}
        return await self.workers.run(keep_printer, typed, sent.get("anew") is True)

    async def forget_printer(self, sent: dict[str, Any]) -> dict[str, Any]:
        return await self.workers.run(forget_printer, _text(sent, "name"))

    async def open(self, sent: dict[str, Any]) -> dict[str, Any]:
        if self.folder is None:
            raise FolderProblem("The page was started without a folder.")
        return as_plain(self.folder.open(_text(sent, "name")))

    async def save(self, sent: dict[str, Any]) -> dict[str, Any]:
        if self.folder is None:
            raise FolderProblem("The page was started without a folder.")
        name = _text(sent, "name")
        return {"name": name, "version": self.folder.save(name, _text(sent, "text"), _text(sent, "version"))}

    async def jobs(self, sent: dict[str, Any]) -> dict[str, Any]:
        return {"names": self.folder.names() if self.folder else ()}

    async def sample(self, sent: dict[str, Any]) -> dict[str, Any]:
        text = sample_text(_text(sent, "name"))
        if text is None:
            raise BadRequest("There is no such sample.")
        return {"text": text}

    def _asked(self, sent: dict[str, Any]) -> PageRequest:
        change = sent.get("change")
        if change is not None and not isinstance(change, dict):
            raise BadRequest("A change is a set of keys.")
        name = _text(sent, "name", "")
        if name != Path(name).name or "\0" in name:
            raise BadRequest("A name is no path.")
        folder = str(self.folder.place) if self.folder else ""
        return PageRequest(_text(sent, "text"), change, _text(sent, "face", ""), name[:100], folder)


def _as_json(made: dict[str, Any]) -> dict[str, Any]:
    """Files as a browser takes them; what is no file stays."""
    if "files" not in made:
        return made
    return {
        "files": [
            {"name": name, "pdf": base64.b64encode(data).decode(), "pages": pages}
            for name, data, pages in made["files"]
        ]
    }


def _readings(sent: dict[str, Any]) -> tuple[tuple[str, str], ...]:
    given = sent.get("readings", {})
    if not isinstance(given, dict) or len(given) > MOST_READINGS:
        raise BadRequest(f"Readings are at most {MOST_READINGS} distances and what was read.")
    return tuple((name, _text(given, name)) for name in given)


def _text(sent: dict[str, Any], key: str, default: str | None = None) -> str:
    value = sent.get(key, default)
    if not isinstance(value, str):
        raise BadRequest(f"{key} is a text.")
    return value


def _endpoint(does: Answered) -> Callable[[Request], Awaitable[Response]]:
    """A request's JSON to the answer's, and every failure to words."""

    async def respond(request: Request) -> Response:
        try:
            sent = json.loads(await request.body())
            if not isinstance(sent, dict):
                raise BadRequest("Write a set of keys.")
            return JSONResponse(await does(sent))
        except (BadRequest, ValueError, RecursionError) as error:
            return JSONResponse({"refused": str(error)}, 400)
        except FolderProblem as error:
            return JSONResponse({"refused": str(error)}, 409)
        except StoppedWorker as error:
            return JSONResponse({"refused": str(error)}, 503)

    return respond


def make_app(folder: Path | None, port: int) -> Starlette:
    """The page's application for one port of this machine."""
    workers = Workers()
    page = PageApp(Folder(folder) if folder else None, workers)

    @asynccontextmanager
    async def lifespan(app: Starlette) -> AsyncIterator[None]:
        yield
        workers.stop()

    posts = {
        "/draw": page.draw,
        "/remedies": page.cure,
        "/sheets": page.sheets,
        "/pdf": page.pdf,
        "/printers": page.printers,
        "/printer-sheet": page.printer_sheet,
        "/keep-printer": page.keep_printer,
        "/forget-printer": page.forget_printer,
        "/open": page.open,
        "/save": page.save,
        "/jobs": page.jobs,
        "/sample": page.sample,
    }
    return Starlette(
        routes=[
            Route("/", page.show),
            *(Route(place, _endpoint(does), methods=["POST"]) for place, does in posts.items()),
            Mount("/assets", StaticFiles(directory=Path(__file__).parent / "assets")),
        ],
        middleware=[Middleware(Guard, port=port)],
        lifespan=lifespan,
    )
