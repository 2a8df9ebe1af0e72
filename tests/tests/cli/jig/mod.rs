//! A person who trues a simulated jig by doing what the real program says.

pub mod port;
pub mod script;
pub mod terminal;
