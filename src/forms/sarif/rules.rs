//! The rulebook as the log has it.

use std::collections::HashMap;
use std::sync::LazyLock;

use serde::Serialize;

use super::super::markup;
use super::super::words::SheetWords;
use super::{Message, level, wording};
use crate::findings::Level;
use crate::rules::{Sheet, all_sheets};

/// Where a rule stands in the list that every log holds; `None` for one that is not in it.
pub fn index(rule: &str) -> Option<usize> {
    static AT: LazyLock<HashMap<&str, usize>> =
        LazyLock::new(|| all_sheets().map(|sheet| sheet.id).zip(0..).collect());
    AT.get(rule).copied()
}

/// A rule: what a sheet says.
#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Described {
    id: &'static str,
    short_description: Message,
    full_description: Message,
    help: Help,
    default_configuration: Configuration,
    properties: Properties,
}

#[derive(Debug, Serialize)]
struct Help {
    text: String,
    markdown: String,
}

#[derive(Debug, Serialize)]
struct Configuration {
    level: &'static str,
}

#[derive(Debug, Serialize)]
struct Properties {
    level: Level,
    authority: String,
    tags: [&'static str; 1],
}

/// Every rule of the rulebook, in the order of [`index`]: whoever reads the log also sees what was
/// looked for and not found.
pub fn described() -> impl Iterator<Item = Described> {
    all_sheets().map(of)
}

fn of(sheet: &'static Sheet) -> Described {
    let words = SheetWords::of(sheet);
    let parts = [
        ("Why", &words.why),
        ("Put right", &words.put_right),
        ("Authority", &words.authority),
    ];
    let parts = parts.map(|(name, text)| (name, wording::sentence(text)));
    let text = parts.iter().map(|(name, text)| format!("{name}: {text}"));
    let marked = parts
        .iter()
        .map(|(name, text)| format!("**{name}:** {}", markup::inline(text)));
    Described {
        id: sheet.id,
        short_description: Message::of(&wording::sentence(&sheet.title())),
        full_description: Message::of(&wording::sentence(&words.why)),
        help: Help {
            text: wording::paragraphs(text),
            markdown: wording::paragraphs(marked),
        },
        default_configuration: Configuration {
            level: level(sheet.level),
        },
        properties: Properties {
            level: sheet.level,
            authority: words.authority,
            tags: [sheet.id.split_once('.').map_or(sheet.id, |(area, _)| area)],
        },
    }
}
