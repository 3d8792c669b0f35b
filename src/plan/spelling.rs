//! The nearest known word for one that is not known.

/// The word nearest to `wrong`, if it is near enough to be a slip of the pen, and how many slips
/// away it is. Of equally near ones the first. Words of one or two letters are never guessed from
/// more than case.
pub fn nearest<'w>(wrong: &str, known: impl IntoIterator<Item = &'w str>) -> Option<(&'w str, usize)> {
    let length = wrong.chars().count();
    if length > 64 {
        return None;
    }
    let lower = wrong.to_lowercase();
    let allowed = match length {
        0..=2 => 0,
        3..=5 => 1,
        6..=9 => 2,
        _ => 3,
    };
    known
        .into_iter()
        .filter(|word| word.len().abs_diff(wrong.len()) <= 4)
        .filter_map(|word| {
            let slips = strsim::damerau_levenshtein(&lower, &word.to_lowercase());
            // Two words that are one letter-swap apart and differ in case still count as near.
            (slips <= allowed).then_some((word, slips))
        })
        .min_by_key(|(_, slips)| *slips)
}
