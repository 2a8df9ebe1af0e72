//! What to turn now, how far it should go, and what was turned. Turns that are only advised are never recorded as
//! made.

use super::{Cx, Screen, halves, lines, list, notice, undo_button};
use crate::action::Action;
use crate::draw::arrows::{self, Turn as Way};
use crate::draw::button::Button;
use crate::draw::shape::frame;
use crate::draw::text::{Hand, name, put, row, say};
use crate::model::Wing;
use crate::pages::{Page, TypeFor};
use crate::state::{Nav, Told};
use crate::words;
use assess::advice::{Advice, AdviceState, Effect, Finding, Remedy, Step};
use egui::{Align, Pos2, Rect, Stroke, Ui, pos2};
use quantity::shown;

pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let Some(advice) = wing.advice.clone() else {
        cx.ask(Action::Advise);
        super::title(ui, cx, cx.g.body(), "Working it out", ["", ""]);
        return;
    };
    match advice.state {
        AdviceState::Move | AdviceState::Cannot if !advice.steps.is_empty() => steps(ui, wing, cx, &advice),
        _ => nothing(ui, wing, cx, &advice),
    }
}

fn nothing(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, advice: &Advice) {
    let x = cx.g.body();
    let by_feet = advice.findings.iter().any(|f| matches!(f.remedy, Remedy::Feet { .. }));
    let (title, main, to) = match advice.state {
        AdviceState::Leave => ("Leave it alone", "Measure", Screen::Measure),
        AdviceState::Measure => ("Nothing to turn: measure first", "Measure", Screen::Measure),
        AdviceState::Move if by_feet => ("Posts to level", "Level the posts", Screen::Level),
        AdviceState::Move => ("No screw under a spar to turn", "What is open", Screen::Gate),
        AdviceState::Mend => ("Nothing to turn: mend it", "What is open", Screen::Gate),
        AdviceState::Cannot => ("No move brings it inside", "What is open", Screen::Gate),
    };
    super::title(ui, cx, x, title, ["", ""]);
    let middle = cx.g.middle(x);
    let half = middle.with_max_y(middle.top() + middle.height() * 0.3);
    if !notice(ui, cx, half) {
        lines(
            ui,
            half,
            cx.heavy(26.0, 32.0).least(18.0),
            "advice",
            &words::by_touch(&advice.words.to_string()),
            3,
        );
    }
    reasons(ui, cx, middle.with_min_y(half.bottom()), advice);
    let [undo, hand, go] = cx.g.split(cx.g.buttons(x), cx.g.gap(), [124.0, 200.0, 260.0]);
    undo_button(ui, cx, undo);
    by_hand(ui, wing, cx, hand);
    let named = format!("Go: {main}");
    if Button::new(go, main, cx.g.pick(28.0, 36.0)).named(&named).main().show(ui) {
        cx.s.go(to);
    }
}

