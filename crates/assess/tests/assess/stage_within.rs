//! A stage is not within if something that depends only on its points is not met: points that nothing judges, and
//! points that could not be judged.

use crate::whole::{Build, Way, plan_text};
use assess::view::ObligationKind as K;
use assess::{Assessment, Chain, Verdict, assess};
use numerics::rng::Rng;
use record::{OpenAction, OpenItem, Plan, What};

/// A wing built and read well by a plan of its own; `None` if the plan is refused.
fn built(text: &str) -> Option<Assessment> {
    let mut rng = Rng::new(23);
    let mut build = Build::new(Way::Angles);
    build.plan = Plan::parse(text).ok()?;
    build.entries.clear();
    build.happens(What::Started { plan: text.to_owned(), program: "test".to_owned() });
    build.stage("jig");
    build.measure("jig", &mut rng);
    let closed = OpenItem { item: "brace".to_owned(), action: OpenAction::Closed, reason: None };
    build.happens(What::OpenItem(closed));
    build.stage("close");
    build.measure("close", &mut rng);
    Some(assess(&build.plan, &build.entries, &Chain::Whole))
}

/// What the closing stage, which requires every point, must not leave out.
fn judged_and_not_met(a: &Assessment) -> Vec<String> {
    let judged = |kind: K| !matches!(kind, K::Stage | K::Instrument | K::OpenItem | K::Record);
    let open = a.gate.obligations.iter().filter(|o| judged(o.kind) && o.state != Verdict::Within);
    open.map(|o| format!("{} {}: {}", o.kind.word(), o.about, o.words)).collect()
}

/// Every line of the plan that sets a limit is removed by itself, and with all others of its key.
#[test]
fn a_stage_whose_points_nothing_judges_is_not_within() {
    let mut tried = 0;
    for way in Way::ALL {
        let text = plan_text(way);
        let a = built(&text).unwrap();
        assert_eq!((a.stage_verdict, judged_and_not_met(&a)), (Some(Verdict::Within), vec![]), "{way:?}");
        let says = |line: &str| {
            let key = line.split_once(" = ").map_or("", |(key, _)| key);
            [
                "setting",
                "washout",
                "station",
                "neighbour",
                "straightness",
                "level",
                "cross",
                "square",
                "spacing",
            ]
            .contains(&key)
                || ["tolerance", "lower", "upper", "up", "down", "play", "pitch", "roll", "yaw", "clearance"]
                    .contains(&key)
        };
        let lines: Vec<&str> = text.lines().collect();
        for out in lines.iter().filter(|line| says(line)) {
            let one = lines.iter().position(|line| line == out).unwrap();
            let key = out.split_once(" = ").unwrap().0;
            let by_place = lines.iter().enumerate().filter(|(i, _)| *i != one).map(|(_, line)| *line);
            let by_key =
                lines.iter().filter(|line| line.split_once(" = ").is_none_or(|(k, _)| k != key)).copied();
            for left in [by_place.collect::<Vec<_>>(), by_key.collect()] {
                let Some(a) = built(&(left.join("\n") + "\n")) else { continue };
                tried += 1;
                let open = judged_and_not_met(&a);
                assert!(
                    open.is_empty() || a.stage_verdict > Some(Verdict::Within),
                    "{way:?} without {out}: {open:#?}"
                );
                let told = a.stages.last().and_then(|s| s.verdict);
                let nothing = open.iter().any(|o| o.starts_with("point "));
                assert!(
                    !nothing || told > Some(Verdict::Within),
                    "the story, {way:?} without {out}: {open:#?}"
                );
            }
        }
    }
    assert!(tried > 80, "{tried} plans");
}

/// Heights of a third spar, which are required but judged by nothing.
#[test]
fn a_stage_that_requires_what_nothing_can_judge_is_not_within() {
    let spar = "[[spar]]\nname = \"middle\"\naft_root = 650\naft_tip = 650\n[[post]]";
    let a = built(&plan_text(Way::Heights).replacen("[[post]]", spar, 1)).unwrap();
    assert!(a.stage_verdict > Some(Verdict::Within), "{:#?}", judged_and_not_met(&a));
}
