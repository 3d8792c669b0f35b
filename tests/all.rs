//! All integration tests, in one binary so that they link once.
mod cli;
mod edits;
mod forms;
mod outside;
mod quantities;
mod reading;
mod redline;
mod sheets;
mod tidy;
