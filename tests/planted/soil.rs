//! Texts with faults planted in them: what an edit touches, and where each byte of the outcome came from.

use std::collections::BTreeMap;
use std::ops::Range;

use super::fault::{Edit, Planting};

/// Above this section those are made that the house lacks.
const MADE_ABOVE: &str = "pathways";

/// An edit come down to bytes of a file of the clean house.
#[derive(Debug, Clone)]
struct Cut {
    at: Range<usize>,
    text: String,
    /// The section that has to be made first.
    makes: Option<String>,
    origin: Origin,
}

/// Where a piece of a planted text came from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Origin {
    /// The clean text, from this byte on.
    Old(usize),
    /// An edit of the first or second fault.
    New { fault: usize, edit: usize },
    /// The head of a section that the clean text lacks.
    Head,
}

/// A text, and where it came from piece by piece.
#[derive(Debug)]
pub struct Grown {
    pub text: String,
    pieces: Vec<(usize, Origin)>,
}

/// A place in a grown text, by where it came from.
#[derive(Debug, Clone)]
pub struct Spot {
    pub file: String,
    first: (Origin, usize),
    last: (Origin, usize),
}

/// The files of a clean house, by name: the plan and what it takes its cable from.
pub type Files = BTreeMap<String, String>;

/// All files with the faults in them; `None` where two faults touch the same text.
pub fn planted(files: &Files, plan: &str, faults: &[&Planting]) -> Option<BTreeMap<String, Grown>> {
    let mut cuts: BTreeMap<&str, Vec<Cut>> = BTreeMap::new();
    for (fault, planting) in faults.iter().enumerate() {
        for (edit, written) in planting.edits.iter().enumerate() {
            let file = written.file.as_deref().unwrap_or(plan);
            let (file, text) = files
                .get_key_value(file)
                .unwrap_or_else(|| panic!("{}: no file {file}", planting.name()));
            let origin = Origin::New { fault, edit };
            let cut = cut(text, written, origin)
                .unwrap_or_else(|wrong| panic!("{}: {wrong}", planting.name()));
            cuts.entry(file).or_default().push(cut);
        }
    }
    let grown = files.iter().map(|(name, text)| {
        let cuts = cuts.remove(name.as_str()).unwrap_or_default();
        Some((name.clone(), grow(text, cuts)?))
    });
    grown.collect()
}

fn cut(text: &str, edit: &Edit, origin: Origin) -> Result<Cut, String> {
    let Edit {
        under,
        add,
        within,
        change,
        to,
        drop,
        ..
    } = edit;
    if let (Some(section), Some(add), None, None, None, None) =
        (under, add, within, change, to, drop)
    {
        let head = lines(text).find(|(_, line)| is_head(line, section));
        let before = lines(text).find(|(_, line)| is_head(line, MADE_ABOVE));
        let at = match (head, before) {
            (Some((start, line)), _) => start + line.len(),
            (None, Some((start, _))) => start,
            (None, None) => return Err(format!("no section {MADE_ABOVE}")),
        };
        let makes = head.is_none().then(|| section.clone());
        return Ok(Cut {
            at: at..at,
            text: add.clone(),
            makes,
            origin,
        });
    }
    let (old, new) = match (under, add, change, to, drop) {
        (None, None, Some(old), Some(new), None) => (old, new.clone()),
        (None, None, None, None, Some(old)) => (old, String::new()),
        _ => {
            return Err(format!(
                "an edit is `under` and `add`, `change` and `to`, or `drop`: {edit:?}"
            ));
        }
    };
    let place = match within {
        Some(thing) => lines_of(text, thing)?,
        None => 0..text.len(),
    };
    let at = once(&text[place.clone()], old)
        .map_err(|count| format!("{old:?} stands {count} times in {within:?}"))?;
    let at = place.start + at..place.start + at + old.len();
    Ok(Cut {
        at,
        text: new,
        makes: None,
        origin,
    })
}

/// Where a text stands that has to stand once, else how often it does.
pub fn once(text: &str, part: &str) -> Result<usize, usize> {
    let mut places = text.match_indices(part).map(|(at, _)| at);
    match (places.next(), places.count()) {
        (Some(at), 0) => Ok(at),
        (None, _) => Err(0),
        (Some(_), more) => Err(more + 1),
    }
}

/// Lines with their ends, and where each starts.
fn lines(text: &str) -> impl Iterator<Item = (usize, &str)> {
    text.split_inclusive('\n').scan(0, |start, line| {
        let at = *start;
        *start += line.len();
        Some((at, line))
    })
}

