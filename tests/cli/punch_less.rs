//! What is owed and has become less: less grave, or of fewer things.

use super::punchlist::{list, write};
use super::{folder, run};

#[test]
fn what_is_less_than_it_was() {
    let of = |load: &str, through: &str| {
        format!(
            "nailplate: 1
region: us
pathways:
  pipe: {{kind: conduit, make: EMT, size: 1/2, pull-string: yes}}
stock:
  n: {{for: power, cores: 2 x 12 AWG + earth, rating: NM-B, material: copper}}
  s: {{for: speaker, cores: 2 x 12 AWG, rating: CL3, diameter: 0.4 in}}
circuits:
  C: {{breaker: 20 A, volts: 120 V}}
endpoints:
  rack: {{kind: rack}}
  lamp: {{kind: light, load: {load}}}
  left: {{kind: speaker, impedance: 8 ohm}}
runs:
  P: {{from: C, to: lamp, stock: n, length: 200 ft}}
  S1: {{from: rack, to: left, stock: s, length: 20 ft, through: [pipe]}}
  S2: {{from: rack, to: left, stock: s, length: 20 ft, through: [pipe]}}
  S3: {{from: rack, to: left, stock: s, length: 20 ft, through: [{through}]}}
"
        )
    };
    let tree = folder(&[("den.plan.yaml", of("1200 W", "pipe").as_bytes())]);
    assert_eq!(run(&tree, &["punchlist", "."]).status, Some(0));
    write(&tree, "den.plan.yaml", &of("600 W", ""));
    assert_eq!(run(&tree, &["review", "."]).status, Some(0));
    let less = " den.plan.yaml: pathway.overfull on pipe, S1, S2, a fault, without S3 \
                den.plan.yaml: power.voltage-drop on lamp, P, C, advice and no longer a fault ";
    let before = list(&tree);
    let told = run(&tree, &["punchlist", "."]);
    assert!(
        told.out.contains("LESS THAN IS ON THE PUNCH LIST\n"),
        "{}",
        told.out
    );
    assert!(flat(&told.out).contains(less), "{}", told.out);
    assert!(
        flat(&told.out).contains("; 2 less than it was, which --close-out would put down so"),
        "{}",
        told.out
    );
    assert_eq!(list(&tree), before);
    let closed = run(&tree, &["punchlist", "--close-out", "."]);
    assert!(
        closed.out.contains("LESS THAN WAS ON THE PUNCH LIST\n"),
        "{}",
        closed.out
    );
    assert!(flat(&closed.out).contains(less), "{}", closed.out);
    let again = run(&tree, &["punchlist", "."]);
    assert!(!again.out.contains("LESS THAN"), "{}", again.out);
    // What is put down as less is owed no longer as more.
    write(&tree, "den.plan.yaml", &of("1200 W", ""));
    assert_eq!(run(&tree, &["review", "."]).status, Some(1));
}

/// On one line, however it was wrapped.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
