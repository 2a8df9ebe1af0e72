//! The sheet as other programs see it. A file name works as a filter.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::disallowed_methods,
    reason = "the tools read files, and a test stops where something is missing"
)]

mod cases;
mod pages;
mod reader;
mod tools;
