"""A circuit simulator (Debian `ngspice`) on what copper does: loss of speaker lines, drop along a branch and around a ring, the
corner of a line, a load of constant power on a data cable, and where a current flows around a loop of earths.

The simulator is given ohms per length as printed, and warms the copper itself."""

import math
import re
import subprocess
import sys
import tempfile

from common import Answer, Case, on, settle, yes

FOOT = 0.3048
# NEC chapter 9 table 8, uncoated copper, ohm per metre at 75 °C, and the coefficient of its note.
KILOFOOT = 1000 * FOOT
STRANDED = {12: 1.98 / KILOFOOT, 14: 3.14 / KILOFOOT, 16: 4.99 / KILOFOOT, 18: 7.95 / KILOFOOT}
SOLID = {12: 1.93 / KILOFOOT, 14: 3.07 / KILOFOOT}
TABLE_8 = ".options tnom=75\n"
AT_75 = "tc1=0.00323"
# IEC 60228 class 1 and 2 in ohm per metre at 20 °C, and copper's coefficient there (IEC 60028).
METRIC = {1.5: 12.1e-3, 2.5: 7.41e-3}
AT_20 = "tc1=0.00393"


def spice(netlist, wanted, analysis="op"):
    """The values of `wanted` expressions. The simulator ends with success on a broken netlist: only what it prints counts."""
    control = "\n".join(f"print {name}" for name in wanted if analysis == "op")
    deck = f"* deck\n{netlist}\n.control\nset numdgt=12\n{analysis}\n{control}\necho DONE\n.endc\n.end\n"
    with tempfile.NamedTemporaryFile("w", suffix=".cir") as file:
        file.write(deck)
        file.flush()
        done = subprocess.run(["ngspice", "-b", file.name], capture_output=True, text=True)
    rows = dict(re.findall(r"^(\S+)\s*=\s*(\S+)", done.stdout, re.M))
    if "DONE" not in done.stdout or any(name not in rows for name in wanted):
        sys.exit(f"ngspice gave no {wanted}:\n{deck}\n{done.stdout}\n{done.stderr}")
    return [float(rows[name]) for name in wanted]


def plan(stock, endpoints, runs, circuits="{}", region="us"):
    return (f"nailplate: 1\nregion: {region}\nbuilding: one-family\nstock:\n{stock}\ncircuits: {circuits}\n"
            f"endpoints:\n{endpoints}\nruns:\n{runs}\n")


def speakers():
    ends = "  amp: {kind: amplifier}\n  one: {kind: speaker, impedance: 8 ohm}\n  two: {kind: speaker, impedance: 6 ohm}"
    lines = [("44 ft of 16 AWG", "2 x 16 AWG", "44 ft", "", 2 * 44 * FOOT * STRANDED[16], TABLE_8, AT_75),
             ("90 ft of 18 AWG", "2 x 18 AWG", "90 ft", "", 2 * 90 * FOOT * STRANDED[18], TABLE_8, AT_75),
             ("60 ft of 14 AWG, two tied", "4 x 14 AWG", "60 ft", ", tie: 2", 60 * FOOT * STRANDED[14], TABLE_8, AT_75),
             ("25 m of 2.5 mm2", "2 x 2.5 mm2", "25 m", "", 2 * 25 * METRIC[2.5], ".options tnom=20\n", AT_20)]
    for name, cores, length, tie, ohms, warm, tc in lines:
        out, amperes = spice(f"{warm}.temp 20\nV1 in 0 1\nR1 in out {ohms} {tc}\nR2 out 0 8\n", ["v(out)", "i(v1)"])
        text = plan(f"  spk: {{for: speaker, cores: {cores}}}", ends,
                    f"  S1: {{from: amp, to: one, stock: spk, length: {length}{tie}}}")
        yield Case(f"speaker line, {name}", text, [
            Answer("figure loop-resistance S1 ohm", (1 - out) / -amperes),
            Answer("figure loop-share S1 %", (1 - out) / out * 100),
            Answer("figure line-loss S1 dB", -20 * math.log10(out))])
    first, second = 2 * 40 * FOOT * STRANDED[14], 2 * 25 * FOOT * STRANDED[14]
    out, = spice(f"{TABLE_8}.temp 20\nV1 in 0 1\nR1 in a {first} {AT_75}\nRa a 0 8\nR2 a b {second} {AT_75}\nRb b 0 6\n", ["v(b)"])
    text = plan("  spk: {for: speaker, cores: 2 x 14 AWG}", ends,
                "  S1: {from: amp, to: one, stock: spk, length: 40 ft}\n  S2: {from: one, to: two, stock: spk, length: 25 ft}")
    # What hangs beyond the first speaker is taken without the copper between, which draws a little more than it does.
    yield Case("two speakers on one line", text, [Answer("figure line-loss S1,S2 dB", -20 * math.log10(out), 0.02,
               "impedance beyond a tap leaves out the cable beyond, so the loss is overstated")])


