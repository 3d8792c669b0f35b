//! The nearest known words for one that is not known.

use super::wording::seen;

/// The known words that are nearest to a wrong one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Near<'w> {
    /// The first three of them, in the order of the alphabet.
    pub words: Vec<&'w str>,
    /// How many are equally near.
    pub ties: usize,
    /// How many slips of the pen away they are; none where only the case differs.
    pub slips: usize,
}

impl<'w> Near<'w> {
    /// The nearest word where no other is as near.
    pub fn only(&self) -> Option<&'w str> {
        if self.ties == 1 {
            self.words.first().copied()
        } else {
            None
        }
    }

    /// Whether `wrong` can hardly mean anything but the nearest word: it differs in case, or by
    /// one letter of a word that is long enough. A digit is never a slip (`cat6` is not `cat7`),
    /// nor is a letter of a code (`ENT` is not `EMT`), nor one letter for another in a short word,
    /// which may be a word itself (`heat` is not `seat`).
    pub fn is_sure(&self, wrong: &str) -> bool {
        let digits = |text: &str| {
            text.chars()
                .filter(char::is_ascii_digit)
                .collect::<String>()
        };
        self.only().is_some_and(|word| {
            let is_code = word.chars().all(|c| !c.is_lowercase());
            self.slips == 0
                || self.slips == 1
                    && !is_code
                    && digits(wrong) == digits(word)
                    && match wrong.chars().count() {
                        0..=2 => false,
                        3..=4 => !is_other_letter(wrong, word),
                        _ => true,
                    }
        })
    }

    /// The question, and whether the wrong one was read as the nearest.
    pub fn advice(&self, was_read: bool) -> String {
        let read = if was_read { " It was read as that" } else { "" };
        self.question() + read
    }

    /// `did you mean a, b or c?`, without anything that a terminal would act on.
    pub fn question(&self) -> String {
        let seen = |word: &&str| word.chars().map(seen).collect::<String>();
        let words: Vec<_> = self.words.iter().map(seen).collect();
        let (last, before) = words.split_last().expect("there is at least one");
        let before: Vec<_> = before.iter().map(|word| format!("`{word}`")).collect();
        match before.len() {
            0 => format!("did you mean `{last}`?"),
            _ => format!("did you mean {} or `{last}`?", before.join(", ")),
        }
    }
}

/// The words nearest to `wrong`, if they are near enough for it to be a slip of the pen. Words of
/// one or two letters are never guessed from more than case.
pub fn near<'w>(wrong: &str, known: impl IntoIterator<Item = &'w str>) -> Option<Near<'w>> {
    let length = wrong.chars().count();
    if length == 0 || length > 64 {
        return None;
    }
    let lower = wrong.to_lowercase();
    let letters = letters(&lower);
    let mut best = match length {
        0..=2 => 0,
        3..=5 => 1,
        6..=9 => 2,
        _ => 3,
    };
    let mut found: Option<Near<'w>> = None;
    for word in known {
        // Cheap bounds first: a slip changes the length by at most one byte sequence, and the set
        // of letters by at most two.
        if word.len().abs_diff(wrong.len()) > best * 4 {
            continue;
        }
        let small = word.to_lowercase();
        if (letters ^ self::letters(&small)).count_ones() as usize > 2 * best {
            continue;
        }
        let slips = strsim::damerau_levenshtein(&lower, &small);
        if slips > best {
            continue;
        }
        match &mut found {
            Some(near) if near.slips == slips => {
                near.ties += 1;
                let at = near.words.partition_point(|other| *other < word);
                near.words.insert(at, word);
                near.words.truncate(3);
            }
            _ => {
                found = Some(Near {
                    words: vec![word],
                    ties: 1,
                    slips,
                })
            }
        }
        best = slips;
    }
    found
}

/// The nearest known word and how many slips away it is; of equally near ones the first.
pub fn nearest<'w>(
    wrong: &str,
    known: impl IntoIterator<Item = &'w str>,
) -> Option<(&'w str, usize)> {
    near(wrong, known).map(|near| (near.words[0], near.slips))
}

/// Whether two words that are one slip apart have one letter for another: none is missing, none too
/// many, none in another's place.
fn is_other_letter(wrong: &str, word: &str) -> bool {
    let letters = |text: &str| {
        let mut letters: Vec<_> = text.to_lowercase().chars().collect();
        letters.sort_unstable();
        letters
    };
    let (wrong, word) = (letters(wrong), letters(word));
    wrong.len() == word.len() && wrong != word
}

/// Which letters a text has, as a set of 64.
fn letters(text: &str) -> u64 {
    text.chars()
        .fold(0, |set, c| set | 1 << (u32::from(c) % 64))
}
