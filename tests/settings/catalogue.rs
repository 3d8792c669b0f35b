//! The usual catalogue of plans that name none.

use super::program::{folder, lines, run};

const WANTS_STOCK: &str = "nailplate: 1
region: us
endpoints:
  rack: {kind: rack}
  left: {kind: speaker, impedance: 8 ohm}
runs:
  S1: {from: rack, to: left, stock: thin, length: 60 ft}
";

#[test]
fn plans_without_a_catalogue_take_the_usual_one() {
    let catalogue = "stock:\n  thin: {for: speaker, cores: 2 x 18 AWG, rating: CL3}\n";
    let other = format!("{WANTS_STOCK}catalogue: other.yaml\n");
    let none = format!("{WANTS_STOCK}catalogue: []\n");
    let folder = folder(&[
        (
            "nailplate.yaml",
            "nailplate: 1\ncatalogue: [shelf/stock.yaml]\n",
        ),
        ("shelf/stock.yaml", catalogue),
        ("jobs/usual.plan.yaml", WANTS_STOCK),
        ("jobs/other.plan.yaml", &other),
        ("jobs/other.yaml", &catalogue.replace("18 AWG", "12 AWG")),
        ("jobs/none.plan.yaml", &none),
    ]);
    for (plan, undersized, unknown) in [
        ("jobs/usual.plan.yaml", 1, false),
        ("jobs/other.plan.yaml", 0, false),
        ("jobs/none.plan.yaml", 0, true),
    ] {
        assert_eq!(lines(folder.path(), &[plan]).len(), undersized, "{plan}");
        let out = run(folder.path(), &["review", "--as", "lines", plan], "").out;
        assert_eq!(out.contains("(plan.no-such-id)"), unknown, "{out}");
    }
    let figures = run(folder.path(), &["figures", "jobs/usual.plan.yaml"], "").out;
    assert!(figures.contains("S1"), "{figures}");
}

/// Told once for the settings; each plan that goes without it has a gap that may hide a hazard.
#[test]
fn a_usual_catalogue_that_cannot_be_read_leaves_a_gap_in_each_plan() {
    let folder = folder(&[
        ("nailplate.yaml", "nailplate: 1\ncatalogue: lost.yaml\n"),
        ("a.plan.yaml", WANTS_STOCK),
        ("b.plan.yaml", WANTS_STOCK),
    ]);
    let ran = run(folder.path(), &["review", "."], "");
    assert_eq!(ran.status, Some(1));
    assert_eq!(
        ran.out.matches("FAULT  settings.unread").count(),
        1,
        "{}",
        ran.out
    );
    let gap = "stock of lost.yaml, which could not be read, for plan: plan.catalogue-unread";
    assert_eq!(ran.out.matches(gap).count(), 2, "{}", ran.out);
    assert!(!ran.out.contains("plan.no-such-id"), "{}", ran.out);
}
