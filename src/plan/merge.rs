//! Merge keys in a mapping of names: which names it has, and by which alias each came.

use std::collections::HashSet;

use super::reader::{MERGE_DEPTH, Reader, Slot};
use crate::yaml::{Kind, NodeId, Span};

impl<'s> Reader<'s> {
    /// Keys and values of a mapping of names, merged ones last, with the alias that each came by,
    /// and whether it has merge keys. Of a name that several merged mappings have, the first counts.
    pub(super) fn named(&mut self, node: NodeId) -> (Vec<(Slot, Option<Span>)>, bool) {
        let mut out = Vec::new();
        let has_merges = self.named_into(node, &mut out, false, 0);
        (out, has_merges)
    }

    /// Whether there are merge keys.
    fn named_into(
        &mut self,
        node: NodeId,
        out: &mut Vec<(Slot, Option<Span>)>,
        merged: bool,
        depth: u32,
    ) -> bool {
        let source = self.source;
        let mut merges = Vec::new();
        for (key, value) in source.tree.entries(node) {
            if self.via.is_some() && self.burn(key).is_none() {
                return !merges.is_empty();
            }
            if source.tree.kind(key) == Kind::Plain && source.text_of(key) == "<<" {
                merges.push(value);
                continue;
            }
            out.push((Slot { key, value, merged }, self.via));
        }
        if merges.is_empty() {
            return false;
        }
        let mut taken: HashSet<&str> = out
            .iter()
            .map(|(slot, _)| source.text_of(slot.key))
            .collect();
        for merge in merges {
            self.named_merge(merge, out, &mut taken, depth);
        }
        true
    }

    fn named_merge(
        &mut self,
        node: NodeId,
        out: &mut Vec<(Slot, Option<Span>)>,
        taken: &mut HashSet<&'s str>,
        depth: u32,
    ) {
        if depth >= MERGE_DEPTH {
            self.merged_too_deep(node);
            return;
        }
        self.follow(node, |reader, target| {
            if reader.source.tree.is_map(target) {
                let source = reader.source;
                let mut more = Vec::new();
                reader.named_into(target, &mut more, true, depth + 1);
                // A name twice in one mapping stays, so that it is reported.
                more.retain(|(slot, _)| !taken.contains(source.text_of(slot.key)));
                taken.extend(more.iter().map(|(slot, _)| source.text_of(slot.key)));
                out.extend(more);
            } else if reader.is_list(target) {
                for item in reader.items(target) {
                    reader.named_merge(item, out, taken, depth + 1);
                }
            } else {
                reader.no_merge(target);
            }
            Some(())
        });
    }
}
