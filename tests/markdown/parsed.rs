//! A page of Markdown as an outside parser has it, with everything switched on that readers of threads may know.

use pulldown_cmark::{CodeBlockKind, Event, Options, Parser, Tag, TagEnd};

/// What a page is made of.
#[derive(Debug)]
pub enum Piece {
    Heading(String),
    /// What stands in bold at the start of a paragraph.
    Title(String),
    Paragraph(String),
    Item(String),
    Block(String, String),
    Html(String),
}

impl Piece {
    pub fn text(&self) -> &str {
        match self {
            Self::Heading(text)
            | Self::Title(text)
            | Self::Paragraph(text)
            | Self::Item(text)
            | Self::Block(_, text)
            | Self::Html(text) => text,
        }
    }
}

pub struct Structure(Vec<Piece>);

/// The pieces; panics at markup of any other kind.
#[track_caller]
pub fn pieces(page: &str) -> Vec<Piece> {
    // Curly quotes are another spelling, no markup.
    let options = Options::all() - Options::ENABLE_SMART_PUNCTUATION;
    let (mut pieces, mut text) = (Vec::new(), String::new());
    let mut kind = String::new();
    for event in Parser::new_ext(page, options) {
        match event {
            Event::Text(more) | Event::Code(more) => text.push_str(&more),
            Event::Start(Tag::CodeBlock(CodeBlockKind::Fenced(of))) => kind = of.into_string(),
            Event::End(TagEnd::CodeBlock) => {
                pieces.push(Piece::Block(
                    std::mem::take(&mut kind),
                    std::mem::take(&mut text),
                ));
            }
            Event::End(TagEnd::Heading(_)) => {
                pieces.push(Piece::Heading(std::mem::take(&mut text)))
            }
            Event::End(TagEnd::Strong) => pieces.push(Piece::Title(std::mem::take(&mut text))),
            Event::End(TagEnd::Paragraph) => {
                pieces.push(Piece::Paragraph(std::mem::take(&mut text)))
            }
            Event::End(TagEnd::Item) => pieces.push(Piece::Item(std::mem::take(&mut text))),
            Event::Html(html) => pieces.push(Piece::Html(html.into_string())),
            Event::Start(
                Tag::Heading { .. }
                | Tag::Paragraph
                | Tag::Strong
                | Tag::Item
                | Tag::List(None)
                | Tag::HtmlBlock,
            )
            | Event::End(TagEnd::List(false) | TagEnd::HtmlBlock) => {}
            other => panic!("{other:?} in\n{page}"),
        }
    }
    pieces
}

/// The same; the only HTML is what folds the list of gaps away.
#[track_caller]
pub fn structure(page: &str) -> Structure {
    let pieces = pieces(page);
    for piece in &pieces {
        if let Piece::Html(html) = piece {
            let line = html.trim_end();
            let count = line
                .strip_prefix("<summary>")
                .and_then(|line| line.strip_suffix(" for want of a figure</summary>"));
            let folds = matches!(line, "<details>" | "</details>");
            let counts =
                count.is_some_and(|count| count.chars().all(|c| c.is_alphanumeric() || c == ' '));
            assert!(folds || counts, "{html} in\n{page}");
        }
    }
    Structure(pieces)
}

impl Structure {
    pub fn headings(&self) -> impl Iterator<Item = String> {
        self.0.iter().filter_map(|piece| match piece {
            Piece::Heading(text) => Some(text.clone()),
            _ => None,
        })
    }

    pub fn titles(&self) -> impl Iterator<Item = &str> {
        self.0.iter().filter_map(|piece| match piece {
            Piece::Title(text) => Some(&**text),
            _ => None,
        })
    }

    pub fn blocks(&self, of: &str) -> impl Iterator<Item = &str> {
        self.0.iter().filter_map(move |piece| match piece {
            Piece::Block(kind, text) if kind == of => Some(&**text),
            _ => None,
        })
    }

    /// How many items of lists begin with something.
    pub fn lines_with(&self, start: &str) -> usize {
        let starts = |piece: &&Piece| matches!(piece, Piece::Item(text) if text.starts_with(start));
        self.0.iter().filter(starts).count()
    }
}
