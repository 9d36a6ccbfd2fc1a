"""Who may ask, and what an answer may do in the browser: token, host, sizes, headers."""

from __future__ import annotations

import hmac
import tempfile
from pathlib import Path
from typing import IO, cast

import flask
from werkzeug.exceptions import Forbidden, LengthRequired, RequestEntityTooLarge

MOST_BYTES = 64 << 20  # of one request: ten years of a logger at five minutes are 40 MB
_MOST_DRAINED = 4 << 30
_MOST_PARTS = 4000
_IN_MEMORY = 1 << 20

# The page: nothing from elsewhere, no script but its own, in no frame.
PAGE_POLICY = (
    "default-src 'none'; style-src 'self'; script-src 'self'; img-src data:; connect-src 'self'; "
    "frame-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
# The report in it: its own style and pictures, and no script at all.
REPORT_POLICY = (
    "default-src 'none'; style-src 'unsafe-inline'; img-src data:; form-action 'none'; "
    "base-uri 'none'; frame-ancestors 'self'"
)


class PageRequest(flask.Request):
    """A request whose uploads lie in the page's own folder from the first byte."""

    max_content_length = MOST_BYTES
    max_form_parts = _MOST_PARTS
    folder: Path

    def _get_file_stream(
        self,
        total_content_length: int | None,
        content_type: str | None,
        filename: str | None = None,
        content_length: int | None = None,
    ) -> IO[bytes]:
        kept = tempfile.SpooledTemporaryFile(  # noqa: SIM115  (closed with the request)
            _IN_MEMORY, mode="rb+", dir=str(self.folder)
        )
        return cast(IO[bytes], kept)


def check_host(host: str, port: int) -> None:
    """Refuse a name that is not this machine's own: a page elsewhere may point its name here."""
    end = "" if port == 80 else f":{port}"
    if host not in (f"127.0.0.1{end}", f"localhost{end}"):
        raise Forbidden("this page is asked for by another name than its own")


def check_token(given: str, token: str) -> None:
    """Refuse an address without the token, in a time that tells nothing of it."""
    if not hmac.compare_digest(given.encode("utf-8"), token.encode("utf-8")):
        raise Forbidden("the address lacks the key that was printed when the page was started")


def check_size(request: flask.Request) -> None:
    """Refuse what is too large, after reading it away: else the browser shows a broken line."""
    size = request.content_length
    if size is None and request.method == "POST":
        raise LengthRequired("the size of what was sent is not told")
    if size is not None and size > MOST_BYTES:
        stream, left = request.environ["wsgi.input"], min(size, _MOST_DRAINED)
        while left > 0 and (block := stream.read(min(left, 1 << 20))):
            left -= len(block)
        raise RequestEntityTooLarge(f"what was sent is larger than {MOST_BYTES >> 20} MB")


def protect(response: flask.Response) -> flask.Response:
    """Set what every answer says of itself; a policy that is set already stays."""
    response.headers.setdefault("Content-Security-Policy", PAGE_POLICY)
    for name, value in (
        ("Cache-Control", "no-store"),
        ("Cross-Origin-Opener-Policy", "same-origin"),
        ("Cross-Origin-Resource-Policy", "same-origin"),
        ("Referrer-Policy", "same-origin"),
        ("X-Content-Type-Options", "nosniff"),
    ):
        response.headers[name] = value
    return response
