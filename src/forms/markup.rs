//! Text from a plan as Markdown (CommonMark, and what is common beside it) that means this text and nothing else.

use std::borrow::Cow;

use super::clean::clean;
use super::snippet::floor;

/// Bytes of a text beyond which its end is left out.
const LONGEST: usize = 2_000;

/// Words in a line. What stands between backticks is code, as the words of findings and sheets
/// mean it; nothing else in the text is markup.
pub fn inline(text: &str) -> String {
    let text = clean(text.trim());
    let mut out = String::with_capacity(text.len() + 16);
    let mut rest = &*text;
    while let Some((before, code, behind)) = quoted(rest) {
        escape(before, &mut out);
        out.push_str(&self::code(code));
        rest = behind;
    }
    escape(rest, &mut out);
    opened(out)
}

/// The first word in backticks that stand like quotation marks: before it, itself, behind it.
fn quoted(text: &str) -> Option<(&str, &str, &str)> {
    let inner = |c: char| c.is_alphanumeric() || matches!(c, '`' | '@');
    let mut ticks = text.match_indices('`').map(|(at, _)| at);
    let start = ticks.find(|at| !text[..*at].ends_with(inner))?;
    let end = ticks.next()?;
    let (code, behind) = (&text[start + 1..end], &text[end + 1..]);
    (!behind.starts_with(inner) && !code.trim().is_empty()).then_some((
        &text[..start],
        code,
        behind,
    ))
}

fn escape(text: &str, out: &mut String) {
    let mut at_signs = String::new();
    for (at, c) in text.char_indices() {
        // Many readers make links of bare addresses and of names with this sign before them.
        if c == '@' {
            at_signs.push(c);
            continue;
        }
        if !at_signs.is_empty() {
            out.push_str(&code(&std::mem::take(&mut at_signs)));
        }
        let escaped = match c {
            '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '>' | '&' | '|' | '~' | '#' | '$' | '^' => {
                true
            }
            ':' => text[at..].starts_with("://"),
            '.' => text[..at]
                .get(at.saturating_sub(3)..)
                .is_some_and(|www| www.eq_ignore_ascii_case("www")),
            _ => false,
        };
        if escaped {
            out.push('\\');
        }
        out.push(c);
    }
    if !at_signs.is_empty() {
        out.push_str(&code(&at_signs));
    }
}

/// A line that may stand first in its block: it opens no list.
fn opened(mut line: String) -> String {
    let digits = line.bytes().take_while(u8::is_ascii_digit).count();
    let behind = &line[digits..];
    let opens = if digits == 0 {
        behind.starts_with(['-', '+', '=', ':'])
    } else {
        behind.starts_with(['.', ')']) && !behind[1..].starts_with(|c| c != ' ')
    };
    if opens {
        line.insert(digits, '\\');
    }
    line
}

/// A text without its end where it is very long.
pub fn cut(text: &str) -> Cow<'_, str> {
    if text.len() <= LONGEST {
        return Cow::Borrowed(text);
    }
    Cow::Owned(format!("{}…", &text[..floor(text, LONGEST)]))
}

/// A short text as code.
pub fn code(text: &str) -> String {
    let text = clean(text);
    let fence = "`".repeat(longest_run(&text) + 1);
    let apart = text.is_empty() || text.starts_with(['`', ' ']) || text.ends_with(['`', ' ']);
    let blank = if apart { " " } else { "" };
    format!("{fence}{blank}{text}{blank}{fence}")
}

/// Lines as a block of code. `kind` is what they are written in.
pub fn block(kind: &str, lines: &str) -> String {
    let fence = "`".repeat((longest_run(lines) + 1).max(3));
    let end = if lines.ends_with('\n') { "" } else { "\n" };
    format!("{fence}{kind}\n{lines}{end}{fence}\n")
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
            ("ask @all, @@ too", "ask `@`all, `@@` too"),
            ("`a`@`b`", r"\`a\``@`\`b\`"),
            ("http://x.example www.x", r"http\://x.example www\.x"),
            ("C:\\x", r"C:\\x"),
            ("- x", r"\- x"),
            ("12. x", r"12\. x"),
            ("12.5 A", "12.5 A"),
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
        assert_eq!(block("", "a\n```\n"), "````\na\n```\n````\n");
    }
}
