//! The text of a punch list: what is read, what is refused and where, what is written. The YAML engine
//! is the outside check: what is read here has to be what it reads.

use insta::assert_snapshot;
use nailplate::findings::{Finding, Id, Level};
use nailplate::review::{Entry, PunchList};
use nailplate::yaml::Span;
use proptest::prelude::*;
use serde::Deserialize;

use super::day;

const LIST: &str = "\
nailplate: 1
owed:
- {plan: a.plan.yaml, rule: speaker.undersized, on: S1, level: fault, fingerprint: 0f0e0d0c0b0a0908, since: 2026-11-27}
- {plan: b/c.plan.yaml, rule: power.no-earth, on: P1, level: hazard, fingerprint: 1f1e1d1c1b1a1918, since: 2026-01-05}
";

/// An entry of whatever values.
fn made(plan: &str, rule: &str, on: &[&str], level: Level, print: &str) -> Entry {
    let at = Span::detour_at(0);
    let finding = Finding::new("a.b", level, Id::new("S"), "says", at, "here");
    let mut entry = Entry::of(plan.into(), &finding, print, day("2026-11-27"));
    entry.rule = rule.into();
    entry.on = on.iter().map(|on| Box::from(*on)).collect();
    entry
}

#[track_caller]
fn read(text: &str) -> PunchList {
    PunchList::read(text).unwrap_or_else(|mistakes| panic!("{mistakes:?}\n{text}"))
}

/// `line:column: what is wrong`, all of it.
#[track_caller]
fn wrong(text: &str) -> Vec<String> {
    let mistakes = PunchList::read(text).expect_err(text);
    mistakes
        .iter()
        .map(|at| format!("{}:{}: {}", at.line, at.column, at.says))
        .collect()
}

/// The list with one line of it in other words.
fn with_line(line: &str) -> String {
    let mut lines: Vec<_> = LIST.lines().collect();
    lines[2] = line;
    lines.join("\n") + "\n"
}

#[test]
fn entries_are_found_by_plan() {
    let list = read(LIST);
    let of = |plan: &str| {
        list.of(plan)
            .iter()
            .map(|entry| entry.at_fault())
            .collect::<Vec<_>>()
    };
    assert_eq!(of("a.plan.yaml"), ["S1"]);
    assert_eq!(of("b/c.plan.yaml"), ["P1"]);
    for none in ["", "a", "b", "b/c.plan.yam", "c.plan.yaml", "z"] {
        assert_eq!(of(none), Vec::<&str>::new(), "{none}");
    }
    assert_eq!(list.entries()[1].level, Level::Hazard);
    assert_eq!(list.entries()[1].since, day("2026-01-05"));
    assert_eq!(list.text(), LIST);
}

#[test]
fn mistakes_stand_at_their_lines() {
    let entry = LIST.lines().nth(2).expect("an entry");
    let mut told = String::new();
    for (from, to) in [
        ("rule:", "rul:"),
        ("rule:", "because:"),
        ("plan: a.plan.yaml, ", ""),
        ("on: S1", "on: S1, on: S2"),
        ("on: S1", "on: [S1, S2"),
        ("on: S1", "on: [S1 S2, ]"),
        ("rule: speaker.undersized", "rule: [speaker.undersized]"),
        ("2026-11-27", "2026-11-31"),
        ("2026-11-27", "27.11.2026"),
        ("fault", "grave"),
        ("0f0e", "0F0E"),
        ("0f0e", "0f"),
        ("a.plan.yaml", "/a.plan.yaml"),
        ("a.plan.yaml", "../a.plan.yaml"),
        ("a.plan.yaml", "./a.plan.yaml"),
        ("a.plan.yaml", "a//a.plan.yaml"),
        ("on: S1", "on: a: b"),
        ("on: S1", "on: \u{fc}&"),
        ("on: S1", "on: \"S1"),
        ("on: S1", "on: \"S\\1\""),
        ("on: S1", "on: 'S1''s'"),
        ("on: S1", "on: "),
        ("on: S1", "on:S1"),
        ("on: S1, ", "on: \"S1\" "),
        ("27}", "27} x"),
        ("27}", "27}# x"),
        ("27}", "27"),
        (", since", ",\tsince"),
        ("- {", "-{"),
        ("- {", "- "),
        (entry, "    rule: speaker.undersized"),
        (entry, "<html>"),
    ] {
        let line = entry.replace(from, to);
        assert_ne!(line, entry);
        told += &format!("{line}\n    {}\n", wrong(&with_line(&line)).join("\n    "));
    }
    for (text, is) in [
        (
            LIST.replace("nailplate: 1", "nailplate: 2"),
            "another version",
        ),
        (LIST.replace("nailplate: 1\n", ""), "no version"),
        (LIST.replace("owed:", "owes:"), "not `owed`"),
        (LIST.replace("owed:", "owed: []"), "entries below none"),
        (
            LIST.replace("\n- {plan: b", "\n  - {plan: b"),
            "indented otherwise",
        ),
        (String::new(), "nothing"),
        ("nailplate: 1\n".into(), "no `owed`"),
    ] {
        told += &format!("{is}\n    {}\n", wrong(&text).join("\n    "));
    }
    assert_snapshot!(told);
}