# Node, the node before it, feet, AWG, watts.
BRANCH = [("a", "C1", 30, 12, 0), ("b", "a", 12, 12, 400), ("c", "b", 25, 14, 250), ("d", "a", 40, 14, 600), ("e", "d", 18, 14, 120)]


def branch():
    stock = "  nm-12: {for: power, cores: 2 x 12 AWG + earth}\n  nm-14: {for: power, cores: 2 x 14 AWG + earth}"
    kind = lambda watts: f"appliance, load: {watts} W" if watts else "outlet"
    ends = "\n".join(f"  {n}: {{kind: {kind(w)}}}" for n, _, _, _, w in BRANCH)
    runs = "\n".join(f"  P{n}: {{from: {b}, to: {n}, stock: nm-{g}, length: {l} ft}}" for n, b, l, g, _ in BRANCH)
    text = plan(stock, ends, runs, "{C1: {breaker: 20 A, volts: 120 V}}")
    loads = {"constant current": ("I{n} {n} 0 {i}", 1e-3, ""),
             "constant power": ("B{n} {n} 0 I={w}/v({n})", 0.05, "current is taken at nominal volts: a load of constant power draws more"),
             "constant resistance": ("R{n}l {n} 0 {r} tc1=0", 0.05, "current is taken at nominal volts: a heater draws less")}
    for name, (load, within, why) in loads.items():
        deck = TABLE_8 + ".temp 75\nV1 c1 0 120\n"
        for n, before, feet, gauge, watts in BRANCH:
            deck += f"R{n} {before} {n} {2 * feet * FOOT * SOLID[gauge]} {AT_75}\n"
            if watts:
                deck += load.format(n=n, w=watts, i=watts / 120, r=120 * 120 / watts) + "\n"
        volts = spice(deck, [f"v({row[0]})" for row in BRANCH])
        yield Case(f"branch of {name}", text, [Answer(f"figure voltage-drop {row[0]} V", 120 - v, within, why)
                                               for row, v in zip(BRANCH, volts)])


def ring():
    metres, watts = [11, 9, 5, 4], [1800, 1500, 700]
    ends = "\n".join(f"  s{n}: {{kind: appliance, load: {w} W}}" for n, w in enumerate(watts))
    nodes = ["R1", "s0", "s1", "s2", "R1"]
    runs = "\n".join(f"  r{n}: {{from: {nodes[n]}, to: {nodes[n + 1]}, stock: te, length: {m} m}}" for n, m in enumerate(metres))
    deck = ".options tnom=20\n.temp 70\nV1 r1 0 230\n"
    deck += "".join(f"Rr{n} {nodes[n]} {nodes[n + 1]} {2 * m * METRIC[2.5]} {AT_20}\n" for n, m in enumerate(metres))
    deck += "".join(f"I{n} s{n} 0 {w / 230}\n" for n, w in enumerate(watts))
    volts = spice(deck, ["v(s0)", "v(s1)", "v(s2)"])
    text = plan("  te: {for: power, cores: 2 x 2.5 mm2 + earth}", ends, runs,
                "{R1: {breaker: 32 A, volts: 230 V, ring: yes}}", "gb")
    yield Case("ring of three", text, [Answer(f"figure voltage-drop s{n} V", 230 - v) for n, v in enumerate(volts)])


def corner():
    farads = 40 * FOOT * 100e-12 + 12 * 60e-12 + 7 * 60e-12
    deck = f"V1 in 0 dc 0 ac 1\nR1 in out 4.7k\nC1 out 0 {farads}\n"
    hertz, = spice(deck, ["fc"], f"ac dec 2000 1k 1meg\nmeas ac fc when vdb(out)={-10 * math.log10(2)}")
    text = plan("  a: {for: line, capacitance: 100 pF/m}\n  b: {for: line, capacitance: 60 pF/m}",
                "  pre: {kind: source, output-impedance: 4.7 kohm}\n  plate: {kind: box}\n  x: {kind: amplifier}\n  y: {kind: amplifier}",
                "  L1: {from: pre, to: plate, stock: a, length: 40 ft}\n  L2: {from: plate, to: x, stock: b, length: 12 m}\n"
                "  L3: {from: plate, to: y, stock: b, length: 7 m}")
    yield Case("corner of a line with two ends", text, [Answer("figure corner-frequency L1,L2,L3 Hz", hertz)])


