//! A punch list as text, and what is put on it and taken off.

use super::{Entry, PunchList};

/// What a new list begins with.
const HEAD: &str = "\
# Punch list: findings that are known and still owed. `nailplate review` does not hold a plan up for
# them, says every owed hazard aloud, and tells what has been put right since.
# One entry a line, in order, so that it merges; `nailplate punchlist` writes it. A comment above an entry
# or behind it stays with it.
nailplate: 1
";

impl Default for PunchList {
    /// A new list, with nothing on it.
    fn default() -> Self {
        Self {
            head: HEAD.to_owned(),
            entries: Vec::new(),
            tail: String::new(),
            line_end: "\n",
        }
    }
}

impl PunchList {
    /// Puts entries on the list. One that is on it already takes the graver level and keeps its day.
    pub fn add(&mut self, new: impl IntoIterator<Item = Entry>) {
        self.entries.extend(new);
        self.settle();
    }

    /// Takes entries off the list. Comments that belong to one go with it.
    pub fn take_off<'e>(&mut self, off: impl IntoIterator<Item = &'e Entry>) {
        let mut off: Vec<&Entry> = off.into_iter().collect();
        off.sort_by(|a, b| a.order(b));
        self.entries
            .retain(|entry| off.binary_search_by(|off| off.order(entry)).is_err());
    }

    /// Brings the entries in order and joins those that are the same, as two people may have added
    /// them.
    pub(super) fn settle(&mut self) {
        // A list that is in order, as most are, is only looked through.
        if !self.entries.is_sorted_by(|a, b| a.order(b).is_lt()) {
            self.entries.sort_by(Entry::order);
        }
        self.entries.dedup_by(|again, first| {
            let same = again.order(first).is_eq();
            if same {
                first.join(again);
            }
            same
        });
    }

    /// The list as a file.
    pub fn text(&self) -> String {
        let mut text = self.head.clone();
        text.push_str(if self.entries.is_empty() {
            "owed: []\n"
        } else {
            "owed:\n"
        });
        for entry in &self.entries {
            text.push_str(&entry.above);
            text.push_str(&entry.to_string());
            text.push_str(&entry.behind);
            text.push('\n');
        }
        text.push_str(&self.tail);
        if self.line_end == "\n" {
            text
        } else {
            text.replace('\n', self.line_end)
        }
    }
}
