use super::{found, gaps, reviewed};
use nailplate::findings::Level::Advice;

const RULE: &str = "line.unbalanced-sub";

fn plan(region: &str, runs: &str) -> String {
    format!(
        "nailplate: 1\nregion: {region}\nstock:\n  rca: {{for: line, balanced: no}}\n  mic: {{for: line, balanced: yes}}\n  vague: {{for: line}}\nendpoints:\n  rack: {{kind: rack}}\n  plate: {{kind: wall-plate}}\n  sub: {{kind: subwoofer}}\n  left: {{kind: speaker, active: yes}}\nruns:\n{runs}"
    )
}

/// 20 ft and 6 m: common practice, no source.
#[test]
fn at_the_limit_passes() {
    let run = |region: &str, length: &str| {
        found(
            &plan(
                region,
                &format!("  L1: {{from: rack, to: sub, stock: rca, length: {length}}}\n"),
            ),
            RULE,
        )
    };
    assert!(run("us", "20 ft").is_empty());
    assert_eq!(run("us", "20.1 ft"), [("L1".into(), Advice)]);
    assert!(run("ca", "240 in").is_empty());
    assert!(run("gb", "6 m").is_empty());
    assert_eq!(run("gb", "6.01 m"), [("L1".into(), Advice)]);
    assert_eq!(run("au", "7 m"), [("L1".into(), Advice)]);
    assert_eq!(run("eu", "7 m"), [("L1".into(), Advice)]);
}

#[test]
fn the_channel_counts_and_all_its_runs_are_put_right() {
    let text = plan(
        "us",
        "  L1: {from: rack, to: plate, stock: rca, length: 15 ft}\n  L2: {from: plate, to: sub, stock: rca, length: 10 ft}\n",
    );
    assert_eq!(found(&text, RULE), [("L1".into(), Advice)]);
    assert_eq!(reviewed(&text, RULE).findings[0].redlines[0].edits.len(), 2);
    let mixed = plan(
        "us",
        "  L1: {from: rack, to: plate, stock: mic, length: 15 ft}\n  L2: {from: plate, to: sub, stock: rca, length: 10 ft}\n",
    );
    assert_eq!(found(&mixed, RULE), [("L1".into(), Advice)]);
}

#[test]
fn only_subwoofers_and_no_spares() {
    let text = plan(
        "us",
        "  L1: {from: rack, to: left, stock: rca, length: 50 ft}\n  L2: {from: rack, to: sub, stock: rca, length: 50 ft, spare: yes}\n",
    );
    assert!(found(&text, RULE).is_empty());
    assert!(gaps(&text, RULE).is_empty());
}

#[test]
fn what_is_missing_matters_only_where_it_could_change_the_verdict() {
    let run = |rest: &str| plan("us", &format!("  L1: {{from: rack, to: sub, {rest}}}\n"));
    assert_eq!(
        gaps(&run("stock: vague, length: 30 ft"), RULE),
        ["balanced of vague"]
    );
    assert!(gaps(&run("stock: vague, length: 10 ft"), RULE).is_empty());
    assert_eq!(gaps(&run("stock: rca"), RULE), ["length of L1"]);
    assert!(gaps(&run("stock: mic"), RULE).is_empty());
    assert_eq!(gaps(&run("length: 30 ft"), RULE), ["stock of L1"]);
    let kindless = |rest: &str| run(rest).replace("sub: {kind: subwoofer}", "sub: {load: 300 W}");
    assert_eq!(
        gaps(&kindless("stock: rca, length: 30 ft"), RULE),
        ["kind of sub"]
    );
    assert!(gaps(&kindless("stock: rca, length: 10 ft"), RULE).is_empty());
}
