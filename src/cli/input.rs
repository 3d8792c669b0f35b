//! Reading plans and catalogues.

use std::fs::{self, File};
use std::io::{self, ErrorKind, Read};
use std::path::{Path, PathBuf};

use ignore::WalkBuilder;

use super::out::complain;
use crate::forms;
use crate::plan::Library;
use crate::settings::Cabinet;
use crate::yaml::{Broken, Lines, MAX_BYTES, Sources};

/// Catalogues, settings and sheets come from the disk.
pub struct Disk;

/// Sheets of one folder; there are not so many rules.
const MOST_SHEETS: usize = 1000;

impl Library for Disk {
    fn load(&self, path: &Path) -> Result<String, String> {
        let file = File::open(path).map_err(|error| reason(&error))?;
        decoded(file).map_err(|(place, reason)| match place {
            Some((line, column)) => format!("line {line}, column {column}: {reason}"),
            None => reason,
        })
    }
}

impl Cabinet for Disk {
    fn below(&self, folder: &Path) -> Result<Vec<PathBuf>, String> {
        let kind = fs::metadata(folder).map_err(|error| match error.kind() {
            ErrorKind::NotFound => "there is no such folder".into(),
            _ => reason(&error),
        })?;
        if !kind.is_dir() {
            return Err("this is no folder".into());
        }
        let walk = WalkBuilder::new(folder)
            .standard_filters(false)
            .hidden(true)
            // One deeper than sheets stand, to see those that are out of their place.
            .max_depth(Some(3))
            .sort_by_file_name(Ord::cmp)
            .build();
        let mut files = Vec::new();
        for entry in walk {
            let entry = entry.map_err(|error| match error.io_error() {
                Some(io) => reason(io),
                None => error.to_string(),
            })?;
            let path = entry.path();
            let yaml = path
                .extension()
                .is_some_and(|end| end == "yaml" || end == "yml");
            if yaml && !path.is_dir() {
                files.push(path.strip_prefix(folder).unwrap_or(path).to_owned());
            }
            if files.len() > MOST_SHEETS {
                return Err(format!("more than {MOST_SHEETS} YAML files lie below it"));
            }
        }
        Ok(files)
    }
}

/// What a plan is called: its path as given, or `<stdin>`.
pub fn name(path: &Path) -> PathBuf {
    if is_stdin(path) {
        PathBuf::from("<stdin>")
    } else {
        path.to_owned()
    }
}

pub fn is_stdin(path: &Path) -> bool {
    path.as_os_str() == "-"
}

/// Reads a plan, or complains and gives `None`.
pub fn read(path: &Path) -> Option<String> {
    text(path).map_err(|reason| complain(&reason)).ok()
}

/// The text of a plan.
///
/// # Errors
/// The plan and why it could not be read, in words.
pub fn text(path: &Path) -> Result<String, String> {
    let read = if is_stdin(path) {
        decoded(io::stdin().lock())
    } else {
        File::open(path)
            .map_err(|error| (None, reason(&error)))
            .and_then(decoded)
    };
    read.map_err(|(place, reason)| {
        let name = name(path);
        match place {
            Some((line, column)) => format!("{}:{line}:{column}: {reason}", name.display()),
            None => format!("{}: {reason}", name.display()),
        }
    })
}

/// Complains of a text that is no YAML.
pub fn complain_of(sources: &Sources, broken: &Broken) {
    complain(&no_yaml(sources, broken));
}

/// Why a text is no YAML, in words.
pub fn no_yaml(sources: &Sources, broken: &Broken) -> String {
    match sources.files().next() {
        Some((file, _)) => forms::text::broken(sources, file, broken),
        None => broken.reason.clone(),
    }
}

/// Line and column where known, and the reason.
type Undecoded = (Option<(usize, usize)>, String);

fn decoded(from: impl Read) -> Result<String, Undecoded> {
    let mut bytes = Vec::new();
    // One byte more than is allowed, so that a file without end is noticed.
    let most = MAX_BYTES as u64 + 1;
    from.take(most)
        .read_to_end(&mut bytes)
        .map_err(|error| (None, reason(&error)))?;
    if bytes.len() > MAX_BYTES {
        return Err((
            None,
            format!(
                "longer than {} MB, the most that is read",
                MAX_BYTES / 1_048_576
            ),
        ));
    }
    // Reading doubles its room as it goes; the text is kept for the whole review.
    bytes.shrink_to_fit();
    String::from_utf8(bytes).map_err(|error| {
        let at = error.utf8_error().valid_up_to();
        let bytes = error.into_bytes();
        let found = bytes.get(at).copied().unwrap_or_default();
        let before = String::from_utf8_lossy(&bytes[..at]);
        let place = Lines::of(&before).position(at, &before);
        (
            Some((place.line, place.column)),
            format!("not UTF-8 text: byte {found:#04x} at offset {at}"),
        )
    })
}

/// Why a file could not be used, without the number that an operating system gives it.
pub fn reason(error: &io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is no such file".into(),
        ErrorKind::PermissionDenied => "no permission".into(),
        ErrorKind::IsADirectory => "this is a folder".into(),
        _ => error.to_string(),
    }
}
