//! What a screw or a stock of shims can do, and the instruction for it.

use crate::history::Fold;
use quantity::shown::turns_only;
use quantity::{Kind, Millimetres, Units};
use record::plan::{Adjust, Clockwise, Support, Travel};

/// Finest part of a turn that a hand can set and read: an eighth.
pub const PARTS_OF_A_TURN: f64 = 8.0;
/// If the give or take is at least this many turns, turns are given in quarters.
const MEANT_TURNS: f64 = 0.25;
/// The most steps listed in each direction; a support with finer steps over longer travel is cut there.
const MOST_STEPS: u16 = 4000;
/// Sums of shims are computed in whole ten-thousandths of a millimetre.
const SHIM_UNIT_MM: f64 = 1e-4;
/// Standard uncertainty of a screw's move in turns: set by eye to a sixteenth either way (common practice, no
/// source).
const HAND_TURNS: f64 = 0.036;
/// Standard uncertainty of a shim stack in mm (common practice, no source).
const HAND_SHIMS_MM: f64 = 0.01;
/// Travel may be exceeded by this much, in mm: sums of moves have rounding errors.
const ROUNDING_MM: f64 = 1e-9;

/// The part of a turn in which a move is given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grain {
    /// Eighths, if they are meaningful.
    Eighths,
    Quarters,
}

impl Grain {
    /// The finest meaningful part if the 95 % interval is `give_or_take_mm` either way.
    pub fn of(adjust: &Adjust, give_or_take_mm: f64) -> Self {
        match per_turn(adjust) {
            Some(mm) if give_or_take_mm >= MEANT_TURNS * mm => Self::Quarters,
            _ => Self::Eighths,
        }
    }

    const fn parts(self) -> f64 {
        match self {
            Self::Eighths => PARTS_OF_A_TURN,
            Self::Quarters => 4.0,
        }
    }
}

/// Travel of one turn in mm; `None` unless it is a screw.
pub fn per_turn(adjust: &Adjust) -> Option<f64> {
    match adjust {
        Adjust::Screw { per_turn, .. } => Some(per_turn.value().abs()),
        Adjust::Shims { .. } | Adjust::Fixed => None,
    }
}

/// The smallest amount by which something can be moved, in mm; 0 if it is fixed.
pub fn least(adjust: &Adjust) -> f64 {
    match adjust {
        Adjust::Screw { per_turn, .. } => per_turn.value().abs() / PARTS_OF_A_TURN,
        Adjust::Shims { thicknesses } => {
            let least = thicknesses.iter().map(|t| t.value()).fold(f64::INFINITY, f64::min);
            if least.is_finite() { least } else { 0.0 }
        }
        Adjust::Fixed => 0.0,
    }
}

/// The travel left to a support after moves that add up to `moved_mm` (positive in its direction); neither side is
/// negative.
pub fn travel_left(travel: Travel, moved_mm: f64) -> Travel {
    let left = |v: f64| Millimetres::new(if v.is_finite() { v.max(0.0) } else { 0.0 });
    Travel { minus: left(travel.minus.value() + moved_mm), plus: left(travel.plus.value() - moved_mm) }
}

/// The amounts in mm, ascending, by which something can be moved within its travel; zero is always included.
///
/// Screws move by parts of a turn; shims by every sum of the thicknesses in stock, put in or taken out.
pub fn real_amounts(adjust: &Adjust, travel: Travel, grain: Grain) -> Vec<f64> {
    let (minus_mm, plus_mm) = (travel.minus.value(), travel.plus.value());
    match adjust {
        Adjust::Fixed => vec![0.0],
        Adjust::Screw { per_turn, .. } => {
            let step = per_turn.value().abs() / grain.parts();
            let (down, up) = (whole_steps(minus_mm, step), whole_steps(plus_mm, step));
            (-down..=up).map(|k| f64::from(k) * step).collect()
        }
        Adjust::Shims { thicknesses } => {
            let sums = |travel: f64| {
                let stacks = Stacks::new(thicknesses, travel);
                stacks.reachable().take(usize::from(MOST_STEPS)).collect::<Vec<f64>>()
            };
            let mut all: Vec<f64> = sums(minus_mm).iter().rev().map(|v| -v).collect();
            all.push(0.0);
            all.extend(sums(plus_mm));
            all
        }
    }
}

fn whole_steps(travel: f64, step: f64) -> i32 {
    if !(step > 0.0 && step.is_finite() && travel > 0.0) {
        return 0;
    }
    ((travel + ROUNDING_MM) / step).floor().min(f64::from(MOST_STEPS)) as i32
}

/// The sums of shims possible within a travel, each from the fewest shims.
struct Stacks {
    thicknesses: Vec<usize>,
    /// For each sum in shim units, if it is possible: the shim added last and the number of shims.
    last: Vec<Option<(usize, u32)>>,
}

