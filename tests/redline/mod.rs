//! Redlines in a text: made whole or not at all, until still.

mod promise;

use std::path::Path;

use nailplate::findings::{Finding, Id, Level, Redline, RedlineKind};
use nailplate::plan::Library;
use nailplate::review::{Review, Selection, Why, ink, review_text, settle};
use nailplate::yaml::Edit;

struct Shelf(&'static str);

impl Library for Shelf {
    fn load(&self, _: &Path) -> Result<String, String> {
        Ok(self.0.to_owned())
    }
}

const PLAN: &str = "nailplate: 1\nregion: us\nendpoints:\n  amp: {kind: rack} # keep\n  left: {}\n";

/// A review whose findings offer exactly these redlines: each a list of (place, text).
fn offered(redlines: &[&[(usize, usize, &str)]]) -> Review {
    let mut review = review_text(
        Path::new("a.plan.yaml"),
        PLAN.into(),
        &Shelf(""),
        Selection::All,
    )
    .expect("YAML");
    let source = review.sources.file(review.file);
    review.findings = redlines
        .iter()
        .map(|edits| {
            let edits = edits.iter().map(|(start, end, text)| Edit {
                at: source.spot_of(*start..*end),
                text: (*text).to_owned(),
            });
            let redline = Redline {
                kind: RedlineKind::Same,
                title: "mend".into(),
                edits: edits.collect(),
            };
            Finding::new(
                "plan.unreadable",
                Level::Fault,
                Id::new("x"),
                "says",
                source.span_of(0..1),
                "here",
            )
            .with_redline(Some(redline))
        })
        .collect();
    review
}

/// The text after, and how many were made and why the others were left.
fn inked(redlines: &[&[(usize, usize, &str)]]) -> (String, usize, Vec<Why>) {
    let review = offered(redlines);
    match ink(&review, &[RedlineKind::Same]).pop() {
        Some(marked) => (
            marked.text,
            marked.made.len(),
            marked.left.into_iter().map(|(_, why)| why).collect(),
        ),
        None => (PLAN.into(), 0, Vec::new()),
    }
}

fn at(what: &str) -> usize {
    PLAN.find(what).expect("stands in the plan")
}

#[test]
fn two_keys_added_at_one_place_are_both_made() {
    let end = at("} #");
    let (text, made, left) = inked(&[
        &[(end, end, ", load: 5 W")],
        &[(end, end, ", earthed: yes")],
    ]);
    assert!(
        text.contains("{kind: rack, load: 5 W, earthed: yes} # keep"),
        "{text}"
    );
    assert_eq!((made, left), (2, vec![]));
}

#[test]
fn one_key_is_not_added_twice() {
    let end = at("} #");
    let (text, made, left) = inked(&[
        &[(end, end, ", load: 5 W")],
        &[(end, end, ", load: 6 W")],
        &[(end, end, ", load: 5 W")],
    ]);
    assert!(text.contains("{kind: rack, load: 5 W} # keep"), "{text}");
    assert_eq!((made, left), (1, vec![Why::Overlap]));
}

#[test]
fn two_keys_are_not_run_together_in_an_empty_mapping() {
    let inside = at("{}") + 1;
    let (text, made, left) = inked(&[
        &[(inside, inside, "kind: rack")],
        &[(inside, inside, "load: 5 W")],
    ]);
    assert!(text.contains("left: {kind: rack}\n"), "{text}");
    assert_eq!((made, left), (1, vec![Why::Overlap]));
}

#[test]
fn a_redline_is_made_whole_or_not_at_all() {
    let (kind, us) = (at("kind"), at("us"));
    let (text, made, left) = inked(&[
        &[(kind, kind + 4, "sort")],
        &[(us, us + 2, "gb"), (kind, kind + 3, "x")],
    ]);
    assert!(
        text.contains("region: us") && text.contains("{sort: rack}"),
        "{text}"
    );
    assert_eq!((made, left), (1, vec![Why::Overlap]));
}

#[test]
fn an_overlap_behind_an_insertion_is_seen() {
    let kind = at("kind");
    // The insertion at its end must not hide the edit that lies further ahead.
    let (text, made, left) = inked(&[
        &[(kind, kind + 4, "sort")],
        &[(kind + 10, kind + 10, ", load: 5 W")],
        &[(kind + 2, kind + 10, "x")],
    ]);
    assert!(text.contains("{sort: rack, load: 5 W}"), "{text}");
    assert_eq!((made, left), (2, vec![Why::Overlap]));
}

#[test]
fn a_comment_is_not_eaten() {
    let (from, to) = (at("rack}"), at("left"));
    let (text, made, left) = inked(&[&[(from, to, "gone")]]);
    assert_eq!((&*text, made, left), (PLAN, 0, vec![Why::Comment]));
}

#[test]
fn settles_after_as_many_rounds_as_it_takes() {
    // The unit of `diamter` is looked at only once the key is known.
    let plan = "nailplate: 1\nregion: us\nstock:\n  mic: {for: line, diamter: 0.2}\n";
    let both = [RedlineKind::Same, RedlineKind::Change];
    let settled = settle(
        Path::new("a.plan.yaml"),
        plan.into(),
        &Shelf(""),
        &both,
        None,
    )
    .expect("YAML");
    assert_eq!(settled.files.len(), 1);
    assert!(
        settled.files[0].after.ends_with("diameter: 0.2 in}\n"),
        "{}",
        settled.files[0].after
    );
    assert_eq!((settled.made.len(), settled.left.len()), (2, 0));
    let same = settle(
        Path::new("a.plan.yaml"),
        plan.into(),
        &Shelf(""),
        &[RedlineKind::Same],
        None,
    )
    .expect("YAML");
    assert!(
        same.files[0].after.ends_with("diameter: 0.2}\n"),
        "{}",
        same.files[0].after
    );
    assert_eq!(
        same.left.iter().map(|(_, why)| *why).collect::<Vec<_>>(),
        [Why::Kind]
    );
}

#[test]
fn a_catalogue_is_redlined_too() {
    let plan = "nailplate: 1\nregion: us\ncatalogue: [stock.yaml]\n";
    let shelf = Shelf("stock:\n  mic: {fro: line} # ours\n");
    let settled = settle(
        Path::new("a.plan.yaml"),
        plan.into(),
        &shelf,
        &[RedlineKind::Same],
        None,
    )
    .expect("YAML");
    assert_eq!(settled.files.len(), 1);
    assert_eq!(settled.files[0].path, Path::new("stock.yaml"));
    assert_eq!(
        settled.files[0].after,
        "stock:\n  mic: {for: line} # ours\n"
    );
}
