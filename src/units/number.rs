//! How numbers look in messages.

/// A number as an author would write it: no trailing zeros, no exponent for everyday sizes, at
/// most six decimals.
pub fn plain(number: f64) -> String {
    if number != 0.0 && !(1e-6..1e15).contains(&number.abs()) {
        return format!("{number:e}");
    }
    let text = format!("{number:.6}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".into()
    } else {
        text.into()
    }
}

/// A computed number to three significant figures (four where the first is a 1), never in
/// exponent form for everyday sizes.
pub fn figure3(number: f64) -> String {
    if number == 0.0 || !number.is_finite() {
        return plain(number);
    }
    let magnitude = number.abs().log10().floor();
    let lead = number.abs() / 10f64.powf(magnitude);
    let figures = if lead < 2.0 { 4.0 } else { 3.0 };
    let decimals = (figures - 1.0 - magnitude).clamp(0.0, 9.0);
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "clamped to 0..=9"
    )]
    let text = format!("{number:.*}", decimals as usize);
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').into()
    } else {
        text
    }
}
