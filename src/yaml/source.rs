//! The files of one review: their texts, trees and line starts in one space of positions.
//!
//! A [`Span`] is a pair of positions in that space, so that any value of the plan can say where it
//! stands in eight bytes, whichever file it came from. A value reached through a YAML alias has
//! two places, the alias and the anchor: its span is a *detour*, an index into a list of those.

use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use super::broken::Broken;
use super::lines::{Lines, Position};
use super::tree::{NodeId, Tree};

/// Which file of a review.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct FileId(pub u16);

/// A place in one of the files of a review.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Span {
    start: u32,
    end: u32,
}

impl Span {
    /// The span of the detour with this index in [`Sources`].
    pub fn detour_at(index: usize) -> Self {
        Self {
            start: u32::try_from(index).unwrap_or(DETOUR - 1),
            end: DETOUR,
        }
    }
}

/// `end` of a span that is an index into the detours.
const DETOUR: u32 = u32::MAX;

/// A span spelled out: a file and the bytes in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Spot {
    pub file: FileId,
    pub start: usize,
    pub end: usize,
}

/// One file: its name as given, its text, its tree.
#[derive(Debug)]
pub struct Source {
    pub path: PathBuf,
    pub text: String,
    pub tree: Tree,
    id: FileId,
    base: u32,
    lines: OnceLock<Lines>,
}

impl Source {
    pub fn lines(&self) -> &Lines {
        self.lines.get_or_init(|| Lines::of(&self.text))
    }

    pub fn position(&self, byte: usize) -> Position {
        self.lines().position(byte, &self.text)
    }

    /// Span of a node of this file's tree.
    pub fn span(&self, node: NodeId) -> Span {
        self.span_of(self.tree.bytes(node))
    }

    /// Span of bytes of this file.
    pub fn span_of(&self, bytes: std::ops::Range<usize>) -> Span {
        let position = |byte: usize| self.base.saturating_add(u32::try_from(byte).unwrap_or(0));
        Span {
            start: position(bytes.start),
            end: position(bytes.end),
        }
    }

    /// Bytes of this file as a place.
    pub fn spot_of(&self, bytes: std::ops::Range<usize>) -> Spot {
        Spot {
            file: self.id,
            start: bytes.start,
            end: bytes.end,
        }
    }

    /// The line end that the file uses.
    pub fn line_end(&self) -> &'static str {
        match self.text.find(['\n', '\r']) {
            Some(at) if self.text[at..].starts_with("\r\n") => "\r\n",
            Some(at) if self.text[at..].starts_with('\r') => "\r",
            _ => "\n",
        }
    }

    /// A scalar's text.
    pub fn text_of(&self, node: NodeId) -> &str {
        self.tree.text(node, &self.text)
    }
}

/// All files of one review.
#[derive(Debug, Default)]
pub struct Sources {
    files: Vec<Source>,
    detours: Vec<(Span, Span)>,
}

impl Sources {
    /// Reads `text` into a tree and keeps both.
    ///
    /// # Errors
    /// Where the text is no YAML or beyond a limit. The text is kept all the same, so that the
    /// place can be shown.
    pub fn add(&mut self, path: &Path, text: String) -> (FileId, Result<(), Broken>) {
        let base = self.files.last().map_or(0, |last| {
            let length = u32::try_from(last.text.len()).unwrap_or(u32::MAX);
            last.base.saturating_add(length).saturating_add(1)
        });
        let room = (u32::MAX as usize).saturating_sub(base as usize + 1) > text.len();
        let built = if room && self.files.len() < usize::from(u16::MAX) {
            Tree::build(&text)
        } else {
            Err(Broken {
                byte: 0,
                reason: "the files of this review are together longer than 4 GB".into(),
            })
        };
        let built = built.and_then(|tree| {
            // `---` alone is a document of one value that is not there.
            let something = tree.root().is_some_and(|root| !tree.is_empty_scalar(root));
            let second = tree.further().next().map(|further| further.start as usize);
            something.then_some(tree).ok_or_else(|| Broken {
                byte: second.unwrap_or(0),
                reason: match second {
                    None => "there is nothing in this file".into(),
                    Some(_) => "there is nothing in this file before this second document, and \
                                only the first is read; take out the `---` that is too many"
                        .into(),
                },
            })
        });
        let (tree, result) = match built {
            Ok(tree) => (tree, Ok(())),
            Err(broken) => (Tree::default(), Err(broken)),
        };
        let id = FileId(u16::try_from(self.files.len()).unwrap_or(u16::MAX));
        self.files.push(Source {
            path: path.to_owned(),
            text,
            tree,
            id,
            base,
            lines: OnceLock::new(),
        });
        (id, result)
    }

    pub fn file(&self, id: FileId) -> &Source {
        &self.files[usize::from(id.0)]
    }

    pub fn files(&self) -> impl Iterator<Item = (FileId, &Source)> {
        (0..).map(FileId).zip(&self.files)
    }

    /// How many detours there are: the index that the next one gets.
    pub fn detours(&self) -> usize {
        self.detours.len()
    }

    /// Adds detours (alias, what it stands for) that were numbered from [`Self::detours`] on.
    pub fn add_detours(&mut self, detours: Vec<(Span, Span)>) {
        self.detours.extend(detours);
    }

    /// The place at fault, and for a value reached through an alias the anchored place behind it.
    pub fn spots(&self, span: Span) -> (Spot, Option<Spot>) {
        if span.end == DETOUR {
            return match self.detours.get(span.start as usize) {
                Some((alias, anchored)) => (self.spot(*alias), Some(self.spot(*anchored))),
                None => (self.spot(Span { start: 0, end: 0 }), None),
            };
        }
        (self.spot(span), None)
    }

    fn spot(&self, span: Span) -> Spot {
        let index = self
            .files
            .partition_point(|file| file.base <= span.start)
            .saturating_sub(1);
        let file = &self.files[index];
        let byte =
            |position: u32| (position.saturating_sub(file.base) as usize).min(file.text.len());
        Spot {
            file: FileId(u16::try_from(index).unwrap_or(0)),
            start: byte(span.start),
            end: byte(span.end),
        }
    }

    /// Whether the value was reached through an alias, so that an edit there would change every
    /// other place that uses the anchor.
    pub fn is_shared(&self, span: Span) -> bool {
        span.end == DETOUR
    }

    /// The text at a place.
    pub fn slice(&self, spot: Spot) -> &str {
        self.file(spot.file)
            .text
            .get(spot.start..spot.end)
            .unwrap_or("")
    }
}
