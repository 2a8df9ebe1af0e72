//! What the screens show of the bench: its view in the window's own plain terms.

use bench::{Answer, HandsFree, Key, Phase as At, PortView, Question as Asked, Seat, View};
use record::Point;
use record::point::Judgement;
use window::Action;
use window::action::Reply;
use window::model::live::{Levelling, Live, LiveState, Moved, Phase, Question, QuestionAnswer, Turn};
use window::words;

/// From what the bench shows.
pub fn of(view: &View) -> Live {
    let port = match &view.port {
        PortView::None => None,
        PortView::Opening(name) | PortView::Open(name) => Some(name.clone()),
    };
    let opening = matches!(view.port, PortView::Opening(_));
    Live {
        instrument: view.instrument.as_ref().map(|i| i.name.clone()),
        kind: view.instrument.as_ref().map(|i| i.kind),
        step: view
            .live
            .shown()
            .map(|s| s.step)
            .or(view.instrument.as_ref().map(|i| i.resolution))
            .unwrap_or(0.01),
        state: if opening { LiveState::Opening } else { state(view) },
        cross: None,
        hands_free: view.hands_free == HandsFree::On,
        levelling: levelling(view),
        question: view.question.as_ref().and_then(question),
        port,
    }
}

fn state(view: &View) -> LiveState {
    match &view.live {
        bench::Live::None if view.port == PortView::None => LiveState::Off,
        bench::Live::None | bench::Live::Waiting { .. } => LiveState::Opening,
        bench::Live::Moving { shown, .. } => LiveState::Moving { shown: shown.value },
        bench::Live::Settling { shown, progress } => {
            LiveState::Settling { shown: shown.value, share: *progress }
        }
        bench::Live::Settled { shown } => LiveState::Settled { shown: shown.value },
        bench::Live::Taken { shown, .. } => LiveState::Taken { shown: shown.value },
        bench::Live::Lost { for_ms, last } => LiveState::Lost {
            seconds: u32::try_from(for_ms / 1000).unwrap_or(u32::MAX),
            last: last.map(|s| s.value),
        },
        bench::Live::Wrong { here, wanted } => {
            LiveState::Wrong { here: here.clone(), wanted: wanted.clone() }
        }
    }
}

fn levelling(view: &View) -> Option<Levelling> {
    let level = view.level.as_ref()?;
    let seated = view.seat.main_kind().map(|kind| Point::at(kind, &level.post));
    let point = seated.or_else(|| level.tilts.first().map(|p| p.point.clone()))?;
    let place = level.tilts.iter().find(|p| p.point == point);
    let phase = match level.phase {
        At::HoldStill => Phase::HoldStill,
        At::AtRest => Phase::AtRest,
        At::Turning { done_mm, .. } => Phase::Turning { done_mm },
        At::Ended => Phase::Ended,
        At::Lost => Phase::Lost,
    };
    let turn = level.turn.as_ref().map(|t| Turn {
        foot: t.foot.clone(),
        mm: if let At::Turning { to_go_mm, .. } = level.phase { to_go_mm } else { t.mm },
        turns: t.to_go.or(t.turns),
        give_or_take: None,
    });
    let moved = match &view.question {
        Some(Asked::Record { measured, .. }) => {
            Some(Moved { foot: measured.foot.clone(), mm: measured.mm, turns: measured.turns })
        }
        _ => None,
    };
    Some(Levelling {
        post: level.post.clone(),
        point,
        tilt: place.map(|p| p.value),
        zero_out: place.is_some_and(|p| p.zero_out),
        phase,
        start: None,
        turn,
        coarse: level.coarse.clone(),
        reasons: level.reasons.clone(),
        moved,
    })
}

/// What is asked; a measured move has its own button.
fn question(asked: &Asked) -> Option<Question> {
    let answer = |text: &str, reply| QuestionAnswer { text: text.to_owned(), reply };
    let feet = |list: &[bench::Measured]| -> Vec<QuestionAnswer> {
        let one = |(i, m): (usize, &bench::Measured)| {
            answer(&format!("{}, {}", m.foot, words::signed_unit(m.mm, "mm", 1)), Reply::Other(i))
        };
        list.iter().take(3).enumerate().map(one).collect()
    };
    let (title, answers) = match asked {
        Asked::Record { .. } => return None,
        Asked::Which { candidates } => {
            let mut list = feet(candidates);
            list.push(answer("None of these", Reply::No));
            ("Which screw was it?", list)
        }
        Asked::Moved { candidates, .. } => {
            let mut list = feet(candidates);
            list.push(answer("Nothing was moved", Reply::No));
            ("Was something moved?", list)
        }
        Asked::Touched { .. } => (
            "Was the level touched?",
            vec![answer("Yes, begin again", Reply::Yes), answer("No, go on", Reply::No)],
        ),
        Asked::Implausible { .. } => {
            ("Is it so?", vec![answer("No: look again", Reply::No), answer("Yes: record it", Reply::Yes)])
        }
    };
    Some(Question { title: title.to_owned(), words: asked.words(), answers })
}

/// What the bench is told; none for what is not the bench's.
pub fn keys(action: &Action, seat: Seat) -> Option<Vec<Key>> {
    Some(match action {
        Action::Level(Some(post)) => vec![Key::Level(post.clone())],
        Action::Bench(key) => vec![key.clone()],
        Action::Level(None) => vec![Key::LeaveLevel],
        Action::Sit { point, facing } => {
            let arrow = match point.kind().row().judgement {
                Judgement::Level => bench::Arrow::AlongSpan,
                _ => bench::Arrow::ForeAndAft,
            };
            vec![Key::Seat(Seat { arrow, ..seat }), Key::Face(*facing)]
        }
        // What the main key does: it starts a move, or answers with yes that it is to be recorded.
        Action::Start | Action::RecordMove => vec![Key::Main],
        Action::Answer(reply) => vec![Key::Answer(match reply {
            Reply::Yes => Answer::Yes,
            Reply::No => Answer::No,
            Reply::Other(n) => Answer::Other(*n),
        })],
        Action::HandsFree(on) => vec![Key::HandsFree(if *on { HandsFree::On } else { HandsFree::Off })],
        _ => return None,
    })
}
