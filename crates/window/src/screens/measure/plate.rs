//! The plate: the value as large as it fits, and its state by form. It never shows a verdict.

use crate::draw::figures::Figures;
use crate::draw::shape::{dashed, frame};
use crate::draw::signs::{self, Sign};
use crate::draw::text::{Hand, name, put, row};
use crate::model::Wing;
use crate::screens::Cx;
use crate::words;
use bench::Live;
use egui::{Align, Color32, Rect, Stroke, Ui, pos2};
use quantity::{Kind, Unit};
use record::{Point, What};

#[derive(Clone, Debug, PartialEq)]
pub struct Plate {
    /// The form beside the figures.
    pub sign: Sign,
    pub word: String,
    pub frame: FrameForm,
    /// Figures of full size, or what is shown instead.
    pub body: Body,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FrameForm {
    Thin,
    /// Four points of ink.
    Thick,
    /// Turned over.
    Full,
    Dashed,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Body {
    Figures {
        text: String,
        unit: Option<Unit>,
    },
    /// An old value at half the size, with its time and person.
    Old {
        text: String,
        unit: Option<Unit>,
    },
    /// Words in place of figures, with a small line below.
    Words {
        large: String,
        small: String,
    },
}

impl Body {
    fn words(large: &str, small: impl Into<String>) -> Self {
        Self::Words { large: large.to_owned(), small: small.into() }
    }
}

impl Plate {
    pub fn of(wing: &Wing, cx: &Cx<'_>, point: &Point) -> Self {
        if let Some(t) = &cx.s.measuring.taken {
            let unit = wing.plan.quantity_of(&t.point).map(|kind| words::on_display(&wing.plan, kind).unit());
            let body = Body::Figures { text: t.figures.clone(), unit };
            return Self::new(Sign::Tick, "taken", FrameForm::Full, body);
        }
        let kind = wing.plan.quantity_of(point);
        let other = wing.live.kind().is_some() && wing.live.kind() != kind;
        if other && wing.live.live.shown().is_some() {
            let here = wing.live.instrument_name().unwrap_or("instrument");
            return Self::wrong(&format!("{here} here, {} wanted", kind_wanted(kind)));
        }
        Self::live(wing, kind).unwrap_or_else(|| Self::old(wing, cx, point))
    }

    fn new(sign: Sign, word: impl Into<String>, frame: FrameForm, body: Body) -> Self {
        Self { sign, word: word.into(), frame, body }
    }

    fn wrong(words: &str) -> Self {
        let body = Body::words(words, "nothing is taken from it");
        Self::new(Sign::Barred, "wrong", FrameForm::Dashed, body)
    }

    /// What comes over the port; `None` if no port is open.
    pub fn live(wing: &Wing, kind: Option<Kind>) -> Option<Self> {
        let scale = words::on_display(&wing.plan, kind.or(wing.live.kind()).unwrap_or(Kind::Angle));
        let places = words::step_decimals(scale, wing.live.step());
        let text = |value: f64| words::minus(&scale.fixed(value, places));
        let figures =
            |shown: &bench::Shown| Body::Figures { text: text(shown.value), unit: Some(scale.unit()) };
        let waiting =
            |why: &str| Self::new(Sign::Broken, "opening", FrameForm::Dashed, Body::words("Waiting", why));
        Some(match &wing.live.live {
            Live::None if wing.live.port_name().is_none() => return None,
            // If something came that is not a value, say why.
            Live::Waiting { fault: Some(fault) } => waiting(&format!("no value: {fault}")),
            Live::None | Live::Waiting { .. } => waiting("no value yet"),
            Live::Moving { shown, .. } => {
                Self::new(Sign::Ring(0.0), "moving", FrameForm::Thin, figures(shown))
            }
            Live::Settling { shown, progress } => {
                Self::new(Sign::Ring(*progress), "settling", FrameForm::Thin, figures(shown))
            }
            Live::Settled { shown } => Self::new(Sign::Settled, "settled", FrameForm::Thick, figures(shown)),
            Live::Taken { shown, .. } => Self::new(Sign::Tick, "taken", FrameForm::Thin, figures(shown)),
            Live::Lost { for_ms, last } => {
                let seconds = for_ms / 1000;
                let small = last.map_or(String::new(), |v| {
                    format!("last {}, {seconds} s ago", scale.with(&text(v.value)))
                });
                let body = Body::words("No signal", small);
                Self::new(Sign::Broken, format!("for {seconds} s"), FrameForm::Dashed, body)
            }
            Live::Wrong { here, wanted } => Self::wrong(&format!("{here} here, {wanted} wanted")),
        })
    }

    /// The last reading of the point, if nothing is live.
    fn old(wing: &Wing, cx: &Cx<'_>, point: &Point) -> Self {
        let last = wing.entries.iter().rev().take(5000).find_map(|e| match &e.what {
            What::Reading(r) if r.point == *point && !cx.index().gone.contains(e.seq) => Some((e, r)),
            _ => None,
        });
        let (word, body) = match last {
            Some((entry, r)) => {
                let place = r.point.place();
                let word = format!("{}, {place}{}, {}", words::written(entry), words::faced(r), entry.by);
                let unit = Some(words::on_display(&wing.plan, r.quantity).unit());
                (word, Body::Old { text: words::on_plate(&wing.plan, r), unit })
            }
            None => (String::new(), Body::words("Not measured yet", "no instrument on a port: More, Port")),
        };
        Self::new(Sign::Clock, word, FrameForm::Dashed, body)
    }

    /// What it says, for screen readers.
    pub fn words(&self) -> String {
        let with = |unit: &Option<Unit>| match unit {
            Some(Unit::Degree) => "°".to_owned(),
            Some(unit) => format!(" {}", unit.symbol()),
            None => String::new(),
        };
        match &self.body {
            Body::Figures { text, unit } => format!("{text}{}, {}", with(unit), self.word),
            Body::Old { text, unit } => format!("last reading {text}{}, {}", with(unit), self.word),
            Body::Words { large, small } => format!("{large}. {small}. {}", self.word),
        }
    }

    /// True if figures of full size are shown.
    pub const fn figures(&self) -> bool {
        matches!(self.body, Body::Figures { .. })
    }

    pub fn with_figures(self, text: String, unit: Option<Unit>) -> Self {
        Self { body: Body::Figures { text, unit }, ..self }
    }

    /// The colour of the text within its frame.
    pub const fn ink(&self, cx: &Cx<'_>) -> Color32 {
        match self.frame {
            FrameForm::Full => cx.p.ground,
            _ => cx.p.ink,
        }
    }

    pub fn show(&self, ui: &Ui, cx: &Cx<'_>, rect: Rect) {
        self.frame_only(ui, cx, rect);
        self.fill(ui, cx, rect, self.ink(cx));
        name(ui, rect, "plate", &self.words());
    }

    pub fn frame_only(&self, ui: &Ui, cx: &Cx<'_>, rect: Rect) {
        let (p, painter) = (cx.p, ui.painter());
        match self.frame {
            FrameForm::Thin => frame(painter, rect, p.sheet, Stroke::new(2.0, p.rule)),
            FrameForm::Thick => frame(painter, rect, p.sheet, Stroke::new(4.0, p.ink)),
            FrameForm::Full => frame(painter, rect, p.ink, Stroke::NONE),
            FrameForm::Dashed => dashed(painter, rect.shrink(1.0), Stroke::new(2.0, p.edge)),
        }
    }

    /// Draws what is in the frame, within a rectangle.
    pub fn fill(&self, ui: &Ui, cx: &Cx<'_>, rect: Rect, ink: Color32) {
        let painter = ui.painter();
        let p = cx.p;
        let r = cx.g.pick(40.0, 48.0).min(rect.height() * 0.26);
        let column = cx.g.pick(132.0, 172.0);
        let sign_at = pos2(rect.left() + column / 2.0, rect.top() + rect.height() * 0.43);
        let rest =
            rect.with_min_x(rect.left() + column + 4.0).with_max_x(rect.right() - cx.g.pick(18.0, 26.0));
        let note = Hand::heavy(cx.g.pick(22.0, 28.0), ink).least(15.0);
        let up = cx.g.pick(30.0, 48.0).min(rect.height() * 0.2);
        let below = row(rect.left() + 12.0, rect.left() + column, rect.bottom() - up, 20.0);
        let r = r.min(below.center().y - note.size * 0.5 - sign_at.y);
        match &self.body {
            Body::Figures { text, unit } => {
                signs::draw(painter, &p, sign_at, r, self.sign, ink);
                put(painter, below, Align::Center, note, &self.word);
                figures(ui, cx, rest, text, *unit, ink);
            }
            Body::Old { text, unit: of } => {
                signs::draw(painter, &p, sign_at, r * 0.8, self.sign, p.pale);
                let f = Figures { text, degrees: *of == Some(Unit::Degree), colour: p.pale };
                let size = f.fitting(rest.width() * 0.8, rest.height() * 0.3, cx.g.pick(84.0, 110.0));
                let middle = rect.top() + rect.height() * 0.45;
                let above = row(rest.left(), rest.right(), rect.top() + rect.height() * 0.16, 16.0);
                put(painter, above, Align::Min, cx.note(19.0, 22.0), "last reading");
                let end = f.paint(painter, rest.left(), middle, size);
                unit(ui, cx, end + 8.0, rest.right(), middle, *of, p.pale);
                let foot = row(rest.left(), rest.right(), rect.bottom() - rect.height() * 0.14, 16.0);
                put(painter, foot, Align::Min, cx.note(19.0, 22.0), &self.word);
            }
            Body::Words { large, small } => {
                signs::draw(painter, &p, sign_at, r * 0.85, self.sign, p.ink);
                put(painter, below, Align::Center, Hand { colour: p.pale, ..note }, &self.word);
                let middle = rect.top() + rect.height() * 0.42;
                let size = cx.g.pick(60.0, 84.0);
                let line = row(rest.left(), rest.right(), middle, 40.0);
                put(painter, line, Align::Min, Hand::heavy(size, p.ink).least(30.0), large);
                let foot = row(rest.left(), rest.right(), rect.bottom() - rect.height() * 0.2, 16.0);
                put(painter, foot, Align::Min, cx.note(20.0, 24.0), small);
            }
        }
    }
}

const fn kind_wanted(kind: Option<Kind>) -> &'static str {
    match kind {
        Some(Kind::Angle) => "level",
        Some(Kind::Length) => "caliper or tape",
        Some(Kind::Torque) => "wrench",
        Some(Kind::Temperature) => "thermometer",
        Some(Kind::Force) => "tensiometer",
        None => "another",
    }
}

/// The live figures, sized by the number of cells they need.
fn figures(ui: &Ui, cx: &Cx<'_>, rect: Rect, text: &str, of: Option<Unit>, ink: Color32) {
    let f = Figures { text, degrees: of == Some(Unit::Degree), colour: ink };
    let long = text.chars().filter(char::is_ascii_digit).count() + usize::from(text.starts_with('\u{2212}'));
    let most = match long {
        0..=4 => cx.g.pick(190.0, 232.0),
        5 => cx.g.pick(150.0, 196.0),
        _ => cx.g.pick(132.0, 160.0),
    };
    let grows = 1.0 + cx.g.spare() / cx.g.pick(480.0, 800.0);
    let named = if f.degrees { 0.0 } else { cx.g.pick(80.0, 110.0) };
    let size = f.fitting(rect.width() - named, rect.height() * 0.86, most * grows);
    let wide = f.cells() * size;
    // The right end stays in place while the number of figures at the left changes.
    let left = (rect.right() - named - wide).max(rect.left());
    let centred = rect.left() + (rect.width() - named - wide) / 2.0;
    let end = f.paint(ui.painter(), left.min(centred.max(rect.left())), rect.center().y, size);
    unit(ui, cx, end + 10.0, rect.right(), rect.center().y, of, ink);
}

fn unit(ui: &Ui, cx: &Cx<'_>, left: f32, right: f32, middle: f32, of: Option<Unit>, ink: Color32) {
    if let Some(unit) = of.filter(|u| *u != Unit::Degree) {
        let hand = Hand::heavy(cx.g.pick(34.0, 44.0), ink).least(18.0);
        put(ui.painter(), row(left, right, middle, 20.0), Align::Min, hand, unit.symbol());
    }
}
