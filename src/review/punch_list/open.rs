//! Entries of a plan that no finding has been matched with yet.

use std::collections::{HashMap, HashSet};

use super::Entry;
use crate::findings::{Finding, Id, fingerprints};

/// Entries of one rule on one thing that are looked through for one that a finding may have come from.
/// More have nothing to do with each other.
const LOOKED_AT: usize = 32;

/// Entries by rule and fingerprint, and by rule and thing at fault.
pub struct Open<'l> {
    exact: HashMap<(&'l str, &'l str), usize>,
    on: HashMap<(&'l str, &'l str), Vec<usize>>,
    entries: &'l [Entry],
    taken: Vec<bool>,
}

impl<'l> Open<'l> {
    pub fn of(entries: &'l [Entry]) -> Self {
        let each = entries.iter().enumerate();
        let mut on: HashMap<_, Vec<usize>> = HashMap::new();
        for (index, entry) in each.clone() {
            let place = (&*entry.rule, entry.at_fault());
            on.entry(place).or_default().push(index);
        }
        Self {
            exact: each
                .map(|(index, entry)| ((&*entry.rule, &*entry.fingerprint), index))
                .collect(),
            on,
            entries,
            taken: vec![false; entries.len()],
        }
    }

    /// The entry of a rule by its fingerprint.
    pub fn exact(&mut self, rule: &str, print: &str) -> Option<&'l Entry> {
        let index = *self.exact.get(&(rule, print))?;
        self.take(index)
    }

    /// An entry of the same fault when fewer or more things were concerned: of the same rule, on the
    /// same thing at fault, about the same, and of its other things all are among the finding's or the
    /// other way round.
    pub fn kin(&mut self, finding: &Finding) -> Option<&'l Entry> {
        let at_fault = finding.on.first().map_or("plan", Id::as_str);
        let near = self.on.get(&(finding.rule, at_fault))?;
        let own: HashSet<&str> = finding.on.iter().map(Id::as_str).collect();
        let near = near.iter().take(LOOKED_AT).copied();
        let index = near
            .filter(|index| !self.taken[*index])
            .find(|index| is_kin(finding, &own, &self.entries[*index]))?;
        self.take(index)
    }

    fn take(&mut self, index: usize) -> Option<&'l Entry> {
        let taken = std::mem::replace(&mut self.taken[index], true);
        (!taken).then(|| &self.entries[index])
    }

    /// Those left.
    pub fn rest(self) -> Vec<&'l Entry> {
        let each = self.entries.iter().zip(self.taken);
        each.filter(|(_, taken)| !taken)
            .map(|(entry, _)| entry)
            .collect()
    }
}

fn is_kin(finding: &Finding, own: &HashSet<&str>, entry: &Entry) -> bool {
    let both = entry.on.iter().filter(|on| own.contains(&***on)).count();
    if both != own.len() && both != entry.on.len() {
        return false;
    }
    // With the entry's things the finding would be the entry's, if it is about the same.
    let mut then = finding.clone();
    then.on = entry.on.iter().map(|on| Id::new(on)).collect();
    fingerprints([&then]) == [&*entry.fingerprint]
}
