"""The JSON Schema of the job file, for editors; the file beside this module is made by it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, TypeAlias

from earthfast.job.document import Job

SCHEMA_FILE = Path(__file__).with_name("job.schema.json")

Node: TypeAlias = dict[str, Any]  # Any: JSON Schema's own shape


def schema_text() -> str:
    """The JSON Schema of the job file, as kept in the repository."""
    texts: Node = {}
    schema = _tidied(Job.model_json_schema(by_alias=True), texts)
    schema["$defs"] |= texts
    head = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": "urn:earthfast:job:1",
        "title": "Earthfast job file",
    }
    return json.dumps(head | {key: schema[key] for key in schema if key not in head}, **LAYOUT) + "\n"


LAYOUT: Node = {"indent": 1, "ensure_ascii": False}


def _tidied(node: Any, texts: Node) -> Any:  # noqa: ANN401 (any JSON)
    """Without null, which a TOML file cannot say, and with each pattern of a quantity written once."""
    if isinstance(node, list):
        return [_tidied(one, texts) for one in node]
    if not isinstance(node, dict):
        return node
    if {"type": "null"} in node.get("anyOf", ()):
        (given,) = (one for one in node["anyOf"] if one != {"type": "null"})
        node = given | {key: value for key, value in node.items() if key not in {"anyOf", "default"}}
    if "x-measures" in node:
        name = node["x-measures"]
        texts.setdefault(name, {"type": "string", "pattern": node["pattern"]})
        node = {key: value for key, value in node.items() if key not in {"type", "pattern", "x-measures"}}
        node["$ref"] = f"#/$defs/{name}"
    return {key: _tidied(value, texts) for key, value in node.items()}