#[test]
fn a_merge_that_was_left_unfinished() {
    let [first, second] = [2, 3].map(|line| LIST.lines().nth(line).expect("an entry"));
    let conflict =
        format!("nailplate: 1\nowed:\n<<<<<<< HEAD\n{first}\n=======\n{second}\n>>>>>>> theirs\n");
    let says = "a merge was left unfinished here (`<<<<<<<`): keep the entries of both sides and take out the lines of `<`, `=` and `>`";
    assert_eq!(wrong(&conflict), [format!("3:1: {says}")]);
    let [base, rest] = [
        conflict.replace("=======", "||||||| merged\n======="),
        conflict.replace("<<<<<<< HEAD\n", ""),
    ];
    assert_eq!(wrong(&base), [format!("3:1: {says}")]);
    assert_eq!(
        wrong(&rest),
        [format!("4:1: {}", says.replace("<<<<<<<", "======="))]
    );
    // As it says: the marks out, and it reads.
    let mended: Vec<_> = conflict
        .lines()
        .filter(|line| !line.starts_with(['<', '=', '>']))
        .collect();
    assert_eq!(read(&(mended.join("\n") + "\n")).text(), LIST);
}

#[test]
fn an_entry_that_stands_twice_is_taken_once() {
    let [first, second] = [2, 3].map(|line| LIST.lines().nth(line).expect("an entry"));
    let graver = first
        .replace("fault", "hazard")
        .replace("2026-11-27", "2026-12-01");
    let list = read(&format!(
        "nailplate: 1\nowed:\n{second}\n{first} # promised\n{graver}\n"
    ));
    let joined = first.replace("fault", "hazard");
    assert_eq!(
        list.text(),
        format!("nailplate: 1\nowed:\n{joined} # promised\n{second}\n")
    );
}

#[test]
fn comments_line_ends_and_head_stay() {
    let [first, second] = [2, 3].map(|line| LIST.lines().nth(line).expect("an entry"));
    let text = format!(
        "# ours\n---\nnailplate: 1 # the version\n\n# what is owed\nowed:\n# promised for March\n{first} # by JR\n\n{second}\n# the end\n"
    );
    let list = read(&text);
    assert_eq!(list.text(), text);
    let crlf = text.replace('\n', "\r\n");
    assert_eq!(read(&crlf).text(), crlf);
    assert_eq!(read(&format!("\u{feff}{text}")).text(), text);
    assert_eq!(
        read(text.trim_end()).text(),
        text,
        "a last line without an end"
    );
    // What is added comes to its place, what is taken off takes its comments along.
    let mut list = read(&text);
    let new = made(
        "b/a.plan.yaml",
        "x.y",
        &["S"],
        Level::Advice,
        "0000000000000000",
    );
    list.add([new]);
    let line = "- {plan: b/a.plan.yaml, rule: x.y, on: S, level: advice, fingerprint: \"0000000000000000\", since: 2026-11-27}\n";
    assert_eq!(
        list.text(),
        text.replace("\n\n- {plan: b", &format!("\n{line}\n- {{plan: b"))
    );
    let off = read(LIST).entries()[0].clone();
    list.take_off([&off]);
    assert!(!list.text().contains("promised"), "{}", list.text());
}

#[test]
fn a_list_of_nothing() {
    let mut list = PunchList::default();
    let empty = list.text();
    assert!(empty.ends_with("\nnailplate: 1\nowed: []\n"), "{empty}");
    assert_eq!(read(&empty), list);
    list.add(read(LIST).entries().to_vec());
    assert!(list.text().ends_with(LIST), "{}", list.text());
    assert_eq!(read(&list.text()), list);
}

/// A list as the YAML engine reads it.
#[derive(Debug, Deserialize, PartialEq)]
#[serde(deny_unknown_fields)]
struct Loaded<T> {
    nailplate: u8,
    owed: Vec<Item<T>>,
}

#[derive(Debug, Deserialize, PartialEq, Eq, PartialOrd, Ord)]
#[serde(deny_unknown_fields)]
struct Item<T> {
    plan: String,
    rule: String,
    on: T,
    level: String,
    fingerprint: String,
    since: String,
}

