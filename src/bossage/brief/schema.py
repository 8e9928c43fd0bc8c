"""The JSON Schema of a brief, from the same tables that read it."""

from __future__ import annotations

from typing import Any

_DIALECT = "https://json-schema.org/draft/2020-12/schema"


def brief_schema() -> dict[str, Any]:
    """JSON Schema 2020-12 of the TOML brief: every key with its meaning, what it may hold, and what stands in for it.

    It checks form; what depends on several keys together (sums of quotas, names) only `read_brief` can tell.
    """
    from pydantic.json_schema import models_json_schema

    from bossage.brief.sections import BriefFile

    _, whole = models_json_schema([(BriefFile, "validation")], ref_template="#/$defs/{model}")
    definitions: dict[str, Any] = whole["$defs"]
    top = definitions.pop("BriefFile")
    for model, table in ((BriefFile, top), *((model, definitions[model.__name__]) for model in _tables())):
        for name, info in model.model_fields.items():
            table["properties"][name] = _tidy(table["properties"][name], info)
        table.pop("title", None)
    top["description"] = "A brief for bossage: the wall, what to hide, the blocks, their colours and how they are made."
    return {"$schema": _DIALECT, "title": "bossage brief", **top, "$defs": definitions}


def _tables() -> list[Any]:
    from bossage.brief.sections import REPEATED, SINGLE
    from bossage.brief.tables_face import CardTable, TinterTable
    from bossage.brief.tables_site import DoorTable

    return [*SINGLE.values(), *REPEATED.values(), CardTable, TinterTable, DoorTable]


def _tidy(schema: dict[str, Any], info: Any) -> dict[str, Any]:
    """TOML has no null; and a default is told as a maker would write it, with its reason."""
    from bossage.brief.tables import kind_of, reason_of

    kind, reason = kind_of(info), reason_of(info)
    options = [option for option in schema.get("anyOf", []) if option != {"type": "null"}]
    if options and len(options) < len(schema["anyOf"]):
        rest = {key: value for key, value in schema.items() if key != "anyOf"}
        schema = {**rest, **options[0]} if len(options) == 1 else {**rest, "anyOf": options}
    for key in ("title", "default", "because"):
        schema.pop(key, None)
    schema["description"] = info.description
    if kind is not None and reason:
        schema["description"] += f" Left out: {kind.show(info.default, 'mm')}, because {reason}."
    return schema
