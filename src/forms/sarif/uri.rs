//! Paths as URI references (RFC 3986).

use std::path::{Component, Path};

use percent_encoding::{AsciiSet, NON_ALPHANUMERIC, percent_encode};

/// Everything but the unreserved characters of RFC 3986, 2.3.
const RESERVED: &AsciiSet = &NON_ALPHANUMERIC
    .remove(b'-')
    .remove(b'.')
    .remove(b'_')
    .remove(b'~');

/// A path as a URI reference.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reference {
    pub uri: String,
    /// Relative to the folder in which the program was run.
    pub relative: bool,
}

/// A relative path stays relative; one that was named from the root becomes a `file:` URI. Dots are
/// resolved by the letter, as every reader of a URI does. Bytes that are no UTF-8 are encoded as
/// they are.
pub fn of(path: &Path) -> Reference {
    let encoded = |bytes: &[u8]| percent_encode(bytes, RESERVED).to_string();
    let mut root = None;
    let mut steps: Vec<String> = Vec::new();
    for component in path.components() {
        match component {
            Component::Prefix(drive) => {
                let drive = drive.as_os_str().to_string_lossy().replace('\\', "/");
                root = Some(match drive.strip_prefix("//") {
                    // A share of another machine.
                    Some(share) => share.to_owned(),
                    None => format!("/{drive}"),
                });
            }
            Component::RootDir => {
                root.get_or_insert_default();
            }
            Component::CurDir => {}
            Component::ParentDir => match steps.last() {
                Some(last) if last != ".." => {
                    steps.pop();
                }
                _ if root.is_some() => {}
                _ => steps.push("..".to_owned()),
            },
            Component::Normal(name) => steps.push(encoded(name.as_encoded_bytes())),
        }
    }
    let steps = steps.join("/");
    match root {
        Some(root) => Reference {
            uri: format!("file://{root}/{steps}"),
            relative: false,
        },
        None => Reference {
            uri: if steps.is_empty() { ".".into() } else { steps },
            relative: true,
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paths_become_references() {
        for (path, uri) in [
            ("a.plan.yaml", "a.plan.yaml"),
            ("./plans/a.plan.yaml", "plans/a.plan.yaml"),
            ("plans/x/../../stock.yaml", "stock.yaml"),
            ("../../stock.yaml", "../../stock.yaml"),
            (
                "Haus am See/Küche #2 50%.plan.yaml",
                "Haus%20am%20See/K%C3%BCche%20%232%2050%25.plan.yaml",
            ),
            // No scheme, no query, no host.
            ("c:a?b.yaml", "c%3Aa%3Fb.yaml"),
            ("<stdin>", "%3Cstdin%3E"),
        ] {
            let relative = true;
            let uri = uri.to_owned();
            assert_eq!(of(Path::new(path)), Reference { uri, relative }, "{path}");
        }
    }

    #[test]
    #[cfg(unix)]
    fn paths_from_the_root_become_file_uris() {
        use std::ffi::OsStr;
        use std::os::unix::ffi::OsStrExt;
        let from_root = of(Path::new("/srv/../home/a b/c.yaml"));
        assert_eq!(from_root.uri, "file:///home/a%20b/c.yaml");
        assert!(!from_root.relative);
        let twice = of(Path::new("//host/c.yaml"));
        assert_eq!(twice.uri, "file:///host/c.yaml");
        let latin = of(Path::new(OsStr::from_bytes(b"Kr\xfcger.yaml")));
        assert_eq!(latin.uri, "Kr%FCger.yaml");
    }
}
