//! What git knows: which files are revised, which plans there are, and texts as staged.
//!
//! The program `git` is asked, once for each question: it knows its own files best, and which of
//! them a hook is about (`GIT_INDEX_FILE` of a commit of some files only).

use std::collections::BTreeSet;
use std::ffi::{OsStr, OsString};
use std::fs;
use std::io::{self, BufRead, BufReader, Read, Write};
use std::path::{Component, Path, PathBuf};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::sync::{Mutex, PoisonError};

use super::input::{self, Disk, Undecoded};
use super::revised::{Revised, path_of};
use crate::plan::Library;
use crate::settings::Cabinet;

/// The repository that the current folder lies in.
#[derive(Debug)]
pub struct Repository {
    top: PathBuf,
    here: PathBuf,
}

impl Repository {
    /// # Errors
    /// No git, or no repository; in git's own words.
    pub fn here() -> Result<Self, String> {
        let top = ask(["rev-parse", "--show-toplevel"])?;
        let top = path_of(top.strip_suffix(b"\n").unwrap_or(&top));
        let whole = |path: &Path| fs::canonicalize(path).map_err(|error| input::reason(&error));
        Ok(Self {
            top: whole(&top)?,
            here: whole(Path::new("."))?,
        })
    }

    /// What the next commit would change.
    ///
    /// # Errors
    /// Git's own words.
    pub fn staged(&self) -> Result<Vec<Revised>, String> {
        self.revised(&["--cached"])
    }

    /// What has changed in the work tree since it left the history of `commit`.
    ///
    /// # Errors
    /// Git's own words, as of a commit that it does not know.
    pub fn since(&self, commit: &str) -> Result<Vec<Revised>, String> {
        self.revised(&["--merge-base", "--end-of-options", commit])
    }

    fn revised(&self, which: &[&str]) -> Result<Vec<Revised>, String> {
        // Nobody's settings of git change what is asked.
        let fixed = ["diff", "--name-status", "-z", "--no-renames"];
        let plain = ["--no-relative", "--no-ext-diff", "--no-color"];
        let all = fixed.iter().chain(&plain).chain(which).chain(&["--"]);
        let told = ask(all)?;
        let mut words = told.split(|byte| *byte == 0);
        let mut revised = Vec::new();
        while let (Some(how), Some(name)) = (words.next(), words.next()) {
            revised.push(Revised {
                path: self.called_here(&path_of(name)),
                gone: how == b"D",
            });
        }
        Ok(revised)
    }

    /// The plans that the repository holds, as far as they are committed or staged.
    ///
    /// # Errors
    /// Git's own words.
    pub fn plans(&self) -> Result<Vec<PathBuf>, String> {
        let told = ask([
            "ls-files",
            "-z",
            "--full-name",
            "--deduplicate",
            ":(top)*.plan.yaml",
            ":(top)*.plan.yml",
        ])?;
        let names = told
            .split(|byte| *byte == 0)
            .filter(|name| !name.is_empty());
        Ok(names.map(|name| self.called_here(&path_of(name))).collect())
    }

    /// A path from the top as it is called from the current folder.
    fn called_here(&self, path: &Path) -> PathBuf {
        let Ok(inside) = self.here.strip_prefix(&self.top) else {
            return self.top.join(path);
        };
        let (mut here, mut rest) = (inside.components(), path.components());
        loop {
            let (before, after) = (here.clone(), rest.clone());
            match (here.next(), rest.next()) {
                (Some(a), Some(b)) if a == b => {}
                _ => {
                    let up = before.map(|_| Component::ParentDir);
                    return up.chain(after).collect();
                }
            }
        }
    }

    /// What the next commit would hold.
    ///
    /// # Errors
    /// Git could not be started.
    pub fn index(self) -> Result<Index, String> {
        let mut git = Command::new("git")
            .args(["cat-file", "--batch"])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .map_err(|error| not_started(&error))?;
        let (Some(to), Some(from)) = (git.stdin.take(), git.stdout.take()) else {
            return Err("git took no questions".into());
        };
        Ok(Index {
            repository: self,
            git: Mutex::new(Pipe {
                to: Some(to),
                from: BufReader::new(from),
                git,
            }),
            read: Mutex::default(),
        })
    }
}

/// Files as they are staged. What lies outside the repository is read from the disk.
#[derive(Debug)]
pub struct Index {
    repository: Repository,
    git: Mutex<Pipe>,
    /// The files that the review hangs on, from the top.
    read: Mutex<BTreeSet<PathBuf>>,
}

/// One git that answers for as long as there are questions.
#[derive(Debug)]
struct Pipe {
    git: Child,
    to: Option<ChildStdin>,
    from: BufReader<ChildStdout>,
}

impl Drop for Pipe {
    fn drop(&mut self) {
        // Without questions it ends.
        self.to = None;
        let _ = self.git.wait();
    }
}

impl Index {
    /// The text of a plan.
    ///
    /// # Errors
    /// The plan and why it could not be read, in words.
    pub fn text(&self, path: &Path) -> Result<String, String> {
        self.note(path);
        let read = self.read(path);
        read.map_err(|undecoded| input::unread(path, undecoded))
    }

    /// # Errors
    /// Not staged, too long, no text, or git stopped.
    pub fn read(&self, path: &Path) -> Result<String, Undecoded> {
        let Some(inside) = self.inside(path) else {
            return input::on_disk(path);
        };
        let mut git = self.git.lock().unwrap_or_else(PoisonError::into_inner);
        git.blob(&inside)
    }

