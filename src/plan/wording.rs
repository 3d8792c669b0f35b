//! How a text of the plan looks in a message.

/// A text shortened for a message, without anything that a terminal would act on.
pub(crate) fn shown(text: &str) -> String {
    let mut short: String = text.chars().take(40).map(seen).collect();
    if text.chars().nth(40).is_some() {
        short.push('…');
    }
    short
}

/// A sign in the place of a character that shows nothing.
pub(crate) fn seen(c: char) -> char {
    if is_unseen(c) { '·' } else { c }
}

/// Characters that show nothing, or change how others show: controls, turns of the reading direction, fillers, tags.
pub(crate) fn is_unseen(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{ad}' | '\u{61c}' | '\u{115f}' | '\u{1160}' | '\u{180e}' | '\u{200b}'..='\u{200f}'
            | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{3164}' | '\u{feff}' | '\u{ffa0}'
            | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e007f}')
}

/// `a word such as …` for a long list of words.
pub(crate) fn briefly(wants: &str) -> String {
    match wants.strip_prefix("one of: ") {
        Some(words) if words.split(", ").count() > 10 => {
            let some: Vec<_> = words.split(", ").take(3).collect();
            format!("one of its words, such as {}", some.join(", "))
        }
        _ => wants.to_owned(),
    }
}

/// The longest id, in characters: it has to fit on a label.
pub(crate) const LONGEST_ID: usize = 64;

/// Whether a word can stand in a plan without quotes.
pub(crate) fn is_plain(word: &str) -> bool {
    let inner = |c: char| c.is_alphanumeric() || matches!(c, '-' | '_' | '.' | '/' | ' ');
    word.starts_with(char::is_alphanumeric) && word.chars().all(inner) && !word.ends_with(' ')
}
