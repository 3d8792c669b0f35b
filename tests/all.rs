//! All integration tests, in one binary so that they link once.
mod outside;
mod rules;
mod sheets;