impl Stacks {
    fn new(thicknesses: &[Millimetres], travel_mm: f64) -> Self {
        let units = |mm: f64| (mm / SHIM_UNIT_MM).round().clamp(0.0, 1_000_000.0) as usize;
        let mut thicknesses: Vec<usize> =
            thicknesses.iter().map(|t| units(t.value())).filter(|t| *t > 0).collect();
        thicknesses.sort_unstable();
        thicknesses.dedup();
        let most = if travel_mm.is_finite() { units(travel_mm) } else { 0 };
        let mut last: Vec<Option<(usize, u32)>> = vec![None; most + 1];
        last[0] = Some((0, 0));
        for sum in 1..=most {
            for &t in thicknesses.iter().rev().filter(|t| **t <= sum) {
                let Some((_, count)) = last[sum - t] else { continue };
                if last[sum].is_none_or(|(_, best)| count + 1 < best) {
                    last[sum] = Some((t, count + 1));
                }
            }
        }
        Self { thicknesses, last }
    }

    /// The sums above zero, ascending, in mm.
    fn reachable(&self) -> impl Iterator<Item = f64> + '_ {
        let made = |n: &usize| self.last[*n].is_some();
        (1..self.last.len()).filter(made).map(mm)
    }

    /// The shims that make up a sum, thickest first; empty if it is impossible.
    fn stack(&self, sum_mm: f64) -> Vec<f64> {
        let mut sum = (sum_mm / SHIM_UNIT_MM).round().max(0.0) as usize;
        let mut stack = Vec::new();
        while let Some(Some((t, count))) = self.last.get(sum) {
            if *count == 0 || !self.thicknesses.contains(t) {
                break;
            }
            stack.push(*t);
            sum -= t;
        }
        stack.sort_unstable_by(|a, b| b.cmp(a));
        stack.into_iter().map(mm).collect()
    }
}

fn mm(units: usize) -> f64 {
    units as f64 / 10_000.0
}

/// Signed turns of a screw for an amount, clockwise positive; `None` unless it is a screw.
pub fn turns(adjust: &Adjust, amount_mm: f64) -> Option<f64> {
    match adjust {
        Adjust::Screw { per_turn, clockwise } => {
            let eighths = (amount_mm / per_turn.value().abs() * PARTS_OF_A_TURN).round();
            let right = if *clockwise == Clockwise::Along { eighths } else { -eighths };
            // Avoid a negative zero in what people and programs read.
            Some(right / PARTS_OF_A_TURN + 0.0)
        }
        Adjust::Shims { .. } | Adjust::Fixed => None,
    }
}

/// The shims of an amount (of its size), thickest first; `None` unless it is moved by shims.
pub fn shims(adjust: &Adjust, amount_mm: f64) -> Option<Vec<f64>> {
    match adjust {
        Adjust::Shims { thicknesses } => {
            Some(Stacks::new(thicknesses, amount_mm.abs()).stack(amount_mm.abs()))
        }
        Adjust::Screw { .. } | Adjust::Fixed => None,
    }
}

/// The instruction: `root front: 3/8 turn clockwise, raises 0.47 mm`. `does` is the effect of the amount (`raises`).
pub fn words(name: &str, adjust: &Adjust, does: &str, amount_mm: f64, units: Units) -> String {
    let scale = units.scale(Kind::Length);
    let size = scale.fixed_with(amount_mm.abs(), 2);
    if let Some(turns) = turns(adjust, amount_mm) {
        let way = if turns < 0.0 { "anticlockwise" } else { "clockwise" };
        let amount = turns_only(turns).unwrap_or_else(|| "no turn".to_owned());
        return format!("{name}: {amount} {way}, {does} {size}");
    }
    let Some(stack) = shims(adjust, amount_mm) else { return format!("{name}: does not move") };
    let list = stack.iter().map(|mm| scale.exact(*mm)).collect::<Vec<_>>().join(" + ");
    let list = scale.with(&list);
    let noun = if stack.len() == 1 { "shim" } else { "shims" };
    let verb = if amount_mm < 0.0 { "take out" } else { "put in" };
    format!("{name}: {verb} {noun} of {list}, {does} {size}")
}

/// How far a support or foot was moved so far, in mm.
pub(crate) fn moved_mm(fold: &Fold<'_>, name: &str) -> f64 {
    fold.moves.iter().filter(|m| m.what.support == name).map(|m| m.what.amount.value()).sum()
}

/// Standard uncertainty of a support's move as set by hand, in mm.
pub fn hand_mm(support: &Support) -> f64 {
    match &support.adjust {
        Adjust::Screw { .. } => HAND_TURNS * per_turn(&support.adjust).unwrap_or(0.0),
        Adjust::Shims { .. } => HAND_SHIMS_MM,
        Adjust::Fixed => 0.0,
    }
}
