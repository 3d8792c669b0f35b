//! Checks the wiring plan of a media room before the walls are closed.
pub mod figures;
pub mod tables;
pub mod units;
pub mod yaml;
pub mod findings;
pub mod plan;
