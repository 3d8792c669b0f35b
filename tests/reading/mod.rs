//! The plan language: what is read, what is reported, and where it points.

mod cases;
mod hostile;
mod keys;
mod layout;
mod spans;

use std::path::Path;

use nailplate::findings::Finding;
use nailplate::plan::{self, Library, Plan};
use nailplate::yaml::{Broken, Sources};

use crate::anything::drive::kept;

/// The shipped house that has no mistakes.
const SAMPLE: &str = include_str!("../../examples/kestrel-row.plan.yaml");

/// Catalogues by name.
pub struct Shelf<'a>(pub &'a [(&'a str, &'a str)]);

impl Library for Shelf<'_> {
    fn load(&self, path: &Path) -> Result<String, String> {
        let found = self.0.iter().find(|(name, _)| Path::new(name) == path);
        found
            .map(|(_, text)| (*text).to_owned())
            .ok_or_else(|| "no such file".into())
    }
}

const SHELF: Shelf<'static> = Shelf(&[("stock.yaml", include_str!("../../examples/stock.yaml"))]);

pub struct Read {
    pub sources: Sources,
    pub plan: Plan,
    pub findings: Vec<Finding>,
}

/// Reads a text and holds what comes of it against what holds for every text.
#[track_caller]
pub fn read_with(text: &str, library: &dyn Library) -> Result<Read, Broken> {
    let mut sources = Sources::default();
    let (file, read) = sources.add(Path::new("house.plan.yaml"), text.to_owned());
    if let Err(broken) = read {
        assert!(
            text.is_char_boundary(broken.byte),
            "{broken:?} cuts a letter"
        );
        assert!(!broken.reason.is_empty());
        return Err(broken);
    }
    let (plan, findings) = plan::read(&mut sources, file, library);
    for finding in &findings {
        assert!(
            plan::MISTAKES.contains(&finding.rule),
            "{} has no sheet",
            finding.rule
        );
    }
    kept::findings(&findings, &sources);
    kept::words(&findings);
    Ok(Read {
        sources,
        plan,
        findings,
    })
}

#[track_caller]
pub fn read(text: &str) -> Read {
    read_with(text, &SHELF)
        .unwrap_or_else(|broken| panic!("no YAML: {} at {}\n{text}", broken.reason, broken.byte))
}

impl Read {
    /// Rule and marked text of each mistake, in the order of their places.
    pub fn points(&self) -> Vec<(&'static str, String)> {
        let mut points: Vec<_> = self
            .findings
            .iter()
            .map(|finding| {
                let spot = self.sources.spots(finding.marks[0].span).0;
                (spot, finding.rule, self.sources.slice(spot).to_owned())
            })
            .collect();
        points.sort();
        points
            .into_iter()
            .map(|(_, rule, slice)| (rule, slice))
            .collect()
    }

    /// The sentences, to be shown when something is not as expected.
    pub fn says(&self) -> String {
        self.findings
            .iter()
            .map(|f| format!("\n  {}: {}; {:?}", f.rule, f.says, f.put_right))
            .collect()
    }
}
