"""Turns the tables of `schema.py` into a JSON Schema, so that an editor completes keys and shows help."""

from __future__ import annotations

from typing import Any

from pydantic.json_schema import GenerateJsonSchema
from pydantic_core import core_schema

from templates_engine.job.schema import WrittenJob, WrittenTable
from templates_engine.job.shop.schema import WrittenShop

_DIALECT = "https://json-schema.org/draft/2020-12/schema"


class _ForEditors(GenerateJsonSchema):
    """Keys may be left out, but not written without a value: no null and no defaults of null."""

    def nullable_schema(self, schema: core_schema.NullableSchema) -> dict[str, Any]:
        return self.generate_inner(schema["schema"])

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> dict[str, Any]:
        return self.generate_inner(schema["schema"])

    def field_title_should_be_set(self, schema: Any) -> bool:
        return False  # a key's name says it already

    def model_schema(self, schema: core_schema.ModelSchema) -> dict[str, Any]:
        made = super().model_schema(schema)
        made.pop("title", None)
        table: type[WrittenTable] = schema["cls"]
        if table.needed:
            made["required"] = [str(table.model_fields[name].alias) for name in table.needed]
        return made


def json_schema() -> dict[str, Any]:
    """The schema of a job file; takes numbers and truth values where an editor reads them from plain text."""
    return _schema(WrittenJob, "Job file")


def shop_json_schema() -> dict[str, Any]:
    """The schema of a shop file, made alike."""
    return _schema(WrittenShop, "Shop file")


def _schema(table: type[WrittenTable], title: str) -> dict[str, Any]:
    made = table.model_json_schema(by_alias=True, schema_generator=_ForEditors)
    return {"$schema": _DIALECT, "title": title, **made}
