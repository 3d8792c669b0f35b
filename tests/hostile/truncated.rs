//! Each shipped house and the catalogue cut off at every byte: what is left is judged, or refused with a reason.

use std::path::Path;

use nailplate::review::{Selection, review_text};

use super::{Disk, HOUSES};

/// Reviews the beginnings of a text that end at every `step`th byte; how many are judged, and how many refused.
fn cut(name: &str, step: usize) -> (usize, usize) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("examples")
        .join(name);
    let text = std::fs::read_to_string(path).expect("it is shipped");
    let (mut judged, mut refused) = (0, 0);
    for end in (0..=text.len()).step_by(step) {
        // Half a character is no text, and refused before it comes here.
        let Some(begin) = text.get(..end) else {
            continue;
        };
        let path = Path::new("examples/house.plan.yaml");
        match review_text(path, begin.to_owned(), &Disk, Selection::All) {
            Ok(review) => {
                judged += 1;
                // As long as something needed is missing it is told.
                let is_whole = begin.contains("\nregion:");
                assert!(
                    is_whole || !review.findings.is_empty(),
                    "{name} cut at {end}"
                );
            }
            Err((_, broken)) => {
                refused += 1;
                assert!(
                    text.is_char_boundary(broken.byte) && broken.byte <= end,
                    "{name} cut at {end}"
                );
                assert!(!broken.reason.is_empty(), "{name} cut at {end}");
            }
        }
    }
    (judged, refused)
}

fn cut_all(step: usize) {
    let (mut judged, mut refused) = (0, 0);
    for name in HOUSES
        .map(|house| format!("{house}.plan.yaml"))
        .iter()
        .map(String::as_str)
        .chain(["stock.yaml"])
    {
        let (one, other) = cut(name, step);
        judged += one;
        refused += other;
    }
    assert!(
        judged > 10 && refused > 10,
        "{judged} judged, {refused} refused"
    );
}

#[test]
fn cut_off_here_and_there() {
    cut_all(199);
}

/// Takes minutes unoptimised: run by `tests/hostile/run`.
#[test]
#[ignore = "every byte takes minutes: tests/hostile/run"]
fn cut_off_at_every_byte() {
    cut_all(1);
}
