package plan

import rego.v1

kinds := {"breaker-panel", "rack", "patch-panel", "distribution", "projector", "screen", "seat", "subwoofer", "speaker"}

wrong contains sprintf("%s: no %s", [name, key]) if {
	some name, run in input.runs
	some key in ["from", "to", "stock"]
	not run[key]
}

wrong contains sprintf("%s: length", [name]) if {
	some name, run in input.runs
	not regex.match("^[0-9]{1,3} ft$", run.length)
}

wrong contains sprintf("%s: kind", [name]) if {
	some name, endpoint in input.endpoints
	not endpoint.kind in kinds
}

wrong contains sprintf("%s: at", [name]) if {
	some name, endpoint in input.endpoints
	count(endpoint.at) != 3
}

wrong contains sprintf("%s: ports", [name]) if {
	some name, endpoint in input.endpoints
	endpoint.ports > 10000
}
