"""Serves the page on this machine's loopback until it is stopped."""

from __future__ import annotations

import socket
from collections.abc import Callable
from pathlib import Path

import uvicorn

from templates_engine.page.app import make_app

HOST = "127.0.0.1"


def free_port(wanted: int) -> int:
    """The wanted port, or any free one for 0. Raises OSError where it is taken."""
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        probe.bind((HOST, wanted))
        return int(probe.getsockname()[1])


def serve(folder: Path | None, port: int, started: Callable[[str], None]) -> None:
    """Runs the page; ``started`` is told its address once it answers."""
    app = make_app(folder, port)
    config = uvicorn.Config(app, host=HOST, port=port, log_level="error", access_log=False)

    class Server(uvicorn.Server):
        async def startup(self, sockets: list[socket.socket] | None = None) -> None:
            await super().startup(sockets)
            if self.started:
                started(f"http://{HOST}:{port}/")

    Server(config).run()
