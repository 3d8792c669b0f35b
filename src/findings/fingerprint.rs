//! By what a finding is known again in a later review.

use std::collections::HashMap;
use std::fmt::Write;

use sha2::{Digest, Sha256};

use super::{Finding, Id};

/// Bytes of the digest that are kept: enough that two findings of a repository do not meet.
const KEPT: usize = 8;

/// Of each finding, in their order: 16 hexadecimal digits made of its rule, of everything that it
/// concerns, and of what it is about: the name of its figure where it does not say. Places, values
/// and sentences take no part, so it stays the same where lines move or a figure changes; it changes
/// when something else becomes concerned, since that is another finding. Findings that are alike in
/// all this are numbered in their order.
pub fn fingerprints<'f>(findings: impl IntoIterator<Item = &'f Finding>) -> Vec<String> {
    let mut met: HashMap<[u8; KEPT], usize> = HashMap::new();
    let each = findings.into_iter().map(|finding| {
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
    let figure = || finding.figure.as_ref().map(|figure| figure.name);
    if let Some(about) = finding.about.as_deref().or_else(figure) {
        hasher.update("\n\n");
        hasher.update(about);
    }
    if earlier > 0 {
        // Before a name there are two line breaks, before a number three.
        hasher.update(format!("\n\n\n{earlier}"));
    }
    let mut kept = [0; KEPT];
    kept.copy_from_slice(&hasher.finalize()[..KEPT]);
    kept
}

#[cfg(test)]
mod tests {
    use super::super::{Level, Shown};
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
    fn what_it_is_about_tells_findings_on_one_thing_apart() {
        let plain = || finding("a.b", &["S1"], "x", 3);
        let figure = |name, value| {
            let working = String::new();
            let unit = "mm";
            let shown = Shown {
                name,
                value,
                unit,
                working,
            };
            plain().with_figure(shown, 1.0)
        };
        let told = [
            plain(),
            plain().with_about("length"),
            plain().with_about("stock"),
            figure("hole", 4.0),
            figure("notch", 4.0),
        ];
        let alone = told
            .clone()
            .map(|finding| fingerprints(&[finding]).remove(0));
        assert_eq!(fingerprints(&told), alone, "none is the second of its kind");
        assert_eq!(
            fingerprints(&[figure("hole", 9.0)]),
            alone[3..4],
            "of whatever value"
        );
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