def over_data_cable():
    # IEEE 802.3: type, least volts and greatest watts at the source, cores a leg.
    for kind, volts, most, tied, load, metres in [(2, 50, 30, 2, 25.5, 90), (4, 52, 90, 4, 71, 88), (1, 44, 15.4, 2, 9, 60)]:
        # ASTM B258 diameter and IACS copper at 20 °C: table 8 has no such sizes. Cords are of 24 AWG.
        ohms = lambda gauge: 0.017241e-6 / (math.pi / 4 * (0.127e-3 * 92 ** ((36 - gauge) / 39)) ** 2)
        loop = 2 * (metres * ohms(23) + 5 * ohms(24)) / tied
        source = f"V1 s 0 {volts}\nR1 s a {loop}\n.nodeset v(a)={volts}\n"
        at, = spice(source + f"B1 a 0 I={load}/v(a)\n", ["v(a)"])
        left, = spice(source + f"I1 a 0 {most / volts}\n", ["v(a)"])
        device = on(["cam", "D1"])
        yield Case(f"power over {metres} m of data cable, type {kind}", plan(
            "  cat: {for: data, grade: cat6a, cores: 8 x 23 AWG}",
            f"  sw: {{kind: switch, poe-supply: type {kind}}}\n  cam: {{kind: camera, poe: type {kind}, load: {load} W}}",
            f"  D1: {{from: sw, to: cam, stock: cat, length: {metres} m, cords: 5 m}}"),
            [Answer(f"figure poe-voltage {device} V", at), Answer(f"figure poe-power {device} W", left * most / volts)])


# A line between rack and sub as runs, and its return as a netlist with its current through `Vl`. A balanced input takes the
# difference of two cores and joins neither to the earth; a transformer joins nothing; a device without an earth passes a shield on.
LINES = {
    "unbalanced": ("L1: {from: rack, to: sub, stock: phono, length: 18 ft}", "Rl rack x 0.1\nVl x sub 0\n"),
    "balanced": ("L1: {from: rack, to: sub, stock: mic, length: 18 ft}", "Rl rack x 0.1\nVl x y 0\nRy y sub 1e12\n"),
    "isolated": ("L1: {from: rack, to: iso, stock: phono, length: 9 ft}\n  L2: {from: iso, to: sub, stock: phono, length: 9 ft}",
                 "Rl rack x 0.1\nRi x y 1e12\nVl y sub 0\n"),
    "by way of a third": ("L1: {from: rack, to: tuner, stock: phono, length: 9 ft}\n"
                          "  L2: {from: tuner, to: sub, stock: phono, length: 9 ft}", "Rl rack tuner 0.1\nVl tuner z 0\nRz z sub 0.1\n"),
}


def earths():
    """One volt between the earth of C1 and the panel: where a current flows along a line's return, there is a loop."""
    stock = "  nm: {for: power, cores: 2 x 12 AWG + earth}\n  phono: {for: line, balanced: no}\n  mic: {for: line, balanced: yes}"
    for name, (line, deck) in LINES.items():
        for circuit, earthed in [("C3", True), ("C1", True), ("C3", False)]:
            amperes, = spice("V1 c1 panel 1\nRp panel 0 0.01\nRa c1 rack 0.2\n" + deck +
                             f"Rb {'panel' if circuit == 'C3' else 'c1'} sub {0.3 if earthed else 1e12}\n", ["i(vl)"])
            ends = ("  rack: {kind: rack, load: 900 W, earthed: yes}\n"
                    f"  sub: {{kind: subwoofer, load: 600 W, earthed: {yes(earthed)}}}\n"
                    "  tuner: {kind: source, earthed: no}\n  iso: {kind: box, isolates: yes}")
            runs = ("  P1: {from: C1, to: rack, stock: nm, length: 48 ft}\n"
                    f"  P3: {{from: {circuit}, to: sub, stock: nm, length: 55 ft}}\n  {line}")
            text = plan(stock, ends, runs, "{C1: {breaker: 20 A, volts: 120 V}, C3: {breaker: 20 A, volts: 120 V}}")
            where = "on one circuit" if circuit == "C1" else "on two circuits"
            yield Case(f"earths {where}, line {name}{'' if earthed else ', one not earthed'}", text,
                       [Answer("some line.earth-loop", yes(abs(amperes) > 1e-3))])


settle("circuits", [*speakers(), *branch(), *ring(), *corner(), *over_data_cable(), *earths()])
