//! Catalogues: other files of `stock:` shared by many plans.

use std::collections::{HashMap, HashSet};
use std::path::{Path, PathBuf};

use super::Stock;
use super::field::{Entry, Stated};
use super::names::top;
use super::read::{Document, Section};
use super::reader::Reader;
use super::record::{Key, Record, record};
use super::refs::{Sort, Things};
use super::shape::{Notes, Text, Version};
use super::wording::shown;
use crate::findings::{Finding, Id, Level};
use crate::yaml::{FileId, Source, Sources, Span};

/// Where catalogues come from: the disk, or an editor's open files.
pub trait Library {
    /// The text of a file.
    ///
    /// # Errors
    /// A reason in words.
    fn load(&self, path: &Path) -> Result<String, String>;

    /// Catalogues of a plan that names none.
    fn usual(&self) -> &[PathBuf] {
        &[]
    }
}

record! {
    /// A catalogue of stock.
    Catalogue, "a catalogue" {
        /// Version of the plan language: 1.
        "nailplate" nailplate: Version,
        /// What the catalogue holds.
        "title" title: Text,
        /// Kinds of cable by name.
        "stock" stock: Section<Stock>,
        /// For people.
        "notes" notes: Notes,
    }
}

/// Catalogues of one plan; more is a mistake.
const MOST: usize = 1000;

/// A catalogue as the plan names it: read, or the reason why not and the file and byte where
/// reading it stopped.
pub(super) type Loaded = Result<FileId, (String, Option<(FileId, usize)>)>;

/// Loads the catalogues that a plan names into `sources`, or the usual ones where it names none. One
/// named twice is read once.
pub(super) fn load(
    sources: &mut Sources,
    file: FileId,
    library: &dyn Library,
) -> Vec<(String, Loaded)> {
    let source = sources.file(file);
    let folder = source.path.parent().map(Path::to_owned).unwrap_or_default();
    let own = source.path.clone();
    let mut known = HashSet::new();
    let mut named: Vec<(String, PathBuf)> = match named(source) {
        Some(names) => names
            .into_iter()
            .map(|name| {
                let path = folder.join(&name);
                (name, path)
            })
            .collect(),
        None => library
            .usual()
            .iter()
            .map(|path| (path.to_string_lossy().into_owned(), path.clone()))
            .collect(),
    };
    named.retain(|(name, _)| known.insert(name.clone()));
    let mut out = Vec::with_capacity(named.len());
    for (name, path) in named {
        let loaded = if path == own {
            Err(("it is the plan itself".to_owned(), None))
        } else if out.len() >= MOST {
            Err((format!("no more than {MOST} catalogues are read"), None))
        } else {
            library
                .load(&path)
                .map_err(|reason| (reason, None))
                .and_then(|text| {
                    let (id, result) = sources.add(&path, text);
                    result
                        .map(|()| id)
                        .map_err(|broken| (broken.reason, Some((id, broken.byte))))
                })
        };
        out.push((name, loaded));
    }
    out
}

/// What stands under the plan's `catalogue`, if it has that key; its mistakes are reported when the
/// plan is read.
fn named(source: &Source) -> Option<Vec<String>> {
    let things = Things::default();
    let mut reader = Reader::new(source, &things, 0, false);
    let root = source.tree.root()?;
    let (slot, via, _) = top(&mut reader, root, Document::KEYS)
        .into_iter()
        .find(|(_, _, key)| *key == "catalogue")?;
    let names = reader.by_way_of(via, |reader| {
        let items = reader
            .follow(slot.value, |reader, node| Some(reader.items(node)))
            .unwrap_or_default();
        items
            .into_iter()
            .filter_map(|item| reader.stated::<Text>(item))
            .map(|name| name.value.0.into())
            .collect()
    });
    Some(names)
}

/// The catalogues that a plan's text names, and whether it has the key at all, without reading
/// the rest of the plan where that can be avoided. `None` where the text is no YAML.
pub fn catalogues_of(text: &str) -> Option<Option<Vec<String>>> {
    // Nearly all plans write the key at the start of a line, and what is under it is soon read.
    let lines = lines_under_key(text).filter(|lines| !lines.contains('*'));
    if let Some(Some(names)) = lines.and_then(catalogues_of_whole) {
        return Some(Some(names));
    }
    if has_other_keys_only(text) {
        return Some(None);
    }
    catalogues_of_whole(text)
}

