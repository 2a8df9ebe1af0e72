//! What is kept of a log gives the same judgement as the whole log.

use crate::Session;
use crate::log::open::{Read, read_all, read_keeping};
use assess::{Part, Stages, assess_part};
use journal::{Journal, NewEntry};
use quantity::{Kind, Millimetres};
use record::{
    At, Facing, InstrumentCheck, Move, OpenAction, OpenItem, Plan, Point, Reading, Rework, StageBegun,
    UtcOffset, What, When,
};

const PLAN: &str = include_str!("../../../../../demo-readings/two-post/plan.toml");

/// Draws that are the same on every run (SplitMix64).
struct Draws(u64);

impl Draws {
    fn below(&mut self, limit: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        usize::try_from((z ^ (z >> 31)) % limit as u64).unwrap()
    }
}

/// An invented log of a few points measured in very many rounds, with everything else that can happen in between.
fn log(path: &std::path::Path, plan: &Plan, seed: u64, length: u64) -> Journal {
    let mut draw = Draws(seed);
    let mut journal = Journal::create(path, PLAN, "test", At::from_millis(0), "ann").unwrap();
    let all: Vec<Point> = plan.stages.iter().flat_map(|s| s.requires.clone()).collect();
    let points: Vec<Point> =
        (0..if seed % 3 == 2 { 2 } else { 5 }).map(|_| all[draw.below(all.len())].clone()).collect();
    let (mut at, mut round) = (0_i64, 1_u32);
    let mut entries = Vec::new();
    let calm = draw.below(2) == 0;
    let long = seed % 3 == 2;
    for seq in 2..=length {
        at += if draw.below(150) == 0 { -60_000 } else { 30_000 };
        let what = match draw.below(if calm { 2000 } else { 300 }) {
            0 => What::Stage(StageBegun::new(&plan.stages[draw.below(plan.stages.len())].name)),
            1 => What::Move(Move::typed(
                &plan.supports[draw.below(plan.supports.len())].name,
                Millimetres::new(0.5),
                "0.5 mm",
            )),
            2 => What::Rework(Rework { points: vec![points[0].clone()], what: "reamed".to_owned() }),
            3 => What::Note { text: "windy".to_owned() },
            4 => What::Instrument(plan.instruments[draw.below(plan.instruments.len())].clone()),
            5 => What::InstrumentCheck(InstrumentCheck {
                instrument: plan.instruments[draw.below(plan.instruments.len())].name.clone(),
                method: "reversal".to_owned(),
                found: 0.01,
                u: 0.02,
                passed: draw.below(3) > 0,
            }),
            6 => What::OpenItem(OpenItem {
                item: "sealant".to_owned(),
                action: [OpenAction::Opened, OpenAction::Closed][draw.below(2)],
                reason: None,
            }),
            7 | 8 => What::Replanned {
                plan: PLAN.replace("station = 0.", ["station = 0.", "station = 0.1"][draw.below(2)]),
                reason: "r".to_owned(),
            },
            9..=12 => {
                // A few in a row may hit the same entry, or a withdrawal.
                let back = 1 + draw.below(60) as u64;
                What::Withdrawn { seq: seq.saturating_sub(back).max(2), reason: "slip".to_owned() }
            }
            13 => What::Drift {
                point: points[1].clone(),
                mean: 0.1,
                least: 0.0,
                most: 0.2,
                samples: 60,
                seconds: 60,
                temperature: None,
                shift: (draw.below(2) == 0).then_some((0.05, At::from_millis(at)).into()),
            },
            _ => {
                round = if draw.below(if long { 900 } else { 4 }) == 0 { round + 1 } else { round };
                if draw.below(400) == 0 {
                    round = round.saturating_sub(3).max(1);
                }
                What::Reading(reading(plan, &points[draw.below(points.len())], round, &mut draw))
            }
        };
        entries.push((When { at: At::from_millis(at), offset: UtcOffset::from_minutes(60) }, what));
    }
    for (when, what) in entries {
        // A withdrawal of a permanent entry is refused.
        let _ = journal.append_many([Ok::<_, journal::JournalError>(NewEntry::new(when, "ann", what))]);
    }
    journal
}

