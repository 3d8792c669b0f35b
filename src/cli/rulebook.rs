//! `nailplate rulebook`

use std::io;

use super::Outcome;
use super::out::{Out, complain, page};
use crate::forms::rulebook as form;
use crate::plan::nearest;
use crate::rules::{all_sheets, sheet};

/// List the rules, or show one sheet in full
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  nailplate rulebook speaker.undersized")]
pub struct Args {
    /// The sheet to show, such as speaker.undersized; all of them as a list if left out
    #[arg(value_name = "ID")]
    id: Option<String>,
}

pub fn run(args: &Args, out: &mut Out) -> io::Result<Outcome> {
    let Some(id) = &args.id else {
        form::list(all_sheets(), page(), out)?;
        return Ok(Outcome::Clean);
    };
    let Some(sheet) = sheet(id) else {
        let near = nearest(id, all_sheets().map(|sheet| sheet.id));
        complain(&match near {
            Some((near, _)) => format!("no sheet is called `{id}`; did you mean `{near}`?"),
            None => format!("no sheet is called `{id}`; `nailplate rulebook` lists them"),
        });
        return Ok(Outcome::Unusable);
    };
    match sheet.whole() {
        Ok(whole) => {
            form::sheet(sheet, &whole, page(), out)?;
            Ok(Outcome::Clean)
        }
        Err(reason) => {
            complain(&format!("{}: {reason}", sheet.path));
            Ok(Outcome::Unusable)
        }
    }
}
