use super::{found, gaps};
use nailplate::findings::Level::Fault;

fn plan(rest: &str) -> String {
    format!(
        "nailplate: 1\nregion: us\nstock:\n  spk: {{for: speaker, cores: 2 x 12 AWG}}\n  mic: {{for: line}}\n{rest}"
    )
}

#[test]
fn a_speaker_wants_a_run_that_is_no_spare() {
    let spare = plan(
        "endpoints:\n  rack: {kind: rack}\n  a: {kind: speaker}\n  b: {kind: speaker, active: yes}\n  s: {kind: subwoofer}\n  p: {kind: subwoofer, active: no}\nruns:\n  S1: {from: rack, to: a, stock: spk, spare: yes}\n  L1: {from: rack, to: p, stock: mic}\n",
    );
    assert_eq!(
        found(&spare, "speaker.no-line"),
        [("a".into(), Fault), ("p".into(), Fault)]
    );
    assert!(gaps(&spare, "speaker.no-line").is_empty());
}

#[test]
fn hosts_members_and_either_end_count() {
    let text = plan(
        "endpoints:\n  rack: {kind: rack}\n  pot: {kind: box}\n  a: {kind: speaker, in: pot}\n  b: {kind: speaker}\n  c: {kind: speaker}\n  plug: {kind: box, in: c}\nruns:\n  S1: {from: rack, to: pot, stock: spk}\n  S2: {from: b, to: rack, stock: spk}\n  S3: {from: rack, to: plug, stock: mic, carries: speaker}\n",
    );
    assert!(found(&text, "speaker.no-line").is_empty());
}

#[test]
fn a_run_of_unknown_service_is_a_gap() {
    let text = plan(
        "endpoints:\n  rack: {kind: rack}\n  a: {kind: speaker}\nruns:\n  X1: {from: rack, to: a}\n",
    );
    assert!(found(&text, "speaker.no-line").is_empty());
    assert_eq!(gaps(&text, "speaker.no-line"), ["stock of X1"]);
}
