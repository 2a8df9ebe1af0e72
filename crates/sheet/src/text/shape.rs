//! From characters to positioned glyphs.

use super::Face;
use harfrust::{
    Direction, Feature, FontRef, Script, ShapeOptions, ShapePlan, ShaperData, Tag, UnicodeBuffer,
};
use read_fonts::TableProvider;
use read_fonts::tables::cmap::CmapSubtable;
use std::collections::HashMap;
use std::ops::Range;
use unicode_bidi::{BidiInfo, Level};

/// Shaping plans made so far, by face, direction and script: making one costs more than using it.
pub(super) type Plans = HashMap<(Face, bool, Option<Script>), ShapePlan>;

/// A parsed face.
pub(super) struct Font {
    file: FontRef<'static>,
    data: ShaperData,
    letters: CmapSubtable<'static>,
}

impl Font {
    /// `None` if it is not a font.
    pub(super) fn of(face: Face) -> Option<Self> {
        let file = FontRef::new(face.bytes()).ok()?;
        let (_, _, letters) = file.cmap().ok()?.best_subtable()?;
        Some(Self { data: ShaperData::new(&file), file, letters })
    }

    pub(super) fn has(&self, c: char) -> bool {
        self.letters.map_codepoint(c).is_some()
    }
}

/// A line of text as glyphs, left to right as on paper.
#[derive(Debug)]
pub(crate) struct Shaped {
    /// Pieces of one direction, left to right.
    pub segments: Vec<Segment>,
    /// Width relative to the size.
    pub width_em: f64,
}

/// Width of a figure's cell relative to the size.
const CELL: f32 = 0.535;

impl Shaped {
    /// Centres every figure in a cell of equal width.
    pub(super) fn in_cells(&mut self) {
        for segment in &mut self.segments {
            for glyph in &mut segment.glyphs {
                let shown = segment.text.get(glyph.bytes.clone()).unwrap_or_default();
                if shown.len() == 1 && shown.bytes().all(|b| b.is_ascii_digit()) {
                    glyph.x += (CELL - glyph.advance) / 2.0;
                    glyph.advance = CELL;
                }
            }
            segment.width_em = segment.glyphs.iter().map(|g| f64::from(g.advance)).sum();
        }
        self.width_em = self.segments.iter().map(|s| s.width_em).sum();
    }
}

/// A piece of one direction in one face.
#[derive(Debug)]
pub(crate) struct Segment {
    pub face: Face,
    pub text: String,
    pub glyphs: Vec<Placed>,
    pub width_em: f64,
}

/// A glyph; lengths relative to the size.
#[derive(Debug)]
pub(crate) struct Placed {
    pub id: u32,
    pub advance: f32,
    pub x: f32,
    pub y: f32,
    /// The bytes of the segment's text that it represents.
    pub bytes: Range<usize>,
}

pub(super) fn shape(font: &Font, face: Face, plans: &mut Plans, text: &str) -> Shaped {
    let segments: Vec<Segment> = directions(text)
        .into_iter()
        .filter_map(|(range, rtl)| Some((text.get(range)?, rtl)))
        .map(|(piece, rtl)| segment(font, face, plans, piece, rtl))
        .collect();
    let width_em = segments.iter().map(|s| s.width_em).sum();
    Shaped { segments, width_em }
}

/// Pieces of one direction in the order in which they are on paper (Unicode Annex 9), for a line that is itself read
/// from left to right.
fn directions(text: &str) -> Vec<(Range<usize>, bool)> {
    if text.chars().all(|c| u32::from(c) < 0x590) {
        return vec![(0..text.len(), false)];
    }
    let info = BidiInfo::new(text, Some(Level::ltr()));
    let mut out = Vec::new();
    for paragraph in &info.paragraphs {
        let (levels, runs) = info.visual_runs(paragraph, paragraph.range.clone());
        for run in runs {
            let rtl = levels.get(run.start).is_some_and(Level::is_rtl);
            out.push((run, rtl));
        }
    }
    out
}

/// Letters are not joined: a fingerprint with joined letters is hard to compare digit by digit. Joins that a script
/// requires (Arabic) are kept.
fn apart() -> [Feature; 2] {
    [b"liga", b"clig"].map(|tag| Feature::new(Tag::new(tag), 0, ..))
}

fn segment(font: &Font, face: Face, plans: &mut Plans, text: &str, rtl: bool) -> Segment {
    let Drawn { drawn, starts } = with_minus(text);
    let shaper = font.data.shaper(&font.file).build();
    let mut buffer = UnicodeBuffer::new();
    buffer.push_str(&drawn);
    buffer.guess_segment_properties();
    let direction = if rtl { Direction::RightToLeft } else { Direction::LeftToRight };
    buffer.set_direction(direction);
    let script = buffer.script();
    let plan = plans.entry((face, rtl, Some(script))).or_insert_with(|| {
        ShapePlan::new(&shaper, direction, Some(script), buffer.language().as_ref(), &apart())
    });
    let output = shaper.shape(buffer, ShapeOptions::new().plan(Some(plan)).features(&apart()));

    let per_em = shaper.units_per_em();
    let mut clusters: Vec<usize> =
        output.glyph_infos().iter().filter_map(|g| usize::try_from(g.cluster).ok()).collect();
    clusters.sort_unstable();
    clusters.dedup();
    let end_of = |start: usize| {
        let next = clusters.partition_point(|c| *c <= start);
        clusters.get(next).copied().unwrap_or(drawn.len())
    };
    let byte = |at: usize| starts.get(at).copied().unwrap_or(text.len());
    let em = |value: i32| {
        #[expect(clippy::cast_precision_loss, reason = "font units are a few thousand")]
        let value = value as f32;
        #[expect(clippy::cast_precision_loss, reason = "font units are a few thousand")]
        let per_em = per_em as f32;
        value / per_em
    };
    let glyphs: Vec<Placed> = output
        .glyph_infos()
        .iter()
        .zip(output.glyph_positions())
        .map(|(info, place)| {
            let start = usize::try_from(info.cluster).unwrap_or(0);
            Placed {
                id: info.glyph_id,
                advance: em(place.x_advance),
                x: em(place.x_offset),
                y: em(place.y_offset),
                bytes: byte(start)..byte(end_of(start)),
            }
        })
        .collect();
    let width_em = glyphs.iter().map(|g| f64::from(g.advance)).sum();
    Segment { face, text: text.to_owned(), glyphs, width_em }
}

/// A text as it is drawn.
pub(crate) struct Drawn {
    pub drawn: String,
    /// For every byte of it the byte of the text it represents, and where the text ends.
    starts: Vec<usize>,
}

/// The text to draw, with a hyphen before a number as a minus sign. The text itself keeps the hyphen, so that a number copied from the
/// sheet is a number.
pub(crate) fn with_minus(text: &str) -> Drawn {
    let mut drawn = String::with_capacity(text.len() + 8);
    let mut starts = Vec::with_capacity(text.len() + 9);
    let mut before = ' ';
    for (at, c) in text.char_indices() {
        let rest = text.get(at + c.len_utf8()..).unwrap_or("");
        let minus = c == '-' && is_minus(before, rest);
        let shown = if minus { '\u{2212}' } else { c };
        drawn.push(shown);
        starts.extend(std::iter::repeat_n(at, shown.len_utf8()));
        before = c;
    }
    starts.push(text.len());
    Drawn { drawn, starts }
}

/// Whether a hyphen between this character and this text is the sign of a number.
fn is_minus(before: char, rest: &str) -> bool {
    matches!(before, ' ' | '(' | '[' | '…') && rest.starts_with(|c: char| c.is_ascii_digit())
}
