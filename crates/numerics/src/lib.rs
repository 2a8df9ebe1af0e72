//! Extended-precision least squares, distributions and conic programmes on plain numbers.
//!
//! Nothing here knows a unit, a clock or a file. The same numbers in give the same bytes out on every machine:
//! transcendental functions come from `libm`, random draws from our own seeded generator.
//!
//! | to do this | go to |
//! |---|---|
//! | read a decimal with all its digits, and reckon with 32 of them | [`Dd`] |
//! | fit any columns by least squares | [`lsq`] |
//! | fit a polynomial to values with a known covariance, judge residuals | [`gls`] |
//! | the order of a polynomial by its stations | [`mod@order`] |
//! | scatter beyond a known covariance, and intervals that allow for it | [`scatter`], [`mixture`] |
//! | put several rounds together, test whether they agree | [`rounds`] |
//! | test repeats against a claim; how alike a display rounds | [`repeats`], [`display`] |
//! | a band that holds everywhere at once | [`bands`] |
//! | repeat studies | [`anova`] |
//! | control limits of values in their order; a trend | [`individuals`], [`mod@trend`] |
//! | straightness, level walks, line sag | [`straight`] |
//! | a bay's squareness, lengths at a reference temperature | [`lengths`] |
//! | a wrench with an extension, control travel, left against right | [`rigging`] |
//! | a spar on its supports | [`elastic`] |
//! | a shaft through bushes | [`bores`] |
//! | a symmetric system that may leave unknowns undetermined | [`cholesky`] |
//! | linear and cone programmes | [`conic`] |
//! | decide conformity | [`decide`] |
//! | notice a shift | [`cusum`] |
//! | normal, t, chi-squared, F | [`dist`] |
//! | seeded draws, and what simulated results do | [`rng`], [`simulate`] |

pub mod anova;
pub mod bands;
pub mod bores;
pub mod cholesky;
pub mod conic;
pub mod cusum;
pub mod dd;
pub mod decide;
mod decimal;
pub mod display;
pub mod dist;
pub mod elastic;
pub mod gls;
mod householder;
pub mod individuals;
pub mod lengths;
pub mod lsq;
pub mod mixture;
pub mod order;
pub mod repeats;
pub mod rigging;
pub mod rng;
pub mod rounds;
pub mod scatter;
pub mod simulate;
mod special;
pub mod straight;
pub mod trend;

/// The inner product of two lists; extra entries of the longer one are ignored.
pub fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

pub use dd::Dd;
pub use decimal::NotADecimal;