fn reading(plan: &Plan, point: &Point, round: u32, draw: &mut Draws) -> Reading {
    let quantity = plan.quantity_of(point).unwrap();
    let fitting: Vec<_> = plan.instruments.iter().filter(|i| i.kind.quantity() == Some(quantity)).collect();
    let off = draw.below(9) as f64 / 10.0 - 0.4;
    let facing = point.kind().reverses().then(|| [Facing::Forward, Facing::Aft][draw.below(2)]);
    let sign = facing.map_or(1.0, Facing::sign);
    let value =
        sign * (plan.design_of(point).unwrap_or(if quantity == Kind::Angle { 1.0 } else { 25.0 }) + off);
    Reading {
        text: format!("{value:.2}"),
        facing,
        instrument: fitting.get(draw.below(fitting.len() + 1)).map(|i| i.name.clone()),
        round,
        unsettled: draw.below(90) == 0,
        ..Reading::of(point.clone(), quantity, value, 0.1)
    }
}

fn judged(read: &Read) -> String {
    let plan = crate::log::open::plan_of(&read.entries, std::path::Path::new("log"), &read.chain).unwrap();
    let part = Part { entries: &read.entries, passed: read.passed };
    serde_json::to_string_pretty(&assess_part(
        &plan,
        &part,
        &read.chain,
        &assess::Elsewhere::new(),
        Stages::Judged,
    ))
    .unwrap()
}

/// Two short logs and a long one; the long form has three times as many.
#[test]
fn what_is_kept_gives_the_same_judgement_as_the_whole_log() {
    judges_alike(0..3);
}

#[test]
#[ignore = "nine logs more"]
fn what_is_kept_of_more_logs_gives_the_same_judgement() {
    judges_alike(3..12);
}

fn judges_alike(seeds: std::ops::Range<u64>) {
    let plan = Plan::parse(PLAN).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let (mut passed, mut ends) = (0, 0);
    let logs = seeds.end - seeds.start;
    for seed in seeds {
        let path = folder.path().join(format!("{seed}.jigtrue"));
        let journal = log(&path, &plan, seed, if seed % 3 == 2 { 2500 } else { 900 });
        let last = journal.last_seq().unwrap();
        for until in [u64::MAX, last / 2, last / 3] {
            let kept = read_keeping(&journal, until, 4).unwrap();
            let mut whole = read_all(&journal).unwrap();
            whole.entries.retain(|e| e.seq <= until);
            passed += kept.passed;
            assert_eq!(kept.entries.len() as u64 + kept.passed, whole.entries.len() as u64);
            assert_eq!(judged(&kept), judged(&whole), "seed {seed} until {until}");
        }
        // At the end of each stage, with later withdrawals.
        let kept =
            Session::from_read(Journal::open(&path).unwrap(), read_keeping(&journal, u64::MAX, 4).unwrap());
        let whole = Session::from_read(Journal::open(&path).unwrap(), read_all(&journal).unwrap());
        let (kept, whole) = (kept.unwrap(), whole.unwrap());
        for stage in &plan.stages {
            match (kept.assessment_at(&stage.name), whole.assessment_at(&stage.name)) {
                (Ok(one), Ok(other)) => {
                    ends += 1;
                    let text = |a| serde_json::to_string_pretty(a).unwrap();
                    assert_eq!(text(&one), text(&other), "seed {seed}, {}", stage.name);
                }
                (one, other) => assert_eq!(one.is_err(), other.is_err()),
            }
        }
        assert_eq!(format!("{:?}", kept.advice()), format!("{:?}", whole.advice()));
        assert_eq!(kept.rounds().last(), whole.rounds().last());
        assert_eq!(kept.instruments(), whole.instruments());
    }
    assert!(passed > 250 * logs && ends > logs, "{passed} passed over, {ends} stages ended");
}

#[test]
fn a_log_with_an_altered_index_of_kinds_is_kept_whole() {
    let plan = Plan::parse(PLAN).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let journal = log(&folder.path().join("a.jigtrue"), &plan, 3, 600);
    let withdrawals = journal.all_of_kind("withdrawn").unwrap();
    assert!(withdrawals.len() > 1);
    for looked_up in [&withdrawals[1..], &withdrawals[..withdrawals.len() - 1]] {
        let read = journal.read_into(super::Kept::new(looked_up, u64::MAX, 4)).unwrap();
        assert!(read.into.finish().unwrap().is_none());
    }
    let read = journal.read_into(super::Kept::new(&withdrawals, u64::MAX, 4)).unwrap();
    assert!(read.into.finish().unwrap().is_some());
}
