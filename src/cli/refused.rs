//! A command line that cannot be used: what is wrong with it, what is near, what to do.

use std::error::Error as _;
use std::ffi::OsString;
use std::path::Path;

use clap::error::{ContextKind, ContextValue, Error, ErrorKind};
use clap::{Arg, Command};

use super::out::{complain, explain};
use super::plans::is_plan;
use crate::plan::near;

/// Says why the command line was refused. Help and version are no refusals.
pub fn told(error: &Error, command: &Command, words: &[OsString]) {
    if error.kind() == ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand {
        let _ = error.print();
        return;
    }
    let used = used(command, words);
    match says(error, command, &used) {
        Some(Refusal { wrong, what_to_do }) => {
            complain(&wrong);
            for line in what_to_do {
                explain(&line);
            }
            explain(&format!("`{} --help` tells more", used.called));
        }
        // A kind of error that only a later clap knows, in its own words.
        None => complain(error.to_string().trim().trim_start_matches("error: ")),
    }
}

struct Refusal {
    wrong: String,
    what_to_do: Vec<String>,
}

impl Refusal {
    fn new(wrong: String) -> Self {
        Self {
            wrong,
            what_to_do: Vec::new(),
        }
    }

    fn and(mut self, line: impl Into<Option<String>>) -> Self {
        self.what_to_do.extend(line.into());
        self
    }
}

/// The command that was to be used: `nailplate` itself, or `nailplate review`.
struct Used<'c> {
    command: &'c Command,
    called: String,
}

fn used<'c>(main: &'c Command, words: &[OsString]) -> Used<'c> {
    let mut words = words.iter().skip(1).filter_map(|word| word.to_str());
    let found = words.find_map(|word| main.find_subcommand(word));
    let name = main.get_name();
    Used {
        command: found.unwrap_or(main),
        called: found.map_or_else(
            || name.to_owned(),
            |found| format!("{name} {}", found.get_name()),
        ),
    }
}

fn says(error: &Error, main: &Command, used: &Used<'_>) -> Option<Refusal> {
    let called = &used.called;
    let argument = word(error, ContextKind::InvalidArg).map(|spelled| Named::of(spelled, used));
    let value = word(error, ContextKind::InvalidValue);
    Some(match error.kind() {
        ErrorKind::InvalidValue => {
            let (argument, value) = (argument?, value?);
            let known = words(error, ContextKind::ValidValue);
            let takes = argument.takes();
            if value.is_empty() {
                let wants = Refusal::new(format!("{} wants {}", argument.subject, argument.value));
                wants.and(takes.or_else(|| argument.about()))
            } else {
                let question = question(value, known.iter().copied());
                Refusal::new(format!(
                    "{} does not take `{value}`{question}",
                    argument.subject
                ))
                .and(takes)
            }
        }
        ErrorKind::ValueValidation => {
            let (argument, value) = (argument?, value?);
            let reason = error.source().map(|reason| reason.to_string());
            let reason = reason.map_or_else(String::new, |reason| format!(": {reason}"));
            Refusal::new(format!(
                "{} does not take `{value}`{reason}",
                argument.subject
            ))
        }
        ErrorKind::UnknownArgument => unknown(word(error, ContextKind::InvalidArg)?, used),
        ErrorKind::InvalidSubcommand => {
            no_command(word(error, ContextKind::InvalidSubcommand)?, main)
        }
        ErrorKind::MissingRequiredArgument => {
            let missing = words(error, ContextKind::InvalidArg);
            let missing: Vec<_> = missing
                .iter()
                .map(|spelled| Named::of(spelled, used))
                .collect();
            let names: Vec<_> = missing.iter().map(|named| named.name.as_str()).collect();
            let refusal = Refusal::new(format!("`{called}` wants {}", listed(&names, "and")));
            missing.iter().fold(refusal, |refusal, named| {
                refusal.and(named.takes().or_else(|| named.about()))
            })
        }
        ErrorKind::ArgumentConflict => {
            let argument = argument?;
            let prior = words(error, ContextKind::PriorArg);
            let prior: Vec<_> = prior
                .iter()
                .map(|spelled| Named::of(spelled, used).name)
                .collect();
            if prior.is_empty() || prior.contains(&argument.name) {
                Refusal::new(format!("{} is given twice", argument.subject))
                    .and("leave one away".to_owned())
            } else {
                let prior: Vec<_> = prior.iter().map(String::as_str).collect();
                Refusal::new(format!(
                    "{} does not go with {}",
                    argument.name,
                    listed(&prior, "and")
                ))
            }
        }
        ErrorKind::TooManyValues => {
            let (argument, value) = (argument?, value?);
            Refusal::new(format!("{} takes no value", argument.subject))
                .and(format!("leave `={value}` away"))
        }
        ErrorKind::InvalidUtf8 => Refusal::new(
            "a word of the command line is no UTF-8 text where it has to be".to_owned(),
        ),
        _ => return None,
    })
}

