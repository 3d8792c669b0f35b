"""Writes a plan of so many megabytes: `large.py KIND MEGABYTES`, to standard output. Invented."""

import sys

HEAD = "nailplate: 1\nregion: us\n"
BODY = """building: one-family
stock:
  thin: {for: speaker, cores: 2 x 18 AWG, rating: CL3, diameter: 0.21 in}
  thick: {for: speaker, cores: 2 x 12 AWG, rating: CL3, diameter: 0.33 in}
pathways:
  wall: {kind: wall, fire-hours: 0}
endpoints:
  rack: {kind: rack, load: 900 W}
"""


def runs(size):
    """Two loudspeaker lines in a hundred are too thin."""
    count = size // 150
    yield HEAD + BODY
    for n in range(count):
        yield f"  e{n}: {{kind: speaker, impedance: 8 ohm, load: 60 W}}\n"
    yield "runs:\n"
    for n in range(count):
        stock = "thick" if n % 50 else "thin"
        yield f"  S{n}: {{from: rack, to: e{n}, stock: {stock}, length: 42 ft, through: [wall], beside: []}}\n"


def scalar(size):
    """One value on one line."""
    yield HEAD + "title: " + "x" * size + "\n"


def line(size):
    """Rooms on one line."""
    yield "{nailplate: 1, region: us, rooms: {"
    for n in range(size // 22):
        yield f"r{n}: {{floor: 1}}, "
    yield "}}\n"


def aliases(size):
    yield HEAD + "rooms:\n  a: &a {floor: 1}\n"
    for n in range(size // 15):
        yield f"  r{n}: *a\n"


kind, megabytes = sys.argv[1], int(sys.argv[2])
sys.stdout.writelines({"runs": runs, "scalar": scalar, "line": line, "aliases": aliases}[kind](megabytes * 1_000_000))
