//! Texts in other encodings, with other line ends, of nothing, of one thing very often, nested without end.

use std::path::Path;

use nailplate::plan;
use nailplate::yaml::Sources;

use super::{Disk, HOUSES};

const SMALL: &str =
    "nailplate: 1\nregion: us\nrooms:\n  media: {size: [22 ft, 15 ft, 9]}\nnotes: |\n  x\n";

fn wide(text: &str, bytes_of: fn(u16) -> [u8; 2]) -> Vec<u8> {
    text.encode_utf16().flat_map(bytes_of).collect()
}

pub fn texts() -> Vec<Vec<u8>> {
    let head = "nailplate: 1\nregion: us\n";
    let many = |count: usize, one: &str| format!("{head}notes: {}\n", one.repeat(count));
    let indents: String = (0..2000)
        .map(|n| format!("{}a:\n", " ".repeat(n)))
        .collect();
    let aliases = format!(
        "{head}notes: &n x\nrooms:\n{}",
        (0..100_000)
            .map(|n| format!("  r{n}: *n\n"))
            .collect::<String>()
    );
    let merges = format!(
        "{head}rooms:\n  a: &a {{floor: 1}}\n  b: {{<<: [{}]}}\n",
        vec!["*a"; 100_000].join(", ")
    );
    let bomb: String = (1..10)
        .map(|level| {
            format!(
                "  l{level}: &l{level} {{<<: [{}]}}\n",
                vec![format!("*l{}", level - 1); 10].join(", ")
            )
        })
        .collect();
    let mut texts: Vec<Vec<u8>> = [
        "",
        " ",
        "\n",
        "\u{feff}",
        "---",
        "...",
        "--- ---",
        "#",
        "~",
        "{",
        "}",
        "[",
        "]",
        "\"",
        "'",
        "|",
        ">",
        "&",
        "*",
        "!",
        "%",
        "@",
        "`",
        "-",
        "?",
        ":",
        ",",
        "%YAML 1.2\n---\nnailplate: 1\n",
        "%YAML 9.9\n---\nnailplate: 1\n",
        "%TAG ! tag:x:\n--- !a\nnailplate: !b 1\n",
        "---\n---\nnailplate: 1\n",
        "nailplate: 1\n...\nrest\n",
        "nailplate: 1\n--- x\n",
        "\tnailplate: 1\n",
        "nailplate:\t1\n",
        "nailplate: 1\n\tregion: us\n",
        "? {a: b}\n: [c]\n",
        "? ? ? ?\n",
        "&a nailplate: *a\n",
        "nailplate: *a\n",
        "<<: 1\n",
        "<<: [[]]\n",
        "{nailplate: 1, region: us, region: ca}\n",
        "!!binary nailplate: 1\n",
        "nailplate: !!python/object/apply:os.system ['x']\n",
        "nailplate: \"\\\n",
        "a: !<x\n",
        "nailplate: 1\nregion: \u{0}us\n",
        "nailplate: 1\u{85}region: us\u{2028}title: x\n",
        "\u{feff}\u{feff}nailplate: 1\n",
        "nailplate: 1\n\u{feff}region: us\n",
        "a\u{b}b: 1\n",
        "nailplate: 1\nregion: us\nnotes: |9\n x\n",
        "nailplate: 1\nregion: us\nnotes: >+\n\n\n\n",
    ]
    .map(|text| text.as_bytes().to_vec())
    .to_vec();
    texts.extend([
        SMALL.replace('\n', "\r\n").into_bytes(),
        SMALL.replace('\n', "\r").into_bytes(),
        SMALL.replace('\n', "\n\r").into_bytes(),
        format!("\u{feff}{SMALL}").into_bytes(),
        SMALL.replace("  ", "\t").into_bytes(),
        wide(SMALL, u16::to_le_bytes),
        wide(SMALL, u16::to_be_bytes),
        wide(&format!("\u{feff}{SMALL}"), u16::to_le_bytes),
        wide(&format!("\u{feff}{SMALL}"), u16::to_be_bytes),
        SMALL.chars().flat_map(|c| u32::from(c).to_le_bytes()).collect(),
        b"nailplate: 1\nregion: u\xffs\n".to_vec(),
        b"nailplate: 1\nregion: \xc0\xaf\n".to_vec(),
        b"nailplate: 1\nregion: \xed\xa0\x80\n".to_vec(),
        b"nailplate: 1\nregion: \xf4\x90\x80\x80\n".to_vec(),
        b"nailplate: 1\ntitle: \xe2\x82".to_vec(),
        vec![0; 4096],
        vec![0xff; 4096],
        (0..=255).collect(),
        b"\x7fELF\x02\x01\x01\0\0\0".to_vec(),
        b"\x1f\x8b\x08\0\0\0\0\0".to_vec(),
        b"PK\x03\x04".to_vec(),
        many(100_000, "[").into_bytes(),
        many(100_000, "{a: ").into_bytes(),
        many(100_000, "- ").into_bytes(),
        many(100_000, "? ").into_bytes(),
        many(100_000, "]").into_bytes(),
        many(50_000, "[]").into_bytes(),
        many(100_000, "\"").into_bytes(),
        many(100_001, "'").into_bytes(),
        many(100_000, "&a ").into_bytes(),
        many(100_000, "!a ").into_bytes(),
        many(100_000, "#").into_bytes(),
        many(100_000, "\n").into_bytes(),
        many(100_000, "\n---\n").into_bytes(),
        many(20_000, "\na: b").into_bytes(),
        many(100_000, "a: ").into_bytes(),
        many(30_000, "\u{301}").into_bytes(),
        format!("{head}rooms: {}{}\n", "[".repeat(60), "]".repeat(60)).into_bytes(),
        format!("{head}endpoints: {}x{}\n", "{a: ".repeat(60), "}".repeat(60)).into_bytes(),
        format!("{head}{indents}").into_bytes(),
        aliases.into_bytes(),
        merges.into_bytes(),
        format!("{head}notes:\n  l0: &l0 {{a: b}}\n{bomb}rooms: {{<<: *l9}}\nendpoints: {{a: *l9, b: {{in: *l9}}}}\n").into_bytes(),
    ]);
    texts
}