fn reasons(ui: &Ui, cx: &Cx<'_>, rect: Rect, advice: &Advice) {
    let hand = cx.note(19.0, 22.0).least(15.0);
    let pitch = hand.size * 2.5;
    // What corrects each thing that no support can correct; then why, and what to mind.
    let mend = advice
        .findings
        .iter()
        .filter(|f| !matches!(f.remedy, Remedy::Supports))
        .filter_map(|f| Some(about(f, words::by_touch(f.mend.first()?))));
    let rest = advice.reasons.iter().chain(&advice.cautions).map(|text| words::by_touch(text));
    let mut said: Vec<String> = Vec::new();
    for text in mend.chain(rest) {
        if !said.contains(&text) {
            said.push(text);
        }
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few rows")]
    let fit = ((rect.height() + 2.0) / pitch).max(0.0) as usize;
    if said.len() > fit && fit > 0 {
        // If there is no room for all, say how many more there are: all of them are in the gate's list.
        let more = said.len() - (fit - 1);
        said.truncate(fit - 1);
        said.push(format!("And {more} more: see what is open at the gate."));
    }
    for (i, text) in said.iter().take(fit).enumerate() {
        let top = rect.top() + pitch * i as f32;
        let at = Rect::from_min_max(pos2(rect.left(), top), pos2(rect.right(), top + pitch - 2.0));
        lines(ui, at, hand, &format!("reason {i}"), text, 2);
    }
}

/// What corrects a thing, with its name if the sentence does not say it.
fn about(finding: &Finding, mend: String) -> String {
    let moves_named = matches!(finding.remedy, Remedy::Feet { .. } | Remedy::Spar { .. });
    if moves_named || mend.contains(&finding.about) {
        mend
    } else {
        format!("{}: {}", finding.about, small(&mend))
    }
}

/// The text with a small first letter.
fn small(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

fn steps(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, advice: &Advice) {
    let count = advice.steps.len();
    let at = cx.s.moving.support.as_ref().and_then(|s| advice.steps.iter().position(|x| x.support == *s));
    let mut at = at.unwrap_or(0);
    match cx.s.nav {
        Some(Nav::Right | Nav::Down) => at = (at + 1).min(count - 1),
        Some(Nav::Left | Nav::Up) => at = at.saturating_sub(1),
        _ => {}
    }
    let Some(step) = advice.steps.get(at).cloned() else { return };
    cx.s.moving.support = Some(step.support.clone());
    let x = cx.g.body();
    super::title(ui, cx, x, &step.support, [&format!("move {} of {count}", at + 1), "as advised"]);
    cards(ui, wing, cx, advice, &step);
    big(ui, wing, cx, advice, &step);
    let top = cx.g.pick(324.0, 560.0) + cx.g.spare();
    let strip = cx.g.rect(x, top..=top + cx.g.pick(68.0, 84.0));
    chips(ui, wing, cx, strip, advice, at);
    if cx.g.roomy() {
        let under = strip.with_min_y(strip.bottom() + 8.0).with_max_y(cx.g.buttons(x).top() - 4.0);
        reasons(ui, cx, under, advice);
    }
    let [undo, hand, count, main] = cx.g.split(cx.g.buttons(x), cx.g.gap(), [124.0, 160.0, 160.0, 300.0]);
    undo_button(ui, cx, undo);
    by_hand(ui, wing, cx, hand);
    let why = wing.read_only.then_some("read only");
    let size = cx.g.pick(24.0, 30.0);
    if Button::new(count, "Count turns", size)
        .second(cx.if_roomy("without the level"))
        .named("Record what was turned")
        .unless(why)
        .show(ui)
    {
        cx.s.number(TypeFor::Move(step.support.clone()));
    }
    // The level shows how far a screw went: at the station where the first move does most.
    let first = advice.steps.first().and_then(|first| first.watch_at.as_deref());
    let level = wing.live.kind() == Some(quantity::Kind::Angle);
    let why = why.or((!level).then_some("no level on a port"));
    let why = why.or(words::unreadable(&wing.live.live));
    let text = first.map_or_else(|| "With the level".to_owned(), |at| format!("With the level on {at}"));
    let why = why.or(first.is_none().then_some("no station shows it"));
    if Button::new(main, &text, cx.g.pick(26.0, 34.0))
        .named("Turn with the level")
        .main()
        .unless(why)
        .show(ui)
    {
        cx.ask_anew(Action::Bench(bench::Key::Moves));
        cx.ask(Action::Bench(bench::Key::Lies(cx.s.measuring.facing)));
        cx.s.moving.told = Some(Told { tilt: None, facing: cx.s.measuring.facing });
    }
}

/// Three cards: what it is now, what to turn, what should result.
fn cards(ui: &Ui, wing: &Wing, cx: &Cx<'_>, advice: &Advice, step: &Step) {
    let x = cx.g.body();
    let (top, bottom) = (cx.g.pick(76.0, 120.0), cx.g.pick(208.0, 330.0) + cx.g.spare());
    let row_of = cx.g.rect(x, top..=bottom);
    let share = |v: Option<f64>| v.map_or_else(|| "…".to_owned(), |v| format!("{:.0} %", v * 100.0));
    let worst = advice.worst_at.clone().unwrap_or_default();
    let turns = step.turns.and_then(|t| words::turns(t, 8));
    let amount = turns.unwrap_or_else(|| words::signed_unit(wing.lengths(), step.amount_mm, 2));
    let way = step.turns.map_or("shims", shown::way);
    let cards = [
        ("Now", share(advice.worst_now), format!("of its limit, {worst}")),
        ("Turn", amount, format!("{way}, asked")),
        ("All moves made", share(advice.worst_expected), "of its limit, expected".to_owned()),
    ];
    for (rect, (head, large, small)) in
        cx.g.cells(row_of, cx.g.gap(), &[1.0, 1.0, 1.0]).into_iter().zip(cards)
    {
        frame(ui.painter(), rect, cx.p.sheet, Stroke::new(1.5, cx.p.rule));
        let line = |share: f32, high: f32| {
            row(rect.left() + 14.0, rect.right() - 12.0, rect.top() + rect.height() * share, high)
        };
        put(ui.painter(), line(0.2, 20.0), Align::Min, cx.heavy(22.0, 28.0), head);
        put(ui.painter(), line(0.55, 40.0), Align::Center, cx.heavy(50.0, 76.0).least(24.0), &large);
        put(ui.painter(), line(0.85, 16.0), Align::Center, cx.note(18.0, 22.0).least(15.0), &small);
        name(ui, rect, head, &format!("{head}: {large} {small}"));
        if let Some(turns) = step.turns.filter(|_| head == "Turn") {
            let at = pos2(rect.right() - 30.0, rect.top() + rect.height() * 0.2);
            arrows::around(ui.painter(), at, 15.0, Way::of(turns), cx.p.control);
        }
    }
}

/// The turns of a move and their direction: `2¼ turns anticlockwise`.
fn turned(step: &Step) -> Option<String> {
    step.turns.and_then(|t| Some(format!("{} {}", words::turns(t, 8)?, shown::way(t))))
}

/// Draws the arrow of a move: up and down, or fore and aft with the nose at the left. There is none for a move to the
/// side of a wing on its edge, which may lie either way before you.
pub fn arrow(ui: &Ui, cx: &Cx<'_>, at: Pos2, height: f32, effect: Effect) {
    let along = match effect {
        Effect::Up => arrows::UP,
        Effect::Down => arrows::DOWN,
        Effect::Aft => arrows::RIGHT,
        Effect::Forward => arrows::LEFT,
        Effect::UpperSide | Effect::LowerSide => return,
    };
    arrows::straight(ui.painter(), at, height, along, cx.p.control);
}

fn big(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, advice: &Advice, step: &Step) {
    let (top, bottom) = (cx.g.pick(216.0, 346.0), cx.g.pick(280.0, 440.0));
    let down = cx.g.spare();
    let bar = cx.g.rect(cx.g.body(), top + down..=bottom + down);
    if notice(ui, cx, bar) {
        return;
    }
    let size = cx.g.pick(46.0, 60.0);
    let effect = Effect::at(&wing.plan, &step.support, step.amount_mm);
    arrow(ui, cx, pos2(bar.left() + size * 0.45, bar.center().y), size, effect);
    let turns = turned(step).map_or(String::new(), |turns| format!(", {turns}"));
    let verb = effect.told();
    let text = format!("{verb} {}{turns}", words::with_unit(wing.lengths(), step.amount_mm.abs(), 1));
    let hand = cx.heavy(56.0, 69.0).least(cx.g.pick(30.0, 48.0));
    say(ui, bar.with_min_x(bar.left() + size + 8.0), Align::Min, hand, "instruction", &text);
    let below = bar.bottom();
    let note =
        Rect::from_min_max(pos2(bar.left(), below + 4.0), pos2(bar.right(), below + cx.g.pick(42.0, 108.0)));
    let caution =
        "Turn a little at a time. See that the other supports carry, and that nobody reaches under.";
    // If the moves do not bring it inside, the screen says so before anybody turns.
    let text = match advice.state {
        AdviceState::Cannot => format!("{} {caution}", words::by_touch(&advice.words.to_string())),
        _ => caution.to_owned(),
    };
    lines(ui, note, cx.note(19.0, 24.0).least(15.0), "caution", &text, 2);
}

fn chips(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, strip: Rect, advice: &Advice, at: usize) {
    let per = 3;
    let from = at / per * per;
    let shown: Vec<&Step> = advice.steps.iter().skip(from).take(per).collect();
    let mut strip = strip;
    if advice.steps.len() > per {
        let wide = cx.g.pick(72.0, 88.0);
        let back = strip.with_max_x(strip.left() + wide);
        let on = strip.with_min_x(strip.right() - wide);
        strip =
            Rect::from_min_max(pos2(back.right() + 8.0, strip.top()), pos2(on.left() - 8.0, strip.bottom()));
        let size = cx.g.pick(20.0, 26.0);
        let (first, last) = (from == 0, from + per >= advice.steps.len());
        if Button::new(back, "Before", size).unless(first.then_some("first")).show(ui) {
            cx.s.moving.support = advice.steps.get(from - per).map(|s| s.support.clone());
        }
        if Button::new(on, "More", size).named("More moves").unless(last.then_some("last")).show(ui) {
            cx.s.moving.support = advice.steps.get(from + per).map(|s| s.support.clone());
        }
    }
    let weights = vec![1.0; if advice.steps.len() > per { per } else { shown.len().max(2) }];
    for (n, (rect, step)) in cx.g.cells(strip, cx.g.gap(), &weights).into_iter().zip(shown).enumerate() {
        let named = format!("Move {}", step.support);
        let button = Button::new(rect, &step.support, 24.0).named(&named).chosen_if(from + n == at);
        button.face(ui);
        let effect = Effect::at(&wing.plan, &step.support, step.amount_mm);
        arrow(ui, cx, pos2(rect.left() + 27.0, rect.center().y), cx.g.pick(34.0, 42.0), effect);
        let inner = rect.with_min_x(rect.left() + 54.0).with_max_x(rect.right() - 8.0);
        let [above, below] = halves(inner, 0.32, 0.75);
        put(ui.painter(), above, Align::Min, cx.heavy(24.0, 28.0).least(15.0), &step.support);
        let text = turned(step).unwrap_or_else(|| words::signed_unit(wing.lengths(), step.amount_mm, 2));
        let hand = Hand::medium(cx.g.pick(20.0, 23.0), cx.p.pale).least(15.0);
        put(ui.painter(), below, Align::Min, hand, &text);
        if button.target(ui).clicked() {
            cx.s.moving.support = Some(step.support.clone());
        }
    }
}

/// A move of any support or foot, turned without advice.
fn by_hand(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, rect: Rect) {
    let feet = wing.plan.posts.iter().flat_map(|p| &p.feet).map(|f| f.name.clone());
    let all: Vec<String> = wing.plan.supports.iter().map(|s| s.name.clone()).chain(feet).collect();
    let why = if wing.read_only { Some("read only") } else { all.is_empty().then_some("none in the plan") };
    if Button::new(rect, "Other support", cx.g.pick(24.0, 30.0)).unless(why).show(ui) {
        cx.s.open(Page::Supports { at: 0, names: all });
    }
}

/// The list of supports and feet; a tap types what was turned.
pub fn supports(ui: &mut Ui, cx: &mut Cx<'_>, at: usize, names: &[String]) {
    let Some(wing) = &cx.model.wing else { return cx.s.close() };
    let x = cx.g.whole();
    super::title(ui, cx, x, "Which was turned?", ["", ""]);
    let middle = cx.g.middle(x);
    let side = cx.g.pick(96.0, 130.0);
    let area = middle.with_max_x(middle.right() - side);
    let rows: Vec<list::Row> = names
        .iter()
        .map(|n| {
            let own = wing.assessment.moves.iter().filter(|m| m.what.support == *n);
            let moved: f64 = own.map(|m| m.what.amount_mm).sum();
            list::Row {
                name: format!("Support {n}"),
                ..list::Row::new(n.clone(), "moved so far")
                    .right("", words::signed_unit(wing.lengths(), moved, 2))
            }
        })
        .collect();
    let per = list::per_page(cx, area);
    let from = at / per * per;
    let tapped = list::show(ui, cx, area, &rows, from, None);
    let turners = list::stacked(middle.with_min_x(area.right() + 12.0));
    let to = list::pager(ui, cx, turners, area, rows.len(), from);
    if Button::new(cx.g.buttons(x), "Back", cx.g.pick(24.0, 30.0)).show(ui) {
        return cx.s.close();
    }
    match tapped.and_then(|i| names.get(i)) {
        Some(support) => {
            cx.s.close();
            cx.s.number(TypeFor::Move(support.clone()));
        }
        None => crate::pages::change(cx, Page::Supports { at: to, names: names.to_vec() }),
    }
}
