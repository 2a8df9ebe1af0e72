//! Sign-offs: what they cover, whose they are, and what is found when somebody rebuilds the chain.

use crate::program;
use crate::program::{Bench, SMALL_PLAN};
use journal::Journal;
use record::What;
use serde_json::Value;
use std::process::Stdio;
use stories::forge::{Row, forge};

pub const SIGN: &str = "sign wing.jigtrue --capacity inspector --statement \"seen so\" --as-seen";

/// Entry 1 to 4: a plan, a stage, a reading, a remark.
pub fn begun() -> Bench {
    let bench = Bench::begun();
    bench.line("take wing.jigtrue incidence@S1 2.05").expect(0);
    bench.line("note wing.jigtrue calm").expect(0);
    bench
}

/// The same, signed with a key as entry 5, and a remark after it.
fn signed() -> Bench {
    let bench = begun();
    bench.line("sign --new-key orla.key").expect(0);
    bench.line(&format!("{SIGN} --who orla --key orla.key")).expect(0);
    bench.line("note wing.jigtrue after").expect(0);
    bench
}

pub fn verify(bench: &Bench, more: &str) -> program::Ran {
    bench.line(&format!("verify wing.jigtrue {more}"))
}

pub fn check(bench: &Bench) -> Value {
    bench.line("check wing.jigtrue --json").json()
}

/// The gate holds because of the record itself.
fn record_holds(bench: &Bench) -> bool {
    let a = check(bench);
    a["gate"]["state"] == "hold"
        && a["gate"]["reasons"].as_array().unwrap().iter().any(|r| r["kind"] == "chain")
}

/// While another program writes, every sign-off is the next entry after the last it saw.
#[test]
fn a_sign_off_raced_by_a_writer_covers_everything_before_it() {
    let bench = begun();
    let mut writer = std::process::Command::new(env!("CARGO_BIN_EXE_journal-writer"));
    let mut writer = writer
        .arg(bench.path("wing.jigtrue"))
        .args(["bob", "0", "1000000"])
        .stdout(Stdio::null())
        .spawn()
        .unwrap();
    for _ in 0..8 {
        bench.line(SIGN).expect(0);
    }
    writer.kill().unwrap();
    writer.wait().unwrap();
    let journal = Journal::open_read_only(&bench.path("wing.jigtrue")).unwrap();
    let all: Vec<_> = journal.entries().map(Result::unwrap).collect();
    let signs: Vec<_> = all
        .iter()
        .filter_map(|e| match &e.what {
            What::Signed(s) => Some((e.seq, s.entries)),
            _ => None,
        })
        .collect();
    assert_eq!(signs.len(), 8);
    assert!(signs.iter().all(|(seq, saw)| saw + 1 == *seq), "{signs:?}");
}

/// A sign-off of version 0.1 with another program's entry in front of it: every face says so.
#[test]
fn a_sign_off_that_covers_less_is_shown_so_everywhere() {
    let bench = begun();
    bench.line(SIGN).expect(0);
    forge(&bench.path("wing.jigtrue"), |rows| {
        let signed = &mut rows[4];
        signed.body = signed.body.replace(",\"text\":2", "");
        rows.swap(3, 4);
        rows[3].body = rows[3].body.replace("\"entries\":4", "\"entries\":3");
    });
    // The head it names is that of entry 3, which a swap changes unless it is rebuilt: name it.
    let third = Journal::open_read_only(&bench.path("wing.jigtrue")).unwrap().hash_at(3).unwrap().unwrap();
    forge(&bench.path("wing.jigtrue"), |rows| {
        rows.swap(3, 4);
        let mut body: Value = serde_json::from_str(&rows[4].body).unwrap();
        body["head"] = third.to_string().into();
        rows[4].body = body.to_string();
    });
    let a = verify(&bench, "--json").expect(0).json();
    assert_eq!(a["sign_offs"][0]["entries_uncovered"], 1, "{a:#}");
    assert_eq!(a["sign_offs"][0]["entries_since"], 1, "{a:#}");
    let said = verify(&bench, "").expect(0).out;
    assert!(said.contains("DOES NOT COVER the entry before it"), "{said}");
    let a = check(&bench);
    assert_eq!(a["signatures"][0]["entries_uncovered"], 1);
    let said = bench.line("check wing.jigtrue").out.replace(['\n'], " ");
    let said: String = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("DOES NOT COVER"), "{said}");
}

