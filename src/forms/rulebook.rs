//! The rulebook: a list of its sheets, and one sheet in full.

use std::collections::BTreeMap;
use std::io::{Result, Write};

use super::{Page, theme};
use crate::plan::Region;
use crate::rules::Sheet;
use crate::rules::sheet::{AnyLimit, Whole};

/// Every sheet on a line, by area.
///
/// # Errors
/// Those of the writer.
pub fn list(
    sheets: impl Iterator<Item = &'static Sheet>,
    page: Page,
    out: &mut dyn Write,
) -> Result<()> {
    let mut areas: BTreeMap<&str, Vec<&Sheet>> = BTreeMap::new();
    let (mut count, mut longest) = (0, 0);
    for sheet in sheets {
        let area = sheet.id.split_once('.').map_or(sheet.id, |(area, _)| area);
        (count, longest) = (count + 1, longest.max(sheet.id.len()));
        areas.entry(area).or_default().push(sheet);
    }
    for (area, sheets) in areas {
        writeln!(out, "{}", page.paint(theme::margin(), area))?;
        for sheet in sheets {
            let level = page.paint(theme::ink(sheet.level), &format!("{:6}", sheet.level));
            writeln!(out, "  {:longest$}  {level}  {}", sheet.id, sheet.title())?;
        }
        writeln!(out)?;
    }
    let sheets = if count == 1 { "sheet" } else { "sheets" };
    writeln!(
        out,
        "{count} {sheets}. `nailplate rulebook ID` shows one in full."
    )
}

/// One sheet in full, with its wrong and its right plan.
///
/// # Errors
/// Those of the writer.
pub fn sheet(sheet: &Sheet, whole: &Whole, page: Page, out: &mut dyn Write) -> Result<()> {
    writeln!(
        out,
        "{}  {}",
        page.paint(theme::margin(), sheet.id),
        page.sign(sheet.level)
    )?;
    writeln!(out, "{}\n", page.wrap(&whole.title, "", ""))?;
    let mut applies = regions(whole.regions.as_deref());
    if let Some(stage) = whole.from_stage {
        applies.push_str(&format!(", from the stage {} on", stage.word()));
    }
    writeln!(out, "{}", page.margin("applies in", &applies))?;
    for (index, (name, limit)) in whole.limits.iter().enumerate() {
        writeln!(
            out,
            "{}",
            page.margin(
                if index == 0 { "limits" } else { "" },
                &limited(name, limit)
            )
        )?;
    }
    writeln!(out, "{}", page.margin("authority", &whole.authority))?;
    writeln!(out, "\n{}\n", page.wrap(&whole.why, "  ", "  "))?;
    writeln!(out, "{}", page.margin("put right", &whole.put_right))?;
    for (word, plan) in [("wrong", &whole.wrong), ("right", &whole.right)] {
        writeln!(out, "\n  {}", page.paint(theme::margin(), word))?;
        for line in plan.trim_end().lines() {
            writeln!(out, "{}", format!("    {line}").trim_end())?;
        }
    }
    Ok(())
}

fn limited(name: &str, limit: &AnyLimit) -> String {
    let level = limit
        .level
        .map_or(String::new(), |level| format!(", {level}"));
    let place = limit
        .regions
        .as_deref()
        .map_or(String::new(), |some| format!(" in {}", regions(Some(some))));
    format!("{name} {}{place}{level} ({})", limit.value, limit.authority)
}

fn regions(regions: Option<&[Region]>) -> String {
    match regions {
        Some(regions) => regions
            .iter()
            .map(|region| region.word())
            .collect::<Vec<_>>()
            .join(", "),
        None => "every region".into(),
    }
}
