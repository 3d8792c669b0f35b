//! `nailplate review`

use std::io::{self, Write};
use std::path::PathBuf;
use std::thread;

use clap::ValueEnum;

use super::day::Day;
use super::delivery::Delivery;
use super::input::{self, Files};
use super::lists::{Lists, Owing};
use super::out::{Out, complain, page};
use super::settings::{self, Governed};
use super::shelf::Shelf;
use super::{Outcome, hands, revised};
use crate::findings::Level;
use crate::forms::{Page, Words, json, letter, lines, markdown, sarif, text};
use crate::plan::{Date, Library};
use crate::review::{Review, Scope, review_text, settle_up};

/// Check plans and list what is wrong with them
#[derive(Debug, clap::Args)]
#[command(
    override_usage = "nailplate review [OPTIONS] <PATH>...\n       nailplate review [OPTIONS] --revised-since <COMMIT>\n       \
nailplate review [OPTIONS] --next-commit",
    after_help = "Example:\n  nailplate review examples/kestrel-row-submitted.plan.yaml\n  \
nailplate review --hold advice --as lines examples/\n  \
nailplate review --revised examples/stock.yaml examples/plover-lane.plan.yaml\n  \
nailplate review --revised-since main\n\n\
Of a folder every *.plan.yaml and *.plan.yml below it is checked, save what is hidden, a link, or named by an ignore file \
(.gitignore, .ignore). A plan named twice is checked once.\n\n\
Exit status: 0 nothing at or above the holding level, 1 findings at or above it or a mistake in settings, 2 a file that \
could not be used."
)]
pub struct Args {
    /// Plans to check, or folders of plans; `-` is standard input
    #[arg(required_unless_present_any = ["revised_since", "next_commit"], value_name = "PATH")]
    paths: Vec<PathBuf>,
    #[command(flatten)]
    revised: revised::Args,
    /// How the review is written
    #[arg(long = "as", value_name = "FORM", value_enum, default_value_t = Form::Text)]
    form: Form,
    /// The lowest level that holds a plan up (exit status 1); if left out what its settings say, else
    /// fault
    #[arg(long, value_name = "LEVEL", value_enum)]
    hold: Option<Hold>,
    /// A check that could not be made holds a plan up, too
    #[arg(long)]
    hold_gaps: bool,
    /// How many plans are checked at the same time; as many as there are processors if left out.
    /// The output is the same
    #[arg(long, value_name = "COUNT", value_parser = hands)]
    hands: Option<u16>,
    #[command(flatten)]
    owing: Owing,
    #[command(flatten)]
    day: Day,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Form {
    /// For people, with the lines that cause each finding
    Text,
    /// One finding a line: path:line:column: level: thing: sentence (rule)
    Lines,
    /// For programs: nailplate-review/1, one document for all plans
    Json,
    /// For programs: nailplate-review-line/1, one document a plan, each on its own line
    JsonLines,
    /// An inspection letter to send back, one HTML file for all plans
    Html,
    /// For programs that gather results: a SARIF 2.1.0 log of all plans
    Sarif,
    /// For a thread in which people talk about a plan: Markdown
    Markdown,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum Hold {
    Hazard,
    Fault,
    Advice,
}

impl From<Hold> for Level {
    fn from(hold: Hold) -> Self {
        match hold {
            Hold::Hazard => Self::Hazard,
            Hold::Fault => Self::Fault,
            Hold::Advice => Self::Advice,
        }
    }
}

fn hands(text: &str) -> Result<u16, String> {
    let count = text.parse().ok().filter(|count| (1..=256).contains(count));
    count.ok_or_else(|| "it takes a whole number from 1 to 256".to_owned())
}

pub fn run(args: &Args, out: &mut Out) -> io::Result<Outcome> {
    let (plans, files, worst) = match revised::plans(&args.revised, &args.paths, args.owing.named())
    {
        Ok(named) => named,
        Err(reason) => {
            complain(&reason);
            return Ok(Outcome::Unusable);
        }
    };
    let (lists, unusable) = Lists::of(&plans, args.owing.which(), &files);
    let (plans, mistaken, worst) = settings::govern(plans, worst.max(unusable), &files);
    let first = mistaken.len() + 1;
    let plans: Vec<(usize, Governed)> = (first..).zip(plans).collect();
    let shelf = Shelf::before(&files);
    let desk = Desk {
        args,
        page: page(),
        today: args.day.or_today(),
        files: &files,
        library: &shelf,
        lists: &lists,
        alone: plans.len() + mistaken.len() == 1,
    };
    let processors = || thread::available_parallelism().map_or(1, usize::from);
    let hands = args.hands.map_or_else(processors, usize::from);
    let mut delivery = Delivery::start(args.form, plans.len() + mistaken.len(), worst, out)?;
    for (number, review) in (1..).zip(&mistaken) {
        // Whatever the holding level: it is the settings that set it.
        let mut words = Words::default();
        delivery.reviewed(Outcome::Found, &desk.entry(review, number), |out| {
            desk.write(review, number, &mut words, out)
        })?;
    }
    if hands.min(plans.len()) > 1 {
        hands::in_order(
            &plans,
            hands.min(plans.len()),
            Words::default,
            |words, (number, plan)| desk.written(*number, plan, words),
            |written| match written {
                Ok(Written {
                    outcome,
                    entry,
                    bytes,
                }) => delivery.reviewed(outcome, &entry, |out| out.write_all(&bytes)),
                Err(refused) => delivery.unusable(&refused),
            },
        )?;
    } else {
        // No turn to wait for: straight to the output, however long it is.
        let mut words = Words::default();
        for (number, plan) in &plans {
            match desk.review(plan) {
                Ok(review) => {
                    let entry = desk.entry(&review, *number);
                    delivery.reviewed(desk.held(&review, plan), &entry, |out| {
                        desk.write(&review, *number, &mut words, out)
                    })?;
                }
                Err(refused) => delivery.unusable(&refused)?,
            }
        }
    }
    let outcome = delivery.finish()?;
    lists.complain_of_lost(&args.paths, plans.iter().map(|(_, plan)| &*plan.path));
    revised::tell_unstaged(&files);
    Ok(outcome)
}

/// A plan that could not be reviewed.
pub struct Refused {
    pub plan: PathBuf,
    pub reason: String,
    /// Standard error has it already, once for all plans that it is about.
    pub told: bool,
}

impl Refused {
    fn new(plan: &Governed, reason: String) -> Self {
        Self {
            plan: plan.path.clone(),
            reason,
            told: false,
        }
    }
}

/// What all hands work by.
struct Desk<'a> {
    args: &'a Args,
    page: Page,
    today: Option<Date>,
    files: &'a Files,
    library: &'a (dyn Library + Sync),
    lists: &'a Lists,
    /// There is one plan only.
    alone: bool,
}

/// A review in writing, so that nothing else of it has to wait for its turn.
struct Written {
    outcome: Outcome,
    /// Its line in the contents of the document or its list of files, where that has any.
    entry: String,
    bytes: Vec<u8>,
}

/// Reads and reviews a plan and settles up with its punch list.
///
/// # Errors
/// Why the plan cannot be used.
pub(super) fn reviewed(
    plan: &Governed,
    files: &Files,
    library: &dyn Library,
    lists: &Lists,
    today: Option<Date>,
) -> Result<Review, Refused> {
    if let Some(reason) = &plan.unusable {
        return Err(Refused {
            told: true,
            ..Refused::new(plan, reason.to_string())
        });
    }
    let scope = Scope {
        today,
        ..plan.scope()
    };
    let text = files.text(&plan.path);
    let text = text.map_err(|reason| Refused::new(plan, reason))?;
    let name = input::name(&plan.path);
    let mut review = review_text(&name, text, &plan.stocked(library), scope)
        .map_err(|(sources, broken)| Refused::new(plan, input::no_yaml(&sources, &broken)))?;
    settle_up(&mut review, lists.entries(&plan.path));
    Ok(review)
}

impl Desk<'_> {
    fn review(&self, plan: &Governed) -> Result<Review, Refused> {
        reviewed(plan, self.files, self.library, self.lists, self.today)
    }

