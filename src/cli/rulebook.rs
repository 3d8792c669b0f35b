//! `nailplate rulebook`

use std::io;
use std::path::{Path, PathBuf};

use super::Outcome;
use super::input::Files;
use super::out::{Out, complain, page};
use super::settings::{Found, Office, complain_of};
use crate::forms::rulebook as form;
use crate::plan::nearest;
use crate::rules::{Rulebook, all_sheets};

/// List the rules, or show one sheet in full, as the settings have them
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  nailplate rulebook\n  nailplate rulebook speaker.undersized\n  nailplate rulebook --for examples/kestrel-row.plan.yaml\n\n\
What is not as built in names the line that says so.\n\n\
Exit status: 0, 1 for a mistake in settings, 2 for settings that could not be used or a sheet that is not there."
)]
pub struct Args {
    /// The sheet to show, such as speaker.undersized; all of them as a list if left out
    #[arg(value_name = "ID")]
    id: Option<String>,
    /// The settings to go by; if left out, the nearest nailplate.yaml in the current folder or above it
    #[arg(long, value_name = "FILE")]
    settings: Option<PathBuf>,
    /// Go by the settings of this plan
    #[arg(long = "for", value_name = "PLAN", conflicts_with = "settings")]
    plan: Option<PathBuf>,
}

pub fn run(args: &Args, out: &mut Out) -> io::Result<Outcome> {
    let mut office = Office::new(&Files::Disk);
    let found = match (&args.settings, &args.plan) {
        (Some(settings), _) => office.open(settings),
        (None, Some(plan)) => office.of_plan(plan),
        (None, None) => office.of_folder(Path::new("")),
    };
    let rulebook = match &found {
        Found::None => Rulebook::built_in(),
        Found::Read(settings) => &settings.rulebook,
        Found::Unusable(_) => return Ok(Outcome::Unusable),
    };
    office.mistaken.iter().for_each(complain_of);
    let done = match office.mistaken.is_empty() {
        true => Outcome::Clean,
        false => Outcome::Found,
    };
    let Some(id) = &args.id else {
        form::list(all_sheets(), rulebook, page(), out)?;
        return Ok(done);
    };
    let Some(sheet) = rulebook.sheet(id) else {
        let near = nearest(id, all_sheets().map(|sheet| sheet.id));
        complain(&match near {
            Some((near, _)) => format!("no sheet is called `{id}`; did you mean `{near}`?"),
            None => format!("no sheet is called `{id}`; `nailplate rulebook` lists them"),
        });
        return Ok(Outcome::Unusable);
    };
    match sheet.whole() {
        Ok(whole) => {
            form::sheet(sheet, &whole, rulebook, page(), out)?;
            Ok(done)
        }
        Err(reason) => {
            complain(&format!("{}: {reason}", sheet.path));
            Ok(Outcome::Unusable)
        }
    }
}
