"""PyYAML's C loader and jsonschema-rs, as a few lines of a team's own: `loaded.py SCHEMA PLAN`."""

import json
import sys

import jsonschema_rs
import yaml

with open(sys.argv[1], encoding="utf-8") as schema, open(sys.argv[2], encoding="utf-8") as plan:
    validator = jsonschema_rs.validator_for(json.load(schema))
    errors = [*validator.iter_errors(yaml.load(plan, Loader=yaml.CSafeLoader))]
for error in errors:
    print("/".join(map(str, error.instance_path)), error.message[:200])
sys.exit(1 if errors else 0)
