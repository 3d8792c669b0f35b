//! What a letter lets through of a plan and of the reviewer's computer: text, and nothing else.

use std::path::Path;

use nailplate::forms::letter::Letters;

use super::letter::{all, file_of, plain, reviewed, sound, text};

/// A plan may come from anybody.
#[test]
fn nothing_a_plan_says_is_more_than_text() {
    let plan = "nailplate: 1\nregion: us\n\
        title: \"</title><script>alert(1)</script> \\u202egnp.exe\"\n\
        drawing: \"\\\" onload=alert(1) x=\\\"\"\n\
        endpoints:\n  '<img src=x onerror=alert(1)>': {kind: speaker, imp: 8}\n  \"a'b\\\"c</article>\": {kind: rack}\n  שלום: {kind: seat, flor: 1}\n\
        runs:\n  '<!--': {from: '<img src=x onerror=alert(1)>', to: \"a'b\\\"c</article>\", length: 9}\n";
    let long = format!("{plan}  {}: {{from: שלום, to: lost}}\n", "<b>".repeat(40));
    let review = reviewed("</code><script>.plan.yaml", long);
    assert!(review.findings.len() >= 4, "{:?}", review.findings);
    let html = file_of(std::slice::from_ref(&review));
    let document = sound(&html);
    assert!(all(&document, "b").is_empty());
    let title = text(all(&document, "h1")[0]);
    assert_eq!(title, "</title><script>alert(1)</script> \u{fffd}gnp.exe");
    assert!(!html.contains('\u{202e}'));
    for finding in &review.findings {
        let says = plain(&finding.says);
        let articles = all(&document, "article.observation");
        assert!(
            articles
                .into_iter()
                .any(|article| text(article).contains(&says)),
            "{says}"
        );
    }
}

#[test]
fn a_path_tells_nothing_of_the_disk() {
    let review = reviewed(
        "/home/jr/jobs/kestrel.plan.yaml",
        "nailplate: 1\nregion: us\nx: 1\n".to_owned(),
    );
    let html = file_of(std::slice::from_ref(&review));
    assert!(
        html.contains("kestrel.plan.yaml") && !html.contains("/home"),
        "{html}"
    );
    let mut out = Vec::new();
    let mut letters = Letters::start(&mut out, 1);
    let path = Path::new("/home/jr/lost.plan.yaml");
    letters
        .unusable(path, "/home/jr/lost.plan.yaml: there is no such file")
        .expect("a Vec takes everything");
    letters.finish().expect("a Vec takes everything");
    let html = String::from_utf8(out).expect("UTF-8");
    let said = text(all(&sound(&html), "main")[0]);
    assert!(
        said.contains("lost.plan.yaml: there is no such file") && !said.contains("/home"),
        "{said}"
    );
}
