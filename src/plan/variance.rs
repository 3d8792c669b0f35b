//! `variances:`

use super::Ref;
use super::record::record;
use super::refs::AnyThing;
use super::shape::{List, Notes, Text};
use super::trade::Date;

record! {
    /// A finding knowingly let pass.
    Variance, "a variance" {
        /// The rule.
        "rule" rule: Text,
        /// The thing that the finding is on.
        "on" on: List<Ref<AnyThing>>,
        /// Why it is let pass.
        "reason" reason: Text,
        /// Who lets it pass.
        "by" by: Text,
        /// Until when.
        "until" until: Date,
        /// Reference of the approval by the authority having jurisdiction, for a hazard.
        "approval" approval: Text,
        /// For people.
        "notes" notes: Notes,
    }
}
