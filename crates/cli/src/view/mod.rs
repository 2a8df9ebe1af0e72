//! How an assessment looks at 80 columns.

pub mod advice;
mod change;
pub mod check;
pub mod gate;
mod geometry;
mod judged;
pub mod marks;
pub mod paint;
mod profile;
pub mod series;
mod stations;
mod trust;
pub mod wings;
pub mod wrap;
