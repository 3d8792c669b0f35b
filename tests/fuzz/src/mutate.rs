//! Changes that leave a plan readable more often than changed bytes do: by its lines and its `key: value` pairs.

use std::ops::Range;

use fastrand::Rng;
use libfuzzer_sys::fuzzer_mutate;

/// Numbers at the edge of what a key may take, and beyond.
const NUMBERS: [&str; 24] = [
    "0",
    "-0",
    "1",
    "-1",
    "2",
    "0.5",
    "1e-9",
    "1e-300",
    "1e9",
    "1e15",
    "1e16",
    "1e300",
    "1e308",
    "1e400",
    "255",
    "256",
    "65535",
    "65536",
    "4294967295",
    "4294967296",
    "9007199254740993",
    "18446744073709551616",
    "1/2",
    "-2147483649",
];

/// A changed text in place of the one in `data`; gives its length.
pub fn change(data: &mut [u8], size: usize, most: usize, seed: u32) -> usize {
    let mut rng = Rng::with_seed(seed.into());
    if rng.u8(..3) == 0 {
        return fuzzer_mutate(data, size, most);
    }
    let Ok(text) = std::str::from_utf8(&data[..size]) else {
        return fuzzer_mutate(data, size, most);
    };
    let mut text = text.to_owned();
    for _ in 0..1 + rng.usize(..3) {
        if let Some(changed) = once(&text, &mut rng) {
            text = changed;
        }
    }
    let mut end = text.len().min(most);
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    if text.as_bytes()[..end] == data[..size] {
        return fuzzer_mutate(data, size, most);
    }
    data[..end].copy_from_slice(&text.as_bytes()[..end]);
    end
}

fn once(text: &str, rng: &mut Rng) -> Option<String> {
    let lines = lines(text);
    let line = any(&lines, rng)?;
    Some(match rng.u8(..10) {
        0 => with(text, line, ""),
        1 => with(text, line.end..line.end, &renamed(&text[line], rng)),
        // Many of it, each with an id of its own.
        2 => {
            let copies: String = (0..1 << rng.u8(1..7))
                .map(|_| renamed(&text[line.clone()], rng))
                .collect();
            with(text, line.end..line.end, &copies)
        }
        3 => {
            let other = any(&lines, rng)?;
            with(text, other.start..other.start, &text[line])
        }
        4 => {
            let (one, other) = (pair(text, rng)?, pair(text, rng)?);
            with(text, one.value, &text[other.value])
        }
        5 => {
            let pair = pair(text, rng)?;
            with(text, pair.key.start..pair.value.end, "")
        }
        6 => {
            let (one, other) = (pair(text, rng)?, pair(text, rng)?);
            let more = format!(", {}", &text[other.key.start..other.value.end]);
            with(text, one.value.end..one.value.end, &more)
        }
        7 => {
            let word = any(&words(text), rng)?;
            let other = any(&words(text), rng)?;
            with(text, word, &text[other])
        }
        _ => {
            let number = any(&numbers(text), rng)?;
            let new = match (rng.bool(), text[number.clone()].parse::<f64>()) {
                (true, Ok(was)) => {
                    (was * [0.1, 0.5, 0.9, 1.1, 2.0, 10.0, -1.0][rng.usize(..7)]).to_string()
                }
                _ => NUMBERS[rng.usize(..NUMBERS.len())].to_owned(),
            };
            with(text, number, &new)
        }
    })
}

fn with(text: &str, at: Range<usize>, new: &str) -> String {
    [&text[..at.start], new, &text[at.end..]].concat()
}

fn any<T: Clone>(of: &[T], rng: &mut Rng) -> Option<T> {
    (!of.is_empty()).then(|| of[rng.usize(..of.len())].clone())
}

/// Every line, with its end.
fn lines(text: &str) -> Vec<Range<usize>> {
    let mut at = 0;
    text.split_inclusive('\n')
        .map(|line| {
            at += line.len();
            at - line.len()..at
        })
        .collect()
}

/// A line whose first word is another, so that it may stand beside the one that it was copied from.
fn renamed(line: &str, rng: &mut Rng) -> String {
    match line.find(':') {
        Some(colon) => format!("{}{}{}", &line[..colon], rng.u16(..), &line[colon..]),
        None => line.to_owned(),
    }
}

#[derive(Clone)]
struct Pair {
    key: Range<usize>,
    value: Range<usize>,
}

/// One `key: value`, its value up to the next sign that may end it.
fn pair(text: &str, rng: &mut Rng) -> Option<Pair> {
    let colons: Vec<usize> = text.match_indices(": ").map(|(at, _)| at).collect();
    let colon = any(&colons, rng)?;
    let before = text[..colon].rfind([' ', '{', ',', '\n', '[']);
    let value = colon + 2;
    // Now and then a whole list or mapping.
    let close = match (text.as_bytes().get(value), rng.bool()) {
        (Some(b'['), true) => text[value..].find(']').map(|at| at + 1),
        (Some(b'{'), true) => text[value..].find('}').map(|at| at + 1),
        _ => text[value..].find([',', '}', ']', '\n']),
    };
    Some(Pair {
        key: before.map_or(0, |at| at + 1)..colon,
        value: value..close.map_or(text.len(), |at| value + at),
    })
}

fn runs(text: &str, belongs: impl Fn(char) -> bool) -> Vec<Range<usize>> {
    let mut runs: Vec<Range<usize>> = vec![];
    for (at, _) in text.char_indices().filter(|(_, c)| belongs(*c)) {
        match runs.last_mut() {
            // All that belongs is one byte long.
            Some(run) if run.end == at => run.end += 1,
            _ => runs.push(at..at + 1),
        }
    }
    runs
}

fn words(text: &str) -> Vec<Range<usize>> {
    runs(text, |c| c.is_ascii_alphanumeric() || c == '-')
}

fn numbers(text: &str) -> Vec<Range<usize>> {
    let mut numbers = runs(text, |c| c.is_ascii_digit() || c == '.');
    numbers.retain(|run| text[run.clone()] != *".");
    numbers
}
