//! The bench's questions about screws and seats, on the screens where they are asked.

use super::hand::Window;
use super::live;
use super::states::{self, State};
use window::Screen;
use window::model::Model;

/// The questions about screws: after a move that was none of those told, and before a reading that does not agree.
pub fn all(level: &Model, measure: &Model) -> Vec<State> {
    let measured = |foot: &str, mm: f64| bench::Measured {
        foot: foot.to_owned(),
        effect: assess::advice::Effect::at_foot(mm),
        mm,
        u_mm: 0.045,
        turns: Some(mm / 1.5),
        misfit: 0.0,
    };
    let feet = [
        ("root fore foot", 2.83),
        ("root aft foot", -2.83),
        ("root inboard foot", 6.41),
        ("root outboard foot", -6.41),
    ];
    let asked = |model: &Model, question: bench::Question| {
        let mut model = model.clone();
        model.wing.as_mut().unwrap().live.question = Some(question);
        model
    };
    let candidates = || feet.map(|(foot, mm)| measured(foot, mm)).to_vec();
    let which = asked(level, bench::Question::Which { candidates: candidates() });
    let moved = asked(measure, bench::Question::Moved { seq: 96, by: 0.36, candidates: candidates() });
    let touched = asked(level, bench::Question::Touched { start: live::shown(-0.35) });
    let on_level = |w: &mut Window| states::on(w, Screen::Level);
    let state = |name, model: &Model, go| State { name, model: model.clone(), go };
    vec![
        state("which-screw", &which, on_level),
        state("was-moved", &moved, |w| states::on(w, Screen::Measure)),
        state("was-touched", &touched, on_level),
    ]
}
