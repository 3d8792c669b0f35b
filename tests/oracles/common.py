"""Holds what nailplate computes against what a program that is not ours answers, and against the answers on file.

A case is a plan and what the oracle says of it. `mod.rs` reads the same files, so that `cargo test` needs no oracle; `.ci/run`
derives them anew, so that they cannot rot. What can be asked of nailplate:

    figure NAME ON[,ON…] UNIT   a figure's value, `on` in the order of its letters
    finding RULE ON             yes or no: whether the rule finds anything on it
    findings RULE               how often the rule finds something
    some PREFIX                 yes or no: whether any rule of that beginning finds something
"""

import json
import math
import os
import subprocess
import sys
import tempfile
from dataclasses import dataclass, field
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent
NAILPLATE = os.environ.get("NAILPLATE", str(ROOT / "target/debug/nailplate"))
# An oracle's own answers may move so much from one of its releases to the next, in parts of one.
ROT = 1e-5


@dataclass
class Answer:
    key: str
    value: object
    # Greatest deviation, in parts of one.
    within: float = 1e-3
    # Why it deviates by more than 0.1 %.
    why: str = ""

    def line(self):
        value = repr(self.value) if isinstance(self.value, float) else str(self.value)
        return f"{self.key} = {value} within {self.within}" + (f" # {self.why}" if self.why else "")


@dataclass
class Case:
    name: str
    plan: str
    answers: list = field(default_factory=list)

    def text(self):
        lines = "\n".join(answer.line() for answer in self.answers)
        return f"== {self.name}\n{self.plan.strip()}\n-- answers\n{lines}\n"


def on(ids):
    return ",".join(sorted(ids))


def yes(truth):
    return "yes" if truth else "no"


def nailplate(*arguments):
    """What a call prints as JSON. Findings are no failure here, a file that cannot be used is."""
    done = subprocess.run([NAILPLATE, *arguments], capture_output=True, text=True, cwd=ROOT)
    if done.returncode not in (0, 1) or not done.stdout:
        sys.exit(f"nailplate {' '.join(arguments)}: {done.returncode}\n{done.stderr}")
    return json.loads(done.stdout)


def said(cases):
    """For each case a function from key to what nailplate says, None where it says nothing."""
    with tempfile.TemporaryDirectory() as folder:
        for number, case in enumerate(cases):
            Path(folder, f"{number:05}.plan.yaml").write_text(case.plan)
        figures = nailplate("figures", "--as", "json", folder)["files"]
        reviews = nailplate("review", "--as", "json", folder)["files"]
    if not len(figures) == len(reviews) == len(cases):
        sys.exit(f"{len(cases)} plans, but {len(figures)} with figures and {len(reviews)} reviewed")
    by_path = lambda files: sorted(files, key=lambda file: file["path"])
    return [asked(*both) for both in zip(by_path(figures), by_path(reviews))]


def asked(figures, review):
    values = {f"figure {f['figure']} {on(f['on'])} {f['unit']}": f["value"] for f in figures["figures"]}
    findings = review["findings"]

    def ask(key):
        kind, *words = key.split()
        if kind == "figure":
            return values.get(key)
        if kind == "finding":
            return yes(any(f["rule"] == words[0] and words[1] in f["on"] for f in findings))
        if kind == "findings":
            return sum(f["rule"] == words[0] for f in findings)
        if kind == "some":
            return yes(any(f["rule"].startswith(words[0]) for f in findings))
        sys.exit(f"{key}: no such question")

    return ask


def deviation(found, expected):
    if isinstance(expected, str) or found is None:
        return 0.0 if found == expected else math.inf
    return 0.0 if found == expected else abs(found - expected) / max(abs(expected), 1e-12)


def shown(value):
    return f"{value:.6g}" if isinstance(value, float) else str(value)


def settle(oracle, cases, stored=None, brief=False, wrong=0):
    """Compares, prints, and ends the program. The first `stored` cases are kept on file; `brief` prints a row for each kind of
    question and every disagreement; `wrong` counts what has been found wrong before."""
    kinds = {}
    print(f"{oracle}: what | nailplate | oracle | deviation")
    for case, ask in zip(cases, said(cases)):
        for answer in case.answers:
            found = ask(answer.key)
            off = deviation(found, answer.value)
            bad = off > answer.within
            wrong += bad
            kind = " ".join(answer.key.split()[:2])
            count, greatest = kinds.get(kind, (0, 0.0))
            kinds[kind] = (count + 1, max(greatest, off))
            if bad or not brief:
                note = "  DISAGREES" if bad else f"  ({answer.why})" if answer.why else ""
                print(f"{case.name}: {answer.key} | {shown(found)} | {shown(answer.value)} | {off:.2%}{note}")
    for kind, (count, greatest) in kinds.items():
        print(f"  {kind}: {count} answers of {len(cases)} plans, greatest deviation {greatest:.1e}")
    wrong += rotten(HERE / "stored" / f"{oracle}.txt", cases[:stored])
    sys.exit(1 if wrong or not kinds else 0)


def rotten(file, cases):
    """How many answers on file are not what the oracle says today. `--write` puts today's there."""
    if "--write" in sys.argv:
        file.write_text("\n".join(case.text() for case in cases))
        return 0
    old = file.read_text().splitlines()
    new = "\n".join(case.text() for case in cases).splitlines()
    bad = [pair for pair in zip(old, new) if not same(*pair)]
    for before, now in bad:
        print(f"{file.name} has\n  {before}\nbut the oracle says\n  {now}")
    if len(old) != len(new):
        print(f"{file.name} has {len(old)} lines, but the oracle gives {len(new)}")
    return len(bad) + (len(old) != len(new))


def same(before, now):
    if before == now:
        return True
    (key, _, old), (key_now, _, new) = before.partition(" = "), now.partition(" = ")
    try:
        old, old_rest = old.split(maxsplit=1)
        new, new_rest = new.split(maxsplit=1)
        return (key, old_rest) == (key_now, new_rest) and deviation(float(old), float(new)) <= ROT
    except ValueError:
        return False