/// An argument as an error spells it (`--as <FORM>`, `<PATH>...`), and as it is told.
struct Named<'c> {
    /// `--as`, `PATH`.
    name: String,
    /// What takes or wants a value: `--as`, or the command for a word that has no option.
    subject: String,
    /// What its value is called.
    value: String,
    argument: Option<&'c Arg>,
}

impl<'c> Named<'c> {
    fn of(spelled: &str, used: &Used<'c>) -> Self {
        let bare = |text: &str| {
            text.trim_end_matches('.')
                .trim_matches(['<', '>', '[', ']'])
                .to_owned()
        };
        let (first, rest) = spelled.split_once([' ', '=']).unwrap_or((spelled, ""));
        let mut arguments = used.command.get_arguments();
        if let Some(long) = first.strip_prefix("--") {
            return Self {
                name: format!("`{first}`"),
                subject: format!("`{first}`"),
                value: bare(rest),
                argument: arguments.find(|argument| argument.get_long() == Some(long)),
            };
        }
        let name = bare(spelled);
        Self {
            subject: format!("`{}`", used.called),
            argument: arguments.find(|argument| {
                let names = argument.get_value_names().unwrap_or_default();
                names.iter().any(|own| *own == name)
            }),
            value: name.clone(),
            name,
        }
    }

    /// `it takes text, lines or json`, where there are only so many words.
    fn takes(&self) -> Option<String> {
        let argument = self
            .argument
            .filter(|argument| argument.get_action().takes_values());
        let values = argument?.get_possible_values();
        let words: Vec<_> = values.iter().map(|value| value.get_name()).collect();
        (!words.is_empty()).then(|| format!("it takes {}", listed(&words, "or")))
    }

    /// `PATH: plans to check, …`
    fn about(&self) -> Option<String> {
        let help = self.argument?.get_help()?.to_string();
        Some(format!("{}: {help}", self.name))
    }
}

fn unknown(wrong: &str, used: &Used<'_>) -> Refusal {
    let called = &used.called;
    if !wrong.starts_with('-') {
        return Refusal::new(format!("`{called}` has no use for `{wrong}`"));
    }
    let options: Vec<_> = used
        .command
        .get_arguments()
        .filter_map(Arg::get_long)
        .map(|long| format!("--{long}"))
        .collect();
    let question = question(wrong, options.iter().map(String::as_str));
    let refusal = Refusal::new(format!("`{called}` has no option `{wrong}`{question}"));
    let takes_paths = used.command.get_positionals().next().is_some();
    if question.is_empty() && takes_paths {
        refusal.and(format!("a file of that name is written `./{wrong}`"))
    } else {
        refusal
    }
}

fn no_command(wrong: &str, main: &Command) -> Refusal {
    let called = main.get_name();
    let known: Vec<_> = main.get_subcommands().map(Command::get_name).collect();
    let path = Path::new(wrong);
    if is_plan(path) || path.exists() {
        return Refusal::new(format!("`{called}` wants a command before `{wrong}`"))
            .and(format!("`{called} review {wrong}` checks it"));
    }
    let question = question(wrong, known.iter().copied());
    Refusal::new(format!("`{called}` has no command `{wrong}`{question}"))
        .and(format!("it has {}", listed(&known, "and")))
}

/// `; did you mean …?`, or nothing where no word is near.
fn question<'w>(wrong: &str, known: impl IntoIterator<Item = &'w str>) -> String {
    near(wrong, known).map_or_else(String::new, |near| format!("; {}", near.question()))
}

fn listed(words: &[&str], last: &str) -> String {
    match words {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [before @ .., end] => format!("{} {last} {end}", before.join(", ")),
    }
}

fn word(error: &Error, kind: ContextKind) -> Option<&str> {
    match error.get(kind)? {
        ContextValue::String(word) => Some(word),
        _ => None,
    }
}

fn words(error: &Error, kind: ContextKind) -> Vec<&str> {
    match error.get(kind) {
        Some(ContextValue::Strings(words)) => words.iter().map(String::as_str).collect(),
        Some(ContextValue::String(word)) => vec![word],
        _ => Vec::new(),
    }
}
