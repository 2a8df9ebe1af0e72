//! The inspection sheet and the profile plot as PDF and SVG.
//!
//! The input is one value, an [`Assessment`](assess::Assessment), with a [`Stamp`] that says which log it is of and
//! in which [`Form`]. It is laid out once into a drawing of texts, lines and areas in black and white, and the
//! drawing is written as PDF/A-2b. Pictures are drawn by one function for the sheet and for SVG. Nothing here judges:
//! every verdict, number and reason is shown as given. The same assessment and stamp give the same bytes on every
//! machine.
//!
//! A sheet has the fingerprint of its log twice: as text on every page, for people, and in its metadata, where
//! [`mark_of_pdf`] finds it.

mod blank;
mod compare;
mod draw;
mod error;
mod fingerprint;
mod flow;
mod form;
mod page;
mod pdf;
mod plot;
mod sheet;
mod stamp;
mod svg;
mod text;
mod wanted;

pub use blank::blank_pdf;
pub use compare::{compare_pdf, compare_svg};
pub use error::SheetError;
pub use fingerprint::{DocumentKind, Fingerprint, Mark, is_blank_form, is_comparison, mark_of_pdf};
pub use form::{Form, Paper, Size};
pub use plot::{PlotStyle, profile_svg};
pub use sheet::pdf;
#[cfg(feature = "preflight")]
pub use sheet::pdf_1b;
pub use stamp::Stamp;
pub use wanted::{Blank, BlankGroup, BlankRow};
