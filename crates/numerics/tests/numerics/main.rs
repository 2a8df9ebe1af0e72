//! The tests of the mathematics in one program: linking each by itself took longer than running it.

mod common;
mod crosscheck;
mod decisions;
mod distributions;
mod double_double;
mod draws;
mod elastic;
mod generalised;
mod known_line;
mod least_squares;
mod nist_anova;
mod nist_linear;
mod nist_univariate;
mod programmes;
mod repeat_studies;
mod rounds;
mod scatter;
mod shaft;
mod simultaneous;
mod straightness;
