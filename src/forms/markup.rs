//! Text from a plan as Markdown (CommonMark, and what is common beside it) that means this text and nothing else.

use super::clean::clean;

/// Words in a line. What stands between backticks is code, as the words of findings and sheets
/// mean it; nothing else in the text is markup.
pub fn inline(text: &str) -> String {
    let text = clean(text);
    let mut out = String::with_capacity(text.len() + 16);
    let mut rest = &*text;
    while let Some((before, code, behind)) = quoted(rest) {
        escape(before, &mut out);
        out.push_str(&self::code(code));
        rest = behind;
    }
    escape(rest, &mut out);
    out
}

/// The first word in backticks that stand like quotation marks: before it, itself, behind it.
fn quoted(text: &str) -> Option<(&str, &str, &str)> {
    let mut ticks = text.match_indices('`').map(|(at, _)| at);
    let opens = |at: usize| !text[..at].ends_with(|c: char| c.is_alphanumeric() || c == '`');
    let start = ticks.find(|at| opens(*at))?;
    let end = ticks.next()?;
    let (code, behind) = (&text[start + 1..end], &text[end + 1..]);
    let closes = !behind.starts_with(|c: char| c.is_alphanumeric() || c == '`');
    (closes && !code.trim().is_empty()).then_some((&text[..start], code, behind))
}

fn escape(text: &str, out: &mut String) {
    for (at, c) in text.char_indices() {
        match c {
            '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '>' | '&' | '|' | '~' | '#' | '$' => {
                out.push('\\');
            }
            // Many readers make links of bare addresses and of names with this sign before them.
            '@' => {
                out.push_str("`@`");
                continue;
            }
            ':' if text[at..].starts_with("://") => out.push('\\'),
            '.' if text[..at].to_ascii_lowercase().ends_with("www") => out.push('\\'),
            _ => {}
        }
        out.push(c);
    }
}

/// A short text as code.
pub fn code(text: &str) -> String {
    let text = clean(text);
    let fence = "`".repeat(longest_run(&text) + 1);
    let blank = if text.starts_with(['`', ' ']) || text.ends_with(['`', ' ']) {
        " "
    } else {
        ""
    };
    format!("{fence}{blank}{text}{blank}{fence}")
}

/// The most backticks in a row.
fn longest_run(text: &str) -> usize {
    text.split(|c| c != '`').map(str::len).max().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_quoted_words_are_markup() {
        for (text, marked) in [
            ("write `length` of S1", "write `length` of S1"),
            ("a*b_c|d <x> [y](z)", r"a\*b\_c\|d \<x\> \[y\](z)"),
            ("a`b is short", r"a\`b is short"),
            ("``` and `", r"\`\`\` and \`"),
            ("ask @all", "ask `@`all"),
            ("http://x.example www.x", r"http\://x.example www\.x"),
            ("C:\\x", r"C:\\x"),
            ("2 × 52 ft ÷ 4 ohm = 17 %", "2 × 52 ft ÷ 4 ohm = 17 %"),
        ] {
            assert_eq!(inline(text), marked);
        }
    }

    #[test]
    fn code_holds_every_text() {
        assert_eq!(code("S1"), "`S1`");
        assert_eq!(code("a`b"), "``a`b``");
        assert_eq!(code("`"), "`` ` ``");
        assert_eq!(code(" a"), "`  a `");
    }
}