#[test]
fn who_when_and_capacity_are_inside_what_is_signed() {
    let bench = signed();
    let whole = bench.read("wing.jigtrue");
    let a = verify(&bench, "--json").expect(0).json();
    assert_eq!(a["signatures"][0]["fits"], true);
    assert_eq!(a["sign_offs"][0]["seal"], "fits");
    type Change = fn(&mut Row);
    let changes: [(&str, Change); 8] = [
        ("the time", |r| r.at += 60_000),
        ("the writer", |r| r.by = "bob".to_owned()),
        ("the name", |r| r.body = r.body.replace("\"who\":\"orla\"", "\"who\":\"orlo\"")),
        ("the capacity", |r| r.body = r.body.replace("inspector", "inspektor")),
        ("the statement", |r| r.body = r.body.replace("seen so", "seen, so")),
        ("the gate", |r| r.body = r.body.replace("\"hold\"", "\"clear\"")),
        ("the offset", |r| r.body = r.body.replace("\"utc_offset_min\":0", "\"utc_offset_min\":60")),
        ("the signature", |r| {
            let at = r.body.find("\"bytes\":\"").unwrap() + 9;
            let other = if r.body.as_bytes()[at] == b'0' { "1" } else { "0" };
            r.body.replace_range(at..=at, other);
        }),
    ];
    for (what, change) in changes {
        bench.write("wing.jigtrue", &whole);
        forge(&bench.path("wing.jigtrue"), |rows| change(&mut rows[4]));
        let ran = verify(&bench, "").expect(1);
        assert!(ran.out.contains("SIGNATURE DOES NOT FIT"), "{what}: {}{}", ran.out, ran.err);
        assert!(record_holds(&bench), "{what}");
        bench
            .line("sign wing.jigtrue --capacity a --statement b")
            .expect(bench.line("check wing.jigtrue").code);
    }
}

/// A signature that was removed.
#[test]
fn a_removed_signature_is_missed() {
    let bench = signed();
    let whole = bench.read("wing.jigtrue");
    let strip = |rows: &mut Vec<Row>, key: &str| {
        let mut body: Value = serde_json::from_str(&rows[4].body).unwrap();
        body.as_object_mut().unwrap().remove(key);
        rows[4].body = body.to_string();
    };
    forge(&bench.path("wing.jigtrue"), |rows| strip(rows, "signature"));
    assert!(verify(&bench, "").expect(1).out.contains("SIGNATURE IS MISSING"));
    assert!(record_holds(&bench));
    // With both parts removed it is a sign-off without a key: it looks different, and the person's key shows it.
    bench.write("wing.jigtrue", &whole);
    forge(&bench.path("wing.jigtrue"), |rows| {
        strip(rows, "signature");
        strip(rows, "key");
    });
    assert!(verify(&bench, "").expect(0).out.contains("no key"));
    let ran = verify(&bench, "--key orla.key.pub").expect(1);
    assert!(ran.out.contains("no sign-off in this log is by the key"), "{}", ran.out);
}

/// An answer without its line breaks.
pub fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The same bytes in a later entry.
#[test]
fn a_copied_signature_is_found() {
    let bench = signed();
    forge(&bench.path("wing.jigtrue"), |rows| rows.push(rows[4].clone()));
    let ran = verify(&bench, "").expect(1);
    assert!(one_line(&ran.out).contains("COPY of the sign-off in entry 5"), "{}", ran.out);
    assert!(record_holds(&bench));
    let bench = begun();
    bench.line(SIGN).expect(0);
    forge(&bench.path("wing.jigtrue"), |rows| rows.push(rows[4].clone()));
    verify(&bench, "").expect(1);
    assert!(record_holds(&bench));
}

#[test]
fn a_persons_key_is_pinned() {
    let bench = signed();
    let said = verify(&bench, "--key orla.key.pub").expect(0).out;
    assert!(said.contains("by this key") && said.contains("orla signed with the key"), "{said}");
    let a = verify(&bench, "--key orla.key.pub --json").expect(0).json();
    assert_eq!(a["sign_offs"][0]["by_this_key"], true);
    bench.line("sign --new-key tam.key").expect(0);
    let ran = verify(&bench, "--key tam.key.pub").expect(1);
    assert!(ran.out.contains("by another key"), "{}", ran.out);
    // Signed in her name without the key.
    bench.line(&format!("{SIGN} --who orla")).expect(0);
    let ran = verify(&bench, "--key orla.key.pub").expect(1);
    assert!(ran.out.contains("NOT in entry 7"), "{}", ran.out);
    for (name, content) in [
        ("none.pub", ""),
        ("word.pub", "ed25519 zz"),
        ("short.pub", "ed25519 00ff"),
        ("plan.pub", SMALL_PLAN),
    ] {
        bench.write(name, content);
        assert!(verify(&bench, &format!("--key {name}")).expect(1).err.contains(name));
    }
    let ran = verify(&bench, "--key orla.key").expect(1);
    assert!(ran.err.contains("is a secret key"), "{}", ran.err);
    verify(&bench, "--key missing.pub").expect(1);
}

