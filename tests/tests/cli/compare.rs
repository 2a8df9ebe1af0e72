//! Left against right: what can be compared.

use crate::program::{Bench, shipped};

/// Two wings, of which the right one was measured less far.
fn two() -> Bench {
    let bench = Bench::new();
    let plan = shipped("two-post", "plan.toml");
    bench.write("left.toml", &plan);
    bench.write(
        "right.toml",
        plan.replace("left wing", "right wing").replace("side = \"left\"", "side = \"right\""),
    );
    for side in ["left", "right"] {
        bench.line(&format!("new {side}.toml {side}.jigtrue")).expect(0);
        bench.line(&format!("stage {side}.jigtrue \"ready to skin\" --anyway \"to see it\"")).expect(0);
        bench.line(&format!("take {side}.jigtrue S1 f 2.1 a -1.9 S2 f 1.9 a -1.7 S12 f -.4 a .6")).expect(0);
        bench.line(&format!("take {side}.jigtrue level@tip-post f .1 a .1")).expect(0);
        bench.line(&format!("take {side}.jigtrue BR1 9.4")).expect(0);
    }
    bench.line("take right.jigtrue BR2 9.1").expect(0);
    bench.line("take left.jigtrue S3 f 1.7 a -1.5").expect(0);
    bench.line("take left.jigtrue bore@B1 30.31 --instrument \"depth gauge\"").expect(0);
    bench.line("take right.jigtrue bore@B1 30.41 --instrument \"depth gauge\"").expect(0);
    bench
}

#[test]
fn everything_that_both_wings_have_is_compared_and_the_rest_is_named() {
    let bench = two();
    let ran = bench.line("compare left.jigtrue right.jigtrue");
    for part in ["level tip-post", "spot@BR1", "bore@B1", "Not compared", "spot@BR2", "S3"] {
        assert!(ran.out.contains(part), "{part} is not in\n{}\n{}", ran.out, ran.err);
    }
    assert!(ran.out.lines().all(|line| line.chars().count() <= 80), "{}", ran.out);
    let a = bench.line("compare left.jigtrue right.jigtrue --json").json();
    let bore = a["others"].as_array().unwrap().iter().find(|o| o["name"] == "bore@B1").unwrap().clone();
    assert!((bore["difference"].as_f64().unwrap() + 0.1).abs() < 1e-9, "{bore}");
    assert_eq!((bore["unit"].as_str(), bore["real"].as_bool()), (Some("mm"), Some(true)));
    assert_eq!(a["not_compared"].as_array().unwrap().len(), 2, "{a:#}");
}

#[test]
fn two_left_wings_are_not_a_pair() {
    let bench = two();
    std::fs::copy(bench.path("left.jigtrue"), bench.path("other.jigtrue")).unwrap();
    let ran = bench.line("compare left.jigtrue other.jigtrue").expect(1);
    assert!(
        ran.err.contains("Orrelby trainer, left wing") && ran.err.contains("both left wings"),
        "{}",
        ran.err
    );
    // If one of them has no profile, the rest is still compared, and the answer says so.
    bench.line("new right.toml bare.jigtrue").expect(0);
    let ran = bench.line("compare left.jigtrue bare.jigtrue").expect(1);
    assert!(ran.err.contains("no value in common"), "{}", ran.err);
    bench.line("take bare.jigtrue BR1 9.4").expect(0);
    let ran = bench.line("compare left.jigtrue bare.jigtrue").expect(11);
    assert!(
        ran.out.split_whitespace().collect::<Vec<_>>().join(" ").contains("has no profile"),
        "{}",
        ran.out
    );
}
