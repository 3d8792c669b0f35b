//! A text to YAML to a plan.

use std::cell::RefCell;
use std::path::{Path, PathBuf};

use nailplate::plan::{self, Library, catalogues_of};
use nailplate::yaml::Sources;

use super::parts::Parts;
use super::{PLAN, kept};

/// A library that knows what it was asked for.
struct Asked<'t> {
    library: &'t dyn Library,
    paths: RefCell<Vec<PathBuf>>,
}

impl Library for Asked<'_> {
    fn load(&self, path: &Path) -> Result<String, String> {
        self.paths.borrow_mut().push(path.to_owned());
        self.library.load(path)
    }
}

pub fn drive(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    let parts = Parts::of(&text);
    let mut sources = Sources::default();
    let (file, read) = sources.add(Path::new(PLAN), parts.first.to_owned());
    let named = catalogues_of(parts.first);
    if let Err(broken) = read {
        kept::broken(parts.first, &broken);
        return;
    }
    let asked = Asked {
        library: &parts,
        paths: RefCell::default(),
    };
    let (_, findings) = plan::read(&mut sources, file, &asked);
    kept::findings(&findings, &sources);
    kept::words(&findings);
    for finding in &findings {
        assert!(
            plan::MISTAKES.contains(&finding.rule),
            "{} has no sheet",
            finding.rule
        );
    }
    // Who looks for the plans that a catalogue is used by does not read them whole, and comes to the same.
    let mut named: Vec<PathBuf> = named
        .expect("it is YAML")
        .unwrap_or_default()
        .into_iter()
        .map(PathBuf::from)
        .collect();
    named.retain(|path| path != Path::new(PLAN));
    for path in asked.paths.into_inner() {
        assert!(named.contains(&path), "{} is not named", path.display());
    }
}
