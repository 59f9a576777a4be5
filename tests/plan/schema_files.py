#!/usr/bin/env python3
"""schema_files.py SCHEMA FILE...: every plan file is valid by the schema, and the schema refuses what it
must. Exit 77, which ctest takes for skipped, where python3-jsonschema is missing."""
import copy
import json
import sys

try:
    import jsonschema
except ImportError:
    print("skipped: python3-jsonschema is not installed")
    sys.exit(77)


def load(path):
    with open(path, encoding="utf-8") as file:
        return json.load(file)


def spoil(plan, path, value):
    """A copy of plan with value at path; without the key where value is None."""
    spoiled = copy.deepcopy(plan)
    at = spoiled
    for key in path[:-1]:
        at = at[key]
    if value is None:
        del at[path[-1]]
    else:
        at[path[-1]] = value
    return spoiled


SPOILS = [
    (["format"], "other"),
    (["version"], 2),
    (["levels"], None),
    (["spaces"], None),
    (["levels"], []),
    (["levels", 0, "height_mm"], 0),
    (["levels", 0, "id"], None),
    (["spaces", 0, "kind"], "bathroom"),
    (["spaces", 0, "outline_mm", 0], [1]),
    (["spaces", 0, "outline_mm", 0, 0], 1e7),
    (["spaces", 0, "temperature_c"], 61),
    (["seals", 0, "method"], "glue"),
    (["seals", 0, "exponent"], 0.4),
    (["penetrations", 0, "count"], -1),
    (["penetrations", 0, "size_mm"], [1, 2, 3]),
    (["fan_tests", 0, "readings", 0, "q_m3_h"], -1),
    (["visits"], {}),
    (["tags_given", "E"], "3"),
]


def main():
    schema = load(sys.argv[1])
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    wrong = 0
    for path in sys.argv[2:]:
        for error in validator.iter_errors(load(path)):
            wrong += 1
            print(f"{path}: /{'/'.join(map(str, error.path))}: {error.message[:200]}")
    everything = load(sys.argv[2])
    for path, value in SPOILS:
        if validator.is_valid(spoil(everything, path, value)):
            wrong += 1
            print(f"the schema takes {value!r} at /{'/'.join(map(str, path))}")
    print(f"{len(sys.argv) - 2} files, {len(SPOILS)} spoiled ones, {wrong} wrong")
    return wrong > 0 or len(sys.argv) < 4


sys.exit(main())
