"""A local HTTP and a local SMTP server that keep what they are sent, on the loopback address."""

from __future__ import annotations

import json
import socketserver
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any


@contextmanager
def http_server(status: int = 200, port: int = 0) -> Iterator[tuple[int, list[dict[str, Any]]]]:
    """(its port, the JSON documents posted to it)."""
    got: list[dict[str, Any]] = []

    class Handler(BaseHTTPRequestHandler):
        def do_POST(self) -> None:
            got.append(json.loads(self.rfile.read(int(self.headers["Content-Length"]))))
            self.send_response(status)
            self.end_headers()

        def log_message(self, *_: Any) -> None:
            pass

    with _running(ThreadingHTTPServer(("127.0.0.1", port), Handler)) as server:
        yield server.server_address[1], got


@contextmanager
def smtp_server() -> Iterator[tuple[int, list[str]]]:
    """(its port, the messages sent to it): as much of RFC 5321 as a sender without login needs."""
    got: list[str] = []

    class Handler(socketserver.StreamRequestHandler):
        def handle(self) -> None:
            self.wfile.write(b"220 here\r\n")
            for line in self.rfile:
                word = line[:4].upper().strip()
                if word == b"DATA":
                    self.wfile.write(b"354 go on\r\n")
                    got.append(self._mail())
                    self.wfile.write(b"250 kept\r\n")
                elif word == b"QUIT":
                    self.wfile.write(b"221 bye\r\n")
                    return
                else:
                    self.wfile.write(b"250 fine\r\n")

        def _mail(self) -> str:
            lines = []
            for line in self.rfile:
                if line == b".\r\n":
                    break
                lines.append(line)
            return b"".join(lines).decode()

    class Server(socketserver.ThreadingTCPServer):
        daemon_threads = True
        allow_reuse_address = True

    with _running(Server(("127.0.0.1", 0), Handler)) as server:
        yield server.server_address[1], got


@contextmanager
def _running(server: Any) -> Iterator[Any]:
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield server
    finally:
        server.shutdown()
        server.server_close()
        thread.join(5)
