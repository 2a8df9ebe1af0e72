//! A person who trues a simulated jig by doing what the real program says.
#![allow(dead_code, reason = "each story uses what it needs of this")]

pub mod port;
pub mod script;
pub mod terminal;
