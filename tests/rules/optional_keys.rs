//! No silent pass: every optional key of a plan is taken out in turn. What was found before is still found, or a gap of the same rule, or a
//! mistake of reading says why not; and no rule that had something to say falls silent. The exceptions stand in [`ALLOWED`], each with what
//! its absence is documented to mean.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use nailplate::findings::Report;
use nailplate::house::House;
use nailplate::plan::{self, Library};
use nailplate::rules::{RULES, Rule, sheet};
use nailplate::yaml::{Kind, NodeId, Sources, Tree};

/// Rule, key with its section, and what its absence means. `*` stands for any rule, and for any section.
const ALLOWED: &[(&str, &str, &str)] = &[
    ("*", "endpoints.poe", "not fed over its data line; power.no-feed then asks what feeds it"),
    ("*", "endpoints.duty", "intermittent"),
    ("*", "stock.material", "copper"),
    ("*", "circuits.serves", "dedicated to nothing"),
    ("*", "runs.bundle", "nothing says that it lies with others, but for what shares its pathway"),
    ("*", "runs.done", "not on record as pulled, which plan.not-pulled says"),
    ("*", "runs.done.pulled", "not on record as pulled, which plan.not-pulled says"),
    ("data.over-length", "runs.cords", "the 10 m that the standard leaves for cords"),
    ("data.insertion-loss", "runs.cords", "the 10 m that the standard leaves for cords"),
    ("data.undergraded", "runs.cords", "the 10 m that the standard leaves for cords"),
    ("data.over-length", "runs.length", "estimated from where its ends stand, and said to be"),
    ("data.insertion-loss", "runs.length", "estimated from where its ends stand, and said to be"),
    ("data.undergraded", "runs.length", "estimated from where its ends stand, and said to be"),
    ("data.poe-starved", "runs.length", "estimated from where its ends stand, and said to be"),
    ("speaker.line-70v", "runs.length", "estimated from where its ends stand, and said to be"),
    ("data.undergraded", "runs.rate", "that of the channel's other run"),
    ("fire.underclassed", "pathways.fire-class", "that of the plan"),
    ("pathway.buried-joint", "endpoints.access", "an outlet or plate can be reached by its nature"),
    ("control.no-line", "endpoints.load", "a screen that draws nothing has no motor"),
    ("line.earth-loop", "endpoints.in", "a panel that stands in nothing joins the lines that meet at it, up to what they end at"),
    ("line.treble-lost", "endpoints.in", "a panel that stands in nothing joins the lines that meet at it, up to what they end at"),
    ("line.unbalanced-sub", "endpoints.in", "a panel that stands in nothing joins the lines that meet at it, up to what they end at"),
    ("plan.not-pulled", "stage", "a plan with nothing on record is still a design"),
    ("plan.length-impossible", "runs.length", "an estimate is never impossible"),
    ("plan.no-tail", "runs.length", "an estimate has its tails"),
    ("pathway.bend-too-tight", "pathways.radius", "as wide as the table asks of its trade size"),
    ("power.voltage-drop", "runs.length", "estimated from where its ends stand, and said to be"),
    ("power.wrong-voltage", "endpoints.volts", "made for the usual voltage of the region"),
    ("speaker.few-cores", "endpoints.place", "a room in which no speaker has a place has no front"),
    ("speaker.no-spare-surround", "endpoints.place", "a room in which no speaker has a surround place has none"),
];

/// Keys that say what a thing is and where it belongs. Without one, most rules cannot know that they are concerned; it is enough that any rule asks
/// for the key, or finds something new about the thing.
const IDENTITY: &[&str] = &["endpoints.at-outlet", "endpoints.in", "endpoints.kind", "runs.stock", "stock.for", "stock.rating", "pathways.kind", "runs.through", "endpoints.load"];

struct Nothing;

impl Library for Nothing {
    fn load(&self, _: &Path) -> Result<String, String> {
        Err("no such file".into())
    }
}

/// What one rule said of a plan.
#[derive(Default)]
struct Said {
    /// First thing of each finding, and what it says.
    found: BTreeMap<String, String>,
    gaps: BTreeSet<String>,
    checks: usize,
}

impl Said {
    fn is_silent(&self) -> bool {
        self.found.is_empty() && self.gaps.is_empty() && self.checks == 0
    }
}

/// What the rules said, and the mistakes of reading. `None` for a text that is no YAML.
fn judged(text: &str, rules: &[&Rule]) -> Option<(Vec<Said>, BTreeSet<String>)> {
    let mut sources = Sources::default();
    let (file, read) = sources.add(Path::new("case.plan.yaml"), text.to_owned());
    read.ok()?;
    let (plan, mistakes) = plan::read(&mut sources, file, &Nothing);
    let mistakes = mistakes.into_iter().map(|mistake| mistake.says).collect();
    let house = House::build(&plan, &sources);
    let (region, stage) = (plan.region.value().copied(), plan.stage.value().copied());
    let said = rules.iter().map(|rule| {
        let sheet = sheet(rule.id).expect("its sheet");
        let mut report = Report::default();
        if sheet.applies(region, stage) {
            (rule.judge)(&house, sheet, &mut report);
        }
        Said {
            found: report.findings.iter().map(|found| (found.on[0].to_string(), found.says.clone())).collect(),
            gaps: report.gaps.iter().map(|gap| format!("{}: {}", gap.on[0], gap.lacks)).collect(),
            checks: report.checks,
        }
    });
    Some((said.collect(), mistakes))
}

