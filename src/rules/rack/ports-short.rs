//! More runs than a panel has ports.

use crate::findings::{Finding, Report};
use crate::house::{House, Landed};
use crate::plan::{Count, EndpointKind as Kind, Stated};
use crate::rules::Sheet;

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    for kind in [Kind::PatchPanel, Kind::Switch, Kind::Distribution] {
        for index in house.endpoints_of(kind) {
            panel(house, sheet, index, out);
        }
    }
    // What has ports is one of the three.
    for index in house.kindless() {
        let endpoint = &house.plan.endpoints[index];
        if !endpoint.ports.is_absent()
            && let Err(lack) = endpoint.kind.want("kind", &endpoint.id)
        {
            out.gap(sheet.id, &endpoint.id, lack);
        }
    }
}

fn panel(house: &House<'_>, sheet: &Sheet, index: usize, out: &mut Report) {
    let endpoint = &house.plan.endpoints[index];
    let landed = house.landed(index);
    if landed.runs + landed.unsure == 0 {
        return;
    }
    let ports = match endpoint.ports.want("ports", &endpoint.id) {
        Ok(ports) => ports,
        Err(lack) => return out.gap(sheet.id, &endpoint.id, lack),
    };
    let count = ports.0 as usize;
    if landed.runs > count {
        out.checked();
        out.find(finding(house, sheet, index, ports, &landed));
    } else if landed.runs + landed.unsure > count
        && let Some(lack) = landed.lack
    {
        out.gap(sheet.id, &endpoint.id, lack);
    } else {
        out.checked();
    }
}

fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    index: usize,
    ports: &Stated<Count<1>>,
    landed: &Landed,
) -> Finding {
    let endpoint = &house.plan.endpoints[index];
    let (runs, has) = (landed.runs, ports.0);
    let spares = match landed.spares {
        0 => String::new(),
        1 => ", one spare included,".to_owned(),
        spares => format!(", {spares} spares included,"),
    };
    let port = if has == 1 { "port" } else { "ports" };
    let says = format!(
        "{} takes {runs} runs{spares} and has {has} {port}",
        endpoint.id
    );
    let words = format!(
        "buy {} with {runs} ports or more, or add a second one for what finds no port",
        endpoint.id
    );
    let label = format!("for {runs} runs");
    sheet
        .finding(&endpoint.id, says, ports.span, label)
        .with_put_right(words)
}
