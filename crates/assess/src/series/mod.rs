//! What many wings of one kind teach: each log is taken in separately ([`Wing`]), the wings are sorted in the order
//! they were built ([`Gathering`]), and the result is one [`Series`].
//!
//! Only like is compared with like: every wing as it was at the end of one stage, and only what is measured, fresh
//! and not in doubt there. What does not count is named.
//!
//! - [`geometry`]: what makes two wings of one kind, and two jigs the same;
//! - `figure`: the values of one wing; `creep`: what each stage did to it; `zeros`: what its instruments showed;
//! - `columns`: the values of all wings by figure; `rows`: each figure over the wings, with control limits ([`numerics::individuals`]) and trend;
//! - `drift`: instruments; [`stiffness`]: what moves did, as a start for advice on the next wing.

mod columns;
mod creep;
mod drift;
mod figure;
mod finish;
mod gather;
pub mod geometry;
mod rows;
pub mod stiffness;
mod summary;
mod view;
mod wing;
mod zeros;

pub use creep::{Moved, StageChange};
pub use figure::{Figure, Lacking};
pub use gather::{Differs, Gathering, OtherWing};
pub use view::{
    Chart, Creep, DriftRow, FailedCheck, FigureRow, FoundAt, LackingAt, LikelyTrend, NotCounted, Outlier,
    Series, States, Unmeasured, WingRow,
};
pub use wing::{NotCountedWhy, Wing, WingLog};
pub use zeros::{Found, FoundKind};

/// Below this probability, shared over all similar tests, something is more than chance.
const ALPHA: f64 = 0.05;
