//! What the rulebook of a review does otherwise than the built-in one, and which line says so.

use std::io::{Result, Write};

use super::clean::clean;
use super::{Page, theme};
use crate::findings::Level;
use crate::plan::Stage;
use crate::rules::sheet::listed;
use crate::rules::{Departure, Place, Rulebook, What};

/// Every departure, those first that may hide a hazard.
///
/// # Errors
/// Those of the writer.
pub fn section(rulebook: &Rulebook, page: Page, out: &mut dyn Write) -> Result<()> {
    let departures = &rulebook.departures;
    if departures.is_empty() {
        return Ok(());
    }
    writeln!(
        out,
        "{} is not the built-in one in this:",
        page.paint(theme::margin(), "THE RULEBOOK")
    )?;
    let (grave, others): (Vec<_>, Vec<_>) = departures
        .iter()
        .partition(|departure| departure.may_hide_hazard());
    for departure in grave {
        let line = page.wrap(&clean(&told(departure)), "  ", "    ");
        writeln!(out, "{}", page.paint(theme::ink(Level::Hazard), &line))?;
    }
    for departure in others {
        writeln!(out, "{}", page.wrap(&clean(&told(departure)), "  ", "    "))?;
    }
    writeln!(out)
}

/// `not adopted: fire.underrated (hazard); reason: … (nailplate.yaml:7)`
pub fn told(departure: &Departure) -> String {
    format!("{} ({})", said(departure), placed(departure))
}

/// `nailplate.yaml:7`
pub fn placed(departure: &Departure) -> String {
    let Place { path, line } = &departure.place;
    format!("{}:{line}", path.display())
}

/// The same without its place.
pub fn said(departure: &Departure) -> String {
    let Departure { rule, level, .. } = departure;
    let (kind, to) = (kind(&departure.what), sides(&departure.what));
    let what = match &departure.what {
        What::NotAdopted { reason } => {
            let hazards = match departure.hazards && *level != Level::Hazard {
                true => ", at times hazard",
                false => "",
            };
            format!("{rule} ({level}{hazards}): {reason}")
        }
        What::Sheet => format!("the words of {rule} are those of a sheet of the firm's own"),
        What::Limit {
            name, authority, ..
        } => {
            let Sides { from, to } = to;
            format!("{name} of {rule} is {to}, built in is {from}; authority: {authority}")
        }
        _ => {
            let Sides { from, to } = to;
            format!("{rule} is {to}, built in is {from}")
        }
    };
    format!("{kind}: {what}")
}

/// One word for the kind of a departure.
pub fn kind(what: &What) -> &'static str {
    match what {
        What::NotAdopted { .. } => "not adopted",
        What::Level { from, to } if to < from => "lowered",
        What::Level { .. } => "raised",
        What::Limit { .. } => "limit",
        What::Regions { .. } => "regions",
        What::FromStage { .. } => "from stage",
        What::Sheet => "sheet",
    }
}

/// What was, and what is.
#[derive(Debug, Default)]
pub struct Sides {
    pub from: String,
    pub to: String,
}

/// Both sides in words; empty where there are none.
pub fn sides(what: &What) -> Sides {
    let stage = |stage: &Option<Stage>| match stage {
        Some(stage) => format!("judged from the stage {} on", stage.word()),
        None => "judged at every stage".into(),
    };
    let (from, to) = match what {
        What::NotAdopted { .. } | What::Sheet => return Sides::default(),
        What::Level { from, to } => (from.to_string(), to.to_string()),
        What::Limit { from, to, .. } => (from.clone(), to.clone()),
        What::Regions { from, to } => {
            let judged = |some: &Option<Vec<_>>| format!("judged in {}", listed(some.as_deref()));
            (judged(from), judged(to))
        }
        What::FromStage { from, to } => (stage(from), stage(to)),
    };
    Sides { from, to }
}
