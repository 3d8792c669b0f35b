"""A graph library (PyPI `networkx`) on random plans: loads and drops of power trees, channels by their way and their length, loops
of earths by the cycles of their graph, and which listing may stand for which by who reaches whom.

The numbers are of the library's making: descendants, shortest paths, components, ranks of cycles."""

import math
import random

import networkx as nx
import yaml

from common import ROOT, Answer, Case, on, settle, yes

PLANS, STORED = 500, 25
FOOT = 0.3048
# NEC chapter 9 table 8, solid copper at 75 °C, ohm per 1000 ft.
KILOFOOT = {12: 1.93, 14: 3.07}
STOCK = """  nm-12: {for: power, cores: 2 x 12 AWG + earth}
  nm-14: {for: power, cores: 2 x 14 AWG + earth}
  mic: {for: line, balanced: yes, capacitance: 100 pF/m}
  phono: {for: line, balanced: no}
"""


class Plan:
    def __init__(self, seed):
        self.random = random.Random(seed)
        self.parts = {"stock": STOCK, "pathways": "", "circuits": "", "endpoints": "", "runs": ""}
        self.answers = []

    def add(self, section, name, text):
        self.parts[section] += f"  {name}: {{{text}}}\n"

    def run(self, name, ends, text, either_way=True):
        """A run, written from either of its ends."""
        if either_way and self.random.random() < 0.5:
            ends = ends[::-1]
        self.add("runs", name, f"from: {ends[0]}, to: {ends[1]}, {text}")

    def text(self):
        sections = "".join(f"{name}:\n{text}" for name, text in self.parts.items() if text)
        return "nailplate: 1\nregion: us\nbuilding: multi-family\n" + sections


def power(plan):
    """Circuits with a random tree each: what the breaker carries, and the drop to each node."""
    pick = plan.random
    for circuit in range(pick.randint(1, 3)):
        root, volts = f"C{circuit}", pick.choice([120, 240])
        plan.add("circuits", root, f"breaker: 20 A, volts: {volts} V")
        tree, nodes = nx.DiGraph(), [root]
        tree.add_node(root, watts=0)
        for number in range(pick.randint(2, 9)):
            node, before = f"{root}n{number}", pick.choice(nodes)
            watts, gauge, feet = pick.choice([0, 60, 150, 400]), pick.choice([12, 14]), pick.randint(3, 60)
            plan.add("endpoints", node, f"kind: appliance, load: {watts} W" if watts else "kind: outlet")
            plan.run(f"{root}p{number}", (before, node), f"stock: nm-{gauge}, length: {feet} ft", before != root)
            tree.add_node(node, watts=watts)
            tree.add_edge(before, node, ohms=2 * feet * KILOFOOT[gauge] / 1000)
            nodes.append(node)
        below = {node: sum(tree.nodes[one]["watts"] for one in nx.descendants(tree, node) | {node}) for node in tree}
        for _, node, edge in tree.edges(data=True):
            edge["lost"] = edge["ohms"] * below[node] / volts
        if below[root]:
            plan.answers.append(Answer(f"figure breaker-load {root} A", below[root] / volts, 1e-9))
        lost = nx.single_source_dijkstra_path_length(tree, root, weight="lost")
        plan.answers += [Answer(f"figure voltage-drop {node} V", lost[node], 1e-9) for node in nodes[1:]]


def channels(plan):
    """Balanced lines that branch in boxes: each way from the source to an end is a channel, each tree has one corner."""
    pick = plan.random
    graph = nx.Graph()
    for tree in range(pick.randint(1, 2)):
        source = f"A{tree}"
        plan.add("endpoints", source, "kind: source, output-impedance: 1 kohm")
        shape = nx.random_labeled_rooted_tree(pick.randint(2, 9), seed=pick.randint(0, 2**31))
        shape = nx.bfs_tree(shape, shape.graph["root"])
        first = next(iter(shape))
        # A source that feeds several lines is the end of each: one run leaves it.
        names = {node: f"{source}n{node}" for node in shape}
        for node in shape:
            leaf = shape.out_degree(node) == 0
            plan.add("endpoints", names[node], "kind: subwoofer" if leaf else "kind: box")
        edges = [(source, names[first])] + [(names[a], names[b]) for a, b in shape.edges]
        for number, ends in enumerate(edges):
            feet = pick.randint(2, 90)
            name = f"{source}l{number}"
            plan.run(name, ends, f"stock: mic, length: {feet} ft")
            graph.add_edge(*ends, metres=feet * FOOT, run=name)
    for part in nx.connected_components(graph):
        part = graph.subgraph(part)
        source = next(node for node in part if "n" not in node)
        metres = part.size(weight="metres")
        plan.answers.append(Answer(f"figure corner-frequency {on(run for *_, run in part.edges(data='run'))} Hz",
                                   1 / (2 * math.pi * 1000 * metres * 100e-12), 1e-9))
        for end in sorted(node for node in part if node != source and part.degree(node) == 1):
            way = nx.shortest_path(part, source, end)
            runs = [part.edges[pair]["run"] for pair in zip(way, way[1:])]
            plan.answers.append(Answer(f"figure route-length {on(runs)} m", nx.path_weight(part, way, "metres"), 1e-9))


