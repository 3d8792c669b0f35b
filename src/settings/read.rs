//! Reads settings: their file, the firm's sheets, and what both come to.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::Settings;
use super::draft::Draft;
use super::file::File;
use super::mistake::{ON, unread};
use super::sheets;
use crate::findings::{Finding, Id, Level};
use crate::plan::reader::Reader;
use crate::plan::shape::{List, Text};
use crate::plan::wording::shown;
use crate::plan::{Field, Library, Stated, Things};
use crate::rules::{Departure, Place, Rulebook, Sheet};
use crate::yaml::{Broken, FileId, Sources, Span};

/// Where settings, sheets and catalogues come from.
pub trait Cabinet: Library {
    /// Every YAML file below a folder, by its path from there, in order of the names.
    ///
    /// # Errors
    /// A reason in words.
    fn below(&self, folder: &Path) -> Result<Vec<PathBuf>, String>;
}

/// Settings, and what is wrong with them.
#[derive(Debug)]
pub struct Read {
    pub settings: Settings,
    /// The file of the settings and the firm's sheets.
    pub sources: Sources,
    pub file: FileId,
    pub findings: Vec<Finding>,
}

/// Reads settings given as text. `path` is what they are called, and where their folders and catalogues are
/// looked up from.
///
/// # Errors
/// The sources, and where and why the text is no YAML.
pub fn read(
    path: &Path,
    text: String,
    cabinet: &dyn Cabinet,
) -> Result<Read, (Box<Sources>, Broken)> {
    let mut sources = Sources::default();
    let (file, whole) = sources.add(path, text);
    if let Err(broken) = whole {
        return Err((Box::new(sources), broken));
    }
    let things = Things::default();
    let mut reader = Reader::new(sources.file(file), &things, sources.detours(), false);
    reader.on = Id::new(ON);
    reader.reads_slips = false;
    let stated: File = reader.document();
    let (findings, detours) = reader.finish();
    sources.add_detours(detours);

    let mut desk = Desk {
        cabinet,
        folder: path.parent().map(Path::to_owned).unwrap_or_default(),
        paths: BTreeMap::new(),
        sources,
        findings,
    };
    let mut drafts = BTreeMap::new();
    for folder in items(&stated.rulebook) {
        desk.restate(folder, &mut drafts);
    }
    for change in stated.rules.value().into_iter().flat_map(|rules| &rules.0) {
        if let Some(draft) = draft(&mut drafts, change.rule) {
            draft.change(change, |span| desk.place(span));
        }
    }
    let catalogue = desk.catalogues(path, &stated.catalogue);
    let (sheets, departures) = finished(drafts);
    let Desk {
        sources, findings, ..
    } = desk;
    let settings = Settings {
        path: path.to_owned(),
        hold: stated.hold.value().map(|word| Level::from(*word)),
        catalogue,
        rulebook: Arc::new(Rulebook::by(path, sheets, departures)),
        folders: folders(path, &stated.rulebook),
        mistakes: findings.len(),
    };
    Ok(Read {
        settings,
        sources,
        file,
        findings,
    })
}

fn folders(path: &Path, named: &Field<List<Text>>) -> Vec<PathBuf> {
    let folder = path.parent().unwrap_or(Path::new(""));
    let names = items(named).iter().map(|name| &*name.value.0);
    names.map(|name| folder.join(name)).collect()
}

fn items(list: &Field<List<Text>>) -> &[Stated<Text>] {
    list.value().map_or(&[], |list| &list.0)
}

fn draft(drafts: &mut BTreeMap<usize, Draft>, rule: usize) -> Option<&mut Draft> {
    match drafts.entry(rule) {
        Entry::Occupied(entry) => Some(entry.into_mut()),
        Entry::Vacant(entry) => Some(entry.insert(Draft::of(rule)?)),
    }
}

