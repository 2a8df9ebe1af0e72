//! What must hold on every screen and every page over one: keys that are not commands, Escape, Tab, Undo of every
//! kind, a read-only log, a lost port, long names.

use crate::common::hand::{self, ctrl, entries, is_on, press, said, says, small, tap, tap_text, types};
use crate::common::states::{self, State};
use crate::common::{Bench, live};
use egui::{Key, Modifiers};
use egui_kittest::kittest::NodeT as _;
use record::{OpenAction, What};
use session::demo::{CASES, Case};
use window::model::Person;
use window::{Action, Screen};

/// The states in which something lies over a screen, and the screens themselves.
fn with_a_log() -> Vec<State> {
    states::all().into_iter().filter(|s| s.model.wing.is_some()).collect()
}

fn writes(action: &Action) -> bool {
    matches!(
        action,
        Action::Take { .. }
            | Action::TakeLive { .. }
            | Action::Withdraw { .. }
            | Action::BeginStage(_)
            | Action::BeginAnyway { .. }
            | Action::Move { .. }
            | Action::Rework { .. }
            | Action::TakeUp { .. }
            | Action::OpenItem { .. }
            | Action::Sign { .. }
            | Action::Note(_)
            | Action::Import(_)
            | Action::MakeKey(_)
    )
}

fn brought(state: &State) -> hand::Window {
    let mut w = small(Bench::showing(&state.model));
    (state.go)(&mut w);
    w.run_steps(2);
    w.state_mut().asked.clear();
    w
}

/// Letters, Space, Backspace, arrows and Page keys ask for nothing, whatever is open, and leave it open.
#[test]
fn no_letter_and_no_key_that_moves_writes_anything_whatever_is_open() {
    for state in with_a_log() {
        // Space may take a settled value that is shown.
        let shown = state.name.starts_with("measure") || state.name.starts_with("level");
        let mut w = brought(&state);
        for text in ["q", "s", "r", "h", "n", "t", "y", "x"] {
            types(&mut w, text);
        }
        if !shown {
            press(&mut w, Key::Space);
        }
        for key in [
            Key::Backspace,
            Key::ArrowDown,
            Key::ArrowLeft,
            Key::PageDown,
            Key::PageUp,
            Key::Home,
            Key::End,
            Key::Delete,
        ] {
            press(&mut w, key);
        }
        let wrote: Vec<&Action> = w.state().asked.iter().filter(|a| writes(a)).collect();
        assert!(wrote.is_empty(), "{}: {wrote:?}", state.name);
    }
}

/// Escape goes back and changes nothing, from whatever is open.
#[test]
fn escape_changes_nothing_whatever_is_open() {
    for state in with_a_log() {
        let mut w = brought(&state);
        let deep = w.state().face.asks();
        press(&mut w, Key::Escape);
        let wrote: Vec<&Action> = w.state().asked.iter().filter(|a| writes(a)).collect();
        assert!(wrote.is_empty(), "{}: {wrote:?}", state.name);
        assert!(!(deep && w.state().face.asks()), "{}: the page stays", state.name);
    }
}

/// Tab goes through what is on the screen and nothing else, and returns to the start.
#[test]
fn tab_stays_on_what_is_shown() {
    let screen = egui::Rect::from_min_size(egui::pos2(0.0, 0.0), egui::vec2(800.0, 480.0)).expand(1.0);
    for state in states::all() {
        let mut w = brought(&state);
        let mut seen = Vec::new();
        for _ in 0..60 {
            press(&mut w, Key::Tab);
            let focused = w.root().children_recursive().find(|n| n.is_focused()).map(|n| n.rect());
            let Some(rect) = focused else { continue };
            assert!(screen.contains_rect(rect), "{}: {rect:?} has the focus", state.name);
            seen.push((rect.left() as i32, rect.top() as i32));
        }
        let on = hand::buttons(&w).into_iter().filter(|b| b.2).count();
        seen.sort_unstable();
        seen.dedup();
        assert!(seen.len() >= on.min(10), "{}: Tab reaches {} of {on}", state.name, seen.len());
        let wrote: Vec<&Action> = w.state().asked.iter().filter(|a| writes(a)).collect();
        assert!(wrote.is_empty(), "{}: {wrote:?}", state.name);
    }
}

