//! How numbers look in messages.

/// A number as an author would write it: no trailing zeros, no exponent for everyday sizes, at
/// most six decimals.
pub fn plain(number: f64) -> String {
    if number != 0.0 && !(1e-6..1e15).contains(&number.abs()) {
        return format!("{number:e}");
    }
    rounded(number, 6)
}

/// At most so many decimals, without trailing zeros.
fn rounded(number: f64, decimals: u32) -> String {
    // The exact decimals of a number are slow to come by, and hardly ever matter: below 1e12 the
    // product is less than 1e-4 off, so away from the middle between two neighbours it rounds to
    // the same one.
    let shifted = number.abs() * 10f64.powi(decimals.cast_signed());
    if shifted < 1e12 && (shifted.fract() - 0.5).abs() > 1e-3 {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "at least zero and less than 1e12"
        )]
        let mut digits = shifted.round() as u64;
        let mut left = decimals;
        while left > 0 && digits.is_multiple_of(10) {
            digits /= 10;
            left -= 1;
        }
        let sign = if number < 0.0 && digits > 0 { "-" } else { "" };
        let one = 10u64.pow(left);
        return if left == 0 {
            format!("{sign}{digits}")
        } else {
            let places = left as usize;
            format!("{sign}{}.{:0places$}", digits / one, digits % one)
        };
    }
    let text = format!("{number:.*}", decimals as usize);
    let text = if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.')
    } else {
        &text
    };
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
    let decimals = decimals as u32;
    rounded(number, decimals)
}
