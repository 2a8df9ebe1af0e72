//! A builder's days at the jig, written into a log: rounds of readings and moves until everything is within.

use super::Jig;
use super::STEP;
use super::builders::{Builder, oracle};
use crate::wing::Log;
use assess::advice::{Advice, AdviceState, advise, replan};
use assess::view::{Assessment, Twist};
use assess::{Chain, Verdict, assess};
use quantity::{Degrees, Millimetres};
use record::plan::Plan;
use record::{Facing, Move, MoveSeen, Point, PointKind, What};

/// Walks after which a builder gives up.
const MOST_WALKS: usize = 25;

/// How it went.
#[derive(Clone, Debug)]
pub struct Story {
    /// Rounds of moves until everything was within; `None` if it never was.
    pub rounds: Option<usize>,
    /// Walks along the wing, the first one included.
    pub walks: usize,
    /// Single moves of a support.
    pub moves: usize,
    /// Rounds of moves that ended outside, with the largest true deviation over its tolerance grown by more than its
    /// uncertainty.
    pub worse: usize,
    /// Rounds of moves after which it had grown at all.
    pub grew: usize,
    /// Why it ended without success.
    pub stuck: Option<String>,
    /// All advice that was followed.
    pub advised: Vec<Advice>,
}

/// Follows one builder on one jig.
///
/// All builders have the same patience: a station that stands out is measured again alone; if it still stands out,
/// its rib and the seat of the level are dressed and it is measured anew. What is only undecided is measured once
/// more before anything is moved.
pub fn follow(plan: &Plan, mut jig: Jig, builder: Builder) -> Story {
    let mut log = Log::new();
    log.stage(&plan.stages[0].name);
    let mut story =
        Story { rounds: None, walks: 0, moves: 0, worse: 0, grew: 0, stuck: None, advised: Vec::new() };
    let mut moved = vec![0.0; plan.supports.len()];
    let mut rounds = 0;
    let mut again = false;
    let mut only: Vec<String> = Vec::new();
    let mut zero = 0.0;
    while story.walks < MOST_WALKS {
        story.walks += 1;
        if !again {
            log.round += 1;
            zero = jig.zero();
        }
        walk(plan, &mut jig, &mut log, zero, &only);
        let assessment = assess(plan, &log.entries, &Chain::Whole);
        let Some(twist) = &assessment.twist else { break };
        let (outside, undecided) = (any(twist, Verdict::Outside), any(twist, Verdict::Undecided));
        if !outside && !undecided {
            story.rounds = Some(rounds);
            return story;
        }
        let odd: Vec<String> = twist
            .stations
            .iter()
            .filter(|s| s.stands_out && s.verdict != Some(Verdict::Within))
            .map(|s| s.name.clone())
            .collect();
        let still_odd = again && !odd.is_empty() && odd.iter().all(|s| only.is_empty() || only.contains(s));
        if still_odd && !outside {
            jig.dress(plan, &odd);
            (again, only) = (false, odd);
            continue;
        }
        let moves = if matches!(builder, Builder::Advised | Builder::Live) {
            let advice = advise(plan, &log.entries, &assessment);
            let state = advice.state;
            let moves = in_order(plan, &advice);
            let why = advice.reasons.join("; ");
            story.advised.push(advice);
            if state == AdviceState::Measure {
                (again, only) = (true, odd);
                continue;
            }
            if moves.is_empty() && !odd.is_empty() {
                jig.dress(plan, &odd);
                (again, only) = (false, odd);
                continue;
            }
            if moves.is_empty() {
                story.stuck = Some(why);
                return story;
            }
            moves
        } else {
            if !again && (!odd.is_empty() || !outside) {
                (again, only) = (true, odd);
                continue;
            }
            match builder {
                Builder::Oracle => oracle(plan, &jig.truth(plan), &assessment, &moved),
                _ => builder.moves(plan, &assessment, &moved),
            }
        };
        if moves.is_empty() {
            story.stuck = Some("no moves".to_owned());
            return story;
        }
        only.clear();
        again = false;
        rounds += 1;
        let before = jig.true_worst(plan);
        let made = match builder {
            Builder::Live => live(plan, &mut jig, &log, &assessment),
            _ => moves.iter().map(|(s, mm)| by_hand(plan, &mut jig, *s, *mm)).collect(),
        };
        story.moves += made.len();
        for made in made {
            let support = &place(plan, &made.support);
            moved[*support] += made.amount.value();
            log.happens(What::Move(made));
            let travel = plan.supports[*support].travel;
            let inside = moved[*support] >= -travel.minus.value() - 1e-9
                && moved[*support] <= travel.plus.value() + 1e-9;
            assert!(inside, "{builder:?} went past the travel: {moved:?}");
        }
        let after = jig.true_worst(plan);
        story.worse += usize::from(after > 1.0 && after > before + uncertainty(plan, &assessment));
        story.grew += usize::from(after > before);
    }
    story.stuck = Some("gave up".to_owned());
    story
}