#[test]
fn each_is_read_or_refused_with_a_reason() {
    let (mut read, mut refused) = (0, 0);
    for bytes in texts() {
        // What is no text is refused by the program, before this.
        let Ok(text) = String::from_utf8(bytes) else {
            continue;
        };
        let begin: String = text.chars().take(60).collect();
        let mut sources = Sources::default();
        let (file, built) = sources.add(Path::new("house.plan.yaml"), text);
        match built {
            Err(broken) => {
                refused += 1;
                assert!(
                    !broken.reason.is_empty() && broken.reason.len() < 400,
                    "{begin:?}: {}",
                    broken.reason
                );
            }
            Ok(()) => {
                read += 1;
                let (_, findings) = plan::read(&mut sources, file, &Disk);
                let is_small = sources.file(file).text.len() < 200_000;
                assert!(
                    !findings.is_empty() || !is_small || begin.contains("notes:"),
                    "{begin:?} passes in silence"
                );
            }
        }
    }
    assert!(read > 20 && refused > 30, "{read} read, {refused} refused");
}

/// Windows and old Mac line ends, and a mark before the text, change nothing of what is found.
#[test]
fn line_ends_and_a_mark_change_nothing() {
    for name in HOUSES {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("examples/{name}.plan.yaml"));
        let text = std::fs::read_to_string(path).expect("a house");
        let found = |text: String| {
            let scope = nailplate::review::Selection::All;
            let review = nailplate::review::review_text(
                Path::new("examples/house.plan.yaml"),
                text,
                &Disk,
                scope,
            )
            .expect("YAML");
            let place = |found: &nailplate::findings::Finding| {
                let spot = review.sources.spots(found.marks[0].span).0;
                let place = review.sources.file(spot.file).position(spot.start);
                format!(
                    "{}:{} {} {}",
                    place.line, place.column, found.rule, found.says
                )
            };
            review.findings.iter().map(place).collect::<Vec<_>>()
        };
        let before = found(text.clone());
        for other in [
            text.replace('\n', "\r\n"),
            text.replace('\n', "\r"),
            format!("\u{feff}{text}"),
        ] {
            assert_eq!(found(other), before, "{name}");
        }
    }
}