#[test]
fn a_sheet_on_paper_is_checked_by_entry_and_hash() {
    let bench = signed();
    let all: Vec<String> = {
        let journal = Journal::open_read_only(&bench.path("wing.jigtrue")).unwrap();
        (1..=6).map(|n| journal.hash_at(n).unwrap().unwrap().to_string()).collect()
    };
    let asked =
        |entry: &str, hash: &str| bench.run(&["verify", "wing.jigtrue", "--entry", entry, "--hash", hash]);
    for (n, hash) in all.iter().enumerate() {
        let n = (n + 1).to_string();
        let spaced: Vec<&str> = (0..8).map(|i| &hash[4 * i..4 * i + 4]).collect();
        for typed in [&hash[..16], hash, &hash.to_uppercase(), &spaced.join(" ")] {
            assert!(asked(&n, typed).expect(0).out.contains("fits the paper"), "{typed}");
        }
        let mut groups = vec!["verify", "wing.jigtrue", "--entry", &n, "--hash"];
        groups.extend(&spaced);
        bench.run(&groups).expect(0);
        // One digit wrong, whichever it is.
        for at in 0..16 {
            let mut wrong = hash[..16].to_owned();
            wrong.replace_range(at..=at, if &wrong[at..=at] == "0" { "1" } else { "0" });
            assert!(asked(&n, &wrong).expect(1).out.contains("does NOT fit"), "{wrong}");
        }
    }
    asked("2", &all[2]).expect(1);
    for none in ["0", "7", "18446744073709551615"] {
        assert!(asked(none, &all[2]).expect(1).out.contains("has no entry"), "{none}");
    }
    assert!(asked("3", &all[2][..15]).expect(2).err.contains("at least 16"));
    for usage in ["", " ", "not hexadecimal!", &"0".repeat(65)] {
        asked("3", usage).expect(2);
    }
    for (half, value) in [("--entry", "3"), ("--hash", all[2].as_str())] {
        bench.run(&["verify", "wing.jigtrue", half, value]).expect(2);
    }
}

/// The line at the foot of the sheet, copied and run.
#[test]
fn the_line_on_the_sheets_foot_answers_also_after_the_log_has_grown() {
    let bench = signed();
    bench.line("sheet wing.jigtrue -o a.pdf").expect(0);
    bench.line("note wing.jigtrue grown").expect(0);
    let Ok(out) =
        std::process::Command::new("pdftotext").arg("-layout").arg(bench.path("a.pdf")).arg("-").output()
    else {
        return stories::disk::skip("reading a sheet's text (pdftotext)");
    };
    let text = String::from_utf8(out.stdout).unwrap();
    let line = text
        .lines()
        .find_map(|l| l.split("jigtrue ").nth(1).filter(|l| l.starts_with("verify LOG")))
        .unwrap();
    let line = line.split("  ").next().unwrap().replace("LOG", "wing.jigtrue");
    assert!(bench.line(&line).expect(0).out.contains("fits the paper"), "{line}");
    let wrong = line.replace("--entry 6", "--entry 5");
    assert_ne!(wrong, line);
    bench.line(&wrong).expect(1);
    let last = line.chars().last().unwrap();
    let wrong = format!("{}{}", &line[..line.len() - 1], if last == '0' { '1' } else { '0' });
    bench.line(&wrong).expect(1);
}

