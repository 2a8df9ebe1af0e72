//! What the program says of plans: every key, every kind of point.

use crate::program;
use crate::program::Bench;

/// Every table of a plan, as its head is written.
fn heads(plan: &str) -> Vec<&str> {
    plan.lines().filter(|l| l.starts_with('[')).map(|l| l.split('#').next().unwrap().trim()).collect()
}

/// The full plan is itself a valid plan, and has every key that the reader knows: given an unknown key, the reader
/// lists those it knows.
#[test]
fn the_full_plan_is_valid_and_has_every_key() {
    let bench = Bench::new();
    let full = bench.line("plan --full").expect(0).out;
    assert!(full.starts_with("# Every key a plan may have"), "{full}");
    bench.write("full.toml", &full);
    bench.line("new full.toml").expect(0);
    let keys: Vec<&str> = full
        .lines()
        .flat_map(|line| line.split('#').next().unwrap().split(['{', ',']))
        .filter_map(|part| part.split_once('=').map(|(key, _)| key.trim()))
        .collect();
    let tables: Vec<&str> = heads(&full);
    let mut known = 0;
    let mut tried: Vec<&str> = tables.clone();
    tried.dedup();
    tried.push("");
    for head in tried {
        let strange = "zzzzzzzzzzzzzzzz = 1\n";
        let text = if head.is_empty() {
            full.replacen("format = 1", &format!("{strange}format = 1"), 1)
        } else {
            let at = full.lines().position(|line| line.starts_with(head)).unwrap();
            let mut lines: Vec<&str> = full.lines().collect();
            lines.insert(at + 1, strange.trim());
            lines.join("\n")
        };
        bench.write("strange.toml", text);
        let ran = bench.line("new strange.toml").expect(1);
        let list = ran.err.lines().find_map(|line| line.trim().strip_prefix("known here: "));
        let list = list.unwrap_or_else(|| panic!("{head}: no list in\n{}", ran.err));
        for key in list.split(", ") {
            known += 1;
            let inside = head.trim_matches(['[', ']']);
            let as_table = [
                format!("[{key}]"),
                format!("[[{key}]]"),
                format!("[{inside}.{key}]"),
                format!("[[{inside}.{key}]]"),
            ];
            let there = keys.contains(&key)
                || full.contains(&format!("[{key}]"))
                || tables.iter().any(|t| as_table.iter().any(|a| a == t));
            assert!(there, "{head}: `{key}` is not in the full plan");
        }
    }
    assert!(known > 60, "only {known} keys were looked for");
}

#[test]
fn every_kind_of_point_is_explained_with_its_sign() {
    let bench = Bench::with_plan(&program::shipped("two-post", "plan.toml"));
    let refused = bench.line("plan --explain incidense").expect(1);
    assert!(refused.err.contains("Nearest: incidence"), "{}", refused.err);
    let kinds = refused.err.rsplit("There are ").next().unwrap().trim().to_owned();
    let mut all = 0;
    for kind in kinds.split(", ") {
        let out = bench.line(&format!("plan --explain {kind}")).expect(0).out;
        for row in ["How    ", "Sign   ", "Type   ", "Here   "] {
            assert!(out.lines().any(|line| line.starts_with(row)), "{kind}: no {row}in\n{out}");
        }
        assert!(!out.contains("As its words say"), "{kind} has no words of its own:\n{out}");
        assert!(out.lines().all(|line| line.chars().count() <= 80), "{out}");
        all += 1;
    }
    assert!(all >= 13, "{kinds}");
    let flat = |kind: &str| {
        let out = bench.line(&format!("plan --explain {kind}")).expect(0).out;
        out.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let out = flat("plumb");
    assert!(out.contains("lower-surface side") && out.contains("upper surface is +"), "{out}");
    let out = flat("spacing");
    assert!(out.contains("from the root datum") && out.contains("not from rib to rib"), "{out}");
    let out = flat("incidence");
    assert!(out.contains("S1 to S12, 12 in all. Limits: station ±0.25°"), "{out}");
    assert!(out.contains("ribs inboard (6)") && out.contains("Made stale by"), "{out}");
    // Without a log too.
    let empty = Bench::new();
    let out = empty.line("plan --explain level@post").expect(0).out;
    assert!(out.contains("level@POST") && !out.contains("Here"), "{out}");
    let points = bench.line("plan --points").expect(0).out;
    assert!(points.lines().any(|p| p == "offset@rear:S9") && points.lines().count() > 100, "{points}");
}
