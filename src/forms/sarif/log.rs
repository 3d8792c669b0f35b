//! The log around the results.

use std::collections::HashSet;
use std::io::{Result, Seek, SeekFrom, Write, copy};
use std::path::Path;

use serde::Serialize;
use serde_json::json;
use tempfile::SpooledTempFile;

use super::artifact::Artifact;
use super::place::{BASE, Location};
use super::{Message, rules};

/// Where the standard keeps the schema of its logs.
const SCHEMA: &str =
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";

/// Bytes that may wait in memory.
const WAITING: usize = 64 * 1024;

/// What a notification is about.
const UNUSABLE: &str = "plan-unusable";

/// Writes a log. Call [`Sarif::next_plan`] or [`Sarif::unusable`] for each plan, then
/// [`Sarif::finish`].
pub struct Sarif<'w> {
    results: Results<'w>,
    files: List,
    /// Files that plans name, each as its object: they stand in the log once.
    known: HashSet<String>,
    notifications: List,
}

/// Objects that stand behind the results.
struct List {
    /// With commas between.
    objects: SpooledTempFile,
    empty: bool,
}

impl List {
    fn new() -> Self {
        Self {
            objects: tempfile::spooled_tempfile(WAITING),
            empty: true,
        }
    }

    fn add(&mut self, object: &[u8]) -> Result<()> {
        if !std::mem::take(&mut self.empty) {
            self.objects.write_all(b",")?;
        }
        self.objects.write_all(object)
    }

    fn write(mut self, out: &mut dyn Write) -> Result<()> {
        self.objects.seek(SeekFrom::Start(0))?;
        copy(&mut self.objects, out).map(|_| ())
    }
}

/// Results go out at once, with a comma before the first one of a plan where others were before it.
struct Results<'w> {
    out: &'w mut dyn Write,
    /// Some plan has had a result.
    any: bool,
    /// The plan at hand has had none yet.
    fresh: bool,
}

impl Write for Results<'_> {
    fn write(&mut self, bytes: &[u8]) -> Result<usize> {
        if !bytes.is_empty()
            && std::mem::take(&mut self.fresh)
            && std::mem::replace(&mut self.any, true)
        {
            self.out.write_all(b",")?;
        }
        self.out.write(bytes)
    }

    fn flush(&mut self) -> Result<()> {
        self.out.flush()
    }
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Notification<'r> {
    descriptor: Descriptor,
    level: &'static str,
    message: Message,
    #[serde(skip_serializing_if = "Option::is_none")]
    locations: Option<[Location<'r>; 1]>,
}

#[derive(Serialize)]
struct Descriptor {
    id: &'static str,
    index: usize,
}

/// A key with its value and the comma or brace before it.
fn key(out: &mut dyn Write, before: &str, name: &str, value: &impl Serialize) -> Result<()> {
    write!(out, r#"{before}"{name}":"#)?;
    Ok(serde_json::to_writer(out, value)?)
}

impl<'w> Sarif<'w> {
    /// Starts the log: the program and its rules.
    ///
    /// # Errors
    /// Those of the writer.
    pub fn start(out: &'w mut dyn Write) -> Result<Self> {
        key(out, "{", "$schema", &SCHEMA)?;
        key(out, ",", "version", &"2.1.0")?;
        out.write_all(br#","runs":[{"tool":{"driver":"#)?;
        key(out, "{", "name", &env!("CARGO_PKG_NAME"))?;
        key(out, ",", "version", &env!("CARGO_PKG_VERSION"))?;
        key(out, ",", "semanticVersion", &env!("CARGO_PKG_VERSION"))?;
        let about = Message::of(concat!(env!("CARGO_PKG_DESCRIPTION"), "."));
        key(out, ",", "shortDescription", &about)?;
        let unusable =
            json!({"id": UNUSABLE, "shortDescription": {"text": "A plan that could not be used."}});
        key(out, ",", "notifications", &[unusable])?;
        for (index, rule) in rules::described().enumerate() {
            out.write_all(if index == 0 { br#","rules":["# } else { b"," })?;
            serde_json::to_writer(&mut *out, &rule)?;
        }
        out.write_all(b"]}}")?;
        key(out, ",", "language", &"en")?;
        key(out, ",", "columnKind", &"unicodeCodePoints")?;
        key(out, ",", "newlineSequences", &["\r\n", "\n", "\r"])?;
        key(out, ",", "defaultEncoding", &"UTF-8")?;
        // Where that folder is on the machine is nobody's business.
        let folder =
            json!({BASE: {"description": {"text": "The folder in which nailplate was run."}}});
        key(out, ",", "originalUriBaseIds", &folder)?;
        out.write_all(br#","results":["#)?;
        Ok(Self {
            results: Results {
                out,
                any: false,
                fresh: false,
            },
            files: List::new(),
            known: HashSet::new(),
            notifications: List::new(),
        })
    }

    /// Where the results of the next plan, made by [`super::results`], have to be written. `files` are
    /// its files, made by [`super::files`].
    ///
    /// # Errors
    /// Those of the writer.
    pub fn next_plan(&mut self, files: &str) -> Result<&mut dyn Write> {
        for (index, file) in files.lines().enumerate() {
            if index == 0 || (!self.known.contains(file) && self.known.insert(file.to_owned())) {
                self.files.add(file.as_bytes())?;
            }
        }
        self.results.fresh = true;
        Ok(&mut self.results)
    }

    /// The next plan could not be used.
    ///
    /// # Errors
    /// Those of the writer.
    pub fn unusable(&mut self, plan: &Path, reason: &str) -> Result<()> {
        let artifact = Artifact::plan(plan, None);
        self.files.add(&serde_json::to_vec(&artifact)?)?;
        self.notify(reason, Some([Location::whole(plan)]))
    }

    /// A folder could not be looked into, so that there may be plans that were not even found; or a
    /// file that stands beside plans could not be used.
    ///
    /// # Errors
    /// Those of the writer.
    pub fn overlooked(&mut self) -> Result<()> {
        let words =
            "Not everything that was wanted could be read: standard error says what and why.";
        self.notify(words, None)
    }

    fn notify(&mut self, reason: &str, locations: Option<[Location<'_>; 1]>) -> Result<()> {
        let notification = Notification {
            descriptor: Descriptor {
                id: UNUSABLE,
                index: 0,
            },
            level: "error",
            message: Message::of(reason),
            locations,
        };
        self.notifications.add(&serde_json::to_vec(&notification)?)
    }

    /// Ends the log. `all_used` tells whether every plan could be used, `status` is the exit
    /// status.
    ///
    /// # Errors
    /// Those of the writer.
    pub fn finish(self, all_used: bool, status: u8) -> Result<()> {
        let Self {
            results: Results { out, .. },
            files,
            notifications,
            ..
        } = self;
        out.write_all(br#"],"artifacts":["#)?;
        files.write(out)?;
        out.write_all(br#"],"invocations":["#)?;
        key(out, "{", "executionSuccessful", &all_used)?;
        key(out, ",", "exitCode", &status)?;
        out.write_all(br#","toolExecutionNotifications":["#)?;
        notifications.write(out)?;
        out.write_all(b"]}]}]}\n")
    }
}
