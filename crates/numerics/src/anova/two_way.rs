//! Every operator measures every part several times.

use super::{AnovaError, Component, Exact, Source, whole};
use crate::dd::Dd;

/// Crossed two-way analysis with random parts and operators.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TwoWay {
    /// Mean of all values.
    pub mean: f64,
    /// Between parts.
    pub part: Source,
    /// Between operators.
    pub operator: Source,
    /// Part by operator: differences between operators that vary from part to part.
    pub interaction: Source,
    /// Between trials of one operator on one part.
    pub error: Source,
    /// All together.
    pub total: Source,
    /// Variance of one operator repeating one part.
    pub repeatability: Component,
    /// Variance of the interaction.
    pub interaction_component: Component,
    /// Variance between operators.
    pub operator_component: Component,
    /// Variance between parts.
    pub part_component: Component,
}

impl TwoWay {
    /// Variance between operators, interaction included.
    pub fn reproducibility(&self) -> f64 {
        self.operator_component.variance + self.interaction_component.variance
    }

    /// Variance of the measurement as a whole: repeatability and reproducibility.
    pub fn gauge(&self) -> f64 {
        self.repeatability.variance + self.reproducibility()
    }
}

/// Analyses `table[part][operator][trial]`. Every cell has the same number of trials, at least two.
///
/// # Errors
/// See [`AnovaError`].
pub fn two_way(table: &[Vec<Vec<Dd>>]) -> Result<TwoWay, AnovaError> {
    let (parts, operators) = (table.len(), table.first().map_or(0, Vec::len));
    if parts < 2 || operators < 2 {
        return Err(AnovaError::TooFewGroups);
    }
    let trials = table[0][0].len();
    for (part, row) in table.iter().enumerate() {
        if row.len() != operators {
            return Err(AnovaError::Unbalanced { part, operator: row.len().min(operators) });
        }
        if let Some(operator) = row.iter().position(|c| c.len() != trials) {
            return Err(AnovaError::Unbalanced { part, operator });
        }
    }
    if trials < 2 {
        return Err(AnovaError::NoRepeats);
    }
    let cells: Vec<Vec<Dd>> = table.iter().map(|row| row.iter().map(|c| mean(c)).collect()).collect();
    let of_part: Vec<Dd> = cells.iter().map(|row| mean(row)).collect();
    let column = |j: usize| cells.iter().map(|row| row[j]).collect::<Vec<_>>();
    let of_operator: Vec<Dd> = (0..operators).map(|j| mean(&column(j))).collect();
    let all = mean(&of_part);

    let spread = |means: &[Dd]| means.iter().map(|m| (*m - all).square()).sum::<Dd>();
    let (mut interaction, mut error) = (Dd::ZERO, Dd::ZERO);
    for (i, row) in table.iter().enumerate() {
        for (j, cell) in row.iter().enumerate() {
            interaction += (cells[i][j] - of_part[i] - of_operator[j] + all).square();
            error += cell.iter().map(|v| (*v - cells[i][j]).square()).sum();
        }
    }
    let (p, o, r) = (whole(parts), whole(operators), whole(trials));
    let part = Exact { dof: parts - 1, squares: spread(&of_part) * o * r };
    let operator = Exact { dof: operators - 1, squares: spread(&of_operator) * p * r };
    let interaction = Exact { dof: part.dof * operator.dof, squares: interaction * r };
    let error = Exact { dof: parts * operators * (trials - 1), squares: error };
    let total = Exact {
        dof: parts * operators * trials - 1,
        squares: part.squares + operator.squares + interaction.squares + error.squares,
    };
    let component =
        |of: Exact, over: Exact, count: Dd| Component::new(((of.mean() - over.mean()) / count).to_f64());
    Ok(TwoWay {
        mean: all.to_f64(),
        part: part.source(),
        operator: operator.source(),
        interaction: interaction.source(),
        error: error.source(),
        total: total.source(),
        repeatability: Component::new(error.mean().to_f64()),
        interaction_component: component(interaction, error, r),
        operator_component: component(operator, interaction, p * r),
        part_component: component(part, interaction, o * r),
    })
}

fn mean(values: &[Dd]) -> Dd {
    values.iter().copied().sum::<Dd>() / whole(values.len())
}
