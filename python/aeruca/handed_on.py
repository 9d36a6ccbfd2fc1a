"""Keyword arguments that a function hands on: help and completion show them as its own."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterable
from typing import Any, TypeVar

Function = TypeVar("Function", bound=Callable[..., Any])


def showing(keywords: Iterable[inspect.Parameter]) -> Callable[[Function], Function]:
    """Let a function that takes ``**options`` show these in their place."""
    shown = list(keywords)

    def show(function: Function) -> Function:
        plain = inspect.signature(function)
        own = [one for one in plain.parameters.values() if one.kind is not one.VAR_KEYWORD]
        signature = plain.replace(parameters=[*own, *shown])
        function.__signature__ = signature  # type: ignore[attr-defined]
        return function

    return show


def keywords_of(model: type, *, but: Iterable[str] = ()) -> list[inspect.Parameter]:
    """Return the keyword arguments of a class with their defaults, but those named."""
    decided = set(but)
    return [
        one
        for one in inspect.signature(model).parameters.values()
        if one.kind is one.KEYWORD_ONLY and one.name not in decided
    ]
