//! A plan that is complete for the rules on lines, data and control: whatever key is left out, each check that was
//! made is still made, is a finding, or is a gap that says what is missing.

use super::reviewed;

const RULES: &[&str] = &[
    "line.earth-loop", "line.treble-lost", "line.one-subwoofer", "line.no-line", "control.no-line",
    "data.not-home-run", "data.rack-lines-few", "data.display-line-missing", "data.panel-uncooled",
];

const PLAN: &str = "nailplate: 1
region: us
rooms:
  media: {floor: 0}
  closet: {cooled: no, exhaust: 90 CFM}
  attic: {cooled: yes}
stock:
  nm: {for: power}
  rca: {for: line, balanced: no, capacitance: 60 pF/m}
  mic: {for: line, balanced: yes, capacitance: 90 pF/m}
  cat6: {for: data}
  rg6: {for: coax}
  hdmi: {for: video, build: optical}
  relay: {for: control}
circuits:
  C1: {volts: 120 V}
  C2: {volts: 120 V}
endpoints:
  rack: {kind: rack, room: closet, earthed: yes, output-impedance: 100 ohm}
  patch: {kind: patch-panel, in: rack}
  panel: {kind: distribution, room: attic}
  router: {kind: router, room: closet}
  street: {kind: entry, bonded: no}
  outlet: {kind: outlet, room: media}
  front: {kind: subwoofer, room: media, earthed: yes, at-outlet: outlet}
  rear: {kind: subwoofer, room: media, earthed: no}
  deck: {kind: source, room: media, earthed: no, output-impedance: 500 ohm}
  amp: {kind: amplifier, room: media, earthed: yes}
  trafo: {kind: box, isolates: yes}
  tv: {kind: display, room: media, earthed: yes}
  side: {kind: speaker, room: media, active: yes, earthed: no}
  study: {kind: data-outlet}
  screen: {kind: screen, load: 90 W, beside: roller}
  roller: {kind: motor}
runs:
  P1: {from: C1, to: rack, stock: nm}
  P2: {from: rack, to: outlet, stock: nm}
  P3: {from: C2, to: amp, stock: nm}
  P4: {from: C2, to: tv, stock: nm}
  P5: {from: C2, to: roller, stock: nm}
  L1: {from: patch, to: front, stock: rca, length: 4 m}
  L2: {from: patch, to: rear, stock: rca, length: 5 m}
  L3: {from: deck, to: trafo, stock: rca, length: 6 m}
  L4: {from: trafo, to: amp, stock: rca, length: 1 m}
  L5: {from: patch, to: side, stock: mic, length: 9 m}
  V1: {from: deck, to: tv, stock: hdmi}
  T1: {from: street, to: deck, stock: rg6}
  D1: {from: panel, to: patch, stock: cat6}
  D2: {from: panel, to: patch, stock: cat6}
  D3: {from: panel, to: tv, stock: cat6}
  D4: {from: panel, to: study, stock: cat6}
";

/// Every plan with one `key: value` of a thing left out, and what that was. Ends of runs are needed and stay.
fn without_one() -> Vec<(String, String)> {
    let key = regex::Regex::new(r"([a-z-]+): [^,{}]+(, )?").expect("fixed");
    let mut plans = Vec::new();
    let mut start = 0;
    for line in PLAN.split_inclusive('\n') {
        if let Some(open) = line.find('{') {
            for found in key.captures_iter(&line[open..]) {
                let (whole, name) = (found.get(0).expect("it matched"), &found[1]);
                if !matches!(name, "from" | "to") {
                    let at = start + open + whole.start()..start + open + whole.end();
                    let mut text = PLAN.to_owned();
                    text.replace_range(at, "");
                    plans.push((text.replace(", }", "}"), format!("{name} of {}", line.trim())));
                }
            }
        }
        start += line.len();
    }
    plans
}

#[test]
fn the_plan_is_complete() {
    for rule in RULES {
        let review = reviewed(PLAN, rule);
        assert!(review.gaps.is_empty() && review.findings.is_empty(), "{rule}: {:?} {:?}", review.gaps, review.findings);
    }
}

#[test]
fn no_key_is_left_out_in_silence() {
    let plans = without_one();
    assert!(plans.len() > 70, "{} keys", plans.len());
    let mut silent = String::new();
    for rule in RULES {
        let whole = reviewed(PLAN, rule).checks;
        for (text, what) in &plans {
            // A speaker that does not say so has no amplifier, and is speaker.no-line's.
            if *rule == "line.no-line" && what.starts_with("active of side") {
                continue;
            }
            let review = reviewed(text, rule);
            if review.checks < whole && review.gaps.is_empty() && review.findings.is_empty() {
                silent += &format!("\n{rule}: {what}");
            }
        }
    }
    assert!(silent.is_empty(), "{silent}");
}
