//! The rulebook: a list of its sheets, and one sheet in full, each with what is not as built in.

use std::collections::BTreeMap;
use std::io::{Result, Write};

use super::clean::clean;
use super::departures::{placed, sides};
use super::{Page, theme};
use crate::rules::sheet::{Whole, listed};
use crate::rules::{Departure, Rulebook, Sheet, What};

/// Every sheet on a line, by area, as the rulebook has it.
///
/// # Errors
/// Those of the writer.
pub fn list(
    sheets: impl Iterator<Item = &'static Sheet>,
    rulebook: &Rulebook,
    page: Page,
    out: &mut dyn Write,
) -> Result<()> {
    let mut areas: BTreeMap<&str, Vec<&Sheet>> = BTreeMap::new();
    let (mut count, mut longest, mut changed) = (0, 0, 0);
    for sheet in sheets {
        let area = sheet.id.split_once('.').map_or(sheet.id, |(area, _)| area);
        (count, longest) = (count + 1, longest.max(sheet.id.len()));
        let own = rulebook.own_sheet(sheet.id).unwrap_or(sheet);
        areas.entry(area).or_default().push(own);
    }
    for (area, sheets) in areas {
        writeln!(out, "{}", page.paint(theme::margin(), area))?;
        for sheet in sheets {
            let level = match rulebook.adopts(sheet.id) {
                true => page.paint(theme::ink(sheet.level), &format!("{:6}", sheet.level)),
                false => "out   ".to_owned(),
            };
            let by = by(rulebook, sheet.id);
            changed += usize::from(!by.is_empty());
            let title = sheet.title();
            writeln!(
                out,
                "  {:longest$}  {level}  {}{by}",
                sheet.id,
                clean(&title)
            )?;
        }
        writeln!(out)?;
    }
    let sheets = if count == 1 { "sheet" } else { "sheets" };
    let changed = match &rulebook.settings {
        Some(path) => format!(
            ", {changed} of them not as built in, by {}",
            clean(&path.to_string_lossy())
        ),
        None => String::new(),
    };
    writeln!(
        out,
        "{count} {sheets}{changed}. `nailplate rulebook ID` shows one in full."
    )
}

/// Which lines make a sheet another: `  (not adopted: nailplate.yaml:7)`.
fn by(rulebook: &Rulebook, id: &str) -> String {
    let mut places: Vec<String> = rulebook.departures_of(id).map(placed).collect();
    places.dedup();
    if places.is_empty() {
        return String::new();
    }
    let out = match rulebook.adopts(id) {
        true => "",
        false => "not adopted: ",
    };
    format!("  ({out}{})", clean(&places.join(", ")))
}

/// One sheet in full, with its wrong and its right plan. What is not as built in says what that is, and
/// which line has changed it.
///
/// # Errors
/// Those of the writer.
pub fn sheet(
    sheet: &Sheet,
    whole: &Whole,
    rulebook: &Rulebook,
    page: Page,
    out: &mut dyn Write,
) -> Result<()> {
    let built_in = |is: &dyn Fn(&What) -> bool| {
        let departure = rulebook.departures_of(sheet.id).find(|d| is(&d.what));
        departure.map(was).unwrap_or_default()
    };
    writeln!(
        out,
        "{}  {}",
        page.paint(theme::margin(), sheet.id),
        page.sign(sheet.level)
    )?;
    writeln!(out, "{}\n", page.wrap(&clean(&whole.title), "", ""))?;
    for departure in rulebook.departures_of(sheet.id) {
        let (word, text) = match &departure.what {
            What::NotAdopted { reason } => ("out", format!("not adopted: {reason}")),
            What::Sheet => ("sheet", "of the firm's own".to_owned()),
            What::Level { to, .. } => ("level", to.to_string()),
            _ => continue,
        };
        let text = format!("{text}{}", was(departure));
        writeln!(out, "{}", page.margin(word, &clean(&text)))?;
    }
    let mut applies = listed(whole.regions.as_deref());
    applies += &built_in(&|what| matches!(what, What::Regions { .. }));
    if let Some(stage) = whole.from_stage {
        applies += &format!(", from the stage {} on", stage.word());
    }
    applies += &built_in(&|what| matches!(what, What::FromStage { .. }));
    writeln!(out, "{}", page.margin("applies in", &clean(&applies)))?;
    for (index, (limit, stated)) in whole.limits.iter().enumerate() {
        let was = built_in(&|what| matches!(what, What::Limit { name, .. } if name == limit));
        let text = format!("{limit} {} ({}){was}", stated.words(), stated.authority);
        let word = if index == 0 { "limits" } else { "" };
        writeln!(out, "{}", page.margin(word, &clean(&text)))?;
    }
    writeln!(
        out,
        "{}",
        page.margin("authority", &clean(&whole.authority))
    )?;
    writeln!(
        out,
        "\n{}\n",
        page.wrap(&clean(whole.why.trim()), "  ", "  ")
    )?;
    writeln!(
        out,
        "{}",
        page.margin("put right", &clean(whole.put_right.trim()))
    )?;
    for (word, plan) in [("wrong", &whole.wrong), ("right", &whole.right)] {
        writeln!(out, "\n  {}", page.paint(theme::margin(), word))?;
        for line in plan.trim_end().lines() {
            writeln!(out, "{}", format!("    {}", clean(line)).trim_end())?;
        }
    }
    Ok(())
}

/// `, built in is 5 %, by nailplate.yaml:7`
fn was(departure: &Departure) -> String {
    let from = sides(&departure.what).from;
    let built_in = match from.is_empty() {
        true => String::new(),
        false => format!(", built in is {from}"),
    };
    format!("{built_in}, by {}", placed(departure))
}
