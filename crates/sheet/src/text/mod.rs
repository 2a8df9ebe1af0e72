//! Text: which face, how wide, which glyphs.

mod shape;
mod wrap;

pub(crate) use shape::{Shaped, with_minus};
pub(crate) use wrap::wrap;

use crate::SheetError;
use std::borrow::Cow;
use std::cell::RefCell;
use std::collections::{BTreeSet, HashMap};
use std::rc::Rc;

/// The faces: two weights, and one for characters that these lack.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) enum Face {
    Medium,
    SemiBold,
    Rest,
}

impl Face {
    pub(crate) const ALL: [Self; 3] = [Self::Medium, Self::SemiBold, Self::Rest];

    pub(crate) const fn bytes(self) -> &'static [u8] {
        match self {
            Self::Medium => include_bytes!("../../../window/fonts/BarlowSemiCondensed-Medium.ttf"),
            Self::SemiBold => include_bytes!("../../../window/fonts/BarlowSemiCondensed-SemiBold.ttf"),
            Self::Rest => include_bytes!("../../fonts/DejaVuSansCondensed.ttf"),
        }
    }
}

/// One thing for each face.
pub(crate) struct Faces<T>([T; 3]);

impl<T> Faces<T> {
    /// Made by this for each face; an error if one is not a font.
    pub(crate) fn of(make: impl Fn(Face) -> Option<T>) -> Result<Self, SheetError> {
        let [medium, bold, rest] = Face::ALL.map(|face| make(face).ok_or(SheetError::Font));
        Ok(Self([medium?, bold?, rest?]))
    }

    pub(crate) const fn get(&self, face: Face) -> &T {
        let [medium, bold, rest] = &self.0;
        match face {
            Face::Medium => medium,
            Face::SemiBold => bold,
            Face::Rest => rest,
        }
    }
}

type Known = HashMap<String, Rc<Shaped>>;

/// The most texts cached for each face: a table of ten thousand rows would cache hundreds of thousands.
const KEPT: usize = 4096;

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) enum Figures {
    /// As the face draws them.
    AsDrawn,
    InCells,
}

/// Sets text: shapes and measures it once, and notes which characters had to be spelled out.
pub(crate) struct Typesetter {
    fonts: Faces<shape::Font>,
    plans: RefCell<shape::Plans>,
    shaped: RefCell<HashMap<(Face, Figures), Known>>,
    spelled: RefCell<BTreeSet<char>>,
}

impl Typesetter {
    pub(crate) fn new() -> Result<Self, SheetError> {
        Ok(Self {
            fonts: Faces::of(shape::Font::of)?,
            plans: RefCell::default(),
            shaped: RefCell::default(),
            spelled: RefCell::default(),
        })
    }

    fn has(&self, face: Face, c: char) -> bool {
        self.fonts.get(face).has(c)
    }

    /// The text as it can be printed; see [`quantity::shown::visible`].
    pub(crate) fn visible<'a>(&self, text: &'a str) -> Cow<'a, str> {
        quantity::shown::visible(
            text,
            |c| self.has(Face::Medium, c) || self.has(Face::Rest, c),
            |c| {
                self.spelled.borrow_mut().insert(c);
            },
        )
    }

    pub(crate) fn spelled(&self) -> BTreeSet<char> {
        self.spelled.borrow().clone()
    }

    /// The face in which a text is set: the fallback if this one lacks a character.
    pub(crate) fn face_for(&self, face: Face, text: &str) -> Face {
        if text.chars().all(|c| self.has(face, c)) { face } else { Face::Rest }
    }

    /// Glyphs and width of a printable text, with its figures in cells of equal width if requested. Characters that a
    /// face lacks are set in the fallback.
    pub(crate) fn shape(&self, face: Face, figures: Figures, text: &str) -> Rc<Shaped> {
        if let Some(done) = self.shaped.borrow().get(&(face, figures)).and_then(|known| known.get(text)) {
            return Rc::clone(done);
        }
        let used = self.face_for(face, text);
        let mut shaped = shape::shape(self.fonts.get(used), used, &mut self.plans.borrow_mut(), text);
        if figures == Figures::InCells {
            shaped.in_cells();
        }
        let shaped = Rc::new(shaped);
        let mut all = self.shaped.borrow_mut();
        let known = all.entry((face, figures)).or_default();
        if known.len() >= KEPT {
            known.clear();
        }
        known.insert(text.to_owned(), Rc::clone(&shaped));
        shaped
    }

    /// Width of a printable text in points.
    pub(crate) fn width(&self, face: Face, size: f64, text: &str) -> f64 {
        self.shape(face, Figures::AsDrawn, text).width_em * size
    }

    pub(crate) fn width_in_cells(&self, face: Face, size: f64, text: &str) -> f64 {
        self.shape(face, Figures::InCells, text).width_em * size
    }
}

#[cfg(test)]
mod tests;
