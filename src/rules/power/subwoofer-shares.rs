//! A subwoofer on one circuit with lights or other consumers.

use crate::figures::Figure;
use crate::figures::dip::LampDip;
use crate::findings::{Finding, Lack, Level, Report};
use crate::house::{House, Reached, is_active_subwoofer, is_consumer};
use crate::plan::{EndpointKind as Kind, Entry};
use crate::rules::{Sheet, shown};
use crate::units::figure3;

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    for (index, circuit) in house.plan.circuits.iter().enumerate() {
        let tree = house.tree(index);
        let is_subwoofer = |at: &usize| {
            house
                .endpoint(tree[*at].node)
                .is_some_and(|end| is_active_subwoofer(end))
        };
        let subwoofers: Vec<usize> = (0..tree.len()).filter(is_subwoofer).collect();
        let Some(&first) = subwoofers.first() else {
            continue;
        };
        let (mut lights, mut others, mut lack) = (Vec::new(), Vec::new(), None);
        for (at, reached) in tree.iter().enumerate() {
            let Some(endpoint) = reached.node.endpoint() else {
                continue;
            };
            match part(house, endpoint) {
                Part::Light => lights.push(at),
                Part::Other => others.push(at),
                Part::Audio => {}
                Part::Unknown(missing) => lack = lack.or(Some(missing)),
            }
        }
        let found = !lights.is_empty() || !others.is_empty();
        if let (false, Some(lack)) = (found, lack) {
            out.gap(sheet.id, &circuit.id, lack);
            continue;
        }
        out.checked();
        if !lights.is_empty() {
            let greatest = greatest_dip(house, index, &tree, &subwoofers, &lights);
            let worst = greatest.as_ref().map_or(first, |(at, _)| *at);
            let mut finding = shares(house, sheet, index, &tree, worst, &lights, "the light");
            if let Some((_, dip)) = greatest {
                finding.says +=
                    &format!("; on a bass peak the light dips {} %", figure3(dip.value()));
                finding.figure = Some(shown(&dip));
            }
            out.find(finding);
        }
        if !others.is_empty() {
            let mut finding = shares(house, sheet, index, &tree, first, &others, "");
            finding.level = Level::Advice;
            out.find(finding);
        }
    }
}

/// What a node of the tree is to a subwoofer.
enum Part {
    Light,
    Other,
    /// Audio, the rack and what stands in it, and what draws nothing.
    Audio,
    Unknown(Lack),
}

fn part(house: &House<'_>, index: usize) -> Part {
    let endpoint = &house.plan.endpoints[index];
    let in_rack = || {
        house
            .hosts(index)
            .any(|host| house.plan.endpoints[host].kind.value() == Some(&Kind::Rack))
    };
    match endpoint.kind.value() {
        Some(Kind::Light) => Part::Light,
        Some(
            Kind::Rack
            | Kind::Amplifier
            | Kind::Receiver
            | Kind::Source
            | Kind::Speaker
            | Kind::Subwoofer
            | Kind::PowerConditioner,
        ) => Part::Audio,
        None => match endpoint.kind.want("kind", &endpoint.id) {
            Err(lack) if !in_rack() => Part::Unknown(lack),
            _ => Part::Audio,
        },
        Some(_) if !is_consumer(endpoint) || in_rack() => Part::Audio,
        Some(_) => Part::Other,
    }
}

/// More pairs of subwoofer and light than this are not reckoned: no house has them, and a figure
/// of some of them would be a wrong one.
const MOST_PAIRS: usize = 4_000;

/// The greatest dip of any light by any subwoofer whose shared way is known, and the subwoofer's
/// place in the tree.
fn greatest_dip(
    house: &House<'_>,
    circuit: usize,
    tree: &[Reached],
    subwoofers: &[usize],
    lights: &[usize],
) -> Option<(usize, LampDip)> {
    if subwoofers.len().saturating_mul(lights.len()) > MOST_PAIRS {
        return None;
    }
    // A peak that the plan leaves out is no gap: the finding stands without the figure.
    let dips = subwoofers.iter().flat_map(|subwoofer| {
        lights.iter().filter_map(|light| {
            let dip = house.lamp_dip(circuit, tree, *subwoofer, *light).ok()?;
            Some((*subwoofer, dip))
        })
    });
    dips.max_by(|(_, a), (_, b)| a.value().total_cmp(&b.value()))
}

fn shares(
    house: &House<'_>,
    sheet: &Sheet,
    circuit: usize,
    tree: &[Reached],
    subwoofer: usize,
    with: &[usize],
    what: &str,
) -> Finding {
    let circuit: &Entry<_> = &house.plan.circuits[circuit];
    let id = |at: usize| house.id(tree[at].node);
    let first = with[0];
    let noun = if what.is_empty() {
        String::new()
    } else {
        format!("{what} ")
    };
    let more = if with.len() > 1 {
        format!(" and {} more", with.len() - 1)
    } else {
        String::new()
    };
    let says = format!(
        "{} feeds the subwoofer {} and {noun}{}{more}",
        circuit.id,
        id(subwoofer),
        id(first)
    );
    let mut finding = sheet
        .finding(&circuit.id, says, circuit.span, "feeds both")
        .with_on(id(subwoofer));
    for at in with.iter().take(8) {
        finding = finding.with_on(id(*at));
    }
    finding
        .with_mark(house.span(tree[subwoofer].node), "the subwoofer")
        .with_mark(house.span(tree[first].node), "shares its circuit")
        .with_put_right(put_right(house, tree, subwoofer, with))
}

/// The rack and other audio stay together on one circuit, which is the cure for hum: with them on
/// it, it is the others that move.
fn put_right(house: &House<'_>, tree: &[Reached], subwoofer: usize, with: &[usize]) -> String {
    let id = |at: usize| house.id(tree[at].node);
    let kind = |at: usize| house.endpoint(tree[at].node)?.kind.value().copied();
    let is_audio = |at: &usize| {
        *at != subwoofer
            && match kind(*at) {
                Some(Kind::Rack | Kind::Amplifier | Kind::Receiver | Kind::Source) => true,
                Some(Kind::Speaker | Kind::Subwoofer) => house
                    .endpoint(tree[*at].node)
                    .is_some_and(|end| is_consumer(end)),
                _ => false,
            }
    };
    let rack = (0..tree.len()).find(|at| kind(*at) == Some(Kind::Rack));
    let Some(stays) = rack.or_else(|| (0..tree.len()).find(is_audio)) else {
        return format!(
            "feed {} from a circuit of its own, or from the one that feeds the rack",
            id(subwoofer)
        );
    };
    let names: Vec<&str> = with.iter().take(3).map(|at| id(*at).as_str()).collect();
    let more = match with.len().saturating_sub(names.len()) {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    format!(
        "feed {}{more} from another circuit; {} may stay on one with {}",
        names.join(", "),
        id(subwoofer),
        id(stays)
    )
}
