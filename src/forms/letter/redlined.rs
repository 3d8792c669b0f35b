//! A suggested edit, written into the lines that it changes.

use maud::{Markup, html};

use super::quote::{middle, start, tail};
use super::{file_name, paragraph, unseen};
use crate::findings::{Redline, RedlineKind};
use crate::forms::edited::{Row, rows};
use crate::review::Review;

/// What the edit does, then each line with what goes struck out and what comes underlined.
pub fn redlined(redline: &Redline, review: &Review) -> Markup {
    let sources = &review.sources;
    let mut file = review.file;
    let kind = match redline.kind {
        RedlineKind::Same => "the plan means the same afterwards",
        RedlineKind::Change => "this changes what gets built",
    };
    html! {
        (paragraph(&redline.title)) " (" (kind) ")"
        @for row in rows(redline, sources) {
            @let source = sources.file(row.file);
            @let text = &source.text;
            @if std::mem::replace(&mut file, row.file) != row.file {
                p.file { bdi { (file_name(&source.path)) } }
            }
            div.line {
                span.no { (unseen("line ")) (row.line + 1) }
                code {
                    @for piece in pieces(&row, text) {
                        @match piece {
                            Piece::Kept(text) => { (text) },
                            Piece::Out(text) => { del { (unseen("[take out: ")) (text) (unseen("]")) } },
                            Piece::In(text) => { ins { (unseen("[put in: ")) (text) (unseen("]")) } },
                        }
                    }
                }
            }
        }
    }
}

enum Piece {
    Kept(String),
    Out(String),
    In(String),
}

fn pieces(row: &Row<'_>, text: &str) -> Vec<Piece> {
    let mut pieces = Vec::with_capacity(3 * row.edits.len() + 1);
    let mut from = row.whole.start;
    for edit in &row.edits {
        let before = from..edit.at.start;
        pieces.push(Piece::Kept(if from == row.whole.start {
            tail(text, before).trim_start().to_owned()
        } else {
            middle(text, before)
        }));
        if edit.at.start < edit.at.end {
            pieces.push(Piece::Out(middle(text, edit.at.start..edit.at.end)));
        }
        if !edit.text.is_empty() {
            pieces.push(Piece::In(middle(&edit.text, 0..edit.text.len())));
        }
        from = edit.at.end;
    }
    pieces.push(Piece::Kept(start(text, from..row.whole.end)));
    pieces
}
