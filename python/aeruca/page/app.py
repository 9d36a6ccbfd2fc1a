"""The page as a web application: what is asked for, and what is answered."""

from __future__ import annotations

import os
import re
import secrets
import threading
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from importlib import resources
from pathlib import Path
from typing import Any

import flask
import jinja2
from werkzeug.exceptions import HTTPException, NotFound

from .. import _core
from ..case import case_file_schema
from ..words import Speaking, say
from .fields import Field, grain_tests, parts_of, suggestions
from .form import Fault, Texts, blocks_of, name_of
from .guard import (
    MOST_BYTES,
    REPORT_POLICY,
    PageRequest,
    check_host,
    check_size,
    check_token,
    protect,
)
from .moved import by_part
from .work import RefusedError, Taken, Work, Works, safe_name

_OWN = {"page.css": "text/css", "page.js": "text/javascript"}
_ID = re.compile(r"[0-9a-f]{16}")


@dataclass(frozen=True)
class Settings:
    """What one run of the page stands on; `words` is the file of another language."""

    folder: Path
    token: str
    port: int
    dataset: _core.Dataset | None = None
    words: str | None = None


def make_app(settings: Settings) -> tuple[flask.Flask, Page]:
    """Return the application and what answers in it.

    Files go into `settings.folder` alone, from the first byte.
    """
    app = flask.Flask(__name__, static_folder=None, template_folder=None)
    app.request_class = type("Request", (PageRequest,), {"folder": settings.folder})
    page = Page(settings)
    app.before_request(page.check)
    app.after_request(protect)
    app.register_error_handler(HTTPException, page.refused)
    app.add_url_rule("/<token>/", view_func=page.begin)
    app.add_url_rule("/<token>/<any('page.css', 'page.js'):name>", view_func=page.own)
    app.add_url_rule("/<token>/<work_id>/", view_func=page.show)
    app.add_url_rule("/<token>/<work_id>/", view_func=page.act, methods=["POST"])
    app.add_url_rule("/<token>/<work_id>/report", view_func=page.report)
    if settings.words:
        spoken, words = app.wsgi_app, settings.words

        def in_other_words(environ: Any, start: Any) -> Iterable[bytes]:
            with Speaking(words):
                return spoken(environ, start)

        app.wsgi_app = in_other_words  # type: ignore[assignment, method-assign]
    return app, page


def fitting(field: Field, files: Mapping[str, str]) -> dict[str, str]:
    """Return the files here that a field may name: a bath log is no logger record."""
    not_of = {"bath.log": "store"}.get(field.path, "bath")
    return {name: kind for name, kind in files.items() if kind != not_of}


