//! Walks the tree on behalf of the shapes: follows aliases, keeps places, reports mistakes.

use std::collections::HashSet;

use super::field::{Field, Stated};
use super::record::Record;
use super::refs::Things;
use super::shape::Shape;
use crate::findings::{Finding, Id};
use crate::yaml::{Kind, NodeId, Source, Span};

/// How many nodes may be read through aliases in one file. Honest plans need thousands.
const ALIAS_FUEL: u32 = 1_000_000;
/// How deep merge keys may refer to each other.
const MERGE_DEPTH: u32 = 8;

/// One key of a mapping and its value.
#[derive(Debug, Clone, Copy)]
pub struct Slot {
    pub key: NodeId,
    pub value: NodeId,
    /// It came in by a merge key, so a key that the mapping has itself wins over it.
    pub merged: bool,
}

/// Reads one file.
pub struct Reader<'s> {
    pub(super) source: &'s Source,
    pub(super) things: &'s Things,
    /// Likely units of a bare number are metric.
    pub(super) metric: bool,
    pub(super) findings: Vec<Finding>,
    /// The thing that is being read, and the place of its id.
    pub(super) on: Id,
    pub(super) at: Span,
    /// The key whose value is being read.
    pub(super) slot: Option<Slot>,
    /// What mistakes have been reported, by rule and place, so that a mistake inside an anchored
    /// mapping is reported once.
    pub(super) reported: HashSet<(&'static str, Span)>,
    /// Index of the file's first stock among all stock of the plan.
    pub(super) first_stock: usize,
    /// How many names may still be compared in search of a near one.
    pub(super) guesses: usize,
    via: Option<Span>,
    detours: Vec<(Span, Span)>,
    first_detour: usize,
    fuel: u32,
}

impl<'s> Reader<'s> {
    pub fn new(source: &'s Source, things: &'s Things, first_detour: usize, metric: bool) -> Self {
        Self {
            source,
            things,
            metric,
            findings: Vec::new(),
            on: Id::new("plan"),
            at: source.span_of(0..source.text.len().min(1)),
            slot: None,
            reported: HashSet::new(),
            first_stock: 0,
            guesses: 2_000_000,
            via: None,
            detours: Vec::new(),
            first_detour,
            fuel: ALIAS_FUEL,
        }
    }

    /// The mistakes, and the detours to be added to the sources.
    pub fn finish(self) -> (Vec<Finding>, Vec<(Span, Span)>) {
        (self.findings, self.detours)
    }

    /// The node's place: behind an alias, both the alias and the anchored node.
    pub fn span(&mut self, node: NodeId) -> Span {
        let plain = match self.source.tree.target(node) {
            Some(target) => self.source.span(target),
            None => self.source.span(node),
        };
        let alias = (self.source.tree.kind(node) == Kind::Alias).then(|| self.source.span(node));
        match self.via.or(alias) {
            None => plain,
            Some(via) => {
                let span = Span::detour_at(self.first_detour + self.detours.len());
                self.detours.push((via, plain));
                span
            }
        }
    }

    /// Whether the walk is behind an alias.
    pub fn is_shared(&self) -> bool {
        self.via.is_some()
    }

    /// Runs `read` on the node, or on what it is an alias of.
    pub(super) fn follow<T>(
        &mut self,
        node: NodeId,
        read: impl FnOnce(&mut Self, NodeId) -> Option<T>,
    ) -> Option<T> {
        match self.source.tree.kind(node) {
            Kind::Alias => {
                let target = self.source.tree.target(node)?;
                self.burn(node)?;
                let outer = self.via;
                self.via = outer.or_else(|| Some(self.source.span(node)));
                let value = read(self, target);
                self.via = outer;
                value
            }
            Kind::LostAlias => {
                self.lost_alias(node);
                None
            }
            _ => {
                if self.via.is_some() {
                    self.burn(node)?;
                }
                read(self, node)
            }
        }
    }

    fn burn(&mut self, node: NodeId) -> Option<()> {
        if self.fuel == 0 {
            self.too_many_aliases(node, ALIAS_FUEL);
            return None;
        }
        self.fuel -= 1;
        Some(())
    }

    /// A value with its place.
    pub fn stated<T: Shape>(&mut self, node: NodeId) -> Option<Stated<T>> {
        let span = self.span(node);
        let value = self.follow(node, |reader, target| T::read(reader, target))?;
        Some(Stated { value, span })
    }

    /// Reads a key's value into its field.
    pub fn set<T: Shape>(&mut self, field: &mut Field<T>, key: &str, slot: Slot) {
        if !field.is_absent() {
            if !slot.merged {
                self.duplicate_key(key, slot);
            }
            return;
        }
        let outer = self.slot.replace(slot);
        *field = if self.is_null(slot.value) && !T::TAKES_NOTHING {
            self.no_value(key, slot, T::WANTS);
            Field::Bad
        } else {
            match self.stated(slot.value) {
                Some(stated) => Field::Stated(stated),
                None => Field::Bad,
            }
        };
        self.slot = outer;
    }

