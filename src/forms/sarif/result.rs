//! What one review adds to the log.

use std::io::{Result, Write};
use std::path::Path;

use serde::Serialize;

use super::super::words::Words;
use super::place::Location;
use super::suggestion::{Fix, fixes};
use super::suppression::Suppression;
use super::{Message, level, rules, wording};
use crate::findings::{Finding, Gap, Id, Level, Limit, Shown, fingerprints};
use crate::review::Review;
use crate::yaml::{Sources, Spot};

/// A result: a finding, or a check that could not be made.
#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Outcome<'r> {
    rule_id: &'r str,
    #[serde(skip_serializing_if = "Option::is_none")]
    rule_index: Option<usize>,
    kind: &'static str,
    level: &'static str,
    message: Message,
    locations: [Location<'r>; 1],
    #[serde(skip_serializing_if = "Vec::is_empty")]
    related_locations: Vec<Location<'r>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    partial_fingerprints: Option<Fingerprint>,
    /// Stands in every result, so that its absence never means that nobody looked.
    suppressions: Vec<Suppression<'r>>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    fixes: Vec<Fix<'r>>,
    properties: Properties<'r>,
}

/// What a finding is known again by: its name says what it is made of, and in which version.
#[derive(Debug, Serialize)]
struct Fingerprint {
    #[serde(rename = "ruleAndThings/v1")]
    rule_and_things: String,
}

/// What the standard has no word for.
#[derive(Debug, Default, Serialize)]
#[serde(rename_all = "camelCase")]
struct Properties<'r> {
    /// Our own level; a check that was not made has none.
    #[serde(skip_serializing_if = "Option::is_none")]
    level: Option<Level>,
    on: Vec<&'r str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    put_right: Option<&'r str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    authority: Option<&'r str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    figure: Option<Figure<'r>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    limit: Option<Bound>,
    #[serde(skip_serializing_if = "Option::is_none")]
    lacks: Option<&'r str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    may_hide_hazard: Option<bool>,
}

#[derive(Debug, Serialize)]
struct Figure<'r> {
    name: &'r str,
    value: f64,
    unit: &'r str,
    working: &'r str,
}

#[derive(Debug, Serialize)]
struct Bound {
    value: f64,
    unit: &'static str,
}

/// The results of one plan, with commas between.
///
/// # Errors
/// Those of the writer.
pub fn results(review: &Review, words: &mut Words, out: &mut dyn Write) -> Result<()> {
    let sources = &review.sources;
    words.turn_to(review);
    let standing = review.findings.iter().zip(review.fingerprints());
    let standing = standing.map(|(finding, print)| (finding, print, None));
    let passed = review.let_pass.iter();
    let prints = fingerprints(passed.clone().map(|passed| &passed.finding));
    let passed = passed.zip(prints).map(|(passed, print)| {
        let suppression = Suppression::by_variance(passed, sources);
        (&passed.finding, print, Some(suppression))
    });
    let owed = review.owed.iter().map(|owed| {
        let print = owed.fingerprint.clone();
        (&owed.finding, print, Some(Suppression::by_punch_list(owed)))
    });
    let mut first = true;
    let mut add = |out: &mut dyn Write, outcome: Outcome<'_>| {
        if !std::mem::take(&mut first) {
            out.write_all(b",")?;
        }
        Ok::<_, std::io::Error>(serde_json::to_writer(out, &outcome)?)
    };
    for (finding, print, suppression) in standing.chain(passed).chain(owed) {
        let mut outcome = found(finding, print, words, review);
        outcome.suppressions.extend(suppression);
        add(out, outcome)?;
    }
    let path = &sources.file(review.file).path;
    for gap in &review.gaps {
        add(out, open(gap, path))?;
    }
    Ok(())
}

fn found<'r>(
    finding: &'r Finding,
    print: String,
    words: &'r mut Words,
    review: &'r Review,
) -> Outcome<'r> {
    let (sources, words) = (&review.sources, words.get(finding.rule));
    let mut places_of = marked(finding, sources)
        .into_iter()
        .map(|(spot, label)| Location::at(spot, sources).with_words(label));
    let at_fault = places_of
        .next()
        .unwrap_or_else(|| Location::whole(&sources.file(review.file).path));
    let mut message = wording::sentence(&finding.says);
    if let Some(put_right) = &finding.put_right {
        message.push_str(&format!(" Put right: {}", wording::sentence(put_right)));
    }
    Outcome {
        rule_id: finding.rule,
        rule_index: rules::index(finding.rule),
        kind: "fail",
        level: level(finding.level),
        message: Message::of(&message),
        locations: [at_fault.on(finding.on.first())],
        related_locations: places_of.collect(),
        partial_fingerprints: Some(Fingerprint {
            rule_and_things: print,
        }),
        suppressions: Vec::new(),
        fixes: fixes(&finding.redlines, sources),
        properties: Properties {
            level: Some(finding.level),
            on: names(&finding.on),
            put_right: words.put_right(finding),
            authority: words.authority(finding),
            figure: finding.figure.as_ref().map(figure),
            limit: finding.limit.as_ref().map(bound),
            ..Properties::default()
        },
    }
}

/// The places of a finding, the one at fault first, each once; for a value reached through an
/// alias the anchored place behind it, too.
fn marked<'r>(finding: &'r Finding, sources: &Sources) -> Vec<(Spot, &'r str)> {
    let mut marked: Vec<(Spot, &str)> = Vec::new();
    for mark in &finding.marks {
        let (spot, anchored) = sources.spots(mark.span);
        let anchored = anchored.map(|spot| (spot, "anchored here"));
        for place in [Some((spot, &*mark.label)), anchored].into_iter().flatten() {
            if !marked.contains(&place) {
                marked.push(place);
            }
        }
    }
    marked
}

/// A check that could not be made. Only a result that fails has a level.
fn open<'r>(gap: &'r Gap, plan: &Path) -> Outcome<'r> {
    let thing = gap.on.first().map_or("the plan", Id::as_str);
    let mut message = format!("{thing} could not be judged for want of {}.", gap.lacks);
    if gap.loud {
        message.push_str(" This may hide a hazard.");
    }
    Outcome {
        rule_id: gap.rule,
        rule_index: rules::index(gap.rule),
        kind: "open",
        level: "none",
        message: Message::of(&message),
        locations: [Location::whole(plan).on(gap.on.first())],
        related_locations: Vec::new(),
        partial_fingerprints: None,
        suppressions: Vec::new(),
        fixes: Vec::new(),
        properties: Properties {
            on: names(&gap.on),
            lacks: Some(&gap.lacks),
            may_hide_hazard: Some(gap.loud),
            ..Properties::default()
        },
    }
}

fn figure(figure: &Shown) -> Figure<'_> {
    Figure {
        name: figure.name,
        value: figure.value,
        unit: figure.unit,
        working: &figure.working,
    }
}

fn bound(limit: &Limit) -> Bound {
    Bound {
        value: limit.value,
        unit: limit.unit,
    }
}

fn names(ids: &[Id]) -> Vec<&str> {
    ids.iter().map(Id::as_str).collect()
}