/// Whether each line that is not indented is a comment, or opens with a key of a plan, plainly
/// written, that is another: then none is read as `catalogue`. Keys may also be misspelt, quoted,
/// merged from elsewhere, or stand in braces.
fn has_other_keys_only(text: &str) -> bool {
    let mut lines = text
        .split(['\n', '\r'])
        .filter(|line| !line.is_empty() && !line.starts_with('#'))
        .peekable();
    lines.peek().is_some_and(|line| !line.starts_with(' '))
        && lines.filter(|line| !line.starts_with(' ')).all(|line| {
            let key = line.split_once(':').map_or("", |(key, _)| key);
            key != "catalogue" && Document::KEYS.iter().any(|known| known.name == key)
        })
}

fn catalogues_of_whole(text: &str) -> Option<Option<Vec<String>>> {
    let mut sources = Sources::default();
    let (file, read) = sources.add(Path::new(""), text.to_owned());
    read.ok()?;
    Some(named(sources.file(file)))
}

/// The line of the key and those below it that may belong to it.
fn lines_under_key(text: &str) -> Option<&str> {
    let key = "catalogue:";
    let start = if text.starts_with(key) {
        0
    } else {
        text.find("\ncatalogue:")? + 1
    };
    let rest = &text[start..];
    let line_ends = rest.match_indices('\n').map(|(at, _)| at + 1);
    let mut next_key = line_ends.filter(|at| {
        rest[*at..].starts_with(|c: char| c.is_alphanumeric() || matches!(c, '"' | '\'' | '?'))
    });
    Some(&rest[..next_key.next().unwrap_or(rest.len())])
}

/// Mistakes for the catalogues that could not be read, at the places that name them.
pub(super) fn unread(
    sources: &Sources,
    named: &[Stated<Text>],
    loaded: &[(String, Loaded)],
) -> Vec<Finding> {
    let places: HashMap<&str, Span> = named
        .iter()
        .rev()
        .map(|name| (&*name.value.0, name.span))
        .collect();
    let mut findings = Vec::new();
    for (name, loaded) in loaded {
        let (Err((reason, stopped)), Some(place)) = (loaded, places.get(name.as_str())) else {
            continue;
        };
        let mut says = format!("the catalogue {} could not be read: {reason}", shown(name));
        if let Some((file, byte)) = stopped {
            let at = sources.file(*file).position(*byte);
            says.push_str(&format!(" (line {}, column {})", at.line, at.column));
        }
        let mut finding = Finding::new(
            "plan.catalogue-unread",
            Level::Fault,
            Id::new("plan"),
            says,
            *place,
            "not read",
        );
        finding.put_right = Some(
            "check the name: it is looked up from the plan's folder; stock that is in no other file was not checked".into(),
        );
        if let Some((file, byte)) = stopped {
            let source = sources.file(*file);
            let sign = source.text[*byte..]
                .chars()
                .next()
                .filter(|c| !c.is_whitespace());
            if let Some(sign) = sign {
                let span = source.span_of(*byte..*byte + sign.len_utf8());
                finding = finding.with_mark(span, "reading stopped here");
            }
        }
        findings.push(finding);
    }
    findings
}

/// The usual catalogues that could not be read. No place in the plan names them: whoever names them
/// is told once, and each plan lacks its stock.
pub(super) fn usual_unread(named: bool, loaded: &[(String, Loaded)]) -> Vec<String> {
    let unread = loaded
        .iter()
        .filter(|(_, loaded)| !named && loaded.is_err());
    unread.map(|(name, _)| name.clone()).collect()
}

/// The keys of a catalogue.
pub(super) const KEYS: &[Key] = Catalogue::KEYS;

/// Reads the stock of one catalogue.
pub(super) fn stock(reader: &mut Reader<'_>) -> Vec<Entry<Stock>> {
    let catalogue: Catalogue = reader.document();
    reader.section(catalogue.stock, Sort::Stock)
}
