//! How a working is written.

use super::conductor::OneWay;
use crate::units::{Distance, figure3};

/// Terms that are written out before the small ones are summed up.
const SHOWN: usize = 4;

/// `1.59 Ω/1000 ft` beside a length in US units, `5.21 Ω/km` beside a metric one.
pub fn per_length(wire: OneWay, beside: Distance) -> String {
    let per_metre = wire.ohm_per_metre();
    if beside.is_us() {
        format!("{} Ω/1000 ft", figure3(per_metre * 304.8))
    } else {
        format!("{} Ω/km", figure3(per_metre * 1000.0))
    }
}

/// A sum of terms, each with its size and its text. Of more than four, the greatest three stay in
/// their order and the rest are given as one number in `unit`.
pub fn sum<T>(
    terms: &[T],
    size: impl Fn(&T) -> f64,
    text: impl Fn(&T) -> String,
    unit: &str,
) -> String {
    if terms.len() <= SHOWN {
        let texts: Vec<String> = terms.iter().map(text).collect();
        return texts.join(" + ");
    }
    let mut greatest: Vec<usize> = (0..terms.len()).collect();
    greatest.sort_by(|&a, &b| size(&terms[b]).total_cmp(&size(&terms[a])));
    greatest.truncate(SHOWN - 1);
    greatest.sort_unstable();
    let mut texts: Vec<String> = greatest.iter().map(|&index| text(&terms[index])).collect();
    let all: f64 = terms.iter().map(&size).sum();
    let shown: f64 = greatest.iter().map(|&index| size(&terms[index])).sum();
    let others = terms.len() - greatest.len();
    // Rounding can leave the rest of nothing just below it.
    let rest = (all - shown).max(0.0);
    texts.push(format!("{} {unit} in {others} more", figure3(rest)));
    texts.join(" + ")
}

/// ` at 20 °C`, where all conductors are at one temperature; else the range.
pub fn at_temperature(wires: impl Iterator<Item = OneWay> + Clone) -> String {
    let least = wires
        .clone()
        .map(OneWay::celsius)
        .fold(f64::INFINITY, f64::min);
    let most = wires.map(OneWay::celsius).fold(f64::NEG_INFINITY, f64::max);
    if least > most {
        String::new()
    } else if least == most {
        format!(" at {} °C", figure3(least))
    } else {
        format!(" at {} to {} °C", figure3(least), figure3(most))
    }
}
