//! The tests of `quantity` as one program: linking each file separately took longer than running it.
#![allow(clippy::disallowed_methods, reason = "the C library's functions are a second source")]

mod nearest;
mod shown;
mod shown_in;
mod typed_properties;
mod typed_refusals;
mod typed_values;
mod visible;