    fn is_null(&self, node: NodeId) -> bool {
        let tree = &self.source.tree;
        tree.kind(node) == Kind::Plain
            && matches!(self.source.text_of(node), "" | "~" | "null" | "Null" | "NULL")
    }

    /// Reads a mapping with known keys. Every entry is read whatever is wrong with the others.
    pub fn record<R: Record>(&mut self, node: NodeId) -> Option<R> {
        if !self.source.tree.is_map(node) {
            self.wrong_kind(node, &format!("a mapping with the keys of {}", R::WHAT));
            return None;
        }
        let mut record = R::default();
        self.entries(node, &mut record, false, 0);
        for key in record.missing() {
            self.missing_key(key, R::WHAT, node);
        }
        Some(record)
    }

    fn entries<R: Record>(&mut self, node: NodeId, record: &mut R, merged: bool, depth: u32) {
        let source = self.source;
        let mut merges = Vec::new();
        for (key, value) in source.tree.entries(node) {
            if self.via.is_some() && self.burn(key).is_none() {
                return;
            }
            if !source.tree.is_scalar(key) {
                self.wrong_kind(key, "a key");
                continue;
            }
            let name = source.text_of(key);
            let slot = Slot { key, value, merged };
            if name == "<<" && source.tree.kind(key) == Kind::Plain {
                merges.push(value);
            } else if !record.set(self, name, slot) {
                self.unknown_key(name, slot, R::WHAT, R::KEYS);
            }
        }
        for merge in merges {
            self.merge(merge, record, depth);
        }
    }

    fn merge<R: Record>(&mut self, node: NodeId, record: &mut R, depth: u32) {
        if depth >= MERGE_DEPTH {
            self.too_many_aliases(node, ALIAS_FUEL);
            return;
        }
        self.follow(node, |reader, target| {
            let tree = &reader.source.tree;
            if tree.is_map(target) {
                reader.entries(target, record, true, depth + 1);
            } else if tree.kind(target) == Kind::Seq {
                for item in reader.items(target) {
                    reader.merge(item, record, depth + 1);
                }
            } else {
                reader.wrong_kind(target, "a mapping, or a list of them, to merge");
            }
            Some(())
        });
    }

    /// Keys and values of a mapping of names, merged ones last, with the alias that each came by.
    pub(super) fn named(&mut self, node: NodeId) -> Vec<(Slot, Option<Span>)> {
        let mut out = Vec::new();
        self.named_into(node, &mut out, false, 0);
        out
    }

    fn named_into(
        &mut self,
        node: NodeId,
        out: &mut Vec<(Slot, Option<Span>)>,
        merged: bool,
        depth: u32,
    ) {
        let source = self.source;
        let mut merges = Vec::new();
        for (key, value) in source.tree.entries(node) {
            if self.via.is_some() && self.burn(key).is_none() {
                return;
            }
            if source.tree.kind(key) == Kind::Plain && source.text_of(key) == "<<" {
                merges.push(value);
                continue;
            }
            out.push((Slot { key, value, merged }, self.via));
        }
        if merges.is_empty() || depth >= MERGE_DEPTH {
            return;
        }
        let taken: HashSet<&str> = out.iter().map(|(slot, _)| source.text_of(slot.key)).collect();
        let mut more = Vec::new();
        for merge in merges {
            self.follow(merge, |reader, target| {
                reader.named_into(target, &mut more, true, depth + 1);
                Some(())
            });
        }
        more.retain(|(slot, _)| !taken.contains(source.text_of(slot.key)));
        out.extend(more);
    }

    /// Runs `read` as if the walk had come by this alias.
    pub(super) fn by_way_of<T>(
        &mut self,
        via: Option<Span>,
        read: impl FnOnce(&mut Self) -> T,
    ) -> T {
        let outer = std::mem::replace(&mut self.via, via);
        let value = read(self);
        self.via = outer;
        value
    }

    pub fn is_list(&self, node: NodeId) -> bool {
        self.source.tree.kind(node) == Kind::Seq
    }

    /// The items of a list, or the one node that stands for a list of one.
    pub fn items(&self, node: NodeId) -> Vec<NodeId> {
        if self.is_list(node) {
            self.source.tree.children(node).collect()
        } else {
            vec![node]
        }
    }

    /// A scalar's text; anything else is reported as not being `wanted`.
    pub fn scalar(&mut self, node: NodeId, wanted: &str) -> Option<&'s str> {
        if self.source.tree.is_scalar(node) {
            return Some(self.source.text_of(node));
        }
        self.wrong_kind(node, wanted);
        None
    }
}
