//! The plots. Every number plotted also stands in a table or a label beside its plot.

pub mod profile;
pub mod series;
pub mod trace;
