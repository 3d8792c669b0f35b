//! `nailplate figures`

use std::io;
use std::path::PathBuf;

use clap::ValueEnum;

use super::Outcome;
use super::input::{self, Disk, Files};
use super::out::{Out, complain, page};
use super::{plans, settings};
use crate::findings::Gap;
use crate::forms::System;
use crate::forms::figures as form;
use crate::house::{House, Quantity};
use crate::plan::{self, Region};
use crate::review::{quantities, unread};
use crate::yaml::Sources;

/// Show every computed quantity with its working
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  nailplate figures examples/kestrel-row.plan.yaml\n  nailplate figures --as json examples/ > figures.json\n\n\
Exit status: 0, 1 for a mistake in settings, 2 for a file that could not be used."
)]
pub struct Args {
    /// Plans to compute, or folders of plans; `-` is standard input
    #[arg(required = true, value_name = "PATH")]
    paths: Vec<PathBuf>,
    /// How the figures are written
    #[arg(long = "as", value_name = "FORM", value_enum, default_value_t = Form::Table)]
    form: Form,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Form {
    /// For people
    Table,
    /// For programs: nailplate-figures/1
    Json,
}

pub fn run(args: &Args, out: &mut Out) -> io::Result<Outcome> {
    match args.form {
        Form::Table => each(args, &mut |path, region, quantities, gaps| {
            let page = page().in_units(System::of(region));
            form::table(path, quantities, gaps, page, out)
        }),
        Form::Json => {
            let mut json = form::Json::start(out)?;
            let outcome = each(args, &mut |path, _, quantities, _| {
                json.file(path, quantities)
            })?;
            json.finish()?;
            Ok(outcome)
        }
    }
}

type Show<'w> = dyn FnMut(&str, Option<Region>, &[Quantity], &[Gap]) -> io::Result<()> + 'w;

fn each(args: &Args, show: &mut Show<'_>) -> io::Result<Outcome> {
    let (plans, worst) = plans::named(&args.paths);
    let (plans, mistaken, mut worst) = settings::govern(plans, worst, &Files::Disk);
    mistaken.iter().for_each(settings::complain_of);
    for governed in plans.iter().filter(|plan| plan.unusable.is_none()) {
        let path = &governed.path;
        let Some(text) = input::read(path) else {
            worst = Outcome::Unusable;
            continue;
        };
        let mut sources = Sources::default();
        let name = input::name(path);
        let (file, read) = sources.add(&name, text);
        if let Err(broken) = read {
            input::complain_of(&sources, &broken);
            worst = Outcome::Unusable;
            continue;
        }
        let (plan, mistakes) = plan::read(&mut sources, file, &governed.stocked(&Disk));
        let house = House::build(&plan, &sources);
        let (quantities, mut gaps) = quantities(&house, governed.scope().rulebook);
        gaps.extend(unread(&plan));
        let name = name.to_string_lossy();
        show(&name, plan.region.value().copied(), &quantities, &gaps)?;
        if !mistakes.is_empty() {
            complain(&format!(
                "{name}: what could not be read has no figure; `nailplate review` lists {} such places",
                mistakes.len()
            ));
        }
    }
    Ok(worst)
}
