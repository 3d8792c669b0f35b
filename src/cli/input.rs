//! Reading plans and catalogues.

use std::fs::{self, File};
use std::io::{self, ErrorKind, Read};
use std::path::{Path, PathBuf};

use ignore::WalkBuilder;

use super::git::Index;
use super::out::complain;
use crate::forms;
use crate::plan::{Library, near};
use crate::settings::Cabinet;
use crate::yaml::{Broken, Lines, MAX_BYTES, Sources};

/// Catalogues, settings and sheets come from the disk.
pub struct Disk;

/// Sheets of one folder; there are not so many rules.
const MOST_SHEETS: usize = 1000;

impl Library for Disk {
    fn load(&self, path: &Path) -> Result<String, String> {
        on_disk(path).map_err(told)
    }
}

/// Where the files of a review are read from.
#[derive(Debug)]
pub enum Files {
    Disk,
    /// As the next commit would hold them.
    Staged(Index),
}

impl Files {
    /// The text of a plan.
    ///
    /// # Errors
    /// The plan and why it could not be read, in words.
    pub fn text(&self, path: &Path) -> Result<String, String> {
        match self {
            Self::Disk => text(path),
            Self::Staged(index) => index.text(path),
        }
    }

    /// Whether there is such a file.
    pub fn has(&self, path: &Path) -> bool {
        match self {
            // What cannot be looked at is taken to be there, so that opening it tells why.
            Self::Disk => match path.symlink_metadata() {
                Ok(_) => true,
                Err(error) => error.kind() != ErrorKind::NotFound,
            },
            Self::Staged(index) => index.read(path).is_ok(),
        }
    }

    /// The text of a plan that may not be reviewed.
    ///
    /// # Errors
    /// Why it could not be read, in words.
    pub fn peek(&self, path: &Path) -> Result<String, String> {
        match self {
            Self::Disk => Disk.load(path),
            Self::Staged(index) => index.read(path).map_err(told),
        }
    }
}

impl Library for Files {
    fn load(&self, path: &Path) -> Result<String, String> {
        match self {
            Self::Disk => Disk.load(path),
            Self::Staged(index) => index.load(path),
        }
    }
}

impl Library for &Files {
    fn load(&self, path: &Path) -> Result<String, String> {
        Files::load(self, path)
    }
}

impl Cabinet for Files {
    fn below(&self, folder: &Path) -> Result<Vec<PathBuf>, String> {
        match self {
            Self::Disk => Disk.below(folder),
            Self::Staged(index) => {
                let files = index.below(folder)?;
                match files.len() {
                    0 => Err("the next commit would hold no such folder".into()),
                    1..=MOST_SHEETS => Ok(files),
                    _ => Err(format!("more than {MOST_SHEETS} YAML files lie below it")),
                }
            }
        }
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
        on_disk(path)
    };
    read.map_err(|undecoded| unread(path, undecoded) + &similar(path))
}

/// The file that may be meant by a name that no file has; nothing where there is none.
fn similar(path: &Path) -> String {
    let folder = match path.parent() {
        Some(folder) if folder != Path::new("") => folder,
        _ => Path::new("."),
    };
    let (Some(name), false) = (path.file_name(), is_stdin(path) || path.exists()) else {
        return String::new();
    };
    let names = fs::read_dir(folder).into_iter().flatten().flatten();
    let names: Vec<_> = names
        .filter_map(|entry| entry.file_name().into_string().ok())
        .collect();
    near(&name.to_string_lossy(), names.iter().map(String::as_str))
        .map_or_else(String::new, |near| format!("; {}", near.question()))
}

/// Why a plan could not be read, in words.
pub fn unread(path: &Path, (place, reason): Undecoded) -> String {
    let name = name(path);
    match place {
        Some((line, column)) => format!("{}:{line}:{column}: {reason}", name.display()),
        None => format!("{}: {reason}", name.display()),
    }
}

/// The same of a file that something else names.
pub fn told((place, reason): Undecoded) -> String {
    match place {
        Some((line, column)) => format!("line {line}, column {column}: {reason}"),
        None => reason,
    }
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
pub type Undecoded = (Option<(usize, usize)>, String);

/// The text of a file on the disk.
///
/// # Errors
/// Why it could not be read.
pub fn on_disk(path: &Path) -> Result<String, Undecoded> {
    let file = File::open(path).map_err(|error| (None, reason(&error)))?;
    decoded(file)
}

/// # Errors
/// Too long, no text, or what reading came to.
pub fn decoded(from: impl Read) -> Result<String, Undecoded> {
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
