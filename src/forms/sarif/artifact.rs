//! The files of a log: plans and what they name.

use std::path::Path;

use serde::Serialize;

use super::super::departures::told;
use super::place::{File, is_standard_input};
use crate::review::{Review, Tally};

/// The files that a review has read, an object a line: the plan, then what it names.
pub fn files(review: &Review) -> String {
    let named = review.sources.files().filter(|(id, _)| *id != review.file);
    let named = named.map(|(_, source)| Artifact::beside(&source.path, Some(source.text.len())));
    let plan = review.sources.file(review.file);
    let judged = Judged {
        tally: review.tally(),
        let_pass: review.let_pass.len(),
        owed: review.owed.len(),
        not_found: review.not_found.len(),
        departures: review.rulebook.departures.iter().map(told).collect(),
    };
    let plan = Artifact {
        properties: Some(judged),
        ..Artifact::plan(&plan.path, Some(plan.text.len()))
    };
    std::iter::once(plan)
        .chain(named)
        // Nothing in it is without a form in JSON.
        .filter_map(|file| serde_json::to_string(&file).ok())
        .collect::<Vec<_>>()
        .join("\n")
}

/// A file that was read.
#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Artifact {
    location: File,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    roles: Vec<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    length: Option<usize>,
    mime_type: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    properties: Option<Judged>,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Judged {
    tally: Tally,
    let_pass: usize,
    owed: usize,
    /// Entries of the punch list that were not found again.
    not_found: usize,
    /// What the rulebook does otherwise than the built-in one.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    departures: Vec<String>,
}

impl Artifact {
    /// A plan that was to be judged.
    pub fn plan(path: &Path, length: Option<usize>) -> Self {
        let mut roles = vec!["analysisTarget"];
        if is_standard_input(path) {
            roles.push("standardStream");
        }
        Self {
            roles,
            ..Self::beside(path, length)
        }
    }

    /// A file that a plan names.
    fn beside(path: &Path, length: Option<usize>) -> Self {
        Self {
            location: File::at(path),
            roles: Vec::new(),
            length,
            // RFC 9512.
            mime_type: "application/yaml",
            properties: None,
        }
    }
}