def earths(plan):
    """Devices, some of them earthed, and unbalanced lines between them, which join their cases.

    How often a loop is found is the rank of the cycles where every device is earthed by a circuit of its own, or where the lines
    by themselves close none: there each loop passes two earths. Where circuits are shared and lines close loops by themselves,
    cycles of one earth are no fault, and which lines close the others is a choice: then only whether there is any counts."""
    pick = plan.random
    shape = pick.choice(["all", "forest", "shared"])
    devices = [f"D{number}" for number in range(pick.randint(2, 9))]
    lines, whole, earthed = nx.MultiGraph(), nx.MultiGraph(), {}
    for number, device in enumerate(devices):
        lines.add_node(device)
        is_earthed = shape == "all" or pick.random() < 0.6
        plan.add("endpoints", device, f"kind: amplifier, load: 50 W, earthed: {yes(is_earthed)}")
        if is_earthed:
            circuit = f"E{pick.randint(0, 1) if shape == 'shared' else number}"
            if circuit not in earthed.values():
                plan.add("circuits", circuit, "breaker: 20 A, volts: 120 V")
            earthed[device] = circuit
            plan.run(f"{device}p", (circuit, device), "stock: nm-12, length: 30 ft", False)
            whole.add_edge("panel", device)
    for number in range(pick.randint(1, 10)):
        ends = pick.sample(devices, 2)
        if shape == "forest" and nx.has_path(lines, *ends):
            continue
        lines.add_edge(*ends)
        whole.add_edge(*ends)
        plan.run(f"U{number}", ends, "stock: phono, length: 10 ft")
    if shape == "shared":
        circuits = [{earthed[one] for one in part if one in earthed} for part in nx.connected_components(lines)]
        plan.answers.append(Answer("some line.earth-loop", yes(any(len(part) > 1 for part in circuits))))
    else:
        rank = whole.number_of_edges() - whole.number_of_nodes() + nx.number_connected_components(whole)
        plan.answers.append(Answer("findings line.earth-loop", rank, 0))


# The table is ours (from memory of NEC 722.135 and its kin): what is tried is that it is followed to its ends.
TABLE = yaml.safe_load((ROOT / "rules/tables/listings.yaml").read_text())
STANDS_FOR = nx.DiGraph((demanded, one) for demanded, may in TABLE["substitutes"].items() for one in may)
STANDS_FOR.add_edges_from(pair for a, b in TABLE["same-level"] for pair in ((a, b), (b, a)))
# All signal is Class 2 but fibre, and coax that comes from outside.
FAMILY = {"speaker": "CL2", "line": "CL2", "control": "CL2", "data": "CL2", "video": "CL2", "fibre": "OFC", "coax": "CATV"}
DEMANDED = {(service, kind): name + letter for service, name in FAMILY.items()
            for kind, letter in {"plenum": "P", "riser": "R", "wall": ""}.items()}


def listings(plan):
    plan.add("endpoints", "rack", "kind: rack")
    plan.add("endpoints", "entry", "kind: entry")
    for kind in ("plenum", "riser", "wall"):
        plan.add("pathways", kind, f"kind: {kind}")
    for number, ((service, kind), demanded) in enumerate(plan.random.sample(sorted(DEMANDED.items()), 5)):
        listing = plan.random.choice(sorted(STANDS_FOR))
        plan.add("stock", f"k{number}", f"for: {service}, balanced: yes, rating: {listing}, diameter: 0.4 in")
        plan.add("runs", f"K{number}", f"from: entry, to: rack, stock: k{number}, length: 9 ft, through: [{kind}]")
        enough = listing == demanded or nx.has_path(STANDS_FOR, demanded, listing)
        plan.answers.append(Answer(f"finding fire.underrated K{number}", yes(not enough)))


def case(seed):
    plan = Plan(seed)
    for part in (power, channels, earths, listings):
        part(plan)
    return Case(f"plan of seed {seed}", plan.text(), plan.answers)


settle("graphs", [case(seed) for seed in range(PLANS)], stored=STORED, brief=True)