/// What Undo names, and what happened.
type Happened = (&'static str, fn(&mut session::Session));

/// One's own last entry of every kind is named on the button and can be undone; another person's cannot.
#[test]
fn undo_is_for_ones_own_last_entry_of_every_kind_that_can_be_withdrawn() {
    let kinds: [Happened; 7] = [
        ("Undo S7 forward", |s| drop(s.take(take("incidence@S7")).unwrap())),
        ("Undo move of", |s| {
            drop(s.record_move(&session::TypedMove::new("tip rear", "1/2 turn clockwise")).unwrap());
        }),
        ("Undo rework, drilled", |s| drop(s.rework(&["incidence@S4".to_owned()], "drilled").unwrap())),
        ("Undo the note", |s| drop(s.note("cold").unwrap())),
        ("Undo open item", |s| drop(s.open_item("a rivet", OpenAction::Opened, None).unwrap())),
        ("Undo stage rear spar on", |s| {
            drop(s.stage(&session::BeginStage::anyway("rear spar on", "as the job went")).unwrap());
        }),
        ("Undo instrument", |s| {
            let mut again = s.instruments().into_values().next().unwrap();
            again.name = "another level".to_owned();
            drop(s.add_instrument(again).unwrap());
        }),
    ];
    for (named, happens) in kinds {
        let mut bench = Bench::case("two-post", |s| s.action == "take" && s.what.starts_with("incidence@S7"));
        bench.does(happens);
        let mut w = small(bench);
        let before = entries(&w);
        // Another person may not undo it.
        w.state_mut().model.who = Person { name: "Oke".to_owned(), ..Person::default() };
        w.run_steps(2);
        ctrl(&mut w, Key::Z);
        assert!(!said(&w).contains(named), "{named} is offered to another person");
        press(&mut w, Key::Escape);
        w.state_mut().model.who = Person { name: "Tam".to_owned(), ..Person::default() };
        w.run_steps(2);
        for screen in [Screen::Gate, Screen::Measure] {
            w.state_mut().face.go(screen);
            w.run_steps(2);
            ctrl(&mut w, Key::Z);
            says(&w, named);
            press(&mut w, Key::Escape);
        }
        ctrl(&mut w, Key::Z);
        tap(&mut w, "knocked the jig");
        tap(&mut w, "Undo it");
        if said(&w).contains("taken back?") {
            tap(&mut w, "Done");
        }
        assert_eq!(entries(&w), before + 1, "{named}: {}", said(&w));
        let last = w.state().wing().entries.last().unwrap().clone();
        assert!(
            matches!(&last.what, What::Withdrawn { reason, .. } if reason == "knocked the jig"),
            "{last:?}"
        );
        // And that was the last of one's own.
        ctrl(&mut w, Key::Z);
        assert!(!said(&w).contains(named), "{named} twice: {}", said(&w));
    }
}

fn take(point: &str) -> session::Take {
    session::Take {
        point: point.to_owned(),
        text: "0.7".to_owned(),
        facing: Some(record::Facing::Forward),
        ..session::Take::default()
    }
}

/// With a read-only log nothing asks to write, whatever is tapped.
#[test]
fn a_log_for_reading_only_is_never_asked_to_be_written() {
    for name in ["two-post", "rigged"] {
        let mut bench = Bench::whole(name);
        bench.settled(0.1);
        bench.model.wing.as_mut().unwrap().read_only = true;
        let mut w = small(Bench::showing(&bench.model));
        for screen in Screen::ALL {
            let mut at = 0;
            loop {
                *w.state_mut() = Bench::showing(&bench.model);
                w.run_steps(3);
                w.state_mut().face.go(screen);
                w.run_steps(3);
                let all: Vec<String> = hand::buttons(&w).into_iter().filter(|b| b.2).map(|b| b.0).collect();
                let Some(button) = all.get(at) else { break };
                at += 1;
                tap(&mut w, button);
                // What a page then offers first, too.
                press(&mut w, Key::Enter);
                let wrote: Vec<&Action> = w.state().asked.iter().filter(|a| writes(a)).collect();
                assert!(wrote.is_empty(), "{name}, `{button}` on {screen:?}: {wrote:?}");
            }
        }
    }
}

/// A lost port is shown on every screen, and no screen shows figures of full size.
#[test]
fn a_lost_port_is_told_on_every_screen() {
    let mut bench = Bench::whole("two-post");
    for (state, words) in [(live::lost(8, -0.47), "o signal"), (live::wrong(), "rong")] {
        bench.live(state);
        for screen in Screen::ALL {
            let mut w = small(Bench::showing(&bench.model));
            w.state_mut().face.go(screen);
            w.run_steps(3);
            let all = said(&w);
            assert!(all.contains(words), "on {screen:?}:\n{all}");
            assert!(!is_on(&w, "Take") && !is_on(&w, "Turn with the level"), "on {screen:?}");
        }
    }
}

/// News that something went well is shown where it was done and goes with the screen; an error stays until it is
/// dealt with.
#[test]
fn a_notice_does_not_outlive_its_cause() {
    let mut w = small(Bench::whole("two-post"));
    w.state_mut().face.go(Screen::Gate);
    w.state_mut().model.notice =
        Some(window::model::Notice { wrong: false, words: "The sheet was written.".to_owned() });
    w.run_steps(3);
    says(&w, "The sheet was written.");
    w.state_mut().face.go(Screen::Measure);
    w.run_steps(3);
    w.state_mut().face.go(Screen::Gate);
    w.run_steps(3);
    assert!(!said(&w).contains("The sheet was written."));
    w.state_mut().model.notice =
        Some(window::model::Notice { wrong: true, words: "The disk is full.".to_owned() });
    for screen in [
        Screen::Gate,
        Screen::Profile,
        Screen::Moves,
        Screen::More,
        Screen::Shape,
        Screen::History,
        Screen::Watch,
        Screen::Level,
    ] {
        w.state_mut().face.go(screen);
        w.run_steps(3);
        says(&w, "The disk is full.");
    }
    w.state_mut().face.go(Screen::Gate);
    w.run_steps(2);
    press(&mut w, Key::Enter);
    says(&w, "Found: ");
    says(&w, "The disk is full.");
    tap(&mut w, "Seen");
    assert!(!said(&w).contains("The disk is full."));
}

/// A half-finished pair is still to be done.
#[test]
fn half_a_pair_stays_among_what_is_left() {
    let mut w = small(Bench::case("two-post", |s| s.action == "take" && s.what.starts_with("incidence@S7")));
    w.state_mut().face.choose("incidence@S7".parse().unwrap());
    w.run_steps(2);
    let left = |w: &hand::Window| {
        let all = hand::buttons(w);
        all.into_iter().find_map(|b| b.0.strip_prefix("Measure: ").map(str::to_owned)).unwrap()
    };
    let before = left(&w);
    types(&mut w, "0.7");
    press(&mut w, Key::Enter);
    assert_eq!(left(&w), before);
    types(&mut w, "-0.5");
    press(&mut w, Key::Enter);
    assert_ne!(left(&w), before);
}

/// Without a name nothing can be written, and everything says so; the name is entered by touch.
#[test]
fn without_a_name_nothing_is_written_and_the_button_says_why() {
    let mut bench = Bench::whole("two-post");
    bench.settled(0.1);
    bench.model.who = Person::default();
    bench.model.people.clear();
    let mut w = small(bench);
    w.state_mut().face.choose("incidence@S7".parse().unwrap());
    w.run_steps(2);
    assert!(!is_on(&w, "Take"));
    tap(&mut w, "Gate");
    tap(&mut w, "Sign");
    assert!(!is_on(&w, "Sign it"));
    press(&mut w, Key::Escape);
    tap(&mut w, "More");
    tap(&mut w, "At the bench");
    tap(&mut w, "Add a name");
    tap_text(&mut w, "Tam");
    tap(&mut w, "Done");
    w.state_mut().face.go(Screen::Measure);
    w.state_mut().face.choose("incidence@S7".parse().unwrap());
    w.run_steps(2);
    assert!(is_on(&w, "Take"), "{}", said(&w));
}

/// A withdrawal by mistake is undone where it is shown.
#[test]
fn a_reading_withdrawn_by_mistake_counts_again() {
    let mut w = small(Bench::case("two-post", |s| s.action == "take" && s.what.starts_with("incidence@S7")));
    w.state_mut().face.choose("incidence@S7".parse().unwrap());
    w.run_steps(2);
    types(&mut w, "0.7");
    press(&mut w, Key::Enter);
    let seq = w.state().wing().last_entry();
    ctrl(&mut w, Key::Z);
    tap(&mut w, "wrong facing");
    tap(&mut w, "Undo it");
    w.state_mut().face.choose("incidence@S7".parse().unwrap());
    w.state_mut().face.go(Screen::History);
    w.run_steps(3);
    let row = hand::buttons(&w).into_iter().map(|b| b.0).find(|n| n.contains(&format!("#{seq} "))).unwrap();
    tap(&mut w, &row);
    tap(&mut w, "Count it again");
    let gone = record::Withdrawn::of(w.state().wing().entries.iter());
    assert!(!gone.contains(seq), "{}", said(&w));
}

/// A wing of long names in many letters, forty stations and three posts loses nothing off the screen, at any size.
#[test]
fn long_names_and_many_stations_keep_to_the_screen() {
    let bench = long();
    let mut faults = Vec::new();
    for (width, height, scale) in [
        (800.0, 480.0, 1.0),
        (1280.0, 800.0, 1.0),
        (1920.0, 1080.0, 2.0),
        (480.0, 800.0, 1.0),
        (1920.0, 1080.0, 1.0),
    ] {
        for screen in Screen::ALL {
            let mut bench = Bench::showing(&bench.model);
            bench.face.set_looks(window::Looks { scale, ..window::Looks::default() });
            let mut w = hand::sized(bench, width, height);
            w.state_mut().face.go(screen);
            w.run_steps(4);
            let zoom = w.ctx.zoom_factor();
            let whole =
                egui::Rect::from_min_size(egui::pos2(0.0, 0.0), egui::vec2(width, height) / zoom).expand(1.0);
            for (name, rect, _) in hand::buttons(&w) {
                if !whole.contains_rect(rect) {
                    faults.push(format!("{screen:?} at {width}x{height}, {scale}: `{name}` at {rect:?}"));
                }
            }
        }
    }
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

/// The same in letters that the shipped fonts do not have, and from right to left: what is painted stays on the screen.
#[test]
fn names_in_other_letters_keep_to_the_screen() {
    let bench = named(&"\u{5de6}\u{7ffc}".repeat(30), &"\u{5d0}\u{5d1}\u{5d2}\u{5d3} ".repeat(12));
    for (width, height) in [(800.0, 480.0), (1280.0, 800.0)] {
        for screen in Screen::ALL {
            let mut bench = Bench::showing(&bench.model);
            bench.face.go(screen);
            let whole =
                egui::Rect::from_min_size(egui::pos2(0.0, 0.0), egui::vec2(width, height)).expand(1.0);
            for p in crate::common::paint::of(width, height, 4, |ui| bench.frame(ui)) {
                if let Some(text) = p.text.as_ref().filter(|t| !t.trim().is_empty()) {
                    let spelled = |c: char| !matches!(c, '\u{5de6}' | '\u{7ffc}' | '\u{5d0}'..='\u{5d3}');
                    assert!(
                        text.chars().all(spelled),
                        "a letter that no font here has is no empty box: {text}"
                    );
                    assert!(whole.contains_rect(p.bounds), "{screen:?}: {p:?}");
                }
            }
        }
    }
}

/// Names of sixty letters.
pub fn long() -> Bench {
    let name = |first: &str| format!("{first}-of-the-invented-aeroplane-with-a-very-long-name-0123456789ab");
    named(&name("left"), &name("right"))
}

/// The case of sixty stations with its wing and its last stage called one thing, its first stage another.
fn named(one: &str, other: &str) -> Bench {
    let (one, other) = (one.trim(), other.trim());
    let shipped = CASES.iter().find(|c| c.name == "sixty").unwrap();
    let (mut plan, mut steps) = (shipped.plan.to_owned(), shipped.steps.to_owned());
    let read = record::Plan::parse(shipped.plan).unwrap();
    plan = plan.replacen(&format!("name = \"{}\"", read.wing.name), &format!("name = \"{one}\""), 1);
    for (stage, to) in [(read.stages.last(), one), (read.stages.first(), other)] {
        let Some(stage) = stage else { continue };
        plan = plan.replace(&format!("name = \"{}\"", stage.name), &format!("name = \"{to}\""));
        steps = steps.replace(&format!("stage,{},", stage.name), &format!("stage,{to},"));
    }
    let mut bench =
        Bench::played(&Case { name: shipped.name, plan: plan.leak(), steps: steps.leak() }, |_| false);
    bench.model.who = Person { name: one.chars().take(40).collect(), ..Person::default() };
    bench
}

/// Ctrl with a letter is a command wherever the help says so, but not while a field is open.
#[test]
fn commands_of_letters_need_ctrl_and_do_nothing_while_something_is_typed() {
    let mut w = small(Bench::whole("two-post"));
    w.state_mut().face.go(Screen::More);
    w.run_steps(2);
    tap(&mut w, "Note");
    for key in [Key::Z, Key::G, Key::P, Key::W, Key::T, Key::N, Key::R] {
        w.key_press_modifiers(Modifiers::CTRL, key);
        w.run_steps(2);
    }
    says(&w, "A note for the log");
    assert!(w.state().model.wing.is_some());
    let wrote: Vec<&Action> = w.state().asked.iter().filter(|a| writes(a)).collect();
    assert!(wrote.is_empty(), "{wrote:?}");
    assert!(!w.state().asked.contains(&Action::WriteSheet));
}

/// Without a zero the level gives a coarse arrow and the foot, no turns, and says so; none of it is drawn as what is
/// measured is.
#[test]
fn a_level_without_a_zero_gives_a_coarse_arrow_and_says_that_it_is_coarse() {
    let p = window::theme::Palette::of(egui::Theme::Light);
    for (width, height) in [(800.0, 480.0), (1280.0, 800.0)] {
        for (name, coarse) in [("level-no-zero", true), ("level", false)] {
            let state = states::all().into_iter().find(|s| s.name == name).unwrap();
            let mut bench = Bench::showing(&state.model);
            bench
                .face
                .set_looks(window::Looks { theme: Some(egui::Theme::Light), ..window::Looks::default() });
            let mut w = hand::sized(bench, width, height);
            (state.go)(&mut w);
            w.run_steps(2);
            let picture = w
                .root()
                .children_recursive()
                .filter_map(|n| Some((n.accesskit_node().value().or(n.accesskit_node().label())?, n.rect())))
                .find(|(label, _)| label.starts_with("coarse: nose low") || label.starts_with("nose is low"))
                .unwrap_or_else(|| panic!("{name}: {}", said(&w)));
            let mut bench = std::mem::replace(w.state_mut(), Bench::at_start());
            let painted = crate::common::paint::of(width, height, 3, |ui| bench.frame(ui));
            let drawn: Vec<egui::Color32> =
                painted.iter().filter(|q| picture.1.contains_rect(q.bounds)).map(|q| q.colour).collect();
            assert_eq!(drawn.contains(&p.control), !coarse, "{name}: {drawn:?}");
            assert!(!drawn.contains(&p.ink), "{name}: {drawn:?}");
            if coarse {
                assert!(drawn.contains(&p.pale), "{name}: {drawn:?}");
                assert!(
                    picture.0.contains("root aft foot down, no turns before the zero is known"),
                    "{}",
                    picture.0
                );
            }
        }
    }
}

/// What a move does depends on how the wing stands: with its leading edge down, aft is up. The words are those of the
/// advice.
#[test]
fn a_move_is_told_and_drawn_as_the_wing_stands() {
    use record::plan::{Attitude, Direction};
    let moves = states::all().into_iter().find(|s| s.name == "moves").unwrap();
    let step = moves.model.wing.as_ref().unwrap().advice.as_ref().unwrap().steps[0].clone();
    let up = step.amount_mm > 0.0;
    let cases = [
        (Attitude::ChordLevel, Direction::Up, ["Raise", "Lower"]),
        (Attitude::ChordLevel, Direction::Aft, ["Bring aft", "Bring forward"]),
        (Attitude::LeadingEdgeDown, Direction::Aft, ["Raise", "Lower"]),
        (Attitude::LeadingEdgeUp, Direction::Aft, ["Lower", "Raise"]),
        (Attitude::LeadingEdgeDown, Direction::Up, ["To the upper side", "To the lower side"]),
    ];
    for (attitude, direction, told) in cases {
        let mut model = moves.model.clone();
        let wing = model.wing.as_mut().unwrap();
        let plan = std::sync::Arc::make_mut(&mut wing.plan);
        plan.wing.attitude = attitude;
        for support in plan.supports.iter_mut().filter(|s| s.name == step.support) {
            support.direction = direction;
        }
        let mut w = small(Bench::showing(&model));
        w.state_mut().face.go(Screen::Moves);
        w.run_steps(3);
        says(&w, &format!("{} ", told[usize::from(!up)]));
        let other = told[usize::from(up)];
        assert!(
            !said(&w).lines().any(|l| l.starts_with(&format!("{other} "))),
            "{attitude:?} {direction:?}: {}",
            said(&w)
        );
    }
}

/// Whatever screws it may have been, each can be read and chosen on the smallest panel.
#[test]
fn every_screw_that_is_asked_about_can_be_answered_by_touch() {
    let level = states::all().into_iter().find(|s| s.name == "which-screw").unwrap();
    for count in [1, 4, 5, 8, 9, 15, 23] {
        let mut model = level.model.clone();
        let live = &mut model.wing.as_mut().unwrap().live;
        let Some(bench::Question::Which { candidates }) = &live.question else { panic!("nothing is asked") };
        let first = candidates[0].clone();
        let named = |n: usize| bench::Measured { foot: format!("support {n} "), ..first.clone() };
        live.question = Some(bench::Question::Which { candidates: (0..count).map(named).collect() });
        for n in 0..count {
            let mut w = small(Bench::showing(&model));
            (level.go)(&mut w);
            let find = |w: &hand::Window| {
                let all = hand::buttons(w).into_iter().map(|b| b.0);
                all.into_iter().find(|b| b.starts_with(&format!("support {n} ")))
            };
            for _ in 0..count {
                if find(&w).is_some() {
                    break;
                }
                tap(&mut w, "More screws");
            }
            let button = find(&w).unwrap_or_else(|| panic!("screw {n} of {count}: {}", said(&w)));
            tap(&mut w, &button);
            let answer = Action::Bench(bench::Key::Answer(bench::Answer::Other(n)));
            assert!(w.state().asked.contains(&answer), "{n} of {count}: {:?}", w.state().asked);
        }
    }
}

/// Every move that is advised can be chosen by touch, however many there are.
#[test]
fn every_advised_move_can_be_chosen_by_touch() {
    let moves = states::all().into_iter().find(|s| s.name == "moves").unwrap();
    for count in [1, 2, 3, 4, 7] {
        let mut model = moves.model.clone();
        let wing = model.wing.as_mut().unwrap();
        let advice = std::sync::Arc::make_mut(wing.advice.as_mut().unwrap());
        let first = advice.steps[0].clone();
        let named = |n: usize| assess::advice::Step { support: format!("support {n}"), ..first.clone() };
        advice.steps = (0..count).map(named).collect();
        let mut w = small(Bench::showing(&model));
        (moves.go)(&mut w);
        for n in (0..count).chain((0..count).rev()) {
            let button = format!("Move support {n}");
            for turn in ["More moves", "Before"] {
                for _ in 0..count {
                    if !is_on(&w, &button) && is_on(&w, turn) {
                        tap(&mut w, turn);
                    }
                }
            }
            tap(&mut w, &button);
            says(&w, &format!("move {} of {count}", n + 1));
        }
    }
}

/// A screw that was turned too far, and one that was turned the wrong way: words and picture say the same.
#[test]
fn a_screw_turned_too_far_or_the_wrong_way_is_told_and_drawn_alike() {
    let level = states::all().into_iter().find(|s| s.name == "level").unwrap();
    for (done_mm, told, drawn, note) in [
        (-2.0, "Lower the", "root aft foot down", "done 1"),
        (-7.0, "Raise the", "root aft foot up", "done 4"),
        (1.5, "Lower the", "root aft foot down", "the wrong way"),
    ] {
        let mut model = level.model.clone();
        let live = model.wing.as_mut().unwrap().live.level.as_mut().unwrap();
        let turn = live.turn.as_mut().unwrap();
        let to_go_mm = turn.mm - done_mm;
        live.phase = bench::Phase::Turning { done_mm, to_go_mm };
        turn.to_go = turn.turns.map(|turns| turns * to_go_mm / turn.mm);
        let mut w = small(Bench::showing(&model));
        (level.go)(&mut w);
        for words in [told, drawn, note] {
            says(&w, words);
        }
    }
}

/// A turn that is less than it may be off is not told: not even its direction is known.
#[test]
fn a_turn_that_is_lost_in_its_doubt_is_not_told() {
    let level = states::all().into_iter().find(|s| s.name == "level").unwrap();
    for (turns, told, drawn) in
        [(-0.25, "No turn can be told yet", "nose is low"), (-2.25, "Lower the", "root aft foot down")]
    {
        let mut model = level.model.clone();
        let live = model.wing.as_mut().unwrap().live.level.as_mut().unwrap();
        (live.phase, live.start) = (bench::Phase::AtRest, None);
        let turn = live.turn.as_mut().unwrap();
        (turn.turns, turn.to_go, turn.mm) = (Some(turns), Some(turns), turns * 1.5);
        let mut w = small(Bench::showing(&model));
        (level.go)(&mut w);
        says(&w, told);
        says(&w, drawn);
        assert_eq!(said(&w).contains("root aft foot down"), turns < -1.0, "{}", said(&w));
    }
}

/// Where the system names no theme the window is light, as it is drawn.
#[test]
fn the_first_start_is_light_where_the_system_names_no_theme() {
    let w = small(Bench::at_start());
    assert_eq!(w.ctx.theme(), egui::Theme::Light);
}
