//! All integration tests, in one binary so that they link once.
mod cli;
mod docs;
mod edits;
mod examples;
mod forms;
mod markdown;
mod outside;
mod punchlist;
mod quantities;
mod reading;
mod redline;
mod rules;
mod sarif;
mod schema;
mod settings;
mod sheets;
mod tidy;
