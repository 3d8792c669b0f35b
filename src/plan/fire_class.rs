//! Fire classes that stand without quotes inside braces or brackets, and so fall apart at their commas.

use super::reader::{Reader, Slot};
use super::wording::shown;
use crate::findings::{Redline, RedlineKind};
use crate::yaml::{Edit, Kind, NodeId};

impl Reader<'_> {
    /// Whether an entry of a mapping is the rest of a fire class that stands without quotes inside
    /// braces: `rating: Cca-s1b,d1,a1` becomes `rating: Cca-s1b` and two keys without values.
    pub(super) fn is_piece(&self, slot: Slot, (key, value): (NodeId, NodeId)) -> bool {
        let tree = &self.source.tree;
        tree.is_empty_scalar(value) && self.is_class_piece(key) && self.is_class_start(slot.value)
    }

    /// `d1`, `a1`: the drops and acidity of EN 13501-6.
    fn is_class_piece(&self, node: NodeId) -> bool {
        self.source.tree.kind(node) == Kind::Plain
            && matches!(
                self.source.text_of(node).as_bytes(),
                [b'd' | b'a', b'0'..=b'3']
            )
    }

    /// `Cca-s1b`: the class and smoke of EN 13501-6.
    fn is_class_start(&self, node: NodeId) -> bool {
        self.source.tree.kind(node) == Kind::Plain
            && self
                .source
                .text_of(node)
                .split('-')
                .next()
                .is_some_and(|class| class.ends_with("ca"))
    }

    /// The same in a list: `[Cca-s1b,d1,a1]` becomes three items.
    pub(super) fn fell_apart_in(&mut self, items: &[NodeId]) -> bool {
        let Some(at) = items
            .windows(2)
            .position(|pair| self.is_class_start(pair[0]) && self.is_class_piece(pair[1]))
        else {
            return false;
        };
        let last = items[at + 1..]
            .iter()
            .take_while(|item| self.is_class_piece(**item))
            .last();
        self.class_fell_apart(items[at], *last.unwrap_or(&items[at]));
        true
    }

    /// A fire class of which the rest, up to `last`, stands in keys of their own.
    pub(super) fn fell_apart(&mut self, slot: Slot, last: NodeId) {
        self.path.push(slot);
        self.class_fell_apart(slot.value, last);
        self.path.pop();
    }

    fn class_fell_apart(&mut self, first: NodeId, last: NodeId) {
        let tree = &self.source.tree;
        let bytes = tree.bytes(first).start..tree.bytes(last).end;
        let class: String = self.source.text[bytes.clone()]
            .chars()
            .filter(|c| !c.is_whitespace())
            .collect();
        let says = format!(
            "{} is the fire class {}, which falls apart at its commas",
            self.subject(),
            shown(&class)
        );
        let written = format!("\"{class}\"");
        // With a sign in it that means something between quotes it is no class, whatever was meant.
        let is_plain = class
            .chars()
            .all(|c| c.is_alphanumeric() || "-_,.;:".contains(c));
        let redline = (is_plain && !self.is_shared()).then(|| Redline {
            kind: RedlineKind::Same,
            title: "put the class in quotes".into(),
            edits: vec![Edit {
                at: self.source.spot_of(bytes),
                text: written.clone(),
            }],
        });
        if let Some(finding) = self.report(
            "plan.unquoted-class",
            first,
            says,
            "only this much was read",
        ) {
            finding.put_right = Some(match is_plain {
                true => format!("put the class in quotes: {written}"),
                false => "put the whole class, and nothing else, in quotes".into(),
            });
            finding.redlines.extend(redline);
        }
    }
}
