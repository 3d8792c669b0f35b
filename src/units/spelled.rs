//! Taking a number off the front of a text.

/// Why a text is no quantity.
#[derive(Debug, Clone, PartialEq)]
pub enum Misspelling {
    /// There is no number at the front, or it is not finite.
    NotANumber,
    /// A number alone, where a unit is needed.
    NoUnit { number: f64 },
    /// The unit is not one of the dimension's.
    NoSuchUnit { unit: String },
    /// A magnitude that no house could hold.
    Unthinkable,
}

/// Splits `42 ft` into 42 and `ft`. Takes decimals, exponents, and trade fractions (`1-1/4`,
/// `3/4`, `1 1/4`). `None` when there is no number, or it is not finite.
pub fn split_number(text: &str) -> Option<(f64, &str)> {
    let text = text.trim();
    let (negative, body) = match text.as_bytes().first()? {
        b'-' => (true, &text[1..]),
        b'+' => (false, &text[1..]),
        _ => (false, text),
    };
    let end = decimal_end(body)?;
    let mut number: f64 = body[..end].parse().ok()?;
    let mut rest = &body[end..];
    if let Some((value, after)) = fraction_after(number, &body[..end], rest) {
        number = value;
        rest = after;
    }
    if !number.is_finite() {
        return None;
    }
    // Nothing is written differently below zero: `-0` is 0.
    Some((
        if negative && number != 0.0 {
            -number
        } else {
            number
        },
        rest.trim_start(),
    ))
}

/// Where the decimal number at the front ends. An `e` counts only with digits behind it.
fn decimal_end(text: &str) -> Option<usize> {
    let bytes = text.as_bytes();
    let digits = |from: usize| {
        bytes[from..]
            .iter()
            .take_while(|b| b.is_ascii_digit())
            .count()
    };
    let whole = digits(0);
    let mut end = whole;
    if bytes.get(end) == Some(&b'.') {
        let decimals = digits(end + 1);
        if whole + decimals == 0 {
            return None;
        }
        end += 1 + decimals;
    } else if whole == 0 {
        return None;
    }
    if matches!(bytes.get(end), Some(b'e' | b'E')) {
        let sign = usize::from(matches!(bytes.get(end + 1), Some(b'+' | b'-')));
        let from = end + 1 + sign;
        if from <= bytes.len() {
            let exponent = digits(from);
            if exponent > 0 {
                end = from + exponent;
            }
        }
    }
    Some(end)
}

/// `-1/4` or ` 1/4` after a whole number, or `/4` after a numerator.
fn fraction_after<'t>(whole: f64, written: &str, rest: &'t str) -> Option<(f64, &'t str)> {
    if !written.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    if let Some(after) = rest.strip_prefix('/') {
        let (denominator, after) = whole_number(after)?;
        return (denominator > 0.0).then_some((whole / denominator, after));
    }
    let after = rest.strip_prefix(['-', ' '])?;
    let (numerator, after) = whole_number(after)?;
    let (denominator, after) = whole_number(after.strip_prefix('/')?)?;
    (denominator > 0.0 && numerator < denominator)
        .then_some((whole + numerator / denominator, after))
}

fn whole_number(text: &str) -> Option<(f64, &str)> {
    let end = text.bytes().take_while(u8::is_ascii_digit).count();
    if end == 0 || end > 6 {
        return None;
    }
    Some((text[..end].parse().ok()?, &text[end..]))
}
