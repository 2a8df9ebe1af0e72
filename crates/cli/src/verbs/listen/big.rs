//! A figure large enough to read from the other end of the wing.

/// The glyph in five rows of three columns.
const fn glyph(c: char) -> [&'static str; 5] {
    match c {
        '0' => ["###", "# #", "# #", "# #", "###"],
        '1' => ["  #", "  #", "  #", "  #", "  #"],
        '2' => ["###", "  #", "###", "#  ", "###"],
        '3' => ["###", "  #", "###", "  #", "###"],
        '4' => ["# #", "# #", "###", "  #", "  #"],
        '5' => ["###", "#  ", "###", "  #", "###"],
        '6' => ["###", "#  ", "###", "# #", "###"],
        '7' => ["###", "  #", "  #", "  #", "  #"],
        '8' => ["###", "# #", "###", "# #", "###"],
        '9' => ["###", "# #", "###", "  #", "###"],
        '-' => ["   ", "   ", "###", "   ", "   "],
        '+' => ["   ", " # ", "###", " # ", "   "],
        '.' => ["   ", "   ", "   ", "   ", " # "],
        _ => ["   ", "   ", "   ", "   ", "   "],
    }
}

/// The characters that figures are drawn with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cells {
    Blocks,
    Ascii,
}

/// The text in large digits: five rows, each cell twice as wide.
pub fn big(text: &str, drawn: Cells) -> String {
    let full = if drawn == Cells::Ascii { "##" } else { "██" };
    let mut rows = vec![String::new(); 5];
    for c in text.chars() {
        for (row, cells) in rows.iter_mut().zip(glyph(c)) {
            row.push_str("  ");
            for cell in cells.chars() {
                row.push_str(if cell == '#' { full } else { "  " });
            }
        }
    }
    rows.join("\n")
}

/// A bar that fills from 0 to 1.
pub fn bar(progress: f32, drawn: Cells) -> String {
    const CELLS: u8 = 30;
    let filled = (0..CELLS).filter(|at| f32::from(*at) < progress * f32::from(CELLS)).count();
    let (full, free) = if drawn == Cells::Ascii { ("#", ".") } else { ("█", "░") };
    format!("{}{}", full.repeat(filled), free.repeat(usize::from(CELLS) - filled))
}

#[cfg(test)]
mod tests {
    use super::{Cells, bar, big};

    #[test]
    fn figures_are_five_rows_of_blocks() {
        let text = big("-1.0", Cells::Ascii);
        assert_eq!(text.lines().count(), 5);
        assert!(text.is_ascii() && text.lines().all(|l| l.chars().count() == 4 * 8));
        assert_ne!(big("2", Cells::Ascii), big("5", Cells::Ascii));
    }

    #[test]
    fn the_bar_fills() {
        assert_eq!(bar(0.0, Cells::Ascii), ".".repeat(30));
        assert_eq!(bar(1.0, Cells::Ascii), "#".repeat(30));
        assert_eq!(bar(0.5, Cells::Ascii), format!("{}{}", "#".repeat(15), ".".repeat(15)));
    }
}
