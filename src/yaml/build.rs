//! Builds the tree from the engine's events.

use std::collections::{HashMap, HashSet};

use serde_yaml::granit_parser::{self, Event, Parser, ScalarStyle, StructureStyle};

use super::broken::Broken;
use super::tree::{Further, Kind, NONE, Node, NodeId, Tree};

/// The deepest nesting that is read. A plan needs six levels.
pub const MAX_DEPTH: usize = 64;
/// The longest file that is read, in bytes.
pub const MAX_BYTES: usize = 256 * 1024 * 1024;

struct Open {
    node: u32,
    last: u32,
    flow: bool,
}

#[derive(Default)]
struct Builder {
    tree: Tree,
    open: Vec<Open>,
    anchors: HashMap<usize, u32>,
    /// Where the nodes of a further document begin.
    begins: Option<usize>,
    /// Keys of the topmost mapping, once there is more than one document, and its last value.
    first: Option<(HashSet<String>, NodeId)>,
}

impl Tree {
    /// Reads one document.
    ///
    /// # Errors
    /// The place and the reason where the text is no YAML, is nested deeper than [`MAX_DEPTH`],
    /// or is longer than [`MAX_BYTES`].
    pub fn build(text: &str) -> Result<Self, Broken> {
        if text.len() > MAX_BYTES {
            return Err(Broken {
                byte: 0,
                reason: format!(
                    "the file is {} MB long; {} MB is the most that is read",
                    text.len() / 1_048_576,
                    MAX_BYTES / 1_048_576
                ),
            });
        }
        let options = granit_parser::options! {
            emit_comments: false,
            emit_unresolved_aliases: true,
            flow_nesting_limit: MAX_DEPTH,
            block_nesting_limit: MAX_DEPTH
        };
        let mut builder = Builder::default();
        // About a node for each of these, so that the vector need not grow by copying.
        let signs = text
            .bytes()
            .filter(|b| matches!(b, b':' | b',' | b'{' | b'[' | b'\n'));
        let about = signs.count() + 16;
        builder.tree.nodes.reserve(about);
        builder.tree.kinds.reserve(about);
        let mut documents = 0;
        for event in Parser::new_from_str_with_options(text, options) {
            let (event, span) = match event {
                Ok(event) => event,
                Err(error) if documents < 2 => return Err(Broken::of(&error, text)),
                // Only the first document has to be sound.
                Err(_) => {
                    builder.leave_out_last();
                    break;
                }
            };
            let bytes = span.byte_range().unwrap_or(0..0);
            #[expect(clippy::cast_possible_truncation, reason = "MAX_BYTES fits in u32")]
            let (start, end) = (bytes.start as u32, bytes.end as u32);
            match event {
                Event::DocumentStart(..) => {
                    documents += 1;
                    if documents > 1 && !builder.begin_another(text, start) {
                        break;
                    }
                }
                event => builder.event(text, event, start, end),
            }
        }
        builder.join_last(text);
        builder.tree.nodes.shrink_to_fit();
        builder.tree.kinds.shrink_to_fit();
        Ok(builder.tree)
    }
}

impl Builder {
    /// Another document starts. False where the one before was no part of the first: then nothing more is read.
    fn begin_another(&mut self, text: &str, start: u32) -> bool {
        let goes_on = self.join_last(text);
        if goes_on {
            self.tree.further.push(Further {
                start,
                is_joined: false,
            });
            self.begins = Some(self.tree.nodes.len());
        }
        goes_on
    }

    /// Forgets the nodes of the document that is being read.
    fn leave_out_last(&mut self) {
        if let Some(begins) = self.begins.take() {
            self.tree.nodes.truncate(begins);
            self.tree.kinds.truncate(begins);
        }
    }

    /// Takes the entries of the last document as more of the first, where both are mappings and no key stands in
    /// both: it is a part of a plan that dashes have cut in pieces. Else it is left out.
    fn join_last(&mut self, text: &str) -> bool {
        let Some(begins) = self.begins else {
            return true;
        };
        let tree = &self.tree;
        let part = |node: usize| {
            let is_map = tree.kinds.get(node) == Some(&Kind::BlockMap);
            let map = NodeId(u32::try_from(node).ok().filter(|_| is_map)?);
            let keys = tree
                .entries(map)
                .map(|(key, _)| tree.text(key, text).to_owned());
            let (_, last) = tree.entries(map).last()?;
            Some((keys.collect::<HashSet<_>>(), last))
        };
        let first = self.first.take().or_else(|| part(0));
        match (first, part(begins)) {
            (Some((mut keys, last)), Some((more, end)))
                if begins > 0 && keys.is_disjoint(&more) =>
            {
                keys.extend(more);
                self.first = Some((keys, end));
                self.begins = None;
                let rest = self.tree.nodes[begins].clone();
                self.tree.nodes[last.0 as usize].next = rest.link;
                self.tree.nodes[0].end = rest.end;
                if let Some(further) = self.tree.further.last_mut() {
                    further.is_joined = true;
                }
                true
            }
            _ => {
                self.leave_out_last();
                false
            }
        }
    }

