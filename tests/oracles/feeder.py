"""A power-flow library (PyPI `power-grid-model`) on one radial feeder: the drop to each of its nodes.

It reckons three phases. A loop of two conductors is one phase of them: √3 times the voltage, three times the power, and the
resistance out and back as that of the line."""

from power_grid_model import LoadGenType, PowerGridModel, initialize_array

from common import Answer, Case, settle

VOLTS = 230.0
# IEC 60228 class 1 and 2, ohm per metre at 20 °C, moved to the 70 °C of a loaded cable by copper's 0.00393 (IEC 60028).
METRIC = {1.5: 12.1e-3, 2.5: 7.41e-3, 4.0: 4.61e-3, 6.0: 3.08e-3}
WARM = 1 + 0.00393 * 50
# Node, the node before it, metres, mm2, watts.
FEEDER = [("a", "C1", 14, 6.0, 0), ("b", "a", 8, 4.0, 900), ("c", "b", 11, 2.5, 650), ("d", "c", 6, 1.5, 60),
          ("e", "a", 17, 2.5, 1200), ("f", "e", 5, 1.5, 150), ("g", "e", 9, 2.5, 400)]


def drops(kind):
    """Volts lost on the way to each node."""
    index = {"C1": 0} | {row[0]: number + 1 for number, row in enumerate(FEEDER)}
    node = initialize_array("input", "node", len(index))
    node["id"], node["u_rated"] = list(index.values()), VOLTS * 3 ** 0.5
    line = initialize_array("input", "line", len(FEEDER))
    line["id"] = range(100, 100 + len(FEEDER))
    line["from_node"], line["to_node"] = [index[row[1]] for row in FEEDER], [index[row[0]] for row in FEEDER]
    line["r1"] = [2 * row[2] * METRIC[row[3]] * WARM for row in FEEDER]
    line["from_status"] = line["to_status"] = 1
    for nothing in ("x1", "c1", "tan1"):
        line[nothing] = 0
    loaded = [row for row in FEEDER if row[4]]
    load = initialize_array("input", "sym_load", len(loaded))
    load["id"], load["node"] = range(200, 200 + len(loaded)), [index[row[0]] for row in loaded]
    load["status"], load["type"], load["q_specified"] = 1, kind, 0
    load["p_specified"] = [3 * row[4] for row in loaded]
    source = initialize_array("input", "source", 1)
    # A breaker that gives its voltage whatever is drawn.
    source["id"], source["node"], source["status"], source["u_ref"], source["sk"] = 300, 0, 1, 1.0, 1e15
    grid = PowerGridModel({"node": node, "line": line, "sym_load": load, "source": source})
    answer = grid.calculate_power_flow(symmetric=True, error_tolerance=1e-10)
    return {name: VOLTS * (1 - answer["node"]["u_pu"][at]) for name, at in index.items() if name != "C1"}


def plan():
    stock = "".join(f"  te-{size}: {{for: power, cores: 2 x {size} mm2 + earth}}\n" for size in METRIC)
    kind = lambda watts: f"appliance, load: {watts} W" if watts else "outlet"
    ends = "".join(f"  {row[0]}: {{kind: {kind(row[4])}}}\n" for row in FEEDER)
    runs = "".join(f"  P{n}: {{from: {b}, to: {n}, stock: te-{s}, length: {m} m}}\n" for n, b, m, s, _ in FEEDER)
    return (f"nailplate: 1\nregion: eu\nbuilding: one-family\nstock:\n{stock}circuits:\n"
            f"  C1: {{breaker: 20 A, volts: 230 V}}\nendpoints:\n{ends}runs:\n{runs}")


def cases():
    for name, kind, within, why in [
            ("constant current", LoadGenType.const_current, 1e-3, ""),
            ("constant power", LoadGenType.const_power, 0.05, "current is taken at nominal volts: a load of constant power draws more"),
            ("constant resistance", LoadGenType.const_impedance, 0.05, "current is taken at nominal volts: a heater draws less")]:
        yield Case(f"feeder of {name}", plan(), [Answer(f"figure voltage-drop {node} V", float(volts), within, why)
                                                 for node, volts in drops(kind).items()])


settle("feeder", list(cases()))
