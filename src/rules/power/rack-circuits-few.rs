//! A rack with fewer dedicated circuits than are usual.

use std::collections::{BTreeMap, BTreeSet, HashSet};

use serde::Deserialize;

use crate::findings::{Finding, Lack, Report, Shown};
use crate::house::{House, Node, is_active, is_consumer};
use crate::plan::{Circuit, EndpointKind as Kind, Entry, Region};
use crate::rules::{Limit, Sheet, over};
use crate::units::{Amps, Watts};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Limits {
    /// Dedicated circuits at the rack.
    circuits: Limit<u32>,
    better: Limit<u32>,
    /// The least breaker of a circuit that counts.
    breaker: Limit<Amps>,
    /// The same where breakers and voltages are others: breaker times volts.
    power: Limit<Watts>,
}

impl Limits {
    /// Whether a circuit is large enough to count.
    fn is_large(&self, circuit: &Entry<Circuit>, region: Region) -> Result<bool, Lack> {
        let breaker = circuit.breaker.want("breaker", &circuit.id)?.base();
        if self.breaker.holds_in(region) {
            return Ok(!over(self.breaker.value.base(), breaker));
        }
        let volts = circuit.volts.want("volts", &circuit.id)?.base();
        Ok(!over(self.power.value.base(), breaker * volts))
    }

    fn large(&self, region: Region) -> String {
        if self.breaker.holds_in(region) {
            format!("{}", self.breaker.value)
        } else {
            format!("{}", self.power.value)
        }
    }
}

/// Why a circuit at a rack does not count.
enum Short {
    Small,
    /// It is said to serve others.
    ServesOthers,
    /// It feeds this too.
    Feeds(usize),
    Unknown(Lack),
}

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Some(limits) = sheet.limits::<Limits>() else {
        return;
    };
    let Ok(region) = house.region() else { return };
    let mut alone = BTreeMap::new();
    for rack in house.endpoints_of(Kind::Rack) {
        let is_inner = house
            .hosts(rack)
            .skip(1)
            .any(|host| house.plan.endpoints[host].kind.value() == Some(&Kind::Rack));
        let members = house.with_members(rack);
        if is_inner || is_for_data(house, &members) {
            continue;
        }
        let circuits: BTreeSet<u32> = members
            .iter()
            .flat_map(|member| house.circuits_of(Node::of_endpoint(*member)))
            .copied()
            .collect();
        // A rack without any is power.no-feed's.
        if circuits.is_empty() {
            continue;
        }
        // Where the rack is plugged in.
        let outlets: HashSet<usize> = members
            .iter()
            .filter_map(|member| house.plan.endpoints[*member].at_outlet.value())
            .flat_map(|list| list.values().map(|outlet| outlet.at()))
            .collect();
        let (mut good, mut short) = (Vec::new(), Vec::new());
        for circuit in circuits {
            let circuit = circuit as usize;
            match falls_short(house, limits, region, rack, &outlets, circuit, &mut alone) {
                None => good.push(circuit),
                Some(why) => short.push((circuit, why)),
            }
        }
        let unknown = short
            .iter()
            .filter(|(_, why)| matches!(why, Short::Unknown(_)));
        let wanted = limits.circuits.value as usize;
        if good.len() >= wanted {
            out.checked();
        } else if good.len() + unknown.count() >= wanted {
            for (circuit, why) in short {
                if let Short::Unknown(lack) = why {
                    out.gap(sheet.id, &house.plan.circuits[circuit].id, lack);
                }
            }
        } else {
            out.checked();
            out.find(finding(
                house, sheet, limits, region, rack, &members, &good, &short,
            ));
        }
    }
}

/// Holds active equipment, all of it for data.
fn is_for_data(house: &House<'_>, members: &[usize]) -> bool {
    let mut active = members[1..]
        .iter()
        .map(|member| &house.plan.endpoints[*member])
        .filter(|member| is_active(member) && member.kind.value() != Some(&Kind::PowerConditioner))
        .peekable();
    active.peek().is_some()
        && active.all(|member| {
            matches!(
                member.kind.value(),
                Some(Kind::Router | Kind::Switch | Kind::AccessPoint | Kind::Distribution)
            )
        })
}

fn falls_short(
    house: &House<'_>,
    limits: &Limits,
    region: Region,
    rack: usize,
    outlets: &HashSet<usize>,
    circuit: usize,
    alone: &mut BTreeMap<usize, Alone>,
) -> Option<Short> {
    let entry = &house.plan.circuits[circuit];
    match limits.is_large(entry, region) {
        Ok(true) => {}
        Ok(false) => return Some(Short::Small),
        Err(lack) => return Some(Short::Unknown(lack)),
    }
    if entry.serves.is_bad() {
        return Some(Short::Unknown(Lack::Reported));
    }
    if let Some(serves) = entry.serves.value() {
        let at_rack =
            |served: usize| outlets.contains(&served) || house.hosts(served).any(|it| it == rack);
        let served = serves.values().any(|served| at_rack(served.at()));
        return (!served).then_some(Short::ServesOthers);
    }
    match alone
        .entry(circuit)
        .or_insert_with(|| feeds_alone(house, circuit))
    {
        Alone::Rack(known) if *known == rack => None,
        Alone::Rack(other) => Some(Short::Feeds(*other)),
        Alone::Others(other) => Some(Short::Feeds(*other)),
        Alone::Unknown(lack) => Some(Short::Unknown(lack.clone())),
    }
}

