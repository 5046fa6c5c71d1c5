"""JSON Schema 2020-12 of each kind of file, for editors: from the models and their docstrings."""

from __future__ import annotations

import ast
import importlib
import inspect
import itertools
import textwrap
from typing import Any

from pydantic import BaseModel
from pydantic.json_schema import GenerateJsonSchema

DIALECT = "https://json-schema.org/draft/2020-12/schema"

MODELS = {
    "recipe": ("recipe", "Recipe"),
    "additives": ("additives", "Register"),
    "ingredients": ("additives", "Ingredients"),
    "bench": ("bench", "BenchFile"),
    "shelf": ("lots", "ShelfFile"),
    "notebook": ("notebook", "NotebookFile"),
    "rolling": ("plan", "RollingPlan"),
    "campaign": ("plan", "Campaign"),
}
"""Where the model of each kind stands."""

KINDS = tuple(MODELS)

Schema = dict[str, Any]


def build_schema(kind: str) -> Schema:
    """Return the schema of a kind of file."""
    module, name = MODELS[kind]
    model: type[BaseModel] = getattr(importlib.import_module(f"eggfold.load.{module}"), name)
    body = model.model_json_schema(schema_generator=_Described)
    head = {"$schema": DIALECT, "title": f"eggfold {kind}"}
    tidied = _tidied(body)
    return {**head, **tidied, "title": head["title"]}


class _Described(GenerateJsonSchema):
    """Describes each key by the docstring below its field."""

    def model_schema(self, schema: Any) -> Schema:
        """Return a model's schema with its fields' docstrings."""
        found = super().model_schema(schema)
        docs = attribute_docs(schema["cls"])
        for name, field in found.get("properties", {}).items():
            if name in docs:
                field["description"] = docs[name]
        return found


def attribute_docs(model: type[BaseModel]) -> dict[str, str]:
    """Return the docstring below each field of a model, its parents' too.

    They are read from the source when asked for, so that reading a file does not pay for it.
    """
    docs: dict[str, str] = {}
    for cls in reversed(model.__mro__):
        if issubclass(cls, BaseModel) and cls is not BaseModel:
            docs |= _own_docs(cls)
    return docs


def _own_docs(cls: type[BaseModel]) -> dict[str, str]:
    tree = ast.parse(textwrap.dedent(inspect.getsource(cls)))
    body = tree.body[0].body if isinstance(tree.body[0], ast.ClassDef) else []
    docs = {}
    for field, text in itertools.pairwise(body):
        if (
            isinstance(field, ast.AnnAssign)
            and isinstance(field.target, ast.Name)
            and isinstance(text, ast.Expr)
            and isinstance(text.value, ast.Constant)
            and isinstance(text.value.value, str)
        ):
            docs[field.target.id] = inspect.cleandoc(text.value.value)
    return docs


def _tidied(schema: Any) -> Any:
    """Return a schema without titles and without the null of keys that may be left out."""
    if isinstance(schema, list):
        return [_tidied(part) for part in schema]
    if not isinstance(schema, dict):
        return schema
    kept = {
        key: {name: _tidied(part) for name, part in value.items()}
        if key in {"properties", "$defs"}
        else _tidied(value)
        for key, value in schema.items()
        if not (key == "title" and isinstance(value, str))
        and not (key == "default" and value is None)
    }
    choices = kept.get("anyOf")
    if choices is not None and "default" in schema and schema["default"] is None:
        real = [choice for choice in choices if choice != {"type": "null"}]
        if len(real) == 1:
            del kept["anyOf"]
            return {**real[0], **kept}
        kept["anyOf"] = real
    return kept
