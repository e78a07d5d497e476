"""Checks JSON documents against a published JSON Schema (draft 2020-12, or the one that `$schema` names).

    schema.py SCHEMA.json DOCUMENT.json [DOCUMENT.json …]

The schema itself is checked first. Then it must refuse an empty object, so that a schema that lets
everything through is no proof.
"""

import argparse
import json

import jsonschema

from say import Failures

MOST_SHOWN = 5


def main():
    arguments = argparse.ArgumentParser(description="Check JSON documents against a JSON Schema.")
    arguments.add_argument("schema")
    arguments.add_argument("documents", nargs="+")
    asked = arguments.parse_args()
    failures = Failures("JSON schema")
    validator = validator_of(read(asked.schema, failures), asked.schema, failures)
    if validator is not None:
        for path in asked.documents:
            check(validator, path, failures)
    failures.leave(f"{len(asked.documents)} documents fit {asked.schema}")


def validator_of(schema, path, failures):
    if schema is None:
        return None
    kind = jsonschema.validators.validator_for(schema, default=jsonschema.Draft202012Validator)
    try:
        kind.check_schema(schema)
    except jsonschema.SchemaError as error:
        failures.add(f"{path} is no valid schema: {error.message} at {error.json_path}")
        return None
    validator = kind(schema)
    if validator.is_valid({}):
        failures.add(f"{path} lets an empty object through, so it proves nothing")
        return None
    return validator


def check(validator, path, failures):
    document = read(path, failures)
    if document is None:
        return
    errors = sorted(validator.iter_errors(document), key=lambda error: error.json_path)
    for error in errors[:MOST_SHOWN]:
        failures.add(f"{path} at {error.json_path}: {shortened(error.message)}")
    if len(errors) > MOST_SHOWN:
        failures.add(f"{path}: and {len(errors) - MOST_SHOWN} more")


def read(path, failures):
    try:
        with open(path, encoding="utf-8") as file:
            return json.load(file)
    except (OSError, ValueError) as error:
        failures.add(f"{path} cannot be read as JSON: {error}")
        return None


def shortened(text):
    return text if len(text) <= 300 else text[:300] + "…"


if __name__ == "__main__":
    main()
