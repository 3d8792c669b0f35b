//! Walks the tree on behalf of the shapes: follows aliases, keeps places, reports mistakes.

use std::collections::HashSet;

use super::field::{Field, Stated};
use super::names::Names;
use super::record::{Record, given_as};
use super::refs::Things;
use super::shape::Shape;
use super::spelling::{self, Near};
use crate::findings::{Finding, Id};
use crate::yaml::{Kind, NodeId, Source, Span};

/// How many nodes may be read through aliases in one file. Honest plans need thousands.
pub(super) const ALIAS_FUEL: u32 = 1_000_000;
/// How deep merge keys may refer to each other.
pub(super) const MERGE_DEPTH: u32 = 8;

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
    pub(crate) source: &'s Source,
    pub(super) things: &'s Things,
    /// Likely units of a bare number are metric.
    pub(super) metric: bool,
    pub(crate) findings: Vec<Finding>,
    /// The thing that is being read, and the place of its id; outside the sections the file.
    pub(crate) on: Id,
    pub(crate) at: Span,
    pub(super) in_section: bool,
    /// The keys on the way from the thing to the value that is being read.
    pub(crate) path: Vec<Slot>,
    /// What mistakes have been reported, by rule and place, so that a mistake inside an anchored
    /// mapping is reported once.
    pub(super) reported: HashSet<(&'static str, Span)>,
    /// The entries of the file's sections.
    pub(super) names: Names,
    /// Index of the file's first stock among all stock of the plan.
    pub(super) first_stock: usize,
    /// A key or word with a slip in it is read as what it surely means. Not so in settings, where what
    /// is mistaken stays as built in.
    pub(crate) reads_slips: bool,
    /// How many words may still be compared in search of a near one.
    pub(super) guesses: usize,
    pub(super) via: Option<Span>,
    detours: Vec<(Span, Span)>,
    first_detour: usize,
    fuel: u32,
}

impl<'s> Reader<'s> {
    pub fn new(source: &'s Source, things: &'s Things, first_detour: usize, metric: bool) -> Self {
        let mut reader = Self {
            source,
            things,
            metric,
            findings: Vec::new(),
            on: Id::new("plan"),
            at: source.span_of(0..0),
            in_section: false,
            path: Vec::new(),
            reported: HashSet::new(),
            names: Names::default(),
            first_stock: 0,
            reads_slips: true,
            guesses: 2_000_000,
            via: None,
            detours: Vec::new(),
            first_detour,
            fuel: ALIAS_FUEL,
        };
        if let Some(root) = source.tree.root() {
            let first = source
                .tree
                .entries(root)
                .next()
                .map_or(root, |(key, _)| key);
            reader.at = reader.solid(first);
        }
        reader
    }

    /// The mistakes, and the detours to be added to the sources.
    pub fn finish(self) -> (Vec<Finding>, Vec<(Span, Span)>) {
        (self.findings, self.detours)
    }

