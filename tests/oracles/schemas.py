"""A JSON Schema validator (PyPI `jsonschema`) on the printed schemas: they are schemas; the shipped plans, all sheets, and what
`review` and `figures` print conform; and of a small plan, marred in many ways, it rejects what the reader reports and nothing else."""

import re

import yaml
from jsonschema import Draft202012Validator

from common import ROOT, Answer, Case, nailplate, settle, yes


class Core(yaml.SafeLoader):
    """YAML 1.2's core schema, as the schemas ask for: `on` and `2026-11-02` are text."""


TRUTH = re.compile("^(?:true|True|TRUE|false|False|FALSE)$")
Core.yaml_implicit_resolvers = {first: [pair for pair in pairs if not pair[0].endswith((":bool", ":timestamp"))]
                                for first, pairs in yaml.SafeLoader.yaml_implicit_resolvers.items()}
Core.add_implicit_resolver("tag:yaml.org,2002:bool", TRUTH, list("tTfF"))

PLAN = """nailplate: 1
region: us
building: one-family
stage: design
rooms:
  media: {size: [22 ft, 15 ft, 9 ft], floor: 0}
stock:
  spk-12: {for: speaker, cores: 2 x 12 AWG, rating: CL3, diameter: 0.33 in}
  cat: {for: data, grade: cat6a, cores: 8 x 23 AWG, rating: CMR, diameter: 7 mm}
pathways:
  north-wall: {kind: wall, fire-hours: 0}
endpoints:
  rack: {kind: rack, room: media, load: 900 W, earthed: yes}
  left: {kind: speaker, room: media, impedance: 8 ohm, place: left}
  tv: {kind: display, room: media, picture: 3840x2160 @ 60 Hz, depth: 8 bit, chroma: "4:4:4", load: 210 W}
runs:
  S1: {from: rack, to: left, stock: spk-12, length: 42 ft, through: [north-wall]}
  D1: {from: rack, to: tv, stock: cat, length: 12.5 m, rate: 1 Gbit/s, through: [north-wall], done: {pulled: 2026-11-02, labelled: yes}}
"""
# What stands in the plan, and what is written in its place.
CHANGES = [
    ("42 ft", "42"), ("42 ft", "42 ohm"), ("42 ft", "forty feet"), ("42 ft", "-42 ft"), ("42 ft", "12.8 m"), ("42 ft", "41 1/2 ft"),
    ("42 ft", "[42 ft]"), ("length: 42", "lenght: 42"), ("length: 42 ft", "spare: maybe"), ("length: 42 ft", "spare: yes"),
    ("region: us", "region: mars"), ("region: us", "region: gb"), ("region: us\n", ""), ("nailplate: 1", "nailplate: 2"),
    ("nailplate: 1\n", ""), ("kind: wall", "kind: wal"), ("kind: wall", "kind: attic"), ("fire-hours: 0", "fire-hours: none"),
    ("2 x 12 AWG", "2 by 12"), ("2 x 12 AWG", "2 x 2.5 mm2"), ("2 x 12 AWG", "2 x 12 AWG + earth"),
    ("3840x2160 @ 60 Hz", "big"), ("60 Hz", "9e9 Hz"), ("3840x2160 @ 60 Hz", "1920x1080i @ 50 Hz"), ("8 bit", "12 bit"),
    ('"4:4:4"', '"4:1:1"'), ("8 ohm", "8 W"), ("8 ohm", "0 ohm"), ("8 ohm", "4 ohm"), ("900 W", "0 W"), ("900 W", "-900 W"),
    ("900 W", "0.9 kW"), ("2026-11-02", "yesterday"), ("labelled: yes", "labelled: 7"), ("[22 ft, 15 ft, 9 ft]", "[22 ft, 15 ft]"),
    ("[22 ft, 15 ft, 9 ft]", "22 ft"), ("floor: 0", "floor: low"), ("from: rack, to: left", "to: left"), ("stage: design", "stage: soon"),
    ("stage: design", "notes: walls are open"), ("grade: cat6a", "grade: cat5"), ("rate: 1 Gbit/s", "rate: 1 Gbit"),
    ("earthed: yes", "earthed: on"), ("earthed: yes", "earthed: true"), ("rooms:", "room:"), ("rating: CL3", "rating: [CL3, FT4]"),
]
# Numbers within a text that are out of range: its pattern says how a quantity is spelt, not how great it may be, so the schema
# takes them and only the reader reports them.
BEYOND = [("2 x 12 AWG", "0 x 12 AWG"), ("8 bit", "9 bit")]


def marred(schema):
    for old, new in [("", "")] + CHANGES + BEYOND:
        if old not in PLAN:
            raise SystemExit(f"{old!r} is not in the plan")
        text = PLAN.replace(old, new, 1) if old else PLAN
        rejects = not schema.is_valid(yaml.load(text, Core))
        answer = Answer("some plan.", yes(rejects))
        if (old, new) in BEYOND:
            answer = Answer("some plan.out-of-range", yes(not rejects), why="ranges are left to the reader")
        yield Case(f"{old.strip()!r} as {new.strip()!r}" if old else "as it is", text, [answer])


def conforms(schema, what, document):
    faults = [f"{error.json_path}: {error.message[:200]}" for error in schema.iter_errors(document)]
    print(f"{what} | {'conforms' if not faults else faults[:3]}")
    return len(faults)


def main():
    schemas = {name: nailplate("schema", name) for name in ("plan", "sheet", "review", "figures")}
    for schema in schemas.values():
        Draft202012Validator.check_schema(schema)
    schemas = {name: Draft202012Validator(schema) for name, schema in schemas.items()}
    load = lambda path: yaml.load(path.read_text(), Core)
    plans, sheets = sorted(ROOT.glob("examples/*.plan.yaml")), sorted(ROOT.glob("rules/*/*.yaml"))
    sheets = [path for path in sheets if path.parent.name != "tables"]
    wrong = sum(conforms(schemas["plan"], path.name, load(path)) for path in plans)
    wrong += sum(conforms(schemas["sheet"], f"{path.parent.name}/{path.name}", load(path)) for path in sheets)
    for verb in ("review", "figures"):
        wrong += conforms(schemas[verb], f"{verb} of {len(plans)} plans", nailplate(verb, "--as", "json", "examples"))
    if not plans or not sheets:
        raise SystemExit("no examples, or no sheets")
    settle("schemas", list(marred(schemas["plan"])), wrong=wrong)


main()
