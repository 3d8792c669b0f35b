//! Settings, a firm's own sheets, usual catalogues and a punch list, and a plan that is judged by all of them.

use std::path::{Path, PathBuf};

use nailplate::findings::RedlineKind;
use nailplate::forms::{Page, changes, redline, rulebook};
use nailplate::plan::Library;
use nailplate::review::{Changes, PunchList, Scope, ink, of_settings, review_text, settle_up};
use nailplate::rules::{RULES, all_sheets};
use nailplate::settings::{Settings, read};

use super::parts::Parts;
use super::review::forms;
use super::{DAY, PLAN, kept, lot};

/// What the parts of the text are called.
const SETTINGS: &str = "nailplate.yaml";
const LIST: &str = "nailplate.punchlist.yaml";

/// Judged where the text brings no plan: a line, a circuit and a device, each with something wrong.
const HOUSE: &str = "nailplate: 1
region: us
stock:
  thin: {for: speaker, cores: 2 x 18 AWG, rating: CL3}
  nm-14: {for: power, cores: 2 x 14 AWG + earth, rating: NM-B}
circuits:
  C1: {breaker: 20 A, volts: 120 V, serves: rack}
endpoints:
  rack: {kind: rack, load: 2500 W}
  left: {kind: speaker, impedance: 8 ohm}
runs:
  P1: {from: C1, to: rack, stock: nm-14, length: 120 ft}
  S1: {from: rack, to: left, stock: thin, length: 60 ft}
";

pub fn drive(bytes: &[u8]) {
    let all = String::from_utf8_lossy(bytes);
    let parts = Parts::of(&all);
    let list = parts.file(LIST).and_then(punch_list);
    let text = parts.first.to_owned();
    let read = match read(Path::new(SETTINGS), text, &parts) {
        Ok(read) => read,
        Err((_, broken)) => return kept::broken(parts.first, &broken),
    };
    kept::findings(&read.findings, &read.sources);
    kept::words(&read.findings);
    let (settings, mistakes) = (read.settings, read.findings);
    assert_eq!(settings.mistakes, mistakes.len());
    let lot = lot(&all);
    if !mistakes.is_empty() {
        let review = of_settings(read.sources, read.file, mistakes);
        forms(&review, lot);
        mended(&review);
    }
    rules(&settings, lot);
    judged(&settings, list, &parts, lot);
}

/// Reads a list. Written again it is read as the same, and written a third time it is the same text.
fn punch_list(text: &str) -> Option<PunchList> {
    let list = match PunchList::read(text) {
        Ok(list) => list,
        Err(mistakes) => {
            assert!(!mistakes.is_empty(), "a list is refused for a reason");
            return None;
        }
    };
    let written = list.text();
    let again = PunchList::read(&written)
        .unwrap_or_else(|mistakes| panic!("it was a list: {mistakes:?}\n{written}"));
    assert_eq!(again.entries(), list.entries(), "{written}");
    assert_eq!(again.text(), written);
    Some(list)
}

/// The edits of what is mistaken in settings leave them YAML.
fn mended(review: &nailplate::review::Review) {
    for marked in ink(review, &[RedlineKind::Same, RedlineKind::Change]) {
        let source = review.sources.file(marked.file);
        redline::diff(source, &marked, Page::new(80, false), &mut Vec::new())
            .expect("a Vec takes everything");
        let (_, read) = nailplate::yaml::Sources::default().add(&source.path, marked.text.clone());
        assert!(read.is_ok(), "no YAML any more: {}", marked.text);
    }
}

/// What `rulebook` shows.
fn rules(settings: &Settings, lot: u32) {
    let page = Page::new(80, false);
    // It reads every sheet once more, which takes longer than all the rest.
    if lot.is_multiple_of(8) {
        rulebook::list(all_sheets(), &settings.rulebook, page, &mut Vec::new())
            .expect("a Vec takes everything");
    }
    // Any one; and what is not as built in.
    let any = RULES[lot as usize % RULES.len()].id;
    let departed = settings.rulebook.departures.iter().map(|one| one.rule);
    for id in departed.take(4).chain([any]) {
        let Some(sheet) = settings.rulebook.sheet(id) else {
            continue;
        };
        let whole = sheet
            .whole()
            .unwrap_or_else(|reason| panic!("{id}: {reason}"));
        rulebook::sheet(sheet, &whole, &settings.rulebook, page, &mut Vec::new())
            .expect("a Vec takes everything");
    }
}

/// A library with the usual catalogues of settings.
struct Stocked<'a>(&'a Parts<'a>, &'a [PathBuf]);

impl Library for Stocked<'_> {
    fn load(&self, path: &Path) -> Result<String, String> {
        self.0.load(path)
    }

    fn usual(&self) -> &[PathBuf] {
        self.1
    }
}

fn judged(settings: &Settings, list: Option<PunchList>, parts: &Parts<'_>, lot: u32) {
    let scope = Scope {
        rulebook: &settings.rulebook,
        today: Some(DAY),
        ..Scope::default()
    };
    let plan = parts.file(PLAN).unwrap_or(HOUSE);
    let library = Stocked(parts, &settings.catalogue);
    let review = review_text(Path::new(PLAN), plan.to_owned(), &library, scope);
    let mut review = match review {
        Ok(review) => review,
        Err((_, broken)) => return kept::broken(plan, &broken),
    };
    kept::review(&review);
    let found = review.findings.len();
    let mut list = list.unwrap_or_default();
    settle_up(&mut review, list.of(PLAN));
    assert_eq!(
        review.findings.len() + review.owed.len(),
        found,
        "what is owed was found"
    );
    forms(&review, lot);
    let changes = Changes::of(&review, PLAN, list.of(PLAN), DAY);
    list.take_off(changes.new.iter().filter_map(|new| new.before.as_ref()));
    list.add(changes.new.iter().map(|new| new.entry.clone()));
    let done = changes::Done {
        added: true,
        closed_out: false,
    };
    let page = Page::new(80, false);
    changes::changes(LIST, &changes, list.entries(), done, page, &mut Vec::new())
        .expect("a Vec takes everything");
    // All that was found is on the list now, and the list can be read.
    let list = punch_list(&list.text()).expect("what is written is a list");
    let mut settled = match review_text(Path::new(PLAN), plan.to_owned(), &library, scope) {
        Ok(review) => review,
        Err((_, broken)) => panic!("it was YAML before: {}", broken.reason),
    };
    settle_up(&mut settled, list.of(PLAN));
    assert_eq!(settled.findings.len(), 0, "all that was found is owed now");
}
