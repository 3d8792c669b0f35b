//! All integration tests, in one binary so that they link once.
mod cli;
mod forms;
mod outside;
mod redline;
mod sheets;
