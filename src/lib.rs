//! Checks the wiring plan of a media room before the walls are closed.
//!
//! The floors, from the ground up; each imports only those below it (DEVELOPERS.md has the table,
//! and a test checks every import against it).

pub mod units;
pub mod yaml;
pub mod findings;
pub mod plan;
pub mod tables;
pub mod figures;
pub mod house;
pub mod rules;
pub mod review;
pub mod forms;
pub mod cli;
