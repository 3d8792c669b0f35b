//! Computed quantities: a table for people, JSON `nailplate-figures/1` for programs.

use std::io::{Result, Write};

use comfy_table::{ContentArrangement, ContentLineStyle, LineStyle, Table, TableStyle};
use serde::Serialize;

use super::clean::{bound, clean, unbound};
use super::{Page, sections};
use crate::findings::{Gap, Id};
use crate::house::Quantity;

/// A rule above, below, and under the names of the columns.
const RULED: TableStyle = TableStyle::new()
    .top_border(LineStyle::none().fill('─').junction('─'))
    .header_lines(ContentLineStyle::none().junction(' '))
    .header_separator(LineStyle::none().fill('─').junction('─'))
    .content_lines(ContentLineStyle::none().junction(' '))
    .bottom_border(LineStyle::none().fill('─').junction('─'));

/// The quantities of one plan as a table, and below it what could not be computed.
///
/// # Errors
/// Those of the writer.
pub fn table(
    path: &str,
    quantities: &[Quantity],
    gaps: &[Gap],
    page: Page,
    out: &mut dyn Write,
) -> Result<()> {
    writeln!(out, "{}", clean(path))?;
    if !quantities.is_empty() {
        let mut table = Table::new();
        table
            .load_style(RULED)
            .set_content_arrangement(ContentArrangement::Dynamic)
            .set_width(u16::try_from(page.width()).unwrap_or(u16::MAX))
            .set_header(["figure", "on", "value", "working"]);
        for quantity in quantities {
            let on: Vec<_> = quantity.on.iter().map(|id| clean(id.as_str())).collect();
            let mut value = page.figure(quantity.value, quantity.unit);
            if quantity.estimated {
                value.push_str(", estimated");
            }
            table.add_row([
                quantity.figure,
                &on.join(", "),
                &value,
                &bound(&clean(&quantity.working)),
            ]);
        }
        for line in table.lines() {
            writeln!(out, "{}", unbound(line.trim_end()))?;
        }
    }
    sections::not_computed(gaps, page, out)?;
    let figures = if quantities.len() == 1 {
        "figure"
    } else {
        "figures"
    };
    let lacking = match gaps.len() {
        0 => String::new(),
        count => format!("; {count} could not be computed"),
    };
    writeln!(
        out,
        "{}: {} {figures}{lacking}.",
        clean(path),
        quantities.len()
    )
}

#[derive(Serialize)]
struct File<'q> {
    path: &'q str,
    figures: Vec<Row<'q>>,
}

#[derive(Serialize)]
struct Row<'q> {
    figure: &'q str,
    on: Vec<&'q str>,
    value: f64,
    unit: &'q str,
    working: &'q str,
    estimated: bool,
}

/// Writes the figures of several files into one document.
pub struct Json<'w> {
    out: &'w mut dyn Write,
    files: usize,
}

impl<'w> Json<'w> {
    /// Starts the document.
    ///
    /// # Errors
    /// Those of the writer.
    pub fn start(out: &'w mut dyn Write) -> Result<Self> {
        out.write_all(br#"{"format":"nailplate-figures/1","files":["#)?;
        Ok(Self { out, files: 0 })
    }

    /// Adds one file.
    ///
    /// # Errors
    /// Those of the writer.
    pub fn file(&mut self, path: &str, quantities: &[Quantity]) -> Result<()> {
        if self.files > 0 {
            self.out.write_all(b",")?;
        }
        self.files += 1;
        let rows = quantities.iter().map(|quantity| Row {
            figure: quantity.figure,
            on: quantity.on.iter().map(Id::as_str).collect(),
            value: quantity.value,
            unit: quantity.unit,
            working: &quantity.working,
            estimated: quantity.estimated,
        });
        Ok(serde_json::to_writer(
            &mut *self.out,
            &File {
                path,
                figures: rows.collect(),
            },
        )?)
    }

    /// Ends the document.
    ///
    /// # Errors
    /// Those of the writer.
    pub fn finish(self) -> Result<()> {
        self.out.write_all(b"]}\n")
    }
}