/// Entries that cannot stand in a log, each put there by somebody who rebuilt the chain.
#[test]
fn entries_out_of_place_are_breaks_that_are_named() {
    let bench = signed();
    let whole = bench.read("wing.jigtrue");
    let row = |kind: &str, body: &str| Row {
        at: 1_900_000_000_000,
        by: "eve".to_owned(),
        kind: kind.to_owned(),
        body: body.to_owned(),
    };
    let loose =
        serde_json::json!({ "plan": SMALL_PLAN.replace("0.3", "6"), "program": "jigtrue" }).to_string();
    let withdraws = |seq: u64| row("withdrawn", &format!("{{\"seq\":{seq},\"reason\":\"x\"}}"));
    let cases = [
        (row("started", &loose), "starts the log a second time"),
        (withdraws(1), "withdraws entry 1, a plan or a sign-off"),
        (withdraws(5), "withdraws entry 5, a plan or a sign-off"),
        (withdraws(7), "withdraws entry 7, which is not an earlier one"),
        (withdraws(8), "withdraws entry 8, which is not an earlier one"),
        (withdraws(0), "withdraws entry 0, which is not an earlier one"),
        (withdraws(u64::MAX), "which is not an earlier one"),
        (row("weighed", "{\"kg\":31}"), "kind `weighed` is unknown"),
        (row("note", "{}"), "does not fit its kind"),
        (row("signed", &signed_elsewhere()), "signs a state that this log never had"),
    ];
    for (forged, words) in cases {
        bench.write("wing.jigtrue", &whole);
        let what = format!("{} {}", forged.kind, forged.body);
        forge(&bench.path("wing.jigtrue"), |rows| rows.push(forged));
        for line in ["verify wing.jigtrue", "sign wing.jigtrue --capacity a --statement b --as-seen"] {
            let ran = bench.line(line).expect(1);
            assert!(ran.err.contains("entry 7") && ran.err.contains(words), "{what}\n{line}: {}", ran.err);
        }
        assert!(record_holds(&bench), "{what}");
        // Nothing more is written to it.
        bench.line("note wing.jigtrue more").expect(1);
    }
}

fn signed_elsewhere() -> String {
    serde_json::json!({
        "who": "orla", "capacity": "inspector", "statement": "x", "gate": "clear", "entries": 6, "head": "00".repeat(32)
    })
    .to_string()
}

/// The program itself writes none of them.
#[test]
fn what_cannot_be_withdrawn_is_refused() {
    let bench = signed();
    for entry in ["0", "1", "5", "7", "99", "18446744073709551615"] {
        bench.line(&format!("withdraw wing.jigtrue {entry} --reason x")).expect(1);
    }
    assert_eq!(verify(&bench, "--json").expect(0).json()["entries"], 6);
}

/// Signed again with a key it is another sign-off.
#[test]
fn what_was_signed_is_not_signed_a_second_time() {
    let bench = begun();
    bench.line(&format!("{SIGN} --who orla")).expect(0);
    let ran = bench.line(&format!("{SIGN} --who orla")).expect(1);
    assert!(ran.err.contains("orla signed this already (entry 5)"), "{}", ran.err);
    bench.line("sign --new-key orla.key").expect(0);
    bench.line(&format!("{SIGN} --who orla --key orla.key")).expect(0);
}

/// The file's own count of entries, changed by an SQL tool.
#[test]
fn a_changed_count_is_found_by_verify_and_in_the_same_words_by_take() {
    let bench = signed();
    let whole = bench.read("wing.jigtrue");
    for sql in [
        "DELETE FROM sqlite_sequence",
        "UPDATE sqlite_sequence SET seq = seq - 1",
        "UPDATE sqlite_sequence SET seq = seq + 1",
        "UPDATE sqlite_sequence SET seq = 0",
        "UPDATE sqlite_sequence SET seq = -6",
        "UPDATE sqlite_sequence SET seq = 'six'",
        "UPDATE sqlite_sequence SET seq = NULL",
        "UPDATE sqlite_sequence SET name = 'entrance'",
        "INSERT INTO sqlite_sequence VALUES ('entry', 6)",
        "INSERT INTO sqlite_sequence VALUES ('other', 1)",
    ] {
        bench.write("wing.jigtrue", &whole);
        let conn = rusqlite::Connection::open(bench.path("wing.jigtrue")).unwrap();
        conn.execute_batch(sql).unwrap();
        conn.close().unwrap();
        let said: Vec<String> = ["verify wing.jigtrue", "take wing.jigtrue incidence@S1 2.0", SIGN]
            .iter()
            .map(|line| bench.line(line).expect(1).err)
            .collect();
        let expected = if sql.contains("seq + 1") { "entry 7 is missing" } else { "sqlite_sequence" };
        assert!(said.iter().all(|s| s.contains(expected)), "{sql}: {said:#?}");
    }
}
