//! Computed quantities: a table for people, JSON `nailplate-figures/1` for programs.

use std::io::{Result, Write};

use comfy_table::{ContentArrangement, ContentLineStyle, LineStyle, Table, TableStyle};
use serde::Serialize;
use serde_json::Value;

use super::clean::{bound, clean, unbound};
use super::{Page, json, sections};
use crate::findings::{Gap, Id};
use crate::house::Quantity;
use crate::schema::{self, Schema, data};

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

/// The format and its version.
const FORMAT: &str = "nailplate-figures/1";

#[derive(Serialize)]
struct File<'q> {
    path: &'q str,
    figures: Vec<Row<'q>>,
}

data! { written [derive(Serialize)]
    /// A computed quantity.
    struct Row<'q> {
        /// What it is.
        figure: &'q str,
        /// Ids of the things that it is of.
        on: Vec<&'q str>,
        /// Its value, in `unit`.
        value: f64,
        /// The unit of the value.
        unit: &'q str,
        /// How it came about.
        working: &'q str,
        /// Whether something in it was estimated.
        estimated: bool,
    }
}

/// The schema of the document.
pub fn schema() -> Value {
    let about = "What `nailplate figures --as json` writes: every computed quantity of each plan.";
    schema::document("nailplate figures", about, |defs| {
        let file = [
            ("path", <&str>::schema(defs), "The plan, as it was named."),
            (
                "figures",
                Vec::<Row<'_>>::schema(defs),
                "What could be computed.",
            ),
        ];
        json::files(FORMAT, "One plan and its figures.", file)
    })
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
        write!(out, r#"{{"format":"{FORMAT}","files":["#)?;
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
