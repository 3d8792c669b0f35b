//! Why a text is no YAML, in words for somebody who does not know YAML's own.

use serde_yaml::granit_parser::{ErrorKind, ScanError};

use super::build::MAX_DEPTH;

/// Why a text could not be read at all: it is no YAML, or beyond a limit.
#[derive(Debug, Clone, PartialEq)]
pub struct Broken {
    /// Byte in the text where reading stopped.
    pub byte: usize,
    pub reason: String,
}

impl Broken {
    pub(super) fn of(error: &ScanError, text: &str) -> Self {
        let mut byte = error.marker().byte_offset().unwrap_or(0).min(text.len());
        while !text.is_char_boundary(byte) {
            byte -= 1;
        }
        // The engine stops behind a tab that it does not take.
        if reason_is_tab(error) && text[..byte].ends_with('\t') {
            byte -= 1;
        }
        Self {
            byte,
            reason: reason(error, &text[byte..]),
        }
    }
}

fn reason_is_tab(error: &ScanError) -> bool {
    use ErrorKind as E;
    matches!(
        error.kind(),
        E::TabNotAllowed | E::TabInBlockIndentation | E::TabInIndentation
    )
}

/// The engine's reason in plain words; its own words where it is a rare one.
fn reason(error: &ScanError, rest: &str) -> String {
    use ErrorKind as E;
    match error.kind() {
        E::RecursionLimitExceeded => {
            format!("nested deeper than {MAX_DEPTH} levels, which is the most that is read")
        }
        _ if reason_is_tab(error) => {
            "a tab stands in the indentation; YAML indents with spaces".into()
        }
        E::MappingValueNotAllowed => {
            "a `:` stands where no key can be; put the value in quotes if the `:` belongs to it"
                .into()
        }
        E::SimpleKeyExpected => "a key without its `:`, or a line that belongs to no key".into(),
        E::InvalidSimpleKey => "a key must stand on one line, with its `:` behind it".into(),
        E::UnexpectedCharacter { character } if character.is_control() => {
            let code = u32::from(*character);
            format!("a value cannot start with U+{code:04X}, which shows nothing; take it out")
        }
        E::UnexpectedCharacter { character } => {
            format!("a value cannot start with `{character}`; put the value in quotes")
        }
        E::ExpectedBlockMappingKey | E::InvalidIndentation => {
            "this line's indentation fits no line above it".into()
        }
        E::ExpectedBlockSequenceEntry => {
            "a list goes on with `- `; this line does not, or its indentation fits no line above it"
                .into()
        }
        E::ExpectedFlowMappingSeparator => "a `,` or the closing `}` is missing before this".into(),
        E::ExpectedFlowSequenceSeparator => {
            "a `,` or the closing `]` is missing before this".into()
        }
        E::UnclosedFlowCollection { open } => format!("this `{open}` is never closed"),
        E::MismatchedFlowCollectionEnd { open, close } => {
            format!("`{close}` stands where the `{open}` before it wants its own end")
        }
        E::MisplacedFlowCollectionEnd => {
            let bracket = rest.chars().next().unwrap_or(']');
            format!("this `{bracket}` closes nothing")
        }
        E::UnclosedQuotedScalar => "this quote is never closed".into(),
        E::UnknownQuotedScalarEscape => {
            "no such escape in double quotes; use single quotes to have `\\` as it is".into()
        }
        E::InvalidTrailingSingleQuotedScalar | E::InvalidTrailingDoubleQuotedScalar => {
            "something stands behind the closing quote; a quoted value is quoted as a whole".into()
        }
        E::InvalidQuotedScalarIndent | E::InvalidFlowScalarIndent => {
            "this line must be indented further than the key that it belongs to".into()
        }
        E::InvalidBlockScalarIndent => {
            "this line of the text block is indented less than its first line".into()
        }
        E::CommentNotSeparated => "a comment needs a space before its `#`".into(),
        E::BlockEntryInFlowCollection => {
            "`- ` cannot stand inside braces or brackets; use commas".into()
        }
        E::UndeclaredTagHandle => {
            "a value cannot start with such a `!`; put the value in quotes".into()
        }
        E::MissingAnchorOrAliasName => {
            "`&` and `*` must have a name behind them; put the value in quotes if they belong to it"
                .into()
        }
        _ => error
            .info()
            .lines()
            .next()
            .unwrap_or("this is no YAML")
            .to_owned(),
    }
}
