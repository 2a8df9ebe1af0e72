//! The closest pair of parallel lines around points, by walking the two halves of their convex hull together.

use super::Contact;

/// Indices of `y` in rising order (ties in their original order).
pub(super) fn sorted(y: &[f64]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..y.len()).collect();
    order.sort_by(|a, b| y[*a].total_cmp(&y[*b]));
    order
}

/// What the walk finds.
pub(super) struct Zone {
    pub width: f64,
    pub slope: f64,
    /// Midway between the two lines, at y = 0.
    pub middle: f64,
    /// The points that touch it, with their weights in the width.
    pub contacts: [Contact; 3],
}

/// Buffers for the two halves of the hull, reused between walks.
#[derive(Default)]
pub(super) struct Hull {
    upper: Vec<usize>,
    lower: Vec<usize>,
}

impl Hull {
    /// The minimum zone of points `(y, z)`; `order` is [`sorted`], and there are at least two different `y`.
    pub fn zone(&mut self, y: &[f64], z: &[f64], order: &[usize]) -> Zone {
        half(&mut self.upper, y, z, order, 1.0);
        half(&mut self.lower, y, z, order, -1.0);
        let (upper, lower) = (&self.upper, &self.lower);
        let slope = |a: usize, b: usize| (z[b] - z[a]) / (y[b] - y[a]);
        // As the slope grows, the upper touching point moves left and the lower one moves right. The width falls
        // while the upper point is right of the lower one, so the last step before they pass is best.
        let (mut i, mut j) = (upper.len() - 1, 0);
        loop {
            let above = if i > 0 { slope(upper[i - 1], upper[i]) } else { f64::INFINITY };
            let below = if j + 1 < lower.len() { slope(lower[j], lower[j + 1]) } else { f64::INFINITY };
            if above <= below {
                i -= 1;
                if y[upper[i]] <= y[lower[j]] {
                    return held(y, z, upper[i], upper[i + 1], lower[j], 1.0);
                }
            } else {
                j += 1;
                if y[upper[i]] <= y[lower[j]] {
                    return held(y, z, lower[j - 1], lower[j], upper[i], -1.0);
                }
            }
        }
    }
}

/// One half of the hull, left to right: the upper for `side` 1, the lower for -1.
fn half(out: &mut Vec<usize>, y: &[f64], z: &[f64], order: &[usize], side: f64) {
    out.clear();
    for &c in order {
        if let Some(&last) = out.last()
            && y[last] == y[c]
        {
            if side * (z[c] - z[last]) <= 0.0 {
                continue;
            }
            out.pop();
        }
        while let [.., a, b] = out[..] {
            let turn = (y[b] - y[a]) * (z[c] - z[a]) - (z[b] - z[a]) * (y[c] - y[a]);
            if side * turn < 0.0 {
                break;
            }
            out.pop();
        }
        out.push(c);
    }
}

/// The zone with points `p` and `q` on one line (the upper for `side` 1) and `s` on the other.
fn held(y: &[f64], z: &[f64], p: usize, q: usize, s: usize, side: f64) -> Zone {
    let span = y[q] - y[p];
    let (wp, wq) = ((y[q] - y[s]) / span, (y[s] - y[p]) / span);
    let slope = (z[q] - z[p]) / span;
    let distance = (z[p] - z[s]) * wp + (z[q] - z[s]) * wq;
    Zone {
        width: side * distance,
        slope,
        middle: z[s] - slope * y[s] + 0.5 * distance,
        contacts: [(p, side * wp), (q, side * wq), (s, -side)]
            .map(|(point, weight)| Contact { point, weight }),
    }
}
