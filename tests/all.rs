//! All integration tests, in one binary so that they link once.
mod outside;
mod cli;
mod forms;
mod redline;