/// Sheets in effect, their limits decoded, and what departs from the built-in ones.
fn finished(drafts: BTreeMap<usize, Draft>) -> (Vec<(usize, Sheet)>, Vec<Departure>) {
    let (mut sheets, mut departures) = (Vec::new(), Vec::new());
    for (sheet, more) in drafts.into_values().map(Draft::finish) {
        sheets.extend(sheet);
        departures.extend(more);
    }
    (sheets, departures)
}

struct Desk<'c> {
    cabinet: &'c dyn Cabinet,
    /// What the settings lie in.
    folder: PathBuf,
    paths: BTreeMap<FileId, Arc<Path>>,
    sources: Sources,
    findings: Vec<Finding>,
}

impl Desk<'_> {
    /// Line and file of a place.
    fn place(&self, span: Span) -> Place {
        let (spot, _) = self.sources.spots(span);
        let source = self.sources.file(spot.file);
        let shared = self.paths.get(&spot.file).cloned();
        Place {
            path: shared.unwrap_or_else(|| Arc::from(&*source.path)),
            line: source.position(spot.start).line,
        }
    }

    /// The firm's sheets in one folder.
    fn restate(&mut self, named: &Stated<Text>, drafts: &mut BTreeMap<usize, Draft>) {
        let folder = self.folder.join(&*named.value.0);
        let files = match self.cabinet.below(&folder) {
            Ok(files) => files,
            Err(reason) => {
                let what = format!("the folder of sheets {}", shown(&named.value.0));
                return self.unread(&what, &reason, named.span, None);
            }
        };
        if files.is_empty() {
            let what = format!("the folder of sheets {}", shown(&named.value.0));
            return self.unread(&what, "no sheet is in it", named.span, None);
        }
        for below in files {
            let path = folder.join(&below);
            let what = format!("the sheet {}", shown(&path.to_string_lossy()));
            let text = match self.cabinet.load(&path) {
                Ok(text) => text,
                Err(reason) => {
                    self.unread(&what, &reason, named.span, None);
                    continue;
                }
            };
            let (file, whole) = self.sources.add(&path, text);
            if let Err(broken) = whole {
                let stopped = Some((file, broken.byte));
                self.unread(&what, &broken.reason, named.span, stopped);
                continue;
            }
            self.paths.insert(file, Arc::from(&*path));
            let (own, mistakes) = sheets::read(&mut self.sources, file, &below);
            self.findings.extend(mistakes);
            let Some(own) = own else { continue };
            let place = |part: &str| match own.at.get(part) {
                Some(span) => self.place(*span),
                None => Place {
                    path: Arc::clone(&self.paths[&own.file]),
                    line: 1,
                },
            };
            if let Some(draft) = draft(drafts, own.rule) {
                draft.restate(own.whole, place);
            }
        }
    }

    /// The usual catalogues, each tried once so that one that cannot be read is told once.
    fn catalogues(&mut self, settings: &Path, named: &Field<List<Text>>) -> Vec<PathBuf> {
        if named.is_bad() {
            // What plans lack is then not known: the settings stand for it, and are no catalogue.
            return vec![settings.to_owned()];
        }
        let mut paths = Vec::new();
        for name in items(named) {
            let path = self.folder.join(&*name.value.0);
            let what = format!("the catalogue {}", shown(&name.value.0));
            match self.cabinet.load(&path) {
                Err(reason) => self.unread(&what, &reason, name.span, None),
                Ok(text) => {
                    let mut scratch = Sources::default();
                    let (file, whole) = scratch.add(&path, text);
                    if let Err(broken) = whole {
                        let at = scratch.file(file).position(broken.byte);
                        let reason =
                            format!("{} (line {}, column {})", broken.reason, at.line, at.column);
                        self.unread(&what, &reason, name.span, None);
                    }
                }
            }
            paths.push(path);
        }
        paths
    }

    fn unread(&mut self, what: &str, reason: &str, named: Span, stopped: Option<(FileId, usize)>) {
        let finding = unread(&self.sources, what, reason, named, stopped);
        self.findings.push(finding);
    }
}
