//! How a file of letters starts and ends: its policy and its style.

use std::io::{Result, Write};
use std::sync::LazyLock;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use maud::{DOCTYPE, PreEscaped, html};
use sha2::{Digest, Sha256};

/// Colours of the levels follow the safety signs of ISO 3864 and ANSI Z535 (from memory), and never stand
/// without the level's word.
const STYLE: &str = include_str!("letter.css");

/// Nothing is loaded and nothing runs; of styles only our own.
static POLICY: LazyLock<String> = LazyLock::new(|| {
    let digest = STANDARD.encode(Sha256::digest(STYLE));
    format!("default-src 'none'; style-src 'sha256-{digest}'; base-uri 'none'; form-action 'none'")
});

/// # Errors
/// Those of the writer.
pub fn start(title: &str, out: &mut dyn Write) -> Result<()> {
    let head = html! {
        (DOCTYPE)
        (PreEscaped("<html lang=\"en\">"))
        head {
            meta charset="utf-8";
            meta http-equiv="Content-Security-Policy" content=(*POLICY);
            meta name="viewport" content="width=device-width, initial-scale=1";
            meta name="color-scheme" content="light dark";
            meta name="generator" content={ "nailplate " (env!("CARGO_PKG_VERSION")) };
            title { (title) }
            style { (PreEscaped(STYLE)) }
        }
        (PreEscaped("<body>"))
    };
    super::put(head, out)
}

/// # Errors
/// Those of the writer.
pub fn end(out: &mut dyn Write) -> Result<()> {
    out.write_all(b"</body></html>\n")
}