#[derive(Debug, Deserialize, PartialEq, Eq, PartialOrd, Ord)]
#[serde(untagged)]
enum Things {
    One(String),
    Several(Vec<String>),
}

fn items<T>(list: &PunchList, things: impl Fn(Vec<String>) -> T) -> Vec<Item<T>> {
    let item = |entry: &Entry| Item {
        plan: entry.plan.to_string(),
        rule: entry.rule.to_string(),
        on: things(entry.on.iter().map(ToString::to_string).collect()),
        level: entry.level.to_string(),
        fingerprint: entry.fingerprint.to_string(),
        since: entry.since.to_string(),
    };
    list.entries().iter().map(item).collect()
}

/// Values as plans may have them: plain ones, words and numbers of YAML, signs of every kind.
fn value() -> impl Strategy<Value = String> {
    prop_oneof![
        "[a-zA-Z][a-z0-9_-]{0,6}",
        "[ -~]{1,8}",
        "[a\u{e9}\u{4e2d}\u{1f50c}\u{202e}\u{7f}\u{85}\t\r\n\"'\\\\:#,{}]{1,6}",
        prop::sample::select(vec![
            "yes",
            "No",
            "null",
            "~",
            "1e5",
            "0x1f",
            "12",
            ".5",
            "-",
            "- a",
            "on",
            "y",
            "2026-11-27",
            ".inf",
            "<<",
            "=",
            "a ",
            " a",
            "1_0",
            "a #b",
            "a: b"
        ])
        .prop_map(str::to_owned),
    ]
}

fn entry() -> impl Strategy<Value = Entry> {
    let print = prop_oneof!["[0-9a-f]{16}", "[0-9]{16}", "[0-9]{3}e[0-9]{12}"];
    let things = prop::collection::vec(value(), 1..4);
    (value(), value(), things, 0usize..3, print).prop_filter_map(
        "a path from the folder",
        |(plan, rule, on, level, print)| {
            let from_folder = plan.split('/').all(|step| !["", ".", ".."].contains(&step));
            let on: Vec<&str> = on.iter().map(|on| &**on).collect();
            from_folder.then(|| made(&plan, &rule, &on, Level::ALL[level], &print))
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(400) })]

    #[test]
    fn what_is_written_is_read_here_and_by_the_engine(entries in prop::collection::vec(entry(), 0..5)) {
        let mut list = PunchList::default();
        list.add(entries);
        let text = list.text();
        let again = PunchList::read(&text);
        prop_assert_eq!(again.as_ref(), Ok(&list), "{}", text);
        let loaded: Result<Loaded<Things>, _> = serde_yaml::from_str(&text);
        prop_assert!(loaded.is_ok(), "{:?}\n{}", loaded, text);
        let Ok(loaded) = loaded else { return Ok(()) };
        let owed = items(&list, |mut on| match on.len() {
            1 => Things::One(on.remove(0)),
            _ => Things::Several(on),
        });
        prop_assert_eq!(loaded, Loaded { nailplate: 1, owed }, "{}", text);
    }

    #[test]
    fn no_text_makes_it_panic(lines in prop::collection::vec("(- [{]|nailplate: 1|owed:)?[ -~\u{e9}\t]{0,40}[}]?", 0..6)) {
        if let Err(mistakes) = PunchList::read(&lines.join("\n")) {
            prop_assert!(mistakes.iter().all(|at| at.line >= 1 && at.column >= 1 && !at.says.is_empty()));
        }
    }

    /// Whatever else is read is what the engine reads.
    #[test]
    fn what_is_read_is_yaml(
        at in 0usize..260,
        taken in 0usize..4,
        put in prop::sample::select(vec!["", " ", "\"", "'", ",", ":", ": ", " #", "#", "{", "}", "[", "]", "-", "- ", "&a ", "*a", "!t ", "|", ">", "%", "@", "`", "?", "? ", "\n", "\\", "\\u0041", "~", "\u{e9}", "\u{a0}", "\u{2028}", "\u{feff}", "<<", "a", "0"]),
    ) {
        let tail: Vec<char> = LIST.chars().collect();
        let start = tail.len().min(at);
        let end = tail.len().min(start + taken);
        let text: String = tail[..start].iter().copied().chain(put.chars()).chain(tail[end..].iter().copied()).collect();
        if let Ok(list) = PunchList::read(&text) {
            // One thing each, whatever the engine would otherwise take it for.
            let loaded: Result<Loaded<String>, _> = serde_yaml::from_str(&text);
            prop_assert!(loaded.is_ok(), "{:?}\n{}", loaded, text);
            let Ok(mut loaded) = loaded else { return Ok(()) };
            loaded.owed.sort();
            let mut items = items(&list, |on| on.concat());
            items.sort();
            prop_assert_eq!(loaded.owed, items, "{}", text);
        }
    }
}
