//! Checks the wiring plan of a media room before the walls are closed.
//!
//! The floors, from the ground up; each imports only those below it (DEVELOPERS.md has the table,
//! and a test checks every import against it).

pub mod cli;
pub mod figures;
pub mod findings;
pub mod forms;
pub mod house;
pub mod papers;
pub mod plan;
pub mod review;
pub mod rules;
pub mod schema;
pub mod settings;
pub mod tables;
pub mod units;
pub mod yaml;
