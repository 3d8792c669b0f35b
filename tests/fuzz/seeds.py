#!/usr/bin/env python3
"""Writes what the fuzzers start from: seeds.py NAILPLATE FOLDER

FOLDER/words.dict    every key and word of the language, from the program's own schemas, and every rule's id
FOLDER/seeds/TARGET  the shipped houses, every sheet's examples, settings, sheets and punch lists

Made anew at each run, so that none of it can go stale.
"""

import json
import re
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

NAILPLATE, OUT = sys.argv[1], Path(sys.argv[2])
ROOT = Path(__file__).resolve().parents[2]


def schema(of):
    return json.loads(subprocess.run([NAILPLATE, "schema", of], check=True, capture_output=True).stdout)


def words_of(node, keys, values):
    """Keys and fixed words anywhere in a schema."""
    if isinstance(node, list):
        for part in node:
            words_of(part, keys, values)
    elif isinstance(node, dict):
        keys.update(node.get("properties", {}))
        fixed = node.get("enum", []) + [node.get("const")]
        values.update(word for word in fixed if isinstance(word, str))
        for part in node.values():
            words_of(part, keys, values)


def dictionary(sheets):
    keys, values = set(), set()
    for of in ["plan", "sheet", "settings"]:
        words_of(schema(of), keys, values)
    entries = {f"{key}: " for key in keys} | values | set(sheets)
    # Quantities and other spellings, as the examples have them.
    for house in (ROOT / "examples").glob("*.yaml"):
        entries.update(value.strip() for value in re.findall(r": ([0-9\"][^,}\]\n]*)", house.read_text()))
    # Signs that mean something to YAML, or to the fuzzers (`tests/anything/drive/parts.rs`).
    entries |= {"&a ", "*a", "<<: *a", "!!str ", "| \n  ", "- ", "? ", "--- \n", "...\n", "\r\n", "\t", "# ", "{}", "[]"}
    entries |= {"#> stock.yaml\n", "#> house.plan.yaml\n", "#> nailplate.punchlist.yaml\n", "\u0085", "\u2028", "\ufeff"}

    def escaped(word):
        return "".join(chr(b) if 32 <= b < 127 and b not in b'"\\' else f"\\x{b:02X}" for b in word.encode())

    # libFuzzer takes words of 64 bytes at most.
    short = sorted(word for word in entries if 0 < len(word.encode()) <= 64)
    (OUT / "words.dict").write_text("".join(f'"{escaped(word)}"\n' for word in short))


def seed(targets, name, text):
    for target in targets:
        path = OUT / "seeds" / target / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text)


def block(sheet, key):
    """A block of text in a sheet, without its margin."""
    found = re.search(rf"^{key}: \|\n((?:(?:  .*)?\n)+)", sheet + "\n", re.M)
    return re.sub(r"^  ", "", found[1], flags=re.M) if found else None


def chain(count):
    """Runs one behind the other, one endpoint each: as deep as a house gets."""
    ends = "".join(f"  e{n}: {{kind: speaker, active: no, impedance: 8 ohm, load: 5 W}}\n" for n in range(count))
    runs = "".join(f"  r{n}: {{from: e{n}, to: e{n + 1}, stock: s, length: 9 ft}}\n" for n in range(count - 1))
    stock = "stock:\n  s: {for: speaker, cores: 2 x 14 AWG, rating: CL3}\n"
    return f"nailplate: 1\nregion: us\n{stock}endpoints:\n{ends}runs:\n{runs}"


PLANS = ["reading", "review", "redline"]
stock = (ROOT / "examples/stock.yaml").read_text()
for house in sorted((ROOT / "examples").glob("*.plan.yaml")):
    seed(PLANS, house.name, house.read_text() + "#> stock.yaml\n" + stock)
    with TemporaryDirectory() as folder:
        (Path(folder) / "house.plan.yaml").write_text(house.read_text())
        (Path(folder) / "stock.yaml").write_text(stock)
        owed = Path(folder) / "nailplate.punchlist.yaml"
        command = [NAILPLATE, "punchlist", "--list", owed, "--dated", "2026-10-01", folder]
        subprocess.run(command, check=True, capture_output=True)
        listed = owed.read_text() if owed.exists() else "nailplate: 1\nowed: []\n"
    governed = "nailplate: 1\ncatalogue: [stock.yaml]\nhold: advice\n"
    plan = re.sub(r"^catalogue:.*\n", "", house.read_text(), flags=re.M)
    seed(["settings"], house.name, f"{governed}#> nailplate.punchlist.yaml\n{listed}#> house.plan.yaml\n{plan}#> stock.yaml\n{stock}")
seed(PLANS, "chain", chain(600))
seed(PLANS, "awkward", (ROOT / "tests/page/awkward.plan.yaml").read_text())

ids = []
for path in sorted((ROOT / "rules").glob("*/*.yaml")):
    area, name = path.parent.name, path.stem
    if area == "tables":
        continue
    sheet = path.read_text()
    for key in ["wrong", "right"]:
        example = block(sheet, key)
        if example.startswith("id: "):
            example = f"nailplate: 1\nrulebook: firm\n#> firm/line/one-subwoofer.yaml\n{example}"
        targets = ["settings"] if area == "settings" else PLANS
        seed(targets, f"{area}-{name}-{key}", example.replace("  # <== here", ""))
    if area in ("reading", "settings"):
        continue
    ids.append(f"{area}.{name}")
    limits = re.findall(r"^  ([a-z0-9-]+): *\{value: ([^,}]*)", sheet, re.M)
    changed = "".join(f"      {limit}: {{value: {value}, authority: ours}}\n" for limit, value in limits)
    changed = f"    limits:\n{changed}" if changed else ""
    own = f"nailplate: 1\nrulebook: firm\nrules:\n  {area}.{name}:\n    level: hazard\n{changed}"
    seed(["settings"], f"{area}-{name}", f"{own}#> firm/{area}/{name}.yaml\n{sheet}")
seed(["settings"], "not-adopted", "nailplate: 1\nrules: {speaker.undersized: {not-adopted: never here}}\n")
dictionary(ids)
