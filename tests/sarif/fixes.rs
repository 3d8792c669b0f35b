//! Fixes of a log, made as its reader would, against redlines made by ours.

use std::fs;

use nailplate::findings::{Finding, Id, Level, Redline, RedlineKind};
use nailplate::review::ink;
use nailplate::yaml::Edit;

use super::super::cli::FAULTY;
use super::reader::{fixed, list, results};
use super::{of, of_kind, reviewed, root};

/// One redline after the other, made by the log's reader and by our own.
#[test]
fn fixes_do_what_redlines_do() {
    let with_comment =
        "nailplate: 1\nregion: us\nstock:\n  a: {for: line, diameter: 5 # mm\n    }\n";
    let mut texts: Vec<(String, String)> = vec![
        ("a.plan.yaml".into(), FAULTY.into()),
        (
            "b.plan.yaml".into(),
            format!("\u{feff}{FAULTY}").replace('\n', "\r\n"),
        ),
        ("c.plan.yaml".into(), FAULTY.replace('\n', "\r")),
        (
            "d.plan.yaml".into(),
            "region: us\nstock: {ü😀: {fro: line}}".into(),
        ),
        ("e.plan.yaml".into(), with_comment.into()),
    ];
    for name in ["kestrel-row", "heron-mill", "tern-quay"] {
        let path = format!("examples/{name}-submitted.plan.yaml");
        let text = fs::read_to_string(root().join(&path)).expect("shipped");
        texts.push((path, text));
    }
    let (mut made, mut across) = (0, 0);
    for (name, text) in texts {
        let mut review = reviewed(&name, &text);
        let findings = std::mem::take(&mut review.findings);
        review.gaps.clear();
        for finding in findings {
            for redline in &finding.redlines {
                let one = Redline::clone(redline);
                across += usize::from(one.edits.len() > 1);
                review.findings = vec![finding.clone()];
                review.findings[0].redlines = vec![one];
                let log = of(&[&review]);
                let result = of_kind(results(&log), "fail").next().expect("the finding");
                let marked = ink(&review, &[RedlineKind::Same, RedlineKind::Change]);
                let inked: Vec<_> = marked.iter().filter(|file| !file.made.is_empty()).collect();
                let [fix] = list(result, "fixes") else {
                    assert!(inked.is_empty(), "{name}: {}", redline.title);
                    continue;
                };
                let title = redline.title.replace('{', "{{").replace('}', "}}");
                assert_eq!(fix["description"]["text"], title);
                assert_eq!(fix["properties"]["kind"], redline.kind.word());
                let texts = fixed(fix, |path| {
                    let mut sources = review.sources.files();
                    let found = sources.find(|(_, source)| source.path == path);
                    found.expect("a file of the review").1.text.clone()
                });
                let expected = inked.iter().map(|file| {
                    let path = review.sources.file(file.file).path.clone();
                    (path, file.text.clone())
                });
                assert_eq!(texts, expected.collect(), "{name}: {}", redline.title);
                made += 1;
            }
        }
    }
    assert!(
        made > 20 && across > 0,
        "{made} tried, {across} of several edits"
    );
}

#[test]
fn the_comment_that_a_redline_would_lose_is_not_lost_by_a_fix() {
    let mut review = reviewed("a.plan.yaml", "nailplate: 1\nregion: us # here\n");
    let source = review.sources.file(review.file);
    let lost = source.spot_of(source.text.find("us #").expect("there")..source.text.len());
    let edit = |at| Edit {
        at,
        text: "gb\n".into(),
    };
    let redline = |at| Redline {
        kind: RedlineKind::Change,
        title: "say gb".into(),
        edits: vec![edit(at)],
    };
    let span = source.span_of(lost.start..lost.start + 2);
    let kept = source.spot_of(lost.start..lost.start + 2);
    let finding = Finding::new(
        "plan.unknown-word",
        Level::Fault,
        Id::new("region"),
        "says",
        span,
        "here",
    );
    review.findings = vec![
        finding
            .with_redline(Some(redline(lost)))
            .with_redline(Some(redline(kept))),
    ];
    review.gaps.clear();
    let log = of(&[&review]);
    assert_eq!(list(&results(&log)[0], "fixes").len(), 1);
}