    /// The node's place: behind an alias, both the alias and the anchored node.
    pub fn span(&mut self, node: NodeId) -> Span {
        let plain = self.solid(self.source.tree.target(node).unwrap_or(node));
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

    /// Bytes of a node, never none: where nothing is written, the sign beside it.
    pub(crate) fn solid(&self, node: NodeId) -> Span {
        let source = self.source;
        let bytes = source.tree.bytes(node);
        if !bytes.is_empty() {
            return source.span_of(bytes);
        }
        if let Some(slot) = self.path.last()
            && slot.value == node
            && !source.tree.bytes(slot.key).is_empty()
        {
            return source.span_of(source.tree.bytes(slot.key));
        }
        let (before, behind) = source.text.split_at(bytes.start);
        if let Some(sign) = behind.chars().next().filter(|c| !c.is_whitespace()) {
            return source.span_of(bytes.start..bytes.start + sign.len_utf8());
        }
        let before = before.trim_end();
        let length = before.chars().next_back().map_or(0, char::len_utf8);
        source.span_of(before.len() - length..before.len())
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

    pub(super) fn burn(&mut self, node: NodeId) -> Option<()> {
        if self.fuel == 0 {
            self.too_many_aliases(
                node,
                &format!("aliases unfold to more than {ALIAS_FUEL} values"),
            );
            return None;
        }
        self.fuel -= 1;
        Some(())
    }

    /// A value with its place.
    pub fn stated<T: Shape>(&mut self, node: NodeId) -> Option<Stated<T>> {
        let span = self.span(node);
        let value = self.follow(node, |reader, target| {
            if reader.is_null(target) && !T::TAKES_NOTHING {
                reader.no_value(target, T::WANTS);
                return None;
            }
            T::read(reader, target)
        })?;
        Some(Stated { value, span })
    }

    /// Reads a key's value into its field.
    pub fn set<T: Shape>(&mut self, field: &mut Field<T>, key: &str, slot: Slot) {
        if !field.is_absent() {
            if !slot.merged {
                self.duplicate_key(key, slot, field.span());
            }
            return;
        }
        self.path.push(slot);
        *field = match self.stated(slot.value) {
            Some(stated) => Field::Stated(stated),
            None => Field::Bad,
        };
        self.path.pop();
    }

    pub(super) fn is_null(&self, node: NodeId) -> bool {
        let tree = &self.source.tree;
        tree.kind(node) == Kind::Plain
            && matches!(
                self.source.text_of(node),
                "" | "~" | "null" | "Null" | "NULL"
            )
    }

    /// Reads a mapping with known keys. Every entry is read whatever is wrong with the others.
    pub fn record<R: Record>(&mut self, node: NodeId) -> Option<R> {
        if !self.source.tree.is_map(node) {
            let keys: Vec<_> = R::KEYS.iter().map(|key| key.name).collect();
            let keys = format!("the keys of {}: {}", R::WHAT, keys.join(", "));
            self.wrong_kind(node, "a set of `key: value` pairs", &keys);
            return None;
        }
        let mut record = R::default();
        self.entries(node, &mut record, false, 0);
        for key in record.missing() {
            self.missing_key(key, R::WHAT, R::KEYS, node);
        }
        Some(record)
    }

    fn entries<R: Record>(&mut self, node: NodeId, record: &mut R, merged: bool, depth: u32) {
        let source = self.source;
        let (mut merges, mut unknown) = (Vec::new(), Vec::new());
        let mut entries = source.tree.entries(node).peekable();
        while let Some((key, value)) = entries.next() {
            if self.via.is_some() && self.burn(key).is_none() {
                return;
            }
            if !source.tree.is_scalar(key) {
                self.no_key(key);
                continue;
            }
            let name = source.text_of(key);
            let slot = Slot { key, value, merged };
            if name == "<<" && source.tree.kind(key) == Kind::Plain {
                merges.push(value);
            } else if let Some(piece) = entries.next_if(|next| self.is_piece(slot, *next)) {
                let mut last = piece.0;
                while let Some((more, _)) = entries.next_if(|next| self.is_piece(slot, *next)) {
                    last = more;
                }
                self.fell_apart(slot, last);
                record.spoil(name);
            } else if !record.set(self, name, slot) {
                unknown.push((name, slot));
            }
        }
        for (name, slot) in unknown {
            let near = self.near(name, R::KEYS.iter().map(|key| key.name));
            let meant = given_as(near.as_ref(), R::KEYS).filter(|key| !merged && !record.has(key));
            self.unknown_key(name, slot, R::WHAT, R::KEYS, near, meant);
            if let Some(key) = meant.filter(|_| self.reads_slips) {
                record.set(self, key, slot);
            }
        }
        for merge in merges {
            self.merge(merge, record, depth);
        }
    }

    fn merge<R: Record>(&mut self, node: NodeId, record: &mut R, depth: u32) {
        if depth >= MERGE_DEPTH {
            self.merged_too_deep(node);
            return;
        }
        self.follow(node, |reader, target| {
            if reader.source.tree.is_map(target) {
                reader.entries(target, record, true, depth + 1);
            } else if reader.is_list(target) {
                for item in reader.items(target) {
                    reader.merge(item, record, depth + 1);
                }
            } else {
                reader.no_merge(target);
            }
            Some(())
        });
    }

    pub(super) fn merged_too_deep(&mut self, node: NodeId) {
        self.too_many_aliases(
            node,
            &format!("merge keys refer to each other more than {MERGE_DEPTH} deep"),
        );
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

    /// The known words nearest to a wrong one, as long as there is patience left for comparing.
    pub(crate) fn near<'w>(
        &mut self,
        wrong: &str,
        known: impl ExactSizeIterator<Item = &'w str>,
    ) -> Option<Near<'w>> {
        self.guesses = self.guesses.checked_sub(known.len())?;
        spelling::near(wrong, known)
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
        let source = self.source;
        if !source.tree.is_scalar(node) {
            self.wrong_kind(node, wanted, wanted);
            return None;
        }
        let text = source.text_of(node);
        // The line end behind a block is layout.
        Some(if source.tree.kind(node) == Kind::Block {
            text.trim_end_matches(['\n', '\r'])
        } else {
            text
        })
    }
}
