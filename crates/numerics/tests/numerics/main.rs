//! The tests of `numerics` as one program: linking each file separately took longer than running it.
#![allow(clippy::disallowed_methods, reason = "the C library's functions are a second source")]

mod common;
mod crosscheck;
mod decisions;
mod distributions;
mod double_double;
mod draws;
mod elastic;
mod generalised;
mod individuals;
mod least_squares;
mod lengths;
mod nist_anova;
mod nist_linear;
mod nist_univariate;
mod order;
mod programmes;
mod repeat_studies;
mod rounds;
mod scatter;
mod shaft;
mod simultaneous;
mod straightness;
mod symmetry;
mod tape;
mod torque;
mod travel;
mod trend;
