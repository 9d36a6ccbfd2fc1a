"""A port of this machine's own address, and the server on it."""

from __future__ import annotations

import errno
import os
import socket
from collections.abc import Iterator
from contextlib import contextmanager

import flask
from werkzeug import serving

from .. import _core

HOST = "127.0.0.1"  # reached from this machine alone


class _Quiet(serving.WSGIRequestHandler):
    """Prints no line for each request, and says nothing of what it is made with."""

    server_version = "aeruca"
    sys_version = ""

    def log_request(self, code: int | str = "-", size: int | str = "-") -> None:
        pass


@contextmanager
def listening(port: int | None) -> Iterator[tuple[int, int]]:
    """Port and descriptor of a socket that listens; None for a free port.

    Raises Error for a port that is taken or not allowed. (The server by itself would print a page
    of advice and end the program.)
    """
    try:
        bound = socket.create_server((HOST, port or 0))
    except OSError as problem:
        reason = f"cannot be used ({os.strerror(problem.errno or 0)})"
        if problem.errno == errno.EADDRINUSE:
            reason = "is taken by another program"
        raise _core.Error(
            f"port {port}: {reason}; accepted is another --port, or none for a free one"
        ) from None
    with bound:
        yield bound.getsockname()[1], bound.fileno()


def make_server(app: flask.Flask, port: int, descriptor: int) -> serving.BaseWSGIServer:
    """Return the server of an application on a socket that listens already."""
    return serving.make_server(
        HOST, port, app, threaded=True, request_handler=_Quiet, fd=descriptor
    )
