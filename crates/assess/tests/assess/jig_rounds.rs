//! Rounds until every point is `within`, on simulated jigs: the advice against the usual ways.
//!
//! Columns: rounds of moves by which half and 95 % of the jigs were within; share within after 1, 2 and 4; walks
//! along the wing and single moves, mean; rounds that made the largest true deviation grow, and by more than its
//! uncertainty, summed over all jigs; jigs never within.

use crate::jig::builders::Builder;
use crate::jig::walk::{Story, follow};
use crate::jig::{COUPLED, ELASTIC, Jig, Layout, Nature, ORDINARY, SCATTERED, SOFT, plan};

const BUILDERS: [Builder; 6] = [
    Builder::Advised,
    Builder::Live,
    Builder::Oracle,
    Builder::OneAtATime,
    Builder::BothEnds,
    Builder::LeastSquares,
];

/// The results of many jigs under one builder.
struct Outcome {
    stories: Vec<Story>,
}

impl Outcome {
    fn of(builder: Builder, layout: Layout, nature: Nature, jigs: u64) -> Self {
        let plan = plan(layout);
        let seeds = (0..jigs).map(|i| 0x7472_7565_0000 + i);
        Self { stories: seeds.map(|seed| follow(&plan, Jig::new(&plan, nature, seed), builder)).collect() }
    }

    /// Share of the jigs that were within after at most this many rounds of moves.
    fn within(&self, rounds: usize) -> f64 {
        let good = self.stories.iter().filter(|s| s.rounds.is_some_and(|r| r <= rounds)).count();
        good as f64 / self.stories.len() as f64
    }

    /// Rounds by which this share of the jigs was within.
    fn rounds(&self, share: f64) -> String {
        (0..=25).find(|r| self.within(*r) >= share).map_or("never".to_owned(), |r| r.to_string())
    }

    fn mean(&self, of: impl Fn(&Story) -> usize) -> f64 {
        self.stories.iter().map(of).sum::<usize>() as f64 / self.stories.len() as f64
    }

    fn line(&self, name: &str) -> String {
        format!(
            "| {name} | {} | {} | {:.1} | {:.1} | {:.1} | {:.1} | {:.1} | {} | {} | {} |",
            self.rounds(0.5),
            self.rounds(0.95),
            100.0 * self.within(1),
            100.0 * self.within(2),
            100.0 * self.within(4),
            self.mean(|s| s.walks),
            self.mean(|s| s.moves),
            self.stories.iter().map(|s| s.grew).sum::<usize>(),
            self.stories.iter().map(|s| s.worse).sum::<usize>(),
            self.stories.iter().filter(|s| s.rounds.is_none()).count(),
        )
    }
}

const HEAD: &str = "| builder | median | 95 % by | % in 1 | % in 2 | % in 4 | walks | moves | grew | worse | never |\n\
                    |---|---|---|---|---|---|---|---|---|---|---|";

/// Those named in `BUILDERS`; otherwise all in the table of DEVELOPERS.md.
fn builders() -> Vec<Builder> {
    let named = std::env::var("BUILDERS").unwrap_or_else(|_| "Advised,Live,Oracle".to_owned());
    BUILDERS.into_iter().filter(|b| named.contains(&format!("{b:?}"))).collect()
}

/// The long run: `./test --long --test assess jig_rounds`, or with `--ignored --nocapture`; `JIGS`, `BUILDERS` for a shorter one.
#[test]
#[ignore = "a thousand jigs under three builders take many minutes"]
fn a_thousand_jigs() {
    let jigs: u64 = std::env::var("JIGS").ok().and_then(|n| n.parse().ok()).unwrap_or(1000);
    for layout in [Layout::Ends, Layout::Inboard, Layout::Three] {
        let natures = [
            ("ordinary", ORDINARY),
            ("soft", SOFT),
            ("elastic", ELASTIC),
            ("scattered ribs", SCATTERED),
            ("coupled twice as much", COUPLED),
        ];
        for (name, nature) in natures {
            println!("\n{layout:?}, {name}\n{HEAD}");
            for builder in builders() {
                let outcome = Outcome::of(builder, layout, nature, jigs);
                println!("{}", outcome.line(&format!("{builder:?}")));
                if builder == Builder::Advised {
                    let mut why: Vec<&String> =
                        outcome.stories.iter().filter_map(|s| s.stuck.as_ref()).collect();
                    why.sort();
                    why.iter().take(3).for_each(|w| println!("  stuck: {w}"));
                }
            }
        }
    }
}

/// The short run. Its limits allow for chance: of 200 jigs, 95 % is 190, give or take 3.
#[test]
fn the_advice_needs_fewer_rounds_than_the_usual_way() {
    println!("{HEAD}");
    let [advised, usual] = [Builder::Advised, Builder::OneAtATime].map(|builder| {
        let outcome = Outcome::of(builder, Layout::Ends, ORDINARY, 200);
        println!("{}", outcome.line(&format!("{builder:?}")));
        outcome
    });
    assert!(advised.within(1) >= 0.5, "the median is one round");
    assert!(advised.within(2) >= 0.95);
    assert!(advised.within(2) > usual.within(2) && advised.within(1) > usual.within(1));
    let worse: usize = advised.stories.iter().map(|s| s.worse).sum();
    assert_eq!(worse, 0, "no round made the worst point worse by more than its uncertainty");
}

/// After a first round of moves the second is better because of what was learned.
#[test]
fn learning_makes_the_second_round_better() {
    let [advised, blind] = [Builder::Advised, Builder::LeastSquares]
        .map(|builder| Outcome::of(builder, Layout::Inboard, SOFT, 60));
    assert!(advised.within(2) > blind.within(2) + 0.05, "{} {}", advised.within(2), blind.within(2));
    let learned =
        advised.stories.iter().flat_map(|s| s.advised.iter().skip(1)).filter(|a| !a.learned.is_empty());
    assert!(learned.count() > 30);
}
