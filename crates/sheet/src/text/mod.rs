//! Text: which face, how wide, which glyphs.

mod shape;
mod visible;
mod wrap;

pub(crate) use shape::{Shaped, is_minus};
pub(crate) use wrap::wrap;

use crate::SheetError;
use rustybuzz::ttf_parser;
use std::borrow::Cow;
use std::cell::RefCell;
use std::collections::{BTreeSet, HashMap};
use std::rc::Rc;

/// The two weights.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) enum Face {
    Book,
    Bold,
}

impl Face {
    /// The font file.
    pub(crate) const fn bytes(self) -> &'static [u8] {
        match self {
            Self::Book => include_bytes!("../../fonts/DejaVuSansCondensed.ttf"),
            Self::Bold => include_bytes!("../../fonts/DejaVuSansCondensed-Bold.ttf"),
        }
    }
}

/// Sets text: shapes and measures it once, and remembers which characters had to be spelled out.
pub(crate) struct Typesetter {
    book: rustybuzz::Face<'static>,
    bold: rustybuzz::Face<'static>,
    plans: RefCell<shape::Plans>,
    shaped: RefCell<HashMap<Face, HashMap<String, Rc<Shaped>>>>,
    spelled: RefCell<BTreeSet<char>>,
}

impl Typesetter {
    pub(crate) fn new() -> Result<Self, SheetError> {
        let face = |face: Face| rustybuzz::Face::from_slice(face.bytes(), 0).ok_or(SheetError::Font);
        Ok(Self {
            book: face(Face::Book)?,
            bold: face(Face::Bold)?,
            plans: RefCell::default(),
            shaped: RefCell::default(),
            spelled: RefCell::default(),
        })
    }

    fn font(&self, face: Face) -> &rustybuzz::Face<'static> {
        match face {
            Face::Book => &self.book,
            Face::Bold => &self.bold,
        }
    }

    /// The text as it can be printed; see [`visible::visible`].
    pub(crate) fn visible<'a>(&self, text: &'a str) -> Cow<'a, str> {
        let font: &ttf_parser::Face<'static> = &self.book;
        visible::visible(
            text,
            |c| font.glyph_index(c).is_some(),
            |c| {
                self.spelled.borrow_mut().insert(c);
            },
        )
    }

    /// Characters that were spelled out so far.
    pub(crate) fn spelled(&self) -> BTreeSet<char> {
        self.spelled.borrow().clone()
    }

    /// Glyphs and width of a printable text. What the bold face lacks is set in the book face.
    pub(crate) fn shape(&self, face: Face, text: &str) -> Rc<Shaped> {
        if let Some(done) = self.shaped.borrow().get(&face).and_then(|known| known.get(text)) {
            return Rc::clone(done);
        }
        let font: &ttf_parser::Face<'static> = self.font(face);
        let used = if text.chars().all(|c| font.glyph_index(c).is_some()) { face } else { Face::Book };
        let shaped = Rc::new(shape::shape(self.font(used), used, &mut self.plans.borrow_mut(), text));
        self.shaped.borrow_mut().entry(face).or_default().insert(text.to_owned(), Rc::clone(&shaped));
        shaped
    }

    /// Width of a printable text in points.
    pub(crate) fn width(&self, face: Face, size: f64, text: &str) -> f64 {
        self.shape(face, text).width_em * size
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_have_one_width_and_the_minus_is_a_minus() {
        let set = Typesetter::new().unwrap();
        for face in [Face::Book, Face::Bold] {
            let one = set.width(face, 10.0, "1");
            for digit in "0123456789".chars() {
                assert!((set.width(face, 10.0, &digit.to_string()) - one).abs() < 1e-9);
            }
            assert!(
                set.width(face, 10.0, "-1") > set.width(face, 10.0, "-a") - set.width(face, 10.0, "a") + one
            );
        }
    }

    #[test]
    fn letters_are_not_joined() {
        let set = Typesetter::new().unwrap();
        for face in [Face::Book, Face::Bold] {
            for text in ["2ff4", "profile", "office"] {
                assert_eq!(set.shape(face, text).segments[0].glyphs.len(), text.len(), "{text}");
            }
        }
    }

    #[test]
    fn bold_borrows_from_book_what_it_lacks() {
        let set = Typesetter::new().unwrap();
        let georgian = set.shape(Face::Bold, "ქარი");
        assert_eq!(georgian.segments.len(), 1);
        assert_eq!(georgian.segments[0].face, Face::Book);
        assert!(georgian.segments[0].glyphs.iter().all(|g| g.id != 0));
        assert_eq!(set.shape(Face::Bold, "wing").segments[0].face, Face::Bold);
    }

    #[test]
    fn a_name_written_from_right_to_left_keeps_its_place_in_the_line() {
        let set = Typesetter::new().unwrap();
        let mixed = set.shape(Face::Book, "by ابجد, 4");
        let read: Vec<&str> = mixed.segments.iter().map(|s| s.text.as_str()).collect();
        assert_eq!(read.concat().chars().count(), 10);
        assert_eq!(read.first(), Some(&"by "));
        assert!(mixed.segments.iter().all(|s| s.glyphs.iter().all(|g| g.id != 0)));
    }
}