fn is_head(line: &str, section: &str) -> bool {
    line.strip_prefix(section)
        .is_some_and(|rest| rest.trim_end() == ":")
}

fn indent(line: &str) -> usize {
    line.len() - line.trim_start_matches(' ').len()
}

/// The lines of a thing, told by how far they are indented: the houses are written so.
fn lines_of(text: &str, thing: &str) -> Result<Range<usize>, String> {
    let (section, id) = match thing.split_once(' ') {
        Some((section, id)) => (Some(section), id),
        None => (None, thing),
    };
    let key = format!("{id}:");
    let mut found = Vec::new();
    let mut current = "";
    let mut open: Option<(usize, usize)> = None;
    for (start, line) in lines(text).chain([(text.len(), "end\n")]) {
        let (deep, bare) = (indent(line), line.trim());
        if bare.is_empty() {
            continue;
        }
        if let Some((from, of)) = open
            && deep <= of
        {
            found.push(from..start);
            open = None;
        }
        if deep == 0 {
            current = bare.split(':').next().unwrap_or("");
        }
        let is_thing = deep == 2 && section.is_none_or(|section| section == current)
            || deep == 0 && section.is_none();
        if is_thing && bare.starts_with(&key) {
            open = Some((start, deep));
        }
    }
    match &found[..] {
        [one] => Ok(one.clone()),
        _ => Err(format!("{thing} is found {} times", found.len())),
    }
}

/// The text with all cuts made; `None` where two of different faults meet.
fn grow(text: &str, mut cuts: Vec<Cut>) -> Option<Grown> {
    cuts.sort_by(|a, b| (a.at.start, a.at.end, &a.makes).cmp(&(b.at.start, b.at.end, &b.makes)));
    let mut grown = Grown {
        text: String::with_capacity(text.len() + 1000),
        pieces: Vec::new(),
    };
    let (mut done, mut made) = (0, None);
    for cut in &cuts {
        let only_adds = cut.at.is_empty() && text[..done].ends_with('\n');
        if done > 0 && cut.at.start <= done && !(only_adds && cut.at.start == done) {
            return None;
        }
        grown.take(text, done..cut.at.start);
        done = cut.at.end;
        if cut.makes.is_some() && cut.makes != made {
            made = cut.makes.clone();
            let head = format!("{}:\n", cut.makes.as_deref().unwrap_or_default());
            grown.put(&head, Origin::Head);
        }
        grown.put(&cut.text, cut.origin);
    }
    grown.take(text, done..text.len());
    Some(grown)
}

impl Grown {
    fn put(&mut self, text: &str, origin: Origin) {
        self.pieces.push((self.text.len(), origin));
        self.text += text;
    }

    fn take(&mut self, text: &str, bytes: Range<usize>) {
        if !bytes.is_empty() {
            self.put(&text[bytes.clone()], Origin::Old(bytes.start));
        }
    }

    /// Where a byte came from.
    fn origin(&self, byte: usize) -> (Origin, usize) {
        let index = self.pieces.partition_point(|(start, _)| *start <= byte) - 1;
        let (start, origin) = self.pieces[index];
        match origin {
            Origin::Old(old) => (Origin::Old(old + byte - start), 0),
            origin => (origin, byte - start),
        }
    }

    /// Where a byte of such an origin stands here.
    fn byte(&self, (origin, offset): (Origin, usize)) -> Option<usize> {
        let ends = self
            .pieces
            .iter()
            .skip(1)
            .map(|(start, _)| *start)
            .chain([self.text.len()]);
        let mut pieces = self.pieces.iter().zip(ends);
        pieces.find_map(|((start, own), end)| {
            let byte = match (*own, origin) {
                (Origin::Old(from), Origin::Old(old)) => start + old.checked_sub(from)?,
                (own, origin) if own == origin => start + offset,
                _ => return None,
            };
            (byte < end).then_some(byte)
        })
    }

    /// A place that is not empty, so that it can be found again.
    pub fn spot(&self, file: &str, bytes: Range<usize>) -> Spot {
        Spot {
            file: file.to_owned(),
            first: self.origin(bytes.start),
            last: self.origin(bytes.end - 1),
        }
    }
}

impl Spot {
    /// The same place among files in which more has been planted, as the `fault`th.
    pub fn among(&self, files: &BTreeMap<String, Grown>, fault: usize) -> Option<Range<usize>> {
        let moved = |(origin, offset): (Origin, usize)| match origin {
            Origin::New { edit, .. } => (Origin::New { fault, edit }, offset),
            other => (other, offset),
        };
        let grown = files.get(&self.file)?;
        Some(grown.byte(moved(self.first))?..grown.byte(moved(self.last))? + 1)
    }
}
