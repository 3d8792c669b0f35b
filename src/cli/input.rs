//! Reading plans and catalogues.

use std::fs::File;
use std::io::{self, ErrorKind, Read};
use std::path::{Path, PathBuf};

use super::out::complain;
use crate::forms;
use crate::plan::Library;
use crate::yaml::{Broken, Lines, MAX_BYTES, Sources};

/// Catalogues come from the disk.
pub struct Disk;

impl Library for Disk {
    fn load(&self, path: &Path) -> Result<String, String> {
        let file = File::open(path).map_err(|error| reason(&error))?;
        decoded(file).map_err(|(place, reason)| match place {
            Some((line, column)) => format!("line {line}, column {column}: {reason}"),
            None => reason,
        })
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
