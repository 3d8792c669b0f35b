//! The tree: nodes in one vector, children as a linked list, text as a slice of the source.

use std::ops::Range;

/// What a node is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// An unquoted scalar.
    Plain,
    /// A quoted scalar.
    Quoted,
    /// A literal or folded block scalar.
    Block,
    /// `{…}`; children alternate key and value.
    FlowMap,
    /// An indented mapping; children alternate key and value.
    BlockMap,
    Seq,
    /// `*name`; its only link is to the anchored node.
    Alias,
    /// `*name` where no such anchor stands before it.
    LostAlias,
}

/// A node of one tree.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct NodeId(pub(super) u32);

pub(super) const NONE: u32 = u32::MAX;

#[derive(Debug, Clone)]
pub(super) struct Node {
    pub(super) start: u32,
    pub(super) end: u32,
    /// First child of a collection, target of an alias, or index of a scalar's unescaped text.
    pub(super) link: u32,
    pub(super) next: u32,
}

/// One document as nodes, or several that are one mapping. Spans are bytes from the start of the file.
#[derive(Debug, Default)]
pub struct Tree {
    pub(super) nodes: Vec<Node>,
    /// Beside the nodes rather than in them, which would pad each by three bytes.
    pub(super) kinds: Vec<Kind>,
    /// Text of the scalars that differ from their source slice (escapes, folding).
    pub(super) unescaped: Vec<Box<str>>,
    pub(super) further: Vec<Further>,
}

/// Another document of the same file.
#[derive(Debug, Clone, Copy)]
pub struct Further {
    pub start: u32,
    /// Its entries are taken as more of the first document's.
    pub is_joined: bool,
}

impl Tree {
    /// The document's topmost node; `None` for an empty document.
    pub fn root(&self) -> Option<NodeId> {
        (!self.nodes.is_empty()).then_some(NodeId(0))
    }

    /// The documents behind the first, as far as they were read.
    pub fn further(&self) -> impl Iterator<Item = Further> + '_ {
        self.further.iter().copied()
    }

    fn node(&self, id: NodeId) -> &Node {
        &self.nodes[id.0 as usize]
    }

    pub fn kind(&self, id: NodeId) -> Kind {
        self.kinds[id.0 as usize]
    }

    pub fn is_map(&self, id: NodeId) -> bool {
        matches!(self.kind(id), Kind::FlowMap | Kind::BlockMap)
    }

    pub fn is_scalar(&self, id: NodeId) -> bool {
        matches!(self.kind(id), Kind::Plain | Kind::Quoted | Kind::Block)
    }

    /// Bytes of the node: quotes, braces and a block scalar's `|` included, anchors and tags not.
    pub fn bytes(&self, id: NodeId) -> Range<usize> {
        let node = self.node(id);
        node.start as usize..node.end as usize
    }

    /// Whether a collection is written in brackets or braces. An entry alone in a list, `[a: b]`, is
    /// a mapping without braces of its own and is none.
    pub fn is_bracketed(&self, id: NodeId, source: &str) -> bool {
        !self.is_scalar(id) && source[self.bytes(id)].starts_with(['[', '{'])
    }

    /// An unquoted scalar with nothing in it (`key:`), whose span is empty.
    pub fn is_empty_scalar(&self, id: NodeId) -> bool {
        let node = self.node(id);
        self.kind(id) == Kind::Plain && node.start == node.end
    }

    /// A scalar's text after quoting and folding. `source` is the text that the tree was built
    /// from. Collections have none.
    pub fn text<'a>(&'a self, id: NodeId, source: &'a str) -> &'a str {
        let node = self.node(id);
        if node.link != NONE && self.is_scalar(id) {
            return &self.unescaped[node.link as usize];
        }
        let span = &source[self.bytes(id)];
        match self.kind(id) {
            Kind::Quoted => span.get(1..span.len().max(2) - 1).unwrap_or(""),
            Kind::Plain => span,
            _ => "",
        }
    }

    /// The anchored node behind an alias.
    pub fn target(&self, id: NodeId) -> Option<NodeId> {
        let node = self.node(id);
        (self.kind(id) == Kind::Alias && node.link != NONE).then_some(NodeId(node.link))
    }

    /// Items of a sequence, or alternating keys and values of a mapping.
    pub fn children(&self, id: NodeId) -> impl Iterator<Item = NodeId> + '_ {
        let collection = matches!(self.kind(id), Kind::FlowMap | Kind::BlockMap | Kind::Seq);
        let first = if collection { self.node(id).link } else { NONE };
        let step = |at: u32| (at != NONE).then_some(NodeId(at));
        std::iter::successors(step(first), move |at| step(self.node(*at).next))
    }

    /// Key and value nodes of a mapping, in order.
    pub fn entries(&self, id: NodeId) -> impl Iterator<Item = (NodeId, NodeId)> + '_ {
        let mut children = if self.is_map(id) {
            Some(self.children(id))
        } else {
            None
        };
        std::iter::from_fn(move || {
            let children = children.as_mut()?;
            Some((children.next()?, children.next()?))
        })
    }
}
