//! The order of moves: on the way, the wing should never be further out than necessary.

use super::search::Task;
use super::targets::largest_after;

/// Up to this many moves, every order is tried.
const TRIED: usize = 5;
/// Orders whose worst moment differs by less than this are equal; then the moves go from the root outboard.
const ALIKE: f64 = 0.1;

/// Supports of the non-zero moves, in the order to make them: the order with the least bad worst moment; among equal
/// ones, by span. Moves already made are left out. `spans` is where each support is.
pub fn order(task: &Task<'_>, spans: &[f64], moves: &[f64]) -> Vec<usize> {
    let mut natural: Vec<usize> = (0..moves.len()).filter(|i| moves[*i] != task.made[*i]).collect();
    natural.sort_by(|a, b| spans[*a].total_cmp(&spans[*b]).then(a.cmp(b)));
    if natural.len() > TRIED {
        return natural;
    }
    let mut best = (worst_moment(task, &natural, moves), natural.clone());
    permute(&natural, &mut Vec::new(), &mut |order| {
        let worst = worst_moment(task, order, moves);
        if worst < best.0 - ALIKE {
            best = (worst, order.to_vec());
        }
    });
    best.1
}

fn worst_moment(task: &Task<'_>, order: &[usize], moves: &[f64]) -> f64 {
    let mut so_far = task.made.to_vec();
    let mut worst = f64::NEG_INFINITY;
    for i in order {
        so_far[*i] = moves[*i];
        worst = worst.max(largest_after(task.targets, &so_far));
    }
    worst
}

fn permute(rest: &[usize], head: &mut Vec<usize>, each: &mut impl FnMut(&[usize])) {
    if rest.is_empty() {
        each(head);
    }
    for (k, item) in rest.iter().enumerate() {
        head.push(*item);
        let mut left = rest.to_vec();
        left.remove(k);
        permute(&left, head, each);
        head.pop();
    }
}