/// A key that can be taken out.
struct Taken {
    /// With its section: `runs.done.pulled`.
    key: String,
    /// The thing that it is of.
    of: String,
    bytes: std::ops::Range<usize>,
}

/// Every key of a plan below its sections, with the bytes that take it out.
fn keys(tree: &Tree, text: &str) -> Vec<Taken> {
    let mut found = Vec::new();
    let Some(root) = tree.root() else { return found };
    for (at, (key, value)) in tree.entries(root).enumerate() {
        let section = tree.text(key, text);
        if !tree.is_map(value) {
            found.push(Taken { key: section.to_owned(), of: "plan".into(), bytes: cut(tree, text, root, at) });
        } else if section != "variances" {
            for (id, thing) in tree.entries(value) {
                inside(tree, text, thing, (section, tree.text(id, text)), &mut found);
            }
        }
    }
    found
}

fn inside(tree: &Tree, text: &str, map: NodeId, (path, of): (&str, &str), found: &mut Vec<Taken>) {
    if !tree.is_map(map) {
        if tree.kind(map) == Kind::Seq {
            tree.children(map).for_each(|item| inside(tree, text, item, (path, of), found));
        }
        return;
    }
    for (at, (key, value)) in tree.entries(map).enumerate() {
        let path = format!("{path}.{}", tree.text(key, text));
        inside(tree, text, value, (&path, of), found);
        found.push(Taken { key: path, of: of.to_owned(), bytes: cut(tree, text, map, at) });
    }
}

/// The bytes of one entry of a map, with the comma or the line that belongs to it.
fn cut(tree: &Tree, text: &str, map: NodeId, at: usize) -> std::ops::Range<usize> {
    let entries: Vec<_> = tree.entries(map).collect();
    let (key, value) = entries[at];
    let (start, end) = (tree.bytes(key).start, tree.bytes(value).end);
    if tree.kind(map) == Kind::BlockMap {
        let line = text[..start].rfind('\n').map_or(0, |line| line + 1);
        let next = text[end..].find('\n').map_or(text.len(), |line| end + line + 1);
        return line..entries.get(at + 1).map_or(next, |(next, _)| {
            let next = tree.bytes(*next).start;
            text[..next].rfind('\n').map_or(next, |line| line + 1)
        });
    }
    match (entries.get(at + 1), at.checked_sub(1)) {
        (Some((next, _)), _) => start..tree.bytes(*next).start,
        (None, Some(before)) => tree.bytes(entries[before].1).end..end,
        (None, None) => start..end,
    }
}

fn is_allowed(rule: &str, key: &str) -> bool {
    ALLOWED.iter().any(|(of, path, _)| {
        let is_key = match path.strip_prefix("*.") {
            Some(last) => key.rsplit('.').next() == Some(last),
            None => *path == key,
        };
        (*of == "*" || *of == rule) && is_key
    })
}

/// Takes each key out of a plan in turn; what went silent, in words.
fn try_plan(name: &str, text: &str, rules: &[&Rule], faults: &mut Vec<String>) {
    let every: Vec<_> = RULES.iter().collect();
    let mut all_before = None;
    let (before, mistakes) = judged(text, rules).unwrap_or_else(|| panic!("{name} is YAML"));
    // What said nothing has nothing to lose.
    let speaking = rules.iter().zip(before).filter(|(_, said)| !said.is_silent());
    let (rules, before): (Vec<&Rule>, Vec<Said>) = speaking.map(|(rule, said)| (*rule, said)).unzip();
    let mut sources = Sources::default();
    let (file, _) = sources.add(Path::new("case.plan.yaml"), text.to_owned());
    let source = sources.file(file);
    for Taken { key, of, bytes } in keys(&source.tree, &source.text) {
        let less = format!("{}{}", &text[..bytes.start], &text[bytes.end..]);
        let (after, now) = judged(&less, &rules).unwrap_or_else(|| panic!("{name} without {key} is YAML:\n{less}"));
        if now.difference(&mistakes).next().is_some() {
            continue;
        }
        let mut silent = Vec::new();
        for ((rule, before), after) in rules.iter().zip(&before).zip(&after) {
            if is_allowed(rule.id, &key) {
                continue;
            }
            let new_gap = after.gaps.difference(&before.gaps).next().is_some();
            for (on, says) in &before.found {
                if !after.found.contains_key(on) && !new_gap {
                    silent.push(format!("{} without `{key}` no longer finds: {says} ({name})", rule.id));
                }
            }
            if after.is_silent() && !before.is_silent() {
                silent.push(format!("{} without `{key}` falls silent ({name})", rule.id));
            }
        }
        if !silent.is_empty() && IDENTITY.contains(&key.as_str()) {
            let before = all_before.get_or_insert_with(|| judged(text, &every).expect("it is YAML").0);
            let after = judged(&less, &every).expect("it is YAML").0;
            let name = key.rsplit('.').next().unwrap_or_default();
            let is_told = before.iter().zip(&after).any(|(before, after)| {
                let asks = |gap: &&String| gap.contains(name) && gap.contains(&of);
                after.gaps.difference(&before.gaps).any(|gap| asks(&gap))
                    || after.found.contains_key(&of) && !before.found.contains_key(&of)
            });
            if is_told {
                continue;
            }
        }
        faults.append(&mut silent);
    }
}

