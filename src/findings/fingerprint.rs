//! By what a finding is known again in a later review.

use std::collections::HashMap;
use std::fmt::Write;

use sha2::{Digest, Sha256};

use super::{Finding, Id};

/// Bytes of the digest that are kept: enough that two findings of a repository do not meet.
const KEPT: usize = 8;

/// Of each finding, in their order: 16 hexadecimal digits made of its rule and of everything that
/// it concerns. Places and sentences take no part, so it stays the same where lines move or a
/// figure changes; it changes when something else becomes concerned, since that is another finding.
/// Findings of one rule on the same things are numbered in their order.
pub fn fingerprints(findings: &[Finding]) -> Vec<String> {
    let mut met: HashMap<[u8; KEPT], usize> = HashMap::new();
    let each = findings.iter().map(|finding| {
        let first = digest(finding, 0);
        let earlier = met.entry(first).or_default();
        let own = if *earlier == 0 {
            first
        } else {
            digest(finding, *earlier)
        };
        *earlier += 1;
        own.iter().fold(String::new(), |mut text, byte| {
            let _ = write!(text, "{byte:02x}");
            text
        })
    });
    each.collect()
}

fn digest(finding: &Finding, earlier: usize) -> [u8; KEPT] {
    let mut on: Vec<&Id> = finding.on.iter().collect();
    on.sort_unstable();
    let mut hasher = Sha256::new();
    hasher.update(finding.rule);
    for id in on {
        // No id holds a line break, so two lists never read the same.
        hasher.update("\n");
        hasher.update(id.as_str());
    }
    if earlier > 0 {
        hasher.update(format!("\n\n{earlier}"));
    }
    let mut kept = [0; KEPT];
    kept.copy_from_slice(&hasher.finalize()[..KEPT]);
    kept
}

#[cfg(test)]
mod tests {
    use super::super::Level;
    use super::*;
    use crate::yaml::Span;

    fn finding(rule: &'static str, on: &[&str], says: &str, start: usize) -> Finding {
        let at = Span::detour_at(start);
        Finding::new(rule, Level::Fault, Id::new(on[0]), says, at, "here")
            .with_each_on(on.iter().map(|id| Id::new(id)).collect::<Vec<_>>().iter())
    }

    #[test]
    fn a_finding_is_known_again() {
        let one = |rule, on: &[&str]| fingerprints(&[finding(rule, on, "7 of 5", 3)]);
        assert_eq!(
            one("a.b", &["S1", "P1"]),
            fingerprints(&[finding("a.b", &["P1", "S1"], "9 of 5", 90)])
        );
        for (rule, on) in [
            ("a.c", &["S1", "P1"][..]),
            ("a.b", &["S1"]),
            ("a.b", &["S1", "P2"]),
            ("a.b", &["S1P1"]),
        ] {
            assert_ne!(one("a.b", &["S1", "P1"]), one(rule, on), "{rule} {on:?}");
        }
        assert_eq!(one("a.b", &["S1"])[0].len(), 2 * KEPT);
    }

    #[test]
    fn the_second_of_its_kind_is_another() {
        let twice = [
            finding("a.b", &["S1"], "x", 3),
            finding("a.b", &["S1"], "y", 9),
        ];
        let [first, second] = &fingerprints(&twice)[..] else {
            panic!("two")
        };
        assert_ne!(first, second);
        assert_eq!(*first, fingerprints(&twice[1..])[0]);
    }
}