/// What a circuit feeds.
enum Alone {
    /// This rack, what stands in it, and what is fed through it.
    Rack(usize),
    /// This besides, or two racks.
    Others(usize),
    Unknown(Lack),
}

fn feeds_alone(house: &House<'_>, circuit: usize) -> Alone {
    let tree = house.tree(circuit);
    let mut through: Vec<Option<usize>> = Vec::with_capacity(tree.len());
    let mut rack = None;
    let mut lack = None;
    for reached in tree.iter() {
        let Some(index) = reached.node.endpoint() else {
            through.push(None);
            continue;
        };
        let kind = |at: usize| house.plan.endpoints[at].kind.value();
        let racks = house
            .hosts(index)
            .filter(|host| kind(*host) == Some(&Kind::Rack));
        let belongs = racks
            .last()
            .or_else(|| reached.before.and_then(|before| through[before]));
        through.push(belongs);
        let endpoint = &house.plan.endpoints[index];
        match belongs {
            Some(at) if *rack.get_or_insert(at) == at => {}
            Some(at) => return Alone::Others(at),
            None if endpoint.kind.value().is_none() && endpoint.load.value().is_none() => {
                lack = lack.or(endpoint.kind.want("kind", &endpoint.id).err());
            }
            None if is_consumer(endpoint) => return Alone::Others(index),
            None => {}
        }
    }
    match (lack, rack) {
        (None, Some(rack)) => Alone::Rack(rack),
        (Some(lack), _) => Alone::Unknown(lack),
        (None, None) => Alone::Unknown(Lack::Reported),
    }
}

#[expect(clippy::too_many_arguments, reason = "all that is known of one rack")]
fn finding(
    house: &House<'_>,
    sheet: &Sheet,
    limits: &Limits,
    region: Region,
    rack: usize,
    members: &[usize],
    good: &[usize],
    short: &[(usize, Short)],
) -> Finding {
    let entry = &house.plan.endpoints[rack];
    let circuit = |at: usize| &house.plan.circuits[at];
    let large = limits.large(region);
    let wanted = limits.circuits.value as usize;
    let has = match good.len() {
        0 => "no dedicated circuit".to_owned(),
        1 => "1 dedicated circuit".to_owned(),
        more => format!("{more} dedicated circuits"),
    };
    let says = format!(
        "{} has {has} of {large} or more, usual are {wanted}",
        entry.id
    );
    let mut finding = sheet.finding(&entry.id, says, entry.span, "fed by too few");
    let mut terms: Vec<String> = Vec::new();
    for at in good {
        finding = finding.with_on(&circuit(*at).id);
        terms.push(format!("{} counts", circuit(*at).id));
    }
    for (at, why) in short {
        let (id, entry) = (&circuit(*at).id, circuit(*at));
        let why = match why {
            Short::Small => {
                let breaker = entry.breaker.value();
                let breaker = breaker.map_or_else(String::new, |breaker| breaker.to_string());
                format!("{breaker} only")
            }
            Short::ServesOthers => "serves others".to_owned(),
            Short::Feeds(other) => format!("feeds {} too", house.plan.endpoints[*other].id),
            Short::Unknown(_) => "not known whether it is dedicated".to_owned(),
        };
        finding = finding.with_on(id);
        terms.push(format!("{id} does not count: {why}"));
    }
    for at in good.iter().chain(short.iter().map(|(at, _)| at)).take(2) {
        finding = finding.with_mark(circuit(*at).span, "a circuit at the rack");
    }
    let has_amplifier = members
        .iter()
        .any(|member| house.plan.endpoints[*member].kind.value() == Some(&Kind::Amplifier));
    let two_forty = if has_amplifier && region.is_north_american() {
        ", one of them 240 V if the amplifiers are large"
    } else {
        ""
    };
    #[expect(clippy::cast_precision_loss, reason = "a count of circuits")]
    let figure = Shown {
        name: "dedicated-circuits",
        value: good.len() as f64,
        unit: "",
        working: format!("circuits at the rack: {}", terms.join("; ")),
    };
    let missing = wanted.saturating_sub(good.len());
    let more = if good.is_empty() { "" } else { " more" };
    let plural = if missing == 1 { "" } else { "s" };
    finding
        .with_figure(figure, f64::from(limits.circuits.value))
        .with_authority(limits.circuits.authority.clone())
        .with_put_right(format!(
            "run {missing}{more} dedicated circuit{plural} of {large} or more to {}; {} in all are better{two_forty}",
            entry.id,
            limits.better.value
        ))
}
