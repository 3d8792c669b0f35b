//! One finding: written out, or in a line.

use similar::{ChangeTag, TextDiff};

use super::super::clean;
use super::super::edited::{self, Row};
use super::super::marks::{address, groups, labels};
use super::super::markup::{block, code, cut, inline};
use super::super::snippet::room;
use super::super::text::{snippet, worked};
use super::super::words::Words;
use super::Desk;
use crate::findings::{Finding, Redline, RedlineKind};

/// Bytes of a quotation beyond which it is left out.
const LONGEST: usize = 6_000;

/// What is wrong, where, the lines that cause it, and what to do. Why it matters is said at the
/// first finding of a rule.
pub fn whole(
    desk: Desk<'_>,
    number: usize,
    finding: &Finding,
    words: &mut Words,
    first: bool,
) -> String {
    let words = words.get(finding.rule);
    let title = format!("{number}. {}", said(&finding.says));
    let mut text = format!("\n**{}**\n\n", title.trim_end());
    if let Some(place) = place(desk, finding) {
        text.push_str(&format!("At {place}, by rule {}:\n\n", code(finding.rule)));
        text.push_str(&block("text", &quoted(desk, finding)));
    } else {
        text.push_str(&format!("By rule {}.\n", code(finding.rule)));
    }
    let working = finding
        .figure
        .as_ref()
        .map(|figure| worked(figure, finding.limit.as_ref(), desk.page));
    let terms = [
        ("working", working.as_deref()),
        ("why", words.why().filter(|_| first)),
        ("put right", words.put_right(finding)),
        ("authority", words.authority(finding)),
    ];
    let terms = terms.map(|(name, words)| Some(format!("- {name}: {}\n", said(words?))));
    let terms: String = terms.into_iter().flatten().collect();
    if !terms.is_empty() {
        text.push('\n');
        text.push_str(&terms);
    }
    for redline in &finding.redlines {
        text.push_str(&suggested(desk, redline));
    }
    text
}

/// `path:line`, what is wrong, and the rule.
pub fn line(desk: Desk<'_>, finding: &Finding) -> String {
    let place = place(desk, finding).map_or(String::new(), |place| format!("{place} "));
    format!(
        "- {place}{} ({})\n",
        said(&finding.says),
        code(finding.rule)
    )
}

/// `path:line` of the place at fault, as code.
pub fn place(desk: Desk<'_>, finding: &Finding) -> Option<String> {
    let sources = &desk.review.sources;
    let (spot, _) = sources.spots(finding.marks.first()?.span);
    let source = sources.file(spot.file);
    let line = source.position(spot.start).line;
    let path = source.path.to_string_lossy();
    Some(code(&format!("{path}:{line}")))
}

/// A text that a plan may have part in.
pub fn said(text: &str) -> String {
    inline(&cut(text))
}

/// The lines with the places marked in them, as the text form has them.
fn quoted(desk: Desk<'_>, finding: &Finding) -> String {
    let sources = &desk.review.sources;
    let labels = labels(finding, sources);
    let last = labels.iter().map(|label| label.line).max().unwrap_or(0);
    let mut text = String::new();
    let main = labels.first().map(|label| label.file);
    let groups = groups(labels, room(desk.page.width(), last));
    for (index, group) in groups.iter().enumerate() {
        let Some(first) = group.first() else { continue };
        let heading = match index {
            0 => format!("line {}", first.line + 1),
            _ if main == Some(first.file) => format!("and line {}", first.line + 1),
            _ => format!("in {}", address(first.spot(), sources)),
        };
        text.push_str(&snippet(heading, group, finding.level, sources, desk.page));
    }
    if text.len() > LONGEST {
        text = "(too long to be quoted here)".into();
    }
    text
}

fn suggested(desk: Desk<'_>, redline: &Redline) -> String {
    let kind = match redline.kind {
        RedlineKind::Same => "the plan means the same afterwards",
        RedlineKind::Change => "this changes what gets built",
    };
    let text = format!("\nSuggested edit: {} ({kind}).", said(&redline.title));
    let rows = edited::rows(redline, &desk.review.sources);
    // A plan may be one line.
    let short = rows.iter().all(|row| row.whole.len() <= LONGEST);
    let lines = short.then(|| rows.iter().map(|row| lines(desk, row)).collect::<String>());
    match lines.filter(|lines| lines.len() <= LONGEST) {
        Some(lines) => format!("{text}\n\n{}", block("diff", &lines)),
        None => format!("{text} `nailplate redline` shows it: its lines are too long for here.\n"),
    }
}

/// Lines before and after, as a diff has them, under the place of the first.
fn lines(desk: Desk<'_>, row: &Row<'_>) -> String {
    let source = desk.review.sources.file(row.file);
    let path = source.path.to_string_lossy();
    let mut text = format!("@@ {}:{} @@\n", clean(&path), row.line + 1);
    let [before, after] = row.texts(&source.text);
    let diff = TextDiff::from_lines(&before, &after);
    for change in diff.iter_all_changes() {
        let sign = match change.tag() {
            ChangeTag::Delete => '-',
            ChangeTag::Insert => '+',
            ChangeTag::Equal => ' ',
        };
        let line = change.value().trim_end_matches(['\r', '\n']);
        text.push_str(&format!("{sign}{}\n", clean(line)));
    }
    text
}
