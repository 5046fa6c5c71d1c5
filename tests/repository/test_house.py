"""Docstrings of the engine name parameters, units and sources; every example is true."""

from __future__ import annotations

import doctest
import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest

import eggfold
from repository.numpydoc import entries, sections, unit_in_brackets, unit_of_name

MODULES = [found.name for found in pkgutil.walk_packages(eggfold.__path__, "eggfold.")]
ENGINE = [name for name in MODULES if name.startswith("eggfold.engine.") or name == "eggfold.units"]

Function = Callable[..., Any]


def public_functions(module: str) -> Iterator[tuple[str, Function]]:
    """Return the functions that a module defines, without those for itself alone."""
    for name, value in vars(importlib.import_module(module)).items():
        function = inspect.unwrap(value) if callable(value) else value
        if inspect.isfunction(function) and function.__module__ == module and name[0] != "_":
            yield f"{module}.{name}", function


FUNCTIONS = dict(pair for module in ENGINE for pair in public_functions(module))


@pytest.fixture(params=list(FUNCTIONS))
def function(request: pytest.FixtureRequest) -> Function:
    return FUNCTIONS[request.param]


def parameters_of(function: Function) -> dict[str, str]:
    return entries(sections(inspect.getdoc(function) or "").get("Parameters", ""))


def test_there_are_functions() -> None:
    assert len(FUNCTIONS) > 10


def test_docstring_names_the_parameters(function: Function) -> None:
    assert list(parameters_of(function)) == list(inspect.signature(function).parameters)


def test_docstring_says_what_is_returned(function: Function) -> None:
    assert {"Returns", "Yields"} & sections(inspect.getdoc(function) or "").keys()


def test_unit_in_brackets_agrees_with_the_name(function: Function) -> None:
    returned = sections(inspect.getdoc(function) or "").get("Returns", "")
    for name, text in [*parameters_of(function).items(), (function.__name__, returned)]:
        unit = unit_of_name(name)
        assert not unit or unit == unit_in_brackets(text), name


def test_numbers_have_their_unit(function: Function) -> None:
    found = sections(inspect.getdoc(function) or "")
    signature = inspect.signature(function)
    texts = parameters_of(function)
    numbers = {name: p.annotation for name, p in signature.parameters.items()}
    for name, annotation in [*numbers.items(), ("Returns", signature.return_annotation)]:
        if annotation in {"float", "float | None"}:
            assert unit_in_brackets(texts.get(name) or found["Returns"]) is not None, name


def test_docstring_says_what_is_raised(function: Function) -> None:
    if "raise " in inspect.getsource(function):
        assert "Raises" in sections(inspect.getdoc(function) or "")


def test_docstring_has_an_example(function: Function) -> None:
    assert ">>> " in sections(inspect.getdoc(function) or "")["Examples"]


def test_docstring_says_where_it_comes_from(function: Function) -> None:
    """A definition, a balance or a rule of the house says that it has no source."""
    found = sections(inspect.getdoc(function) or "")
    assert "References" in found or "no source" in found["Notes"]


def test_references_are_numbered_and_cited(function: Function) -> None:
    docstring = inspect.getdoc(function) or ""
    references = sections(docstring).get("References", "")
    numbers = re.findall(r"^\.\. \[(\d)\] ", references, flags=re.MULTILINE)
    assert bool(numbers) == bool(references)
    assert set(numbers) == set(re.findall(r"\[(\d)\]_", docstring))


def test_units_are_read_from_names_and_brackets() -> None:
    assert unit_of_name("density_g_ml") == ["g", "ml"] == unit_in_brackets("[g/ml], above 0")
    assert unit_of_name("film_w_m2_k") == ["w", "m2", "k"] == unit_in_brackets("[W/(m² K)]")
    assert unit_of_name("start_c") == ["c"] == unit_in_brackets("[°C, 0 to 60]")
    assert unit_of_name("shell_percent") == ["percent"] == unit_in_brackets("[%]")
    assert unit_of_name("m") == []
    assert unit_in_brackets("a plain number") is None


@pytest.mark.parametrize("module", MODULES)
def test_examples_are_true(module: str) -> None:
    assert doctest.testmod(importlib.import_module(module)).failed == 0


def test_there_are_examples() -> None:
    assert doctest.testmod(importlib.import_module("eggfold.units")).attempted > 0
