//! How an assessment looks at 80 columns.

pub mod advice;
mod change;
pub mod check;
pub mod gate;
mod geometry;
pub mod instrument;
mod judged;
pub mod marks;
pub mod paint;
mod profile;
pub mod series;
mod stations;
mod trust;
pub mod wings;
pub mod wrap;

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Listed {
    /// What stands out.
    #[default]
    Notable,
    All,
}

impl From<bool> for Listed {
    /// As `--all` or `--full` requests.
    fn from(all: bool) -> Self {
        if all { Self::All } else { Self::Notable }
    }
}
