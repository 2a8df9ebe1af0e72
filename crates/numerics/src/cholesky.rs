//! Symmetric systems that may leave some unknowns undetermined, by Cholesky's lower triangle.

/// The lower triangle L with L L' = `matrix`. An unknown whose pivot is not above `least`, because those before it leave
/// it undetermined, has a zero there.
pub fn root(matrix: &[Vec<f64>], least: impl Fn(usize) -> f64) -> Vec<Vec<f64>> {
    let n = matrix.len();
    let mut lower = vec![vec![0.0; n]; n];
    for i in 0..n {
        for j in 0..=i {
            let sum: f64 = (0..j).map(|k| lower[i][k] * lower[j][k]).sum();
            let rest = matrix[i][j] - sum;
            if i != j {
                lower[i][j] = if lower[j][j] > 0.0 { rest / lower[j][j] } else { 0.0 };
            } else if rest > least(i) {
                lower[i][i] = rest.sqrt();
            }
        }
    }
    lower
}

/// The unknowns x with L L' x = `right`; an undetermined one is zero.
pub fn solve(lower: &[Vec<f64>], right: &[f64]) -> Vec<f64> {
    let n = right.len();
    let mut x = right.to_vec();
    for i in 0..n {
        let sum: f64 = (0..i).map(|k| lower[i][k] * x[k]).sum();
        x[i] = if lower[i][i] > 0.0 { (x[i] - sum) / lower[i][i] } else { 0.0 };
    }
    for i in (0..n).rev() {
        let sum: f64 = (i + 1..n).map(|k| lower[k][i] * x[k]).sum();
        x[i] = if lower[i][i] > 0.0 { (x[i] - sum) / lower[i][i] } else { 0.0 };
    }
    x
}
