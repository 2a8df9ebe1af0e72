//! Hatching: parallel lines clipped to an area, so that an area can be recognised without colour.

/// Lines rising to the right at 45°, `step` apart, inside the polygon (even-odd). They are on one grid for all areas
/// of a drawing, so that neighbouring areas join.
pub(crate) fn hatch(polygon: &[(f64, f64)], step: f64) -> Vec<[(f64, f64); 2]> {
    // On a line, x + y is constant and x runs along it.
    let sums = polygon.iter().map(|(x, y)| x + y);
    let (low, high) = sums.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), s| (l.min(s), h.max(s)));
    let mut lines = Vec::new();
    if !(low.is_finite() && high.is_finite() && step > 0.0 && (high - low) / step < 5000.0) {
        return lines;
    }
    let mut sum = (low / step).ceil() * step;
    while sum < high {
        let mut crossings: Vec<f64> = edges(polygon).filter_map(|(a, b)| crossing(a, b, sum)).collect();
        crossings.sort_by(f64::total_cmp);
        for pair in crossings.chunks_exact(2) {
            if let [from, to] = *pair
                && to - from > 0.2
            {
                lines.push([(from, sum - from), (to, sum - to)]);
            }
        }
        sum += step;
    }
    lines
}

fn edges(polygon: &[(f64, f64)]) -> impl Iterator<Item = ((f64, f64), (f64, f64))> {
    polygon.iter().copied().zip(polygon.iter().copied().cycle().skip(1))
}

/// Where the edge crosses x + y = sum; an end belongs only to the upper side, so that a corner counts once.
fn crossing(a: (f64, f64), b: (f64, f64), sum: f64) -> Option<f64> {
    let (sa, sb) = (a.0 + a.1 - sum, b.0 + b.1 - sum);
    ((sa < 0.0) != (sb < 0.0)).then(|| a.0 + (b.0 - a.0) * sa / (sa - sb))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_stay_inside_and_cover_the_area() {
        let triangle = [(0.0, 0.0), (100.0, 0.0), (0.0, 100.0)];
        let lines = hatch(&triangle, 5.0);
        assert!(lines.len() >= 19);
        let length: f64 = lines.iter().map(|[a, b]| libm::hypot(b.0 - a.0, b.1 - a.1)).sum();
        // Area is length times the distance between lines, which is 5/√2.
        assert!((length * 5.0 / 2f64.sqrt() - 5000.0).abs() < 300.0, "{length}");
        for [a, b] in lines {
            for (x, y) in [a, b] {
                assert!(x >= -1e-9 && y >= -1e-9 && x + y <= 100.0 + 1e-9);
            }
        }
    }

    #[test]
    fn nothing_to_hatch() {
        assert!(hatch(&[], 4.0).is_empty());
        assert!(hatch(&[(0.0, f64::NAN), (1.0, 1.0), (2.0, 0.0)], 4.0).is_empty());
    }
}
