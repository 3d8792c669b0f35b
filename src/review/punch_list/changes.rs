//! What a punch list lacks of today's findings, and what it still has that is no longer found.

use std::sync::Arc;

use super::open::Open;
use super::{Entry, NotFound};
use crate::plan::Date;
use crate::review::Review;
use crate::yaml::Position;

/// Of one plan or of many.
#[derive(Debug, Default)]
pub struct Changes {
    /// Found and not on the list.
    pub new: Vec<New>,
    /// On the list, but less grave by now or of fewer things: the entries as they are and as they
    /// would be.
    pub lesser: Vec<(Entry, Entry)>,
    /// On the list and not found.
    pub not_found: Vec<NotFound>,
}

/// A finding that could be put on a list.
#[derive(Debug)]
pub struct New {
    pub entry: Entry,
    pub says: String,
    /// The file as it was named, and the place in it.
    pub place: Option<(String, Position)>,
    /// The entry that it is on the list by, where it is graver by now or concerns more things.
    pub before: Option<Entry>,
}

impl Changes {
    /// What has changed in a plan, called `name` on the list, since its `entries` were made. The
    /// review has been settled up with them.
    pub fn of(review: &Review, name: &str, entries: &[Entry], today: Date) -> Self {
        let name: Arc<str> = name.into();
        let mut open = Open::of(entries);
        let lesser = review.owed.iter().filter_map(|owed| {
            open.exact(&owed.entry.rule, &owed.entry.fingerprint);
            let (was, finding) = (&owed.entry, &owed.finding);
            let less = finding.level < was.level || *owed.fingerprint != *was.fingerprint;
            less.then(|| (was.clone(), was.now(finding, &owed.fingerprint)))
        });
        let lesser = lesser.collect();
        let prints = review.fingerprints();
        let new = review.findings.iter().zip(&prints).map(|(finding, print)| {
            let before = open
                .exact(finding.rule, print)
                .or_else(|| open.kin(finding));
            let place = finding.marks.first().map(|mark| {
                let (spot, _) = review.sources.spots(mark.span);
                let source = review.sources.file(spot.file);
                let path = source.path.to_string_lossy().into_owned();
                (path, source.position(spot.start))
            });
            New {
                entry: match before {
                    Some(before) => before.now(finding, print),
                    None => Entry::of(Arc::clone(&name), finding, print, today),
                },
                before: before.cloned(),
                says: finding.says.clone(),
                place,
            }
        });
        Self {
            new: new.collect(),
            lesser,
            not_found: review.not_found.clone(),
        }
    }

    /// Those of another plan, too.
    pub fn extend(&mut self, other: Self) {
        self.new.extend(other.new);
        self.lesser.extend(other.lesser);
        self.not_found.extend(other.not_found);
    }

    /// Whether the list is as the plans are: there is nothing to put on it nor to take off.
    pub fn is_nothing(&self) -> bool {
        let done = self.not_found.iter().any(|gone| gone.became.is_done());
        self.new.is_empty() && self.lesser.is_empty() && !done
    }
}
