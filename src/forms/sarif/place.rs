//! Where something is: files, and regions of their texts.

use std::path::Path;

use serde::Serialize;

use super::{Message, uri};
use crate::findings::Id;
use crate::yaml::{FileId, Sources, Spot};

/// The name, in the log, of the folder that relative paths start from.
pub const BASE: &str = "RUN-FOLDER";

/// What standard input is called in place of a path.
const STANDARD_INPUT: &str = "<stdin>";

/// The byte-order mark.
const MARK: char = '\u{feff}';

/// A file.
#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct File {
    uri: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    uri_base_id: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    description: Option<Message>,
}

impl File {
    pub fn at(path: &Path) -> Self {
        let reference = uri::of(path);
        let is_file = !is_standard_input(path);
        Self {
            uri: reference.uri,
            uri_base_id: (is_file && reference.relative).then_some(BASE),
            description: (!is_file).then(|| Message::of("Standard input")),
        }
    }
}

pub fn is_standard_input(path: &Path) -> bool {
    path == Path::new(STANDARD_INPUT)
}

/// Lines and columns from 1, columns in characters; the end is the place behind the last one.
#[derive(Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Region {
    start_line: usize,
    start_column: usize,
    end_line: usize,
    end_column: usize,
    #[serde(flatten)]
    bytes: Option<Bytes>,
}

#[derive(Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
struct Bytes {
    byte_offset: usize,
    byte_length: usize,
}

impl Region {
    /// Of a place, as text and as bytes. A byte-order mark before the text is in no region.
    fn of(spot: Spot, sources: &Sources) -> Self {
        let source = sources.file(spot.file);
        let mark = source.text.starts_with(MARK);
        let first = if mark { MARK.len_utf8() } else { 0 };
        let from = source.position(spot.start);
        let to = source.position(spot.end.max(spot.start));
        Self {
            start_line: from.line,
            start_column: from.column,
            end_line: to.line,
            end_column: to.column,
            bytes: Some(Bytes {
                byte_offset: from.byte.max(first),
                byte_length: to.byte.max(first) - from.byte.max(first),
            }),
        }
    }

    /// As text alone: what replaces a text has to be one.
    pub fn of_text(spot: Spot, sources: &Sources) -> Self {
        Self {
            bytes: None,
            ..Self::of(spot, sources)
        }
    }
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Physical {
    artifact_location: File,
    #[serde(skip_serializing_if = "Option::is_none")]
    region: Option<Region>,
}

/// A thing of the plan. Its name alone says which: no two things of a plan have the same.
#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Logical<'r> {
    name: &'r str,
    fully_qualified_name: &'r str,
}

/// A place in a file, and what is there.
#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Location<'r> {
    physical_location: Physical,
    #[serde(skip_serializing_if = "Option::is_none")]
    logical_locations: Option<[Logical<'r>; 1]>,
    #[serde(skip_serializing_if = "Option::is_none")]
    message: Option<Message>,
}

impl<'r> Location<'r> {
    /// A whole file.
    pub fn whole(path: &Path) -> Self {
        Self {
            physical_location: Physical {
                artifact_location: File::at(path),
                region: None,
            },
            logical_locations: None,
            message: None,
        }
    }

    /// A place in a file.
    pub fn at(spot: Spot, sources: &Sources) -> Self {
        Self {
            physical_location: Physical {
                artifact_location: file(sources, spot.file),
                region: Some(Region::of(spot, sources)),
            },
            logical_locations: None,
            message: None,
        }
    }

    /// The same with a few words on it.
    #[must_use]
    pub fn with_words(self, words: &str) -> Self {
        Self {
            message: Some(Message::of(words)),
            ..self
        }
    }

    /// The same with the thing that is there.
    #[must_use]
    pub fn on(self, thing: Option<&'r Id>) -> Self {
        let logical = |id: &'r Id| {
            [Logical {
                name: id.as_str(),
                fully_qualified_name: id.as_str(),
            }]
        };
        Self {
            logical_locations: thing.map(logical),
            ..self
        }
    }
}

pub fn file(sources: &Sources, file: FileId) -> File {
    File::at(&sources.file(file).path)
}