#[track_caller]
fn none(mut faults: Vec<String>) {
    faults.sort();
    faults.dedup();
    assert!(faults.is_empty(), "{} silent passes:\n{}", faults.len(), faults.join("\n"));
}

/// The examples of every sheet, each by its own rule.
#[test]
fn no_example_passes_for_want_of_a_key() {
    let mut faults = Vec::new();
    for rule in RULES {
        let sheet = sheet(rule.id).expect("its sheet").whole().expect("a sheet");
        try_plan(&format!("wrong of {}", rule.id), &sheet.wrong, &[rule], &mut faults);
        try_plan(&format!("right of {}", rule.id), &sheet.right, &[rule], &mut faults);
    }
    none(faults);
}

/// A shipped plan with what it takes from its catalogue written into it.
pub fn shipped(name: &str) -> String {
    let read = |name: &str| std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name)).expect("it is shipped");
    let (plan, shelf) = (read(name), read("stock.yaml"));
    let plan = plan.replace("catalogue: [stock.yaml]\n", "");
    let shelf: String = shelf.split_once("\nstock:\n").expect("it holds stock").1.lines().filter(|line| {
        let id = line.trim().split(':').next().unwrap_or("");
        !id.is_empty() && !id.starts_with('#') && !plan.contains(&format!("\n  {id}:"))
    }).fold(String::new(), |all, line| all + line + "\n");
    if plan.contains("\nstock:\n") {
        plan.replacen("\nstock:\n", &format!("\nstock:\n{shelf}"), 1)
    } else {
        format!("{plan}\nstock:\n{shelf}")
    }
}

/// A house whose data lines are too long, too warm, too hungry.
const DATA: &str = "\
nailplate: 1
region: us
code: NEC 2020
building: commercial
stock:
  cat5e: {for: data, grade: cat5e, cores: 8 x 24 AWG, conductor: solid, rating: CMR, shields: 0, material: copper, diameter: 0.2 in}
  cat6: {for: data, grade: cat6, cores: 8 x 23 AWG, conductor: solid, rating: CMR, shields: 0, material: copper, diameter: 0.25 in}
  clad: {for: data, grade: cat5e, cores: 8 x 24 AWG, rating: CMR, shields: 0, material: copper-clad-aluminium, diameter: 0.2 in}
endpoints:
  rack: {kind: rack}
  patch: {kind: patch-panel, in: rack, ports: 24}
  switch: {kind: switch, in: rack, poe-supply: type 4, ports: 24}
  far: {kind: data-outlet}
  desk: {kind: data-outlet}
  gate: {kind: camera, poe: type 2, load: 25 W}
  wall: {kind: display, poe: type 4, load: 70 W, backing: yes}
runs:
  D1: {from: patch, to: far, stock: cat6, length: 282 ft, cords: 70 ft, rate: 1 Gbit/s, ambient: 20 degC, surface: yes}
  D2: {from: patch, to: desk, stock: cat6, length: 270 ft, cords: 20 ft, rate: 10 Gbit/s, ambient: 50 degC, surface: yes}
  D3: {from: patch, to: gate, stock: clad, length: 285 ft, cords: 10 ft, rate: 100 Mbit/s, ambient: 45 degC, surface: yes}
  D4: {from: patch, to: wall, stock: cat5e, length: 60 ft, cords: 10 ft, rate: 1 Gbit/s, ambient: 25 degC, bundle: 80, surface: yes}
";

/// One plan by all rules.
#[track_caller]
fn try_house(name: &str, text: &str) {
    let mut faults = Vec::new();
    try_plan(name, text, &RULES.iter().collect::<Vec<_>>(), &mut faults);
    none(faults);
}

/// A test of its own for each house, so that they run side by side.
macro_rules! houses {
    ($($test:ident $name:literal)*) => {
        $(
            #[test]
            fn $test() {
                try_house($name, &shipped($name));
            }
        )*
    };
}

houses! {
    kestrel_row "kestrel-row.plan.yaml"
    kestrel_row_submitted "kestrel-row-submitted.plan.yaml"
    heron_mill "heron-mill.plan.yaml"
    heron_mill_submitted "heron-mill-submitted.plan.yaml"
    plover_lane "plover-lane.plan.yaml"
    tern_quay "tern-quay.plan.yaml"
    tern_quay_submitted "tern-quay-submitted.plan.yaml"
}

#[test]
fn house_of_data_lines() {
    try_house("the house of data lines", DATA);
}
