//! Which plans revised files concern: for a hook, and for a run that looks at what has changed.
//!
//! A plan that is revised is reviewed. Any other file stands for the plans that use it.

use std::ffi::OsString;
use std::fs;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use super::Outcome;
use super::git::Repository;
use super::input::{Files, is_stdin, reason};
use super::out::complain;
use super::plans::{self, List, is_plan};
use super::users;

/// What says which files are revised.
#[derive(Debug, clap::Args)]
#[group(skip)]
pub struct Args {
    /// The PATHs are files that were revised: check the plans among them, and those that
    /// use a catalogue, settings, a firm's sheet or a punch list among them. Anything else is passed over. `-` is a list of files on standard
    /// input, one a line or with a NUL byte after each
    #[arg(long, requires = "paths")]
    revised: bool,
    /// Check so what was revised since the work left the history of COMMIT, a branch or a tag of
    /// git
    #[arg(long, value_name = "COMMIT", conflicts_with_all = ["paths", "revised"])]
    revised_since: Option<String>,
    /// Check so what the next commit would revise, as it is staged: for a hook of git
    #[arg(long, conflicts_with_all = ["paths", "revised", "revised_since"])]
    next_commit: bool,
}

/// A file that was changed, added or taken away.
#[derive(Debug)]
pub struct Revised {
    pub path: PathBuf,
    pub gone: bool,
}

/// The plans to review, where they are read from, and whether all could be found out. `list` is the
/// punch list that the command line names.
///
/// # Errors
/// Why it cannot be said what is revised, in words.
pub fn plans(
    args: &Args,
    paths: &[PathBuf],
    list: Option<&Path>,
) -> Result<(Vec<PathBuf>, Files, Outcome), String> {
    if args.next_commit {
        let repository = Repository::here()?;
        let revised = repository.staged()?;
        let files = Files::Staged(repository.index()?);
        let found = concerned(revised, list, &files);
        return Ok((found.plans, files, found.outcome));
    }
    let revised = match &args.revised_since {
        Some(commit) => Repository::here()?.since(commit)?,
        None if args.revised => named(paths)?,
        None => {
            let (plans, outcome) = plans::named(paths);
            return Ok((plans, Files::Disk, outcome));
        }
    };
    let found = concerned(revised, list, &Files::Disk);
    Ok((found.plans, Files::Disk, found.outcome))
}

/// Complains of files that were read as staged while the work tree holds something else.
pub fn tell_unstaged(files: &Files) {
    let Files::Staged(index) = files else { return };
    match index.unlike_work_tree() {
        Ok(unlike) => {
            for path in unlike {
                complain(&format!(
                    "{}: read as staged; what has changed in it since then is not in the commit",
                    path.display()
                ));
            }
        }
        Err(reason) => complain(&reason),
    }
}

/// The files that a command line names, or a list on standard input.
fn named(paths: &[PathBuf]) -> Result<Vec<Revised>, String> {
    let mut named = Vec::new();
    for path in paths {
        if is_stdin(path) {
            named.extend(listed()?);
        } else {
            named.push(path.to_owned());
        }
    }
    let revised = named.into_iter().map(|path| {
        let gone = fs::symlink_metadata(&path).is_err();
        Revised { path, gone }
    });
    Ok(revised.collect())
}

fn listed() -> Result<Vec<PathBuf>, String> {
    let mut bytes = Vec::new();
    let read = io::stdin().lock().read_to_end(&mut bytes);
    read.map_err(|error| format!("the list on standard input: {}", reason(&error)))?;
    if bytes.contains(&0) {
        let names = bytes.split(|byte| *byte == 0);
        return Ok(names.filter(|name| !name.is_empty()).map(path_of).collect());
    }
    let lines = bytes.split(|byte| *byte == b'\n');
    let lines = lines.map(|line| line.strip_suffix(b"\r").unwrap_or(line));
    let mut names = Vec::new();
    for line in lines.filter(|line| !line.is_empty()) {
        // Taken as it stands, it would be the name of no file, and its plan would pass unseen.
        if line.len() > 1 && line.starts_with(b"\"") && line.ends_with(b"\"") {
            return Err(format!(
                "the list on standard input has a name in quotes, {}: let git write it with `-z`",
                String::from_utf8_lossy(line)
            ));
        }
        names.push(path_of(line));
    }
    Ok(names)
}

/// A path from its bytes.
#[cfg(unix)]
pub fn path_of(bytes: &[u8]) -> PathBuf {
    use std::os::unix::ffi::OsStringExt;
    OsString::from_vec(bytes.to_vec()).into()
}

/// A path from its bytes.
#[cfg(not(unix))]
pub fn path_of(bytes: &[u8]) -> PathBuf {
    OsString::from(String::from_utf8_lossy(bytes).into_owned()).into()
}

/// The revised plans in their order, then those that use what else is revised.
fn concerned(revised: Vec<Revised>, list: Option<&Path>, files: &Files) -> List {
    let mut found = List::default();
    let mut others = Vec::new();
    for Revised { path, gone } in revised {
        if !gone && path.is_dir() {
            found.folder(&path);
        } else if !is_plan(&path) {
            others.push(path);
        } else if !gone {
            found.add(&path);
        }
    }
    if !others.is_empty() {
        users::add(&mut found, &others, list, files);
    }
    found
}
