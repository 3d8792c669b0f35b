//! Catalogues: other files of `stock:` shared by many plans.

use std::path::{Path, PathBuf};

use super::field::{Entry, Field};
use super::read::Section;
use super::reader::Reader;
use super::record::record;
use super::shape::{Count, Notes, Text};
use super::Stock;
use crate::yaml::{FileId, NodeId, Sources};

/// Where catalogues come from: the disk, or an editor's open files.
pub trait Library {
    /// The text of a file.
    ///
    /// # Errors
    /// A reason in words.
    fn load(&self, path: &Path) -> Result<String, String>;
}

record! {
    /// A catalogue of stock.
    Catalogue, "a catalogue" {
        /// Version of the plan language: 1.
        "nailplate" nailplate: Count<1>,
        /// What the catalogue holds.
        "title" title: Text,
        /// Kinds of cable by name.
        "stock" stock: Section<Stock>,
        /// For people.
        "notes" notes: Notes,
    }
}

/// Loads the catalogues that a plan names into `sources`; those that cannot be read are returned
/// with the node that names them and the reason. A catalogue named twice is read once.
pub(super) fn load(
    sources: &mut Sources,
    file: FileId,
    library: &dyn Library,
) -> (Vec<FileId>, Vec<(NodeId, String)>) {
    let source = sources.file(file);
    let folder = source.path.parent().map(Path::to_owned).unwrap_or_default();
    let mut named: Vec<(NodeId, PathBuf)> = Vec::new();
    if let Some(root) = source.tree.root() {
        for (key, value) in source.tree.entries(root) {
            if source.text_of(key) != "catalogue" {
                continue;
            }
            let items: Vec<_> = if source.tree.is_scalar(value) {
                vec![value]
            } else {
                source.tree.children(value).collect()
            };
            for item in items {
                let name = source.text_of(item);
                let path = folder.join(name);
                if !name.is_empty() && named.iter().all(|(_, known)| *known != path) {
                    named.push((item, path));
                }
            }
        }
    }
    let (mut loaded, mut unread) = (Vec::new(), Vec::new());
    for (node, path) in named {
        match library.load(&path) {
            Err(reason) => unread.push((node, reason)),
            Ok(text) => {
                let (id, result) = sources.add(&path, text);
                match result {
                    Ok(()) => loaded.push(id),
                    Err(broken) => {
                        let at = sources.file(id).position(broken.byte);
                        unread.push((node, format!("{}, line {}, column {}: {}", path.display(), at.line, at.column, broken.reason)));
                    }
                }
            }
        }
    }
    (loaded, unread)
}

/// Reads the stock of one catalogue.
pub(super) fn stock(reader: &mut Reader<'_>) -> Vec<Entry<Stock>> {
    let catalogue: Catalogue = reader.document();
    match catalogue.stock {
        Field::Stated(stated) => stated.value.0,
        _ => Vec::new(),
    }
}