class Page:
    """The views: each answers for one work, which its address names."""

    def __init__(self, settings: Settings) -> None:
        self._settings = settings
        self._works = Works(settings.folder)
        # Reading, assessing and drawing take seconds, of one person: no two at once.
        self._one_at_a_time = threading.Lock()
        self._parts = parts_of(case_file_schema())
        self._suggestions = suggestions(settings.dataset)
        self._grain = grain_tests(settings.dataset)
        self._templates = jinja2.Environment(
            loader=jinja2.PackageLoader("aeruca.page", "templates"),
            autoescape=True,
            trim_blocks=True,
            lstrip_blocks=True,
            undefined=jinja2.StrictUndefined,
        )
        self._templates.globals.update(
            say=say,
            zip=zip,
            by_part=by_part,
            fitting=fitting,
            name_of=name_of,
            blocks_of=blocks_of,
            megabytes=str(MOST_BYTES >> 20),
        )

    def end(self) -> None:
        """Wait for what is at work and let nothing begin after it."""
        self._one_at_a_time.acquire()

    def check(self) -> None:
        """Refuse, before anything is read: another name, no token, too much."""
        check_host(flask.request.host, self._settings.port)
        check_token(flask.request.path.split("/")[1], self._settings.token)
        check_size(flask.request)

    def refused(self, problem: HTTPException) -> tuple[str, int]:
        """One sentence; nothing of the page to who has no token."""
        template = self._templates.get_template("refused.html.j2")
        known = problem.code != 403
        back = flask.request.path if known and flask.request.method == "POST" else ""
        base = f"/{self._settings.token}/" if known else ""
        shown = template.render(problem=problem.description, back=back, base=base)
        return shown, problem.code or 500

    def begin(self, token: str) -> flask.typing.ResponseReturnValue:
        """Every tab that begins gets a work of its own."""
        return flask.redirect(f"/{token}/{secrets.token_hex(8)}/")

    def own(self, token: str, name: str) -> flask.Response:
        """Return the page's own style and script."""
        text = (resources.files(__package__) / "templates" / name).read_text(encoding="utf-8")
        return flask.Response(text, mimetype=_OWN[name])

    def show(self, token: str, work_id: str) -> str:
        """Return the form as it stands."""
        return self._shown(self._found(work_id))

    def report(self, token: str, work_id: str) -> flask.Response:
        """Return the report that stands within the page."""
        work = self._found(work_id)
        try:
            with self._one_at_a_time:
                report = work.report()
        except RefusedError as problem:
            raise NotFound(str(problem)) from None
        answer = flask.Response(report, mimetype="text/html")
        answer.headers["Content-Security-Policy"] = REPORT_POLICY
        return answer

    def act(self, token: str, work_id: str) -> flask.typing.ResponseReturnValue:
        """Take in what was typed and dropped, and do what the button says."""
        work = self._found(work_id)
        try:
            do = flask.request.form.get("do", "assess")  # all is read before others have to wait
            with self._one_at_a_time:
                work = self._works.open(work_id)
                return self._done(work, do)
        except RefusedError as problem:
            return self._shown(work, refused=[str(problem)]), 400
        except OSError as problem:
            reason = os.strerror(problem.errno or 0)
            said = (
                f"the folder of this page cannot be used ({reason}); accepted is another --folder"
            )
            return self._shown(work, refused=[said]), 500

    def _done(self, work: Work, do: str) -> flask.typing.ResponseReturnValue:
        given = flask.request.form
        work.texts = {name: given.getlist(name) for name in given if name != "do"}
        uploads = [one for one in flask.request.files.getlist("files") if one.filename]
        taken = work.take([(str(one.filename), one.stream) for one in uploads], self._parts)
        verb, _, what = do.partition(":")
        faults: list[Fault] = []
        if verb == "add":
            self._add(work.texts, what)
        elif verb == "drop":
            self._drop(work.texts, what)
        elif verb == "remove":
            work.remove(what)
        elif not taken.refused and (verb in ("assess", "report") or taken.case):
            faults = work.assess(self._parts, self._settings.dataset, again=verb != "report")
        elif not taken.refused and verb == "case":
            text, faults = work.saved(self._parts)
            if not faults:
                return self._attached(work, text, ".toml")
        if verb == "report" and not faults and not taken.refused and work.result:
            return self._attached(work, work.report(), ".html")
        asked = verb == "assess" or bool(taken.case)
        page = self._shown(
            work,
            taken=taken,
            faults=faults,
            fresh=verb in ("add", "drop", "remove"),
            assessed=asked and not faults and not taken.refused,
        )
        return page, 400 if faults or taken.refused else 200

    def _attached(self, work: Work, text: str, ending: str) -> flask.Response:
        name = safe_name(" ".join(work.texts.get("object.name", []))[:60].strip(" .") or "object")
        answer = flask.Response(
            text, mimetype="text/html" if ending == ".html" else "application/toml"
        )
        answer.headers.set("Content-Disposition", "attachment", filename=name + ending)
        return answer

    def _found(self, work_id: str) -> Work:
        """Return the work of an id; an empty one that nobody keeps, before the tab did anything."""
        if not _ID.fullmatch(work_id):
            raise NotFound("there is no such page")
        return self._works.find(work_id) or Work(self._settings.folder / work_id)

    def _add(self, texts: Texts, path: str) -> None:
        for part in self._parts:
            if part.path == path and part.several:
                texts[name_of(part, blocks_of(part, texts), part.fields[0])] = [""]

    def _drop(self, texts: Texts, block: str) -> None:
        """Take one block out; those behind it move up."""
        path, _, number = block.rpartition(".")
        if not number.isdecimal():
            return
        moved: Texts = {}
        for name, given in texts.items():
            match = re.fullmatch(re.escape(path) + r"\.(\d+)\.(.+)", name)
            if match is None:
                moved[name] = given
            elif int(match[1]) != int(number):
                moved[f"{path}.{int(match[1]) - (int(match[1]) > int(number))}.{match[2]}"] = given
        texts.clear()
        texts.update(moved)

    def _shown(
        self,
        work: Work,
        *,
        taken: Taken | None = None,
        faults: Iterable[Fault] = (),
        refused: Iterable[str] = (),
        fresh: bool = False,
        assessed: bool = False,
    ) -> str:
        taken = taken or Taken()
        faults = list(faults)
        faulty = {fault.name for fault in faults}
        labels = self._labels(work.texts)
        verdict = work.result.assessed["verdict"].replace(" ", "_") if work.result else ""
        return self._templates.get_template("page.html.j2").render(
            base=f"/{self._settings.token}/",
            most_bytes=MOST_BYTES,
            parts=self._parts,
            suggestions=self._suggestions,
            grain=self._grain,
            texts=work.texts,
            files=work.files,
            result=work.result,
            verdict=say(f"verdict.{verdict}") if verdict else "",
            assessed=assessed,
            fresh=fresh or bool(faults or taken.case or taken.files),
            taken=taken,
            unused=set(work.files) - {name for given in work.texts.values() for name in given},
            refused=[*refused, *taken.refused],
            faults={fault.name: fault.problem for fault in faults},
            used=lambda part: any(
                any(given) or name in faulty
                for name, given in work.texts.items()
                if name.startswith(part.path + ".")
            ),
            labels=labels,
        )

    def _labels(self, texts: Texts) -> dict[str, str]:
        """Return what a fault calls an input: its part, which of several, and its label."""
        labels = {}
        for part in self._parts:
            blocks = blocks_of(part, texts)
            for block in range(blocks):
                number = f" {block + 1}" if blocks > 1 else ""
                head = f"{say(f'web.part.{part.path}')}{number}, " if part.path else ""
                for one in part.fields:
                    labels[name_of(part, block, one)] = head + say(f"web.label.{one.path}")
        return labels