/// One walk: every station, or only these, in both facings.
fn walk(plan: &Plan, jig: &mut Jig, log: &mut Log, zero: f64, only: &[String]) {
    for (i, station) in plan.stations.iter().enumerate() {
        if !only.is_empty() && !only.contains(&station.name) {
            continue;
        }
        let forward = jig.shown(plan, i, 1.0, zero);
        log.angle(&station.name, Facing::Forward, forward);
        let aft = jig.shown(plan, i, -1.0, zero);
        log.angle(&station.name, Facing::Aft, aft);
    }
}

fn in_order(plan: &Plan, advice: &Advice) -> Vec<(usize, f64)> {
    advice.steps.iter().map(|s| (place(plan, &s.support), s.amount_mm)).collect()
}

fn place(plan: &Plan, support: &str) -> usize {
    plan.supports.iter().position(|s| s.name == support).expect("a support of the plan")
}

fn by_hand(plan: &Plan, jig: &mut Jig, support: usize, mm: f64) -> Move {
    jig.turn(plan, support, mm);
    Move::typed(&plan.supports[support].name, Millimetres::new(mm), &format!("{mm} mm"))
}

/// Every move with a level on the station that the advice names; after each, the remaining moves are planned again.
fn live(plan: &Plan, jig: &mut Jig, log: &Log, assessment: &Assessment) -> Vec<Move> {
    let mut made = Vec::new();
    for _ in 0..2 * plan.supports.len() {
        let advice = replan(plan, &log.entries, assessment, &made);
        let Some(step) = advice.steps.first() else { break };
        let at = step.watch_at.clone().expect("a station to watch");
        let station = plan.stations.iter().position(|s| s.name == at).expect("a station of the plan");
        let before = jig.smooth(plan)[station];
        let mut moved = by_hand(plan, jig, place(plan, &step.support), step.amount_mm);
        let change = jig.difference(plan, station, before);
        // Two roundings to the display's step.
        let u = STEP / 6.0_f64.sqrt();
        let point = Point::at(PointKind::Incidence, &at);
        moved.seen = Some(MoveSeen { point, change: Degrees::new(change), u: Degrees::new(u) });
        made.push(moved);
    }
    made
}

fn any(twist: &Twist, verdict: Verdict) -> bool {
    let parts =
        [&twist.setting, &twist.washout_error].into_iter().chain(twist.neighbours.iter().map(|s| &s.finding));
    parts
        .filter_map(|f| f.verdict())
        .chain(twist.stations.iter().filter_map(|s| s.verdict))
        .any(|v| v == verdict)
}

/// Standard uncertainty of the largest deviation over its tolerance.
fn uncertainty(plan: &Plan, assessment: &Assessment) -> f64 {
    let Some(twist) = &assessment.twist else { return 0.0 };
    let tolerance = plan.tolerances.station.and_then(|l| l.upper).expect("a tolerance").value();
    twist
        .stations
        .iter()
        .filter_map(|s| s.u_deg)
        .fold(twist.setting.judged().expect("a judged setting").u, f64::max)
        / tolerance
}