    fn event(&mut self, text: &str, event: Event<'_>, start: u32, end: u32) {
        match event {
            Event::Scalar(value, style, anchor, _) => {
                let kind = match style {
                    ScalarStyle::Plain => Kind::Plain,
                    ScalarStyle::SingleQuoted | ScalarStyle::DoubleQuoted => Kind::Quoted,
                    ScalarStyle::Literal | ScalarStyle::Folded => Kind::Block,
                };
                let (start, end) = if kind == Kind::Block {
                    self.whole_block(text, start, end)
                } else {
                    (start, end)
                };
                let link = self.own_text(text, &value, kind, start, end);
                self.push(kind, start, end, link, anchor);
            }
            Event::Alias(target) => {
                let link = self.anchors.get(&target).copied().unwrap_or(NONE);
                self.push(Kind::Alias, start, end, link, 0);
            }
            Event::UnresolvedAlias(_) => self.push(Kind::LostAlias, start, end, NONE, 0),
            Event::SequenceStart(style, anchor, _) => {
                self.push(Kind::Seq, start, end, NONE, anchor);
                self.open(style == StructureStyle::Flow);
            }
            Event::MappingStart(style, anchor, _) => {
                let flow = style == StructureStyle::Flow;
                let kind = if flow { Kind::FlowMap } else { Kind::BlockMap };
                self.push(kind, start, end, NONE, anchor);
                self.open(flow);
            }
            Event::SequenceEnd | Event::MappingEnd => self.close(end),
            _ => {}
        }
    }

    /// A block scalar from its `|` or `>` to the last line that is not blank: the engine leaves out
    /// the header, without which the value can be neither shown nor replaced.
    fn whole_block(&self, text: &str, start: u32, end: u32) -> (u32, u32) {
        let before = self.tree.nodes.last().map_or(0, |last| last.end.min(start));
        let between = text.get(before as usize..start as usize).unwrap_or("");
        let header = between.char_indices().find(|(at, c)| {
            matches!(c, '|' | '>')
                && between[..*at].ends_with([' ', '\t', '\n', '\r'])
                && is_header(&between[at + 1..])
        });
        let Some((at, _)) = header else {
            return (start, end);
        };
        let from = before as usize + at;
        let kept = text.get(from..end as usize).unwrap_or("").trim_end().len();
        #[expect(clippy::cast_possible_truncation, reason = "MAX_BYTES fits in u32")]
        let span = (from as u32, (from + kept) as u32);
        span
    }

    /// Index of the scalar's text where it is not simply a slice of the source.
    fn own_text(&mut self, text: &str, value: &str, kind: Kind, start: u32, end: u32) -> u32 {
        let slice = text.get(start as usize..end as usize).unwrap_or("");
        let same = match kind {
            // The engine gives `~` for a value that is not there.
            Kind::Plain => slice.is_empty() || slice == value,
            Kind::Quoted => slice.len() >= 2 && slice[1..slice.len() - 1] == *value,
            _ => false,
        };
        if same {
            return NONE;
        }
        self.tree.unescaped.push(value.into());
        u32::try_from(self.tree.unescaped.len() - 1).unwrap_or(NONE)
    }

    fn push(&mut self, kind: Kind, start: u32, end: u32, link: u32, anchor: usize) {
        let index = u32::try_from(self.tree.nodes.len()).unwrap_or(NONE);
        self.tree.nodes.push(Node {
            start,
            end,
            link,
            next: NONE,
        });
        self.tree.kinds.push(kind);
        if anchor != 0 {
            self.anchors.insert(anchor, index);
        }
        if let Some(open) = self.open.last_mut() {
            if open.last == NONE {
                self.tree.nodes[open.node as usize].link = index;
            } else {
                self.tree.nodes[open.last as usize].next = index;
            }
            open.last = index;
        }
    }

    fn open(&mut self, flow: bool) {
        let node = u32::try_from(self.tree.nodes.len() - 1).unwrap_or(NONE);
        self.open.push(Open {
            node,
            last: NONE,
            flow,
        });
    }

    /// A flow collection ends at its bracket; a block collection has an empty end event, so it
    /// ends where its last child does.
    fn close(&mut self, end: u32) {
        let Some(open) = self.open.pop() else { return };
        let end = if open.flow {
            end
        } else if open.last == NONE {
            self.tree.nodes[open.node as usize].end
        } else {
            self.tree.nodes[open.last as usize].end
        };
        self.tree.nodes[open.node as usize].end = end;
    }
}

/// Whether a text may stand behind the `|` or `>` of a block scalar.
fn is_header(text: &str) -> bool {
    let line = text.split(['\n', '\r']).next().unwrap_or("");
    let rest = line
        .trim_start_matches(['+', '-'])
        .trim_start_matches(|c: char| c.is_ascii_digit());
    let rest = rest.trim_start_matches(['+', '-']);
    rest.trim().is_empty() || (rest.starts_with([' ', '\t']) && rest.trim_start().starts_with('#'))
}