    fn write(
        &self,
        review: &Review,
        number: usize,
        words: &mut Words,
        out: &mut dyn Write,
    ) -> io::Result<()> {
        match self.args.form {
            Form::Text => text::review(review, words, self.page, out),
            Form::Lines => lines::review(review, self.args.hold_gaps, out),
            Form::Json => json::file(review, words, out),
            Form::JsonLines => json::line(review, words, out),
            Form::Html => {
                let place = letter::Place {
                    number,
                    alone: self.alone,
                };
                letter::letter(review, words, self.today, place, out)
            }
            Form::Sarif => sarif::results(review, words, out),
            Form::Markdown => markdown::review(review, words, out),
        }
    }

    fn entry(&self, review: &Review, number: usize) -> String {
        match self.args.form {
            Form::Html if !self.alone => letter::entry(review, number),
            Form::Sarif => sarif::files(review),
            _ => String::new(),
        }
    }

    fn written(
        &self,
        number: usize,
        plan: &Governed,
        words: &mut Words,
    ) -> Result<Written, Refused> {
        let review = self.review(plan)?;
        let mut bytes = Vec::new();
        self.write(&review, number, words, &mut bytes)
            .map_err(|error| {
                let reason = format!("{}: {}", plan.path.display(), input::reason(&error));
                Refused::new(plan, reason)
            })?;
        bytes.shrink_to_fit();
        Ok(Written {
            outcome: self.held(&review, plan),
            entry: self.entry(&review, number),
            bytes,
        })
    }

    fn held(&self, review: &Review, plan: &Governed) -> Outcome {
        let stated = self.args.hold.map(Level::from).or(plan.hold());
        let hold = stated.unwrap_or(Level::Fault);
        let found = review.gravest().is_some_and(|level| level >= hold);
        let gaps = self.args.hold_gaps && !review.gaps.is_empty();
        if found || gaps {
            Outcome::Found
        } else {
            Outcome::Clean
        }
    }
}
