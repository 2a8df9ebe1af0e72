//! A question with a few answers, each on a large button.

use super::WordsFor;
use crate::action::Action;
use crate::draw::button::Button;
use crate::draw::text::say;
use crate::screens::{Cx, lines};
use egui::{Align, Rect, Ui};

#[derive(Clone, Debug, PartialEq)]
pub struct Ask {
    pub title: String,
    /// What to know before answering.
    pub words: String,
    pub answers: Vec<Answer>,
    pub enter: Enter,
}

/// What the Enter key answers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Enter {
    /// The last answer: it does what its button names.
    Last,
    /// Nothing: neither answer is the usual one.
    Nothing,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    pub text: String,
    /// What happens if it is chosen.
    pub then: Then,
    /// True if it is one of a list, each in a row of its own; the others stand in the row of buttons.
    pub listed: bool,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Then {
    Nothing,
    Do(Action),
    Type(WordsFor),
}

impl Ask {
    /// A question whose last answer is the usual one.
    pub fn new<const N: usize>(title: &str, words: &str, answers: [(&str, Then); N]) -> Self {
        let answers = answers.map(|(text, then)| Answer::new(text, then)).to_vec();
        Self { title: title.to_owned(), words: words.to_owned(), answers, enter: Enter::Last }
    }

    /// All that there is to read before answering.
    pub fn read(&self) -> Vec<&str> {
        let answers = self.answers.iter().map(|answer| answer.text.as_str());
        [self.title.as_str(), self.words.as_str()].into_iter().chain(answers).collect()
    }
}

impl Answer {
    pub fn new(text: &str, then: Then) -> Self {
        Self { text: text.to_owned(), then, listed: false }
    }

    pub fn one_of(text: &str, then: Then) -> Self {
        Self { listed: true, ..Self::new(text, then) }
    }
}

pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, ask: &Ask) {
    let x = cx.g.whole();
    say(ui, cx.g.title(x), Align::Min, cx.heavy(52.0, 68.0).least(26.0), "title", &ask.title);
    // The question is at the top, where reading begins.
    let middle = cx.g.middle(x);
    let hand = cx.heavy(30.0, 40.0).least(18.0);
    let wide = crate::draw::text::width(ui.painter(), &hand, &ask.words);
    let rows = (wide / middle.width() * 1.1).ceil().clamp(1.0, 9.0);
    let high = (rows * hand.size * 1.3).min(middle.height());
    lines(ui, middle.with_max_y(middle.top() + high), hand, "words", &ask.words, 9);
    let in_row = ask.answers.iter().filter(|answer| !answer.listed).count();
    let mut weights = vec![1.0; in_row];
    if let Some(last) = weights.last_mut() {
        *last = 1.6;
    }
    let mut cells = cx.g.cells(cx.g.buttons(x), cx.g.gap(), &weights).into_iter();
    let mut rows = page_of_list(ui, cx, middle, ask.answers.len() - in_row).into_iter();
    let last = ask.answers.len().saturating_sub(1);
    let page = cx.s.asked_page;
    for (i, answer) in ask.answers.iter().enumerate() {
        let rect = if answer.listed { rows.next().flatten() } else { cells.next() };
        // What is on another page of the list.
        let Some(rect) = rect else { continue };
        let button = Button::new(rect, &answer.text, cx.g.pick(26.0, 34.0));
        let button = if i == last && ask.enter == Enter::Last { button.main() } else { button };
        if button.answering((ask.read(), page)).show(ui) {
            cx.s.close();
            match answer.then.clone() {
                Then::Nothing => {}
                Then::Do(action) => cx.ask(action),
                Then::Type(to) => cx.s.write(to, ""),
            }
            return;
        }
    }
}

/// How many answers of a list there is room for at once.
const LISTED: usize = 8;

/// The place of each answer of a list, `None` for one on another page; more than four stand in two columns. If there
/// is no room for all, the last place turns the page.
fn page_of_list(ui: &Ui, cx: &mut Cx<'_>, middle: Rect, count: usize) -> Vec<Option<Rect>> {
    let columns = if count > 4 { 2 } else { 1 };
    let shown = count.min(LISTED);
    let [left, right] = cx.g.split(middle, cx.g.gap(), [1.0, 1.0]);
    let column = |c: usize| match (columns, c) {
        (1, _) => middle,
        (_, 0) => left,
        _ => right,
    };
    let high = shown.div_ceil(columns);
    let places: Vec<Rect> = (0..columns).flat_map(|c| listed(cx, column(c), high)).take(shown).collect();
    if count <= LISTED {
        return places.into_iter().map(Some).collect();
    }
    let per = LISTED - 1;
    let pages = count.div_ceil(per);
    let page = cx.s.asked_page % pages;
    let second = format!("{} to {} of {count}", page * per + 1, (page * per + per).min(count));
    if let Some(turn) = places.last()
        && Button::new(*turn, "More screws", cx.g.pick(20.0, 28.0)).second(&second).show(ui)
    {
        cx.s.asked_page = (page + 1) % pages;
    }
    let place = |i: usize| (i / per == page).then(|| places.get(i % per).copied()).flatten();
    (0..count).map(place).collect()
}

/// Rows for a list, the last just above the buttons.
fn listed(cx: &Cx<'_>, middle: Rect, count: usize) -> Vec<Rect> {
    let (high, gap) = (if count > 3 { cx.g.pick(48.0, 64.0) } else { cx.g.pick(56.0, 72.0) }, 8.0);
    let top = middle.bottom() - (high + gap) * count as f32;
    let row = |n: usize| {
        let top = top + (high + gap) * n as f32;
        middle.with_min_y(top).with_max_y(top + high)
    };
    (0..count).map(row).collect()
}
