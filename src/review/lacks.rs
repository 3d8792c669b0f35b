//! What rules lacked, looked up by rule and thing.

use std::collections::{HashMap, HashSet};

use crate::findings::{Gap, Id};
use crate::plan::Plan;

/// The gaps of some rules. A rule that finds nothing on a thing may only have lacked a figure: on the
/// thing itself, on something that several things share, or, of a thing that holds others (a room,
/// a circuit, a pathway), on one of those.
pub struct Lacks<'r> {
    own: HashMap<(&'r str, &'r str), &'r str>,
    shared: HashMap<&'r str, &'r str>,
    any: HashMap<&'r str, &'r str>,
    alone: HashSet<&'r str>,
}

impl<'r> Lacks<'r> {
    pub fn of(plan: &'r Plan, gaps: &'r [Gap], rules: impl Fn(&str) -> bool) -> Self {
        let ids = plan.runs.iter().map(|run| &run.id);
        let ids = ids.chain(plan.endpoints.iter().map(|endpoint| &endpoint.id));
        let alone: HashSet<&str> = ids.map(Id::as_str).collect();
        let (mut own, mut shared, mut any) = (HashMap::new(), HashMap::new(), HashMap::new());
        for gap in gaps.iter().filter(|gap| rules(gap.rule)) {
            if let Some(on) = gap.on.first() {
                any.entry(gap.rule).or_insert(&*gap.lacks);
                own.entry((gap.rule, on.as_str())).or_insert(&*gap.lacks);
                if !alone.contains(on.as_str()) {
                    shared.entry(gap.rule).or_insert(&*gap.lacks);
                }
            }
        }
        Self {
            own,
            shared,
            any,
            alone,
        }
    }

    /// What a rule may have lacked on a thing.
    pub fn of_thing(&self, rule: &str, thing: &str) -> Option<&'r str> {
        let others = || match self.alone.contains(thing) {
            true => self.shared.get(rule),
            false => self.any.get(rule),
        };
        self.own.get(&(rule, thing)).or_else(others).copied()
    }
}
