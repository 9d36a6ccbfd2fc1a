"""The language of results: one of `languages()`, or a file with every sentence of English.

Findings, reasons, warnings, headings and the words of plots and of the report are text, worded when
a result is worked out or shown; numbers and dates in it follow the language. Names (of species,
solids, verdicts), units, text of the data set and of the case, faults of files and messages of
errors stay as they are, and so do all figures in JSON and CSV.
"""

from __future__ import annotations

import os
from types import TracebackType

from . import _core, checks
from ._core import english_words, languages

__all__ = ["Speaking", "english_words", "languages", "say"]


class Speaking:
    """``with Speaking("german"):`` words what is done within, on this thread, in that language.

    In place of one of `languages()` it takes a file, ``Speaking("words.toml")``. Raises Error for a
    name that is neither, FileError for a file that cannot be read, and Error naming the sentence
    for one that is missing, that English does not have, or whose slots are not those of English.
    """

    def __init__(self, language: str | os.PathLike[str]) -> None:
        self._scope = _core.WordsScope(checks.path("language", language))

    def __enter__(self) -> Speaking:
        self._scope.begin()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._scope.end()


def say(key: str, **slots: str) -> str:
    """Return the sentence of a key with its slots filled, in the language in use."""
    return _core.say(
        checks.text("key", key), {name: checks.text(name, text) for name, text in slots.items()}
    )
