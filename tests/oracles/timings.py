"""`edid-decode --list-vics` (Debian) on pictures: the pixel clock of every code of CTA-861, by the data rate that nailplate works out."""

import re
import subprocess
import sys

import yaml

from common import ROOT, Answer, Case, settle

ROW = re.compile(r"VIC +(\d+): +(\d+)x(\d+)(i?) +([\d.]+) Hz +(\S+) +([\d.]+) kHz +([\d.]+) MHz")


def rows():
    printed = subprocess.run(["edid-decode", "--list-vics"], capture_output=True, text=True, check=True).stdout
    found = [ROW.match(line) for line in printed.splitlines() if line.startswith("VIC")]
    if len(found) < 150 or not all(found):
        sys.exit(f"edid-decode prints its list otherwise than this reads it:\n{printed}")
    return [row.groups() for row in found]


def gigabits(megahertz):
    """Three lanes of ten bit a pixel at 8 bit 4:4:4; from 18 Gbit/s on 16 bit in 18 (HDMI 2.0 and 2.1, from memory)."""
    plain = 30 * megahertz / 1000
    return plain if plain <= 18 else 24 * 18 / 16 * megahertz / 1000


def cases():
    # Several codes share a picture. A plan states no code: the greatest clock of them is taken.
    clocks = {}
    for _, width, height, interlaced, hertz, _, _, megahertz in rows():
        # A plan states thousandths of a hertz at the finest.
        picture = f"{width}x{height}{interlaced} @ {float(hertz):.3f} Hz"
        clocks[picture] = max(clocks.get(picture, 0), float(megahertz))
    ends, answers = [], []
    for number, (picture, megahertz) in enumerate(clocks.items()):
        ends.append(f"  p{number}: {{kind: projector, picture: {picture}, depth: 8 bit, chroma: '4:4:4'}}")
        answers.append(Answer(f"figure video-rate p{number} Gbit/s", gigabits(megahertz), 1e-6))
    plan = "nailplate: 1\nregion: us\nbuilding: one-family\nendpoints:\n" + "\n".join(ends) + "\n"
    return [Case("every picture of CTA-861", plan, answers)]


def totals():
    """How many rows of our table have other totals than the list, whose frequencies give them: clock by lines a second is the
    width of a line, lines a second by frames a second is their number."""
    table = yaml.safe_load((ROOT / "rules/tables/timings.yaml").read_text())["rows"]
    lines = [line.split() for line in table.splitlines()]
    ours = {int(code): tuple(map(int, row[:3] + row[4:6])) for row in lines for code in row[7].split(",")}
    wrong = len(set(ours) ^ {int(row[0]) for row in rows()})
    for code, width, height, interlaced, hertz, _, kilohertz, megahertz in rows():
        # A frame of two fields has half a line more than each field's share says, so it is counted by the frame.
        frames = float(hertz) / (2 if interlaced else 1)
        across, down = float(megahertz) * 1000 / float(kilohertz), float(kilohertz) * 1000 / frames
        theirs = int(width), int(height), int(interlaced == "i"), round(across), round(down)
        if ours.get(int(code)) != theirs:
            print(f"code {code}: width, height, interlaced, totals | {ours.get(int(code))} | {theirs} |   DISAGREES")
            wrong += 1
    print(f"  totals of {len(ours)} codes: {wrong} deviate")
    return wrong


settle("timings", cases(), wrong=totals())
