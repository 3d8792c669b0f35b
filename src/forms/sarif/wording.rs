//! Words as a message of a log.

use super::super::clean::clean;

/// A text as a plain message that means just this text. In a message braces hold the place of an
/// argument, and brackets with a target behind them are a link (SARIF 2.1.0, 3.11.5 and 3.11.6,
/// from memory): braces are doubled, and a blank parts the target from what would be its link.
pub fn plain(text: &str) -> String {
    let text = clean(text);
    if !text.contains(['{', '}', ']']) {
        return text.into_owned();
    }
    text.replace('{', "{{")
        .replace('}', "}}")
        .replace("](", "] (")
}

/// A sentence with its full stop: the first sentence of a message may be shown alone.
pub fn sentence(text: &str) -> String {
    let text = text.trim();
    let end = if text.ends_with(['.', '!', '?']) {
        ""
    } else {
        "."
    };
    format!("{text}{end}")
}

/// Texts as the paragraphs of one message.
pub fn paragraphs(texts: impl Iterator<Item = String>) -> String {
    texts
        .map(|text| plain(&text))
        .collect::<Vec<_>>()
        .join("\n\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_text_becomes_a_link_or_an_argument() {
        assert_eq!(
            plain("S1 [3] has 4 ohm, allowed is 2"),
            "S1 [3] has 4 ohm, allowed is 2"
        );
        assert_eq!(plain("[a](1) {0}"), "[a] (1) {{0}}");
        assert_eq!(plain("a\nb\u{202e}c"), "a b\u{fffd}c");
    }

    #[test]
    fn a_sentence_ends_once() {
        assert_eq!(sentence("S1 is short"), "S1 is short.");
        assert_eq!(sentence("Pull another. "), "Pull another.");
    }
}
