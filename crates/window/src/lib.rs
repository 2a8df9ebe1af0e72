//! The window of jigtrue: screens and plots on egui alone.
//!
//! Data in, actions out. The program hands a [`Model`] to [`Face::show`] and gets back what the person asked for as
//! [`Action`]s; it does them and hands in the next model. Nothing here opens a file or a port, reads a clock or
//! reaches a verdict: every judgement shown comes from the model's [`assess::Assessment`].

pub mod action;
pub mod draft;
mod draw;
mod face;
pub mod grid;
mod keys;
pub mod model;
mod pages;
mod reads;
mod screens;
pub mod state;
pub mod theme;
pub mod trace;
pub mod words;

pub use action::Action;
pub use face::Face;
pub use model::Model;
pub use screens::Screen;
pub use state::Looks;
