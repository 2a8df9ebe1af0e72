//! The drawing as PDF/A: tagged, fonts embedded, the log's mark in the metadata.

mod ink;
mod paint;
mod tags;

use crate::draw::{Bookmark, Drawing};
use crate::fingerprint::Mark;
use crate::stamp::Clock;
use crate::text::Typesetter;
use crate::{SheetError, Stamp};
use krilla::configure::{Archival, ConfigurationBuilder};
use krilla::geom::Point;
use krilla::metadata::{DateTime, Metadata};
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::{Document, SerializeSettings};

/// The part of ISO 19005 that the file follows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Standard {
    /// PDF/A-2b, tagged.
    A2b,
    /// PDF/A-1b, for validators that only know the first part; without tags and bookmarks.
    #[cfg(feature = "preflight")]
    A1b,
}

/// The drawing is consumed on the way: a long one and the file made from it together would take twice the memory.
pub(crate) fn write(
    drawing: Drawing,
    set: &Typesetter,
    stamp: &Stamp,
    subject: &str,
    marks: &[Mark],
    standard: Standard,
) -> Result<Vec<u8>, SheetError> {
    let archival = match standard {
        Standard::A2b => Archival::A2_B,
        #[cfg(feature = "preflight")]
        Standard::A1b => Archival::A1_B,
    };
    let configuration = ConfigurationBuilder::new()
        .with_archival_validator(archival)
        .finish()
        .map_err(SheetError::Archival)?;
    let mut document = Document::new_with(SerializeSettings {
        configuration,
        enable_tagging: standard == Standard::A2b,
        ..SerializeSettings::default()
    });
    let fonts = paint::fonts()?;
    let mut ids = tags::Ids::new();
    let Drawing { width, height, pages, root, bookmarks } = drawing;
    for page in pages {
        #[expect(clippy::cast_possible_truncation, reason = "paper sizes")]
        let settings = PageSettings::from_wh(width as f32, height as f32).ok_or(SheetError::NoSize)?;
        let mut open = document.start_page_with(settings);
        let mut surface = open.surface();
        for mark in &page.marks {
            ids.start(mark.leaf, mark.said.as_deref(), &mut surface);
            for shape in mark.shapes.iter().filter(|shape| shape.is_finite()) {
                paint::shape(&mut surface, &fonts, set, shape);
            }
            surface.end_tagged();
        }
        surface.finish();
        open.finish();
    }
    document.set_tag_tree(ids.tree(root));
    if standard == Standard::A2b {
        // The writer refers to the places of an outline instead of writing them out. ISO 32000 allows that, but the
        // validator for the 1b sheet does not follow the reference.
        document.set_outline(outline(&bookmarks));
    }
    document.set_metadata(metadata(set, stamp, subject, marks)?);
    let mut pdf = document.finish().map_err(SheetError::Pdf)?;
    unsuspected(&mut pdf);
    Ok(pdf)
}

/// Removes a key that only states its default, and that a common reader warns about; no byte moves.
fn unsuspected(pdf: &mut [u8]) {
    const KEY: &[u8] = b"/Suspects false";
    let at = pdf.windows(KEY.len()).rposition(|window| window == KEY);
    if let Some(key) = at.and_then(|at| pdf.get_mut(at..at + KEY.len())) {
        key.fill(b' ');
    }
}

fn outline(bookmarks: &[Bookmark]) -> Outline {
    let mut outline = Outline::new();
    for mark in bookmarks {
        #[expect(clippy::cast_possible_truncation, reason = "a place on a page")]
        let place = Point::from_xy(0.0, mark.y as f32);
        let to = krilla::destination::XyzDestination::new(mark.page, place);
        outline.push_child(OutlineNode::new(mark.title.clone(), to));
    }
    outline
}

/// The file's metadata. Texts are made printable first: XML cannot hold every character.
fn metadata(set: &Typesetter, stamp: &Stamp, subject: &str, marks: &[Mark]) -> Result<Metadata, SheetError> {
    let (title, program) = (set.visible(&stamp.title), set.visible(&stamp.program).into_owned());
    let at = Clock::read(&stamp.made_at)?;
    let date = DateTime::new(at.year)
        .month(at.month)
        .day(at.day)
        .hour(at.hour)
        .minute(at.minute)
        .second(at.second)
        .utc_offset_hour(0)
        .utc_offset_minute(0);
    let id: Vec<&str> = marks.iter().map(|m| m.fingerprint.head.as_str()).collect();
    Ok(Metadata::new()
        .title(format!("{title}: {}", set.visible(subject)))
        .keywords(marks.iter().map(Mark::text).collect())
        .creator(program.clone())
        .producer(program)
        .language("en".to_owned())
        .document_id(format!("{title} {}", id.join(" ")))
        .creation_date(date))
}
