//! Extended-precision least squares, distributions and conic programmes on plain numbers.
//!
//! Nothing here knows a unit, a clock or a file. The same numbers in give the same bytes out on every machine:
//! transcendental functions come from `libm`, random draws from a seeded generator of our own.

pub mod anova;
pub mod bands;
pub mod bores;
pub mod conic;
pub mod cusum;
pub mod dd;
pub mod decide;
mod decimal;
pub mod dist;
pub mod elastic;
pub mod gls;
mod householder;
pub mod line;
pub mod lsq;
pub mod minimax;
pub mod rng;
pub mod simulate;
mod special;
pub mod straight;
pub mod uni;

pub use dd::Dd;
pub use decimal::NotADecimal;
