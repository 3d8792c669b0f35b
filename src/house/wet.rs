//! Which cable is made for wet places.

use super::topology::House;
use crate::findings::Lack;
use crate::plan::{Entry, PathwayKind as Kind, Stock};

/// Listings of cable and conductors for wet places: NEC 340.10, 338.10, table 310.4(1); CE Code table 19 (NMWU); from
/// memory.
const WET: &[&str] = &[
    "UF", "UF-B", "USE", "USE-2", "NMWU", "TW", "THW", "THW-2", "THWN", "THWN-2", "XHHW", "XHHW-2",
    "RHW", "RHW-2",
];
/// Listings that exclude wet places: NEC 334.12(B)(4), 320.12; CE Code table 19 (NMD90); from memory. What is called
/// THHN alone is mostly made as THWN, too: of that it is asked.
const DRY: &[&str] = &["NM", "NM-B", "NMD90", "AC", "AC-90", "AC90", "BX"];

impl House<'_> {
    /// Whether a kind of pathway is a wet place: in the open, in the ground, in concrete (NEC article 100, and 300.5
    /// and 300.9 for the inside of raceway there).
    pub fn is_wet(kind: Kind) -> bool {
        matches!(kind, Kind::Outdoors | Kind::Underground | Kind::Slab)
    }

    /// Whether a cable is made for wet places: as stated, else as its listing says.
    ///
    /// # Errors
    /// Neither says it.
    pub fn stands_wet(&self, stock: &Entry<Stock>) -> Result<bool, Lack> {
        if let Some(wet) = stock.wet.value() {
            return Ok(wet.0);
        }
        if stock.wet.is_bad() || stock.rating.is_bad() {
            return Err(Lack::Reported);
        }
        let ratings = || {
            stock
                .rating
                .value()
                .into_iter()
                .flat_map(|list| list.values())
        };
        let says = |words: &[&str]| {
            ratings().any(|text| {
                let mut parts = text.split(|c: char| !c.is_ascii_alphanumeric() && c != '-');
                parts.any(|part| words.iter().any(|word| part.eq_ignore_ascii_case(word)))
            })
        };
        let buried = || {
            ratings().any(|text| {
                let text = text.to_ascii_lowercase();
                text.contains("direct burial") || text.contains("wet location")
            })
        };
        if says(WET) || buried() {
            Ok(true)
        } else if says(DRY) {
            Ok(false)
        } else {
            Err(Lack::absent(format!("wet of {}", stock.id)))
        }
    }
}
