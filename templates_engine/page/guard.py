"""Lets through only what this machine's own page asks: loopback, its own origin, small bodies."""

from __future__ import annotations

from starlette.datastructures import Headers
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

MOST_BODY = 1_000_000
"""Bytes of a request; a job file may be no larger."""
HEADERS = {
    "Content-Security-Policy": "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' "
    "data:; connect-src 'self'; form-action 'none'; frame-ancestors 'none'; base-uri 'none'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cache-Control": "no-store",
}


class BodyTooLarge(Exception):
    """The body grew past what is taken while it was read."""


class Guard:
    """Refuses requests with another Host or Origin, and bodies over ``MOST_BODY``."""

    def __init__(self, app: ASGIApp, port: int) -> None:
        self.app = app
        self.hosts = {f"{name}:{port}" for name in ("127.0.0.1", "localhost", "[::1]")}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        refusal = self._refusal(Headers(scope=scope), scope["method"])
        if refusal:
            await PlainTextResponse(refusal[1], refusal[0], HEADERS)(scope, receive, send)
            return
        try:
            await self.app(scope, _bounded(receive), _with_headers(send))
        except BodyTooLarge:
            await PlainTextResponse("The body is too large.", 413, HEADERS)(scope, receive, send)

    def _refusal(self, headers: Headers, method: str) -> tuple[int, str] | None:
        if headers.get("host", "").lower() not in self.hosts:
            return 403, "This page answers only to this machine."
        origin = headers.get("origin")
        if origin is not None and origin.lower() not in {f"http://{host}" for host in self.hosts}:
            return 403, "Another site may not ask this page."
        if headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
            return 403, "Another site may not ask this page."
        if method == "POST" and not headers.get("content-type", "").startswith("application/json"):
            return 415, "Write JSON."
        length = headers.get("content-length", "0")
        if not length.isdigit() or int(length) > MOST_BODY:
            return 413, "The body is too large."
        return None


def _bounded(receive: Receive) -> Receive:
    """The same, but raising BodyTooLarge once too much has come, whatever length was announced."""
    taken = 0

    async def counted() -> Message:
        nonlocal taken
        message = await receive()
        taken += len(message.get("body", b""))
        if taken > MOST_BODY:
            raise BodyTooLarge
        return message

    return counted


def _with_headers(send: Send) -> Send:
    async def headed(message: Message) -> None:
        if message["type"] == "http.response.start":
            names = {name.lower() for name, _ in message["headers"]}
            more = [
                (name.lower().encode(), value.encode())
                for name, value in HEADERS.items()
                if name.lower().encode() not in names
            ]
            message["headers"] = [*message["headers"], *more]
        await send(message)

    return headed
