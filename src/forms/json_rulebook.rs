//! What a plan was judged by, as a part of its JSON.

use std::borrow::Cow;

use serde::Serialize;

use super::departures::{Sides, kind, sides};
use crate::findings::Level;
use crate::rules::{Departure, Rulebook, What};
use crate::schema::data;

data! { written [derive(Serialize)]
    /// What a plan was judged by.
    pub(super) struct Bound<'r> {
        /// The settings that were found for the plan.
        settings: Option<Cow<'r, str>>,
        /// What is not as in the built-in rulebook.
        departures: Vec<Departed<'r>>,
    }
}

data! { written [derive(Serialize)]
    /// Something that is not as in the built-in rulebook.
    pub(super) struct Departed<'r> {
        /// Id of the rule.
        rule: &'r str,
        /// The level of the rule as built in.
        level: Level,
        /// One of: not adopted, lowered, raised, limit, regions, from stage, sheet.
        what: &'r str,
        /// Whether a hazard may go unseen for it, or be told as less: the rule judges less, less gravely, or by another limit.
        may_hide_hazard: bool,
        /// The limit that is another.
        limit: Option<&'r str>,
        /// What is built in.
        from: Option<String>,
        /// What is in effect.
        to: Option<String>,
        /// Why the rule is not adopted.
        reason: Option<&'r str>,
        /// On whose word the limit is another.
        authority: Option<&'r str>,
        /// The file that says so.
        path: Cow<'r, str>,
        /// The line that says so, from 1.
        line: usize,
    }
}

pub(super) fn bound(rulebook: &Rulebook) -> Bound<'_> {
    Bound {
        settings: rulebook
            .settings
            .as_ref()
            .map(|path| path.to_string_lossy()),
        departures: rulebook.departures.iter().map(departed).collect(),
    }
}

fn departed(departure: &Departure) -> Departed<'_> {
    let filled = |text: String| (!text.is_empty()).then_some(text);
    let Sides { from, to } = sides(&departure.what);
    let (limit, reason, authority) = match &departure.what {
        What::Limit {
            name, authority, ..
        } => (Some(&**name), None, Some(&**authority)),
        What::NotAdopted { reason } => (None, Some(&**reason), None),
        _ => (None, None, None),
    };
    Departed {
        rule: departure.rule,
        level: departure.level,
        what: kind(&departure.what),
        may_hide_hazard: departure.may_hide_hazard(),
        limit,
        from: filled(from),
        to: filled(to),
        reason,
        authority,
        path: departure.place.path.to_string_lossy(),
        line: departure.place.line,
    }
}
