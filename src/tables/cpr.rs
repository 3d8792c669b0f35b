//! Reaction to fire of cables in the EU and Great Britain: EN 13501-6 classes and their additional criteria.

use std::sync::LazyLock;

use serde::Deserialize;

use super::read;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Table {
    source: String,
    classes: Vec<String>,
    with_criteria: Vec<String>,
    smoke: Vec<String>,
    droplets: Vec<String>,
    acidity: Vec<String>,
}

static TABLE: LazyLock<Table> =
    LazyLock::new(|| read("cpr", include_str!("../../rules/tables/cpr.yaml")));

/// A class with its criteria, each as its rank in the standard's order: 0 is the best.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Euroclass {
    class: usize,
    smoke: Option<usize>,
    droplets: Option<usize>,
    acidity: Option<usize>,
}

fn rank(order: &[String], word: &str) -> Option<usize> {
    order
        .iter()
        .position(|known| known.eq_ignore_ascii_case(word))
}

impl Euroclass {
    /// Reads `Cca-s1b,d1,a1`, `Eca`. `None` when it is no class, a criterion is unknown or stands twice, or
    /// stands beside a class that has none.
    pub fn parse(text: &str) -> Option<Self> {
        let (class, criteria) = match text.trim().split_once('-') {
            Some((class, criteria)) => (class, Some(criteria)),
            None => (text.trim(), None),
        };
        let mut read = Self {
            class: rank(&TABLE.classes, class.trim())?,
            smoke: None,
            droplets: None,
            acidity: None,
        };
        let Some(criteria) = criteria else {
            return Some(read);
        };
        let name = TABLE.classes.get(read.class)?;
        if !TABLE.with_criteria.contains(name) {
            return None;
        }
        for word in criteria.split(',') {
            read.take(word.trim())?;
        }
        Some(read)
    }

    /// Files one criterion under its kind.
    fn take(&mut self, word: &str) -> Option<()> {
        let kinds = [
            (&TABLE.smoke, &mut self.smoke),
            (&TABLE.droplets, &mut self.droplets),
            (&TABLE.acidity, &mut self.acidity),
        ];
        for (order, slot) in kinds {
            if let Some(rank) = rank(order, word) {
                return slot.replace(rank).is_none().then_some(());
            }
        }
        None
    }
}

/// Whether a cable's class satisfies the one demanded: as good or better in the class and in every criterion
/// that is demanded. `None` when the class is good enough and the cable says nothing of a criterion.
pub fn meets(class: Euroclass, demanded: Euroclass) -> Option<bool> {
    if class.class > demanded.class {
        return Some(false);
    }
    let criteria = [
        (class.smoke, demanded.smoke),
        (class.droplets, demanded.droplets),
        (class.acidity, demanded.acidity),
    ];
    let mut silent = false;
    for (has, wanted) in criteria {
        match (has, wanted) {
            (Some(has), Some(wanted)) if has > wanted => return Some(false),
            (None, Some(_)) => silent = true,
            _ => {}
        }
    }
    (!silent).then_some(true)
}

/// Where the classes come from.
pub fn source() -> &'static str {
    &TABLE.source
}
