//! The verdict, readable across a room, with three answers below it.

use crate::draw::{Ink, Pen, Role, Shape};
use crate::flow::{Area, Canvas, Stack, cut, shrunk};
use crate::plot::mark;
use crate::text::Face;
use assess::view::Verdict;

/// One of the three cells below the verdict.
#[derive(Clone, Debug)]
pub(super) struct Answer {
    pub question: &'static str,
    pub answer: String,
    pub more: String,
    /// The chapter that tells more.
    pub see: Option<&'static str>,
}

#[derive(Clone, Debug)]
pub(super) struct Headline {
    /// Black on white in a frame with the met mark; otherwise white on black.
    pub good: bool,
    pub word: String,
    pub question: String,
    pub sentence: String,
    pub more: String,
    pub answers: [Answer; 3],
}

/// Height of the part with the word, and of the part with the answers.
const WORD: f64 = 60.0;
const ANSWERS: f64 = 46.5;
/// The position of the words beside the verdict.
const BESIDE: f64 = 176.0;

impl Headline {
    pub(super) fn put<'a>(self, stack: &mut Stack<'a>) {
        stack.fixed(WORD + ANSWERS + 3.0, move |canvas, area| self.draw(canvas, area));
    }

    fn draw(&self, canvas: &mut Canvas<'_>, area: Area) {
        let top = Area { y: area.y + 1.0, height: WORD, ..area };
        if !self.good {
            canvas.furnish(vec![Shape::rect(top.x, top.y, top.width, WORD, Some(Ink::Black), None)]);
        }
        let white = |shape: Shape| if self.good { shape } else { shape.white() };
        let size = if self.good { 37.0 } else { 44.0 };
        let room = BESIDE - if self.good { 58.0 } else { 26.0 };
        let size = shrunk(canvas.set, size, 14.0, &self.word, room);
        let base = top.y + WORD / 2.0 + size * 0.35;
        let mut x = top.x + 16.0;
        if self.good {
            canvas.mark_said("met", mark(Verdict::Within, top.x + 28.0, top.y + WORD / 2.0, 28.0));
            x = top.x + 51.0;
        }
        let word = Shape::text(x, base, size, Face::SemiBold, self.word.as_str());
        canvas.said(Role::Paragraph, vec![white(word)]);
        let (left, room) = (top.x + BESIDE, top.width - BESIDE - 10.0);
        let line = |y: f64, size: f64, face: Face, text: &str| white(Shape::text(left, y, size, face, text));
        let question = cut(canvas.set, 8.5, Face::Medium, &self.question, room);
        canvas.said(Role::Paragraph, vec![line(top.y + 15.5, 8.5, Face::Medium, &question)]);
        let size = shrunk(canvas.set, 19.0, 11.0, &self.sentence, room);
        let sentence = cut(canvas.set, size, Face::SemiBold, &self.sentence, room);
        canvas.said(
            Role::Heading(2, sentence.clone()),
            vec![line(top.y + 35.5, size, Face::SemiBold, &sentence)],
        );
        let more = cut(canvas.set, 8.5, Face::Medium, &self.more, room);
        canvas.said(Role::Paragraph, vec![line(top.y + 50.5, 8.5, Face::Medium, &more)]);
        let cells = Area { y: top.bottom(), height: ANSWERS, ..area };
        answers(canvas, cells, &self.answers);
        if self.good {
            canvas.furnish(vec![Shape::line(area.x, cells.y, area.right(), cells.y, Pen::HEADING)]);
        }
        let frame = Shape::rect(area.x, top.y, area.width, WORD + ANSWERS, None, Some(Pen::FRAME));
        canvas.furnish(vec![frame]);
    }
}

/// The three answers side by side.
fn answers(canvas: &mut Canvas<'_>, area: Area, answers: &[Answer]) {
    let starts = [9.0, area.width * 0.336, area.width * 0.665];
    for (i, (one, start)) in answers.iter().zip(starts).enumerate() {
        let x = area.x + start;
        let end = starts.get(i + 1).copied().unwrap_or(area.width) - 10.0;
        let room = end - start;
        if i > 0 {
            let (x, top) = (x - 9.0, area.y + 8.0);
            canvas.furnish(vec![Shape::line(x, top, x, area.bottom() - 8.0, Pen::ROW)]);
        }
        let page = one.see.and_then(|chapter| canvas.chapters.get(chapter).copied());
        let more = match page {
            Some(page) if one.more.is_empty() => format!("check it: page {page}"),
            Some(page) => format!("{} · check it: page {page}", one.more),
            None => one.more.clone(),
        };
        let size = shrunk(canvas.set, 13.0, 9.5, &one.answer, room);
        let answer = cut(canvas.set, size, Face::SemiBold, &one.answer, room);
        let more = cut(canvas.set, 8.0, Face::Medium, &more, room);
        canvas.said(Role::Paragraph, vec![Shape::text(x, area.y + 14.0, 8.0, Face::Medium, one.question)]);
        canvas.said(Role::Paragraph, vec![Shape::text(x, area.y + 28.0, size, Face::SemiBold, answer)]);
        canvas.said(Role::Paragraph, vec![Shape::text(x, area.y + 40.0, 8.0, Face::Medium, more)]);
    }
}
