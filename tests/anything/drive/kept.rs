//! What is true of everything that is read, found or written, whatever the text was.

use nailplate::findings::Finding;
use nailplate::review::Review;
use nailplate::yaml::{Broken, Sources, apply};

/// A text that is no YAML is refused at one of its letters, for a reason.
pub fn broken(text: &str, broken: &Broken) {
    assert!(
        text.is_char_boundary(broken.byte),
        "{broken:?} cuts a letter"
    );
    assert!(!broken.reason.is_empty(), "{broken:?} says why");
}

/// Each finding points at something, and can be put right by its edits.
pub fn findings(findings: &[Finding], sources: &Sources) {
    for finding in findings {
        let told = || format!("{} ({})", finding.says, finding.rule);
        assert!(!finding.marks.is_empty(), "no place: {}", told());
        assert!(!finding.on.is_empty(), "no thing at fault: {}", told());
        for mark in &finding.marks {
            let (spot, anchored) = sources.spots(mark.span);
            for spot in [Some(spot), anchored].into_iter().flatten() {
                assert!(
                    !sources.slice(spot).is_empty(),
                    "an empty place: {} {spot:?}",
                    told()
                );
            }
        }
        for edit in finding.redlines.iter().flat_map(|redline| &redline.edits) {
            let text = &sources.file(edit.at.file).text;
            assert!(
                apply(text, std::slice::from_ref(edit)).is_some(),
                "an edit outside the text: {} {edit:?}",
                told()
            );
        }
        if let Some(figure) = &finding.figure {
            assert!(!figure.value.is_nan(), "no number: {}", told());
        }
    }
}

/// What is wrong with a text is said in words that no terminal obeys, whatever stands in it.
pub fn words(findings: &[Finding]) {
    for finding in findings {
        let says = [Some(&finding.says), finding.put_right.as_ref()];
        let labels = finding.marks.iter().map(|mark| &mark.label);
        for words in says.into_iter().flatten().chain(labels) {
            assert!(!words.chars().any(char::is_control), "{words:?}");
        }
    }
}

pub fn review(review: &Review) {
    findings(&review.findings, &review.sources);
    let (held, let_pass) = (&review.findings, &review.let_pass);
    for finding in held
        .iter()
        .chain(let_pass.iter().map(|passed| &passed.finding))
    {
        assert!(
            review.rulebook.sheet(finding.rule).is_some(),
            "{} has no sheet",
            finding.rule
        );
    }
    assert!(
        review.checks >= review.findings.len(),
        "{} checks found {} things",
        review.checks,
        review.findings.len()
    );
}
