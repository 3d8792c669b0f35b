//! All integration tests, in one binary so that they link once.
mod cli;
mod docs;
mod forms;
mod outside;
mod redline;
mod rules;
mod sheets;