    /// Keeps in mind that a file counts for the review.
    fn note(&self, path: &Path) {
        if let Some(inside) = self.inside(path) {
            let mut read = self.read.lock().unwrap_or_else(PoisonError::into_inner);
            read.insert(inside);
        }
    }

    /// The YAML files below a folder, by their paths from there, no deeper than sheets stand and one
    /// more, and nothing hidden.
    ///
    /// # Errors
    /// Git's own words.
    pub fn below(&self, folder: &Path) -> Result<Vec<PathBuf>, String> {
        let Some(inside) = self.inside(folder) else {
            return Disk.below(folder);
        };
        let mut pathspec = OsString::from(":(top,literal)");
        pathspec.push(&inside);
        let told = ask([
            OsStr::new("ls-files"),
            OsStr::new("-z"),
            OsStr::new("--full-name"),
            OsStr::new("--"),
            &pathspec,
        ])?;
        let names = told.split(|byte| *byte == 0).map(path_of);
        let below = names.filter_map(|name| Some(name.strip_prefix(&inside).ok()?.to_owned()));
        let hidden = |path: &Path| {
            path.iter()
                .any(|part| part.as_encoded_bytes().starts_with(b"."))
        };
        let is_yaml = |path: &Path| {
            path.extension()
                .is_some_and(|end| end == "yaml" || end == "yml")
        };
        let sheets =
            below.filter(|path| path.iter().count() <= 3 && is_yaml(path) && !hidden(path));
        Ok(sheets.collect())
    }

    /// A path from the top, through links where it is there; `None` outside the repository.
    fn inside(&self, path: &Path) -> Option<PathBuf> {
        let whole = fs::canonicalize(path).unwrap_or_else(|_| lexical(&self.repository.here, path));
        Some(whole.strip_prefix(&self.repository.top).ok()?.to_owned())
    }

    /// The files that were read and are different in the work tree.
    ///
    /// # Errors
    /// Git's own words.
    pub fn unlike_work_tree(&self) -> Result<Vec<PathBuf>, String> {
        let read = self.read.lock().unwrap_or_else(PoisonError::into_inner);
        let told = ask([
            "diff",
            "--name-only",
            "-z",
            "--no-relative",
            "--no-ext-diff",
            "--no-color",
        ])?;
        let names = told.split(|byte| *byte == 0).map(path_of);
        let unlike = names.filter(|name| read.contains(name));
        Ok(unlike
            .map(|name| self.repository.called_here(&name))
            .collect())
    }
}

impl Library for Index {
    fn load(&self, path: &Path) -> Result<String, String> {
        self.note(path);
        self.read(path).map_err(input::told)
    }
}

impl Pipe {
    fn blob(&mut self, inside: &Path) -> Result<String, Undecoded> {
        let failed = |error: io::Error| (None, format!("git stopped: {}", input::reason(&error)));
        let mut question = b":0:".to_vec();
        for (n, part) in inside.iter().enumerate() {
            if n > 0 {
                question.push(b'/');
            }
            question.extend_from_slice(part.as_encoded_bytes());
        }
        if question.contains(&b'\n') {
            return Err((None, "its name has a line break in it".into()));
        }
        question.push(b'\n');
        let to = self.to.as_mut().ok_or((None, "git stopped".to_owned()))?;
        to.write_all(&question)
            .and_then(|()| to.flush())
            .map_err(failed)?;
        let mut answer = Vec::new();
        self.from.read_until(b'\n', &mut answer).map_err(failed)?;
        let answer = String::from_utf8_lossy(&answer);
        // `OBJECT blob BYTES`, else what was asked and that it is missing.
        let mut words = answer.trim_end().rsplit(' ');
        let (bytes, kind) = (words.next(), words.next());
        let Some(bytes) = bytes.and_then(|bytes| bytes.parse::<u64>().ok()) else {
            return Err((None, "the next commit would not hold this file".into()));
        };
        let mut body = self.from.by_ref().take(bytes + 1);
        let text = input::decoded(body.by_ref().take(bytes));
        io::copy(&mut body, &mut io::sink()).map_err(failed)?;
        match kind {
            Some("blob") => text,
            _ => Err((None, "to git this is no file".into())),
        }
    }
}

/// `path` seen from `here`, without asking the disk.
pub fn lexical(here: &Path, path: &Path) -> PathBuf {
    let mut whole = PathBuf::new();
    for part in here.join(path).components() {
        match part {
            Component::ParentDir => {
                whole.pop();
            }
            Component::CurDir => {}
            part => whole.push(part),
        }
    }
    whole
}

/// What git answers.
fn ask(arguments: impl IntoIterator<Item = impl AsRef<OsStr>>) -> Result<Vec<u8>, String> {
    let answer = Command::new("git")
        .args(arguments)
        .stdin(Stdio::null())
        .output()
        .map_err(|error| not_started(&error))?;
    if answer.status.success() {
        return Ok(answer.stdout);
    }
    let said = String::from_utf8_lossy(&answer.stderr);
    let said = said.lines().next().unwrap_or("it failed and said nothing");
    Err(format!("git: {}", said.trim_start_matches("fatal: ")))
}

fn not_started(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::NotFound => "git is not installed, or not on the PATH".into(),
        _ => format!("git could not be started: {}", input::reason(error)),
    }
}
