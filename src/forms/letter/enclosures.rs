//! What goes with a letter: the riser and the figures, as long as they can be read.

use std::io::{Result, Write};

use maud::html;

use super::{Letter, figures, put, riser};
use crate::house::House;
use crate::papers::riser::MOST;

/// # Errors
/// Those of the writer.
pub fn write(letter: Letter<'_>, out: &mut dyn Write) -> Result<()> {
    let plan = &letter.review.plan;
    let runs = plan.runs.len();
    let nodes = plan.circuits.len() + plan.endpoints.len();
    if runs > MOST || nodes > MOST {
        let inner = html! {
            p {
                "Riser and figures are left out: the plan has " (runs) " runs and " (nodes) " circuits and endpoints, and nobody could "
                "read a drawing of more than " (MOST) ". " code { "nailplate figures" } " lists every figure."
            }
        };
        return put(letter.enclosure("left-out", "left out", &inner), out);
    }
    let house = House::build(plan, &letter.review.sources);
    put(riser::page(letter, &house), out)?;
    put(figures::page(letter, &house), out)
}
