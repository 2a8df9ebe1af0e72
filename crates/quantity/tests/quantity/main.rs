//! The tests of the quantities in one program: linking each by itself took longer than running it.

mod nearest;
mod shown;
mod shown_in;
mod typed_properties;
mod typed_refusals;
mod typed_values;
mod visible;
