use super::*;
use crate::Paper;
use crate::flow::{Grid, lay_out};
use crate::text::Typesetter;

/// Figures of any length, with and without decimals, with their ± and alone.
#[test]
fn decimal_marks_are_aligned() {
    let set = Typesetter::new().unwrap();
    let mut stack = Stack::new(&set, 400.0);
    let shown = ["-0.004 ±0.020°", "+11.71 ±0.1°", "0.0 ±1.1 mm", "1111.7 ±0.3"];
    let table = Table::of("", &shown).figures("value", |s| Cell::value(s));
    stack.table(table.figures("alone", |s| Cell::text(s.split(' ').next().unwrap())));
    let drawing = lay_out(stack.into_pieces(), Grid::of(Paper::A4)).draw(&set, |_, _| Vec::new());
    let mut marks: [Vec<f64>; 2] = [Vec::new(), Vec::new()];
    for shape in drawing.pages.iter().flat_map(|p| &p.marks).flat_map(|m| &m.shapes) {
        if let Shape::Text(text) = shape
            && let Some((front, _)) = text.text.split_once('.')
            && !text.text.contains('±')
        {
            let place = text.x + set.width_in_cells(text.face, text.size, front);
            marks[usize::from(text.face == Face::Medium)].push(place);
        }
    }
    for column in marks {
        assert_eq!(column.len(), shown.len());
        let (least, most) = column.iter().fold((f64::MAX, 0.0_f64), |(l, m), p| (l.min(*p), m.max(*p)));
        assert!(most - least < 0.2, "{column:?}");
    }
}
