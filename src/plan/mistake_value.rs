//! The mistakes of single values: missing, of the wrong kind, misspelt, out of range.

use super::reader::Reader;
use super::wording::{briefly, shown};
use crate::findings::RedlineKind;
use crate::units::Misspelling;
use crate::yaml::{Kind, NodeId};

impl Reader<'_> {
    pub(super) fn no_value(&mut self, node: NodeId, wants: &str) {
        let says = format!("{} has no value", self.subject());
        let key = self
            .path
            .last()
            .map_or("", |slot| self.source.text_of(slot.key));
        let needed = matches!(key, "nailplate" | "region" | "from" | "to" | "run");
        if let Some(finding) = self.report("plan.wrong-kind", node, says, "nothing behind this") {
            let out = if needed { "" } else { "; or take it out" };
            finding.put_right = Some(format!("give it {}{out}", briefly(wants)));
        }
    }

    /// A name with nothing behind it.
    pub(super) fn nothing_stated(&mut self, key: NodeId, what: &str) {
        let says = format!("{} has nothing behind it", self.thing());
        if let Some(finding) = self.report("plan.wrong-kind", key, says, "nothing behind this") {
            finding.put_right = Some(format!(
                "say what it is, with the keys of {what}, or take it out"
            ));
        }
    }

    /// What a node is, in words.
    pub(super) fn found(&self, node: NodeId) -> String {
        let tree = &self.source.tree;
        match tree.kind(node) {
            Kind::Seq => "a list".into(),
            Kind::FlowMap | Kind::BlockMap => "a set of `key: value` pairs".into(),
            Kind::Alias | Kind::LostAlias => "an alias".into(),
            _ if tree.is_empty_scalar(node) => "nothing".into(),
            _ => format!("`{}`", shown(self.source.text_of(node))),
        }
    }

    /// `wanted` is what it should be, `write` the same in more words.
    pub(crate) fn wrong_kind(&mut self, node: NodeId, wanted: &str, write: &str) {
        let says = format!("{} is {}, not {wanted}", self.subject(), self.found(node));
        // A long block is not worth marking whole: its key says enough.
        let long = self.source.tree.bytes(node).len() > 200;
        let at = self
            .path
            .last()
            .filter(|_| long)
            .map_or(node, |slot| slot.key);
        let finding = if long && self.path.is_empty() {
            self.report_at(
                "plan.wrong-kind",
                self.at,
                self.at,
                says,
                "wrong kind of value",
            )
        } else {
            self.report("plan.wrong-kind", at, says, "wrong kind of value")
        };
        if let Some(finding) = finding {
            finding.put_right = Some(format!("write {}", briefly(write)));
        }
    }

    pub(crate) fn unreadable(&mut self, node: NodeId, text: &str, wanted: &str) {
        let says = format!(
            "{} is `{}`, which cannot be read",
            self.subject(),
            shown(text)
        );
        if let Some(finding) = self.report("plan.unreadable", node, says, "cannot be read") {
            finding.put_right = Some(format!("write {wanted}"));
        }
    }

    pub(super) fn out_of_range(&mut self, node: NodeId, found: &str, allowed: &str) {
        let says = format!(
            "{} is {}, allowed is {allowed}",
            self.subject(),
            shown(found)
        );
        if let Some(finding) =
            self.report("plan.out-of-range", node, says, "outside what it can be")
        {
            finding.put_right = Some(format!("write a value that is {allowed}"));
        }
    }

    /// A quantity that is spelled wrong. `likely` is the unit suggested for a bare number, none
    /// where the number itself cannot be right.
    pub(super) fn misspelt(
        &mut self,
        node: NodeId,
        text: &str,
        slip: &Misspelling,
        dimension: &str,
        likely: Option<&str>,
        units: &[&'static str],
    ) {
        let all = self.source.text_of(node);
        // A part of a longer value is shown in its place.
        let is = if all.trim() == text.trim() {
            format!("{} is {}", self.subject(), shown(text))
        } else {
            format!(
                "{} is {}, in which {}",
                self.subject(),
                shown(all),
                shown(text)
            )
        };
        let whole = all.trim() == text.trim();
        match slip {
            Misspelling::NotANumber => {
                self.unreadable(
                    node,
                    all,
                    &format!("{dimension} with its unit ({})", units.join(", ")),
                );
            }
            Misspelling::NoUnit { .. } => {
                let says = if whole {
                    format!("{is} without a unit")
                } else {
                    format!("{is} has no unit")
                };
                let written = likely.map(|unit| format!("{} {unit}", text.trim()));
                let redline = written.as_ref().filter(|_| whole).and_then(|written| {
                    self.replacing(
                        node,
                        written,
                        RedlineKind::Change,
                        format!("write {written}"),
                    )
                });
                if let Some(finding) = self.report("plan.no-unit", node, says, "a bare number") {
                    finding.put_right = Some(match written {
                        Some(written) => format!("write {written}, if that is what is meant"),
                        None => format!("write the number with its unit: {}", units.join(", ")),
                    });
                    finding.redlines.extend(redline);
                }
            }
            Misspelling::NoSuchUnit { unit } if unit.starts_with(',') => {
                self.unreadable(
                    node,
                    all,
                    "numbers with a decimal point and without thousands' commas: 12.5, 1200",
                );
            }
            Misspelling::NoSuchUnit { unit } => {
                let says = if whole {
                    format!("{is}: `{}` is no unit of {dimension}", shown(unit))
                } else {
                    format!("{is} has no unit of {dimension}")
                };
                if let Some(finding) = self.report("plan.wrong-unit", node, says, "wrong unit") {
                    let dimension = dimension.trim_start_matches("an ").trim_start_matches("a ");
                    finding.put_right = Some(format!("units of {dimension}: {}", units.join(", ")));
                }
            }
            Misspelling::Unthinkable => {
                let says = format!(
                    "{is}{} more or less than any house could hold",
                    if whole { ", which is" } else { " is" }
                );
                if let Some(finding) = self.report("plan.out-of-range", node, says, "beyond reason")
                {
                    finding.put_right = Some("check the number and its unit".into());
                }
            }
        }
    }

    pub(super) fn wrong_version(&mut self, node: NodeId, text: &str) {
        let says = format!(
            "{} is in version {} of the plan language; version 1 is read",
            self.thing(),
            shown(text)
        );
        if let Some(finding) =
            self.report("plan.wrong-version", node, says, "a version not known here")
        {
            finding.put_right = Some("write `nailplate: 1`, or use a newer nailplate".into());
        }
    }

    /// A point or a box without its three lengths.
    pub(super) fn not_three(&mut self, node: NodeId, found: usize) {
        let says = format!("{} has {found} of the three lengths", self.subject());
        if let Some(finding) = self.report("plan.wrong-kind", node, says, "not three lengths") {
            finding.put_right =
                Some("write three lengths in brackets, such as [4 ft, 2 ft, 1 ft]".into());
        }
    }
}
